"""One order's site as one file: for a stick, a tablet without network, an archive."""

from __future__ import annotations

import os
import time
import zipfile
from pathlib import Path

_EARLIEST = 315532800  # 1980-01-01, the first moment that a zip file can name


def export_zip(site: Path, target: Path) -> Path:
    """Write the files of ``site`` into the zip file ``target``, byte for byte the same each time.

    Entries carry the moment SOURCE_DATE_EPOCH, or else 1980-01-01.
    """
    moment = max(_EARLIEST, int(os.environ.get("SOURCE_DATE_EPOCH", _EARLIEST)))
    stamp = time.gmtime(moment)[:6]
    fresh = target.with_name(f".{target.name}.{os.getpid()}")
    with zipfile.ZipFile(fresh, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(p for p in site.rglob("*") if p.is_file()):
            entry = zipfile.ZipInfo(f"{site.name}/{path.relative_to(site).as_posix()}", stamp)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, path.read_bytes())
    fresh.replace(target)
    return target
