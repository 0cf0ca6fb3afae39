"""Find what is not as it was built: altered pages of a site, and pages that a browser must not be given."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

from weld_packets.revisions.register.integrity import Finding
from weld_packets.site.build.manifest import MANIFEST, compare_manifest
from weld_packets.site.build.page_inspector import page_problems

_FIRST_PAGE = "index.html"


def built_sites(site_root: Path) -> list[Path]:
    """Return the folder of every site below ``site_root``."""
    return sorted({path.parent for name in (MANIFEST, _FIRST_PAGE) for path in site_root.glob(f"[!.]*/{name}")})


def files_of(site: Path) -> dict[str, bytes]:
    """Return the content of every file of a site, by its path inside."""
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}


def site_findings(site: Path) -> list[Finding]:
    """Return what differs between the files of a site and its manifest, and every fault of its pages."""
    contents = files_of(site)
    manifest = contents.pop(MANIFEST, None)
    if manifest is None:
        return [Finding(f"{site.name}/{MANIFEST}", "is missing")]
    listed = compare_manifest(manifest, {name: sha256(content).hexdigest() for name, content in contents.items()})
    pages = {name: content for name, content in contents.items() if name.endswith(".html")}
    faults = ((problem.file, f"{problem.key}: {problem.message}") for problem in page_problems(pages, contents.keys()))
    return [Finding(f"{site.name}/{name}", message) for name, message in (*listed, *faults)]


def list_findings(site_root: Path) -> list[Finding]:
    """Return what differs between the pages over all orders and their manifest; hidden files are not pages."""
    manifest = site_root / MANIFEST
    if not manifest.is_file():
        return [Finding(MANIFEST, "is missing")] if (site_root / _FIRST_PAGE).is_file() else []
    files = (path for path in site_root.glob("[!.]*") if path.is_file() and path != manifest)
    found = {path.name: sha256(path.read_bytes()).hexdigest() for path in files}
    return [Finding(name, message) for name, message in compare_manifest(manifest.read_bytes(), found)]
