"""The SHA-256 of every file of a site, written beside them so that an altered page shows."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path

from generator.revisions.manifest import MANIFEST, manifest_of
from generator.site.landing import replace_file


def write_manifest(site: Path, known: Mapping[str, str]) -> None:
    """Write the manifest of ``site``; digests in ``known`` (path to SHA-256) are taken as they stand."""
    listed = {name: known.get(name) or _digest(site / name) for name in _names(site)}
    (site / MANIFEST).write_bytes(manifest_of(listed))


def write_list_manifest(site_root: Path) -> None:
    """Write the manifest of the pages over all orders, which stand beside the sites."""
    files = (path for path in site_root.glob("[!.]*") if path.is_file() and path.name != MANIFEST)
    replace_file(site_root / MANIFEST, manifest_of({path.name: _digest(path) for path in files}).decode())


def _names(site: Path) -> list[str]:
    return sorted(p.relative_to(site).as_posix() for p in site.rglob("*") if p.is_file() and p.name != MANIFEST)


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
