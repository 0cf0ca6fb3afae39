"""The SHA-256 of every file of a site, written beside them so that an altered page shows."""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

from weld_packets.revisions.records.manifest import MANIFEST, manifest_of
from weld_packets.site.pages.landing import replace_file


def write_manifest(site: Path, written: Mapping[str, bytes], linked: Mapping[str, str]) -> None:
    """Write the manifest of ``site``: contents that were ``written`` by path, of what is ``linked`` the SHA-256."""
    listed = {**linked, **{name: sha256(content).hexdigest() for name, content in written.items()}}
    (site / MANIFEST).write_bytes(manifest_of(listed))


def write_list_manifest(site_root: Path) -> None:
    """Write the manifest of the pages over all orders, which stand beside the sites."""
    files = (path for path in site_root.glob("[!.]*") if path.is_file() and path.name != MANIFEST)
    replace_file(
        site_root / MANIFEST, manifest_of({path.name: sha256(path.read_bytes()).hexdigest() for path in files}).decode()
    )
