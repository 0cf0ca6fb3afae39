"""One order's site as one file: for a stick, a tablet without network, an archive."""

from __future__ import annotations

import os
import zipfile
from pathlib import Path

_MOMENT = (1980, 1, 1, 0, 0, 0)  # the first that a zip file can name, so that equal sites make equal files


def export_zip(site: Path, target: Path) -> Path:
    """Write the files of ``site`` into the zip file ``target``, byte for byte the same each time."""
    fresh = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        with zipfile.ZipFile(fresh, "w", zipfile.ZIP_DEFLATED) as archive:
            for path in sorted(p for p in site.rglob("*") if p.is_file()):
                entry = zipfile.ZipInfo(f"{site.name}/{path.relative_to(site).as_posix()}", _MOMENT)
                entry.compress_type = zipfile.ZIP_DEFLATED
                entry.external_attr = 0o644 << 16
                archive.writestr(entry, path.read_bytes())
        fresh.replace(target)
    finally:
        fresh.unlink(missing_ok=True)
    return target
