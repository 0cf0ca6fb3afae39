"""The SHA-256 of every file of a site, written beside them so that an altered page shows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

MANIFEST = "manifest.json"


def write_manifest(site: Path, known: Mapping[str, str]) -> None:
    """Write the manifest of ``site``; digests in ``known`` (path to SHA-256) are taken as they stand."""
    listed = {name: known.get(name) or _digest(site / name) for name in _names(site)}
    text = json.dumps({"sha256": listed}, indent=1, sort_keys=True, ensure_ascii=False)
    (site / MANIFEST).write_text(text + "\n", encoding="utf-8", newline="\n")


def compare_manifest(site: Path) -> list[str]:
    """Return one sentence for each file of ``site`` that is altered, missing or not in its manifest."""
    listed: dict[str, str] = json.loads((site / MANIFEST).read_text(encoding="utf-8"))["sha256"]
    found = set(_names(site))
    missing = [f"{name} is missing" for name in sorted(listed.keys() - found)]
    foreign = [f"{name} does not belong to the site" for name in sorted(found - listed.keys())]
    altered = [f"{name} is altered" for name in sorted(found & listed.keys()) if _digest(site / name) != listed[name]]
    return missing + foreign + altered


def _names(site: Path) -> list[str]:
    return sorted(p.relative_to(site).as_posix() for p in site.rglob("*") if p.is_file() and p.name != MANIFEST)


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
