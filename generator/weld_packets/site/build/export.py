"""One order's site as one file: for a stick, a tablet without network, an archive."""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from pathlib import Path

from weld_packets.files import remove_left, unfinished
from weld_packets.packet.program_use import ProgramClash
from weld_packets.site.build.site_card import read_card
from weld_packets.site.pages.all_orders.order_list import OrderList

_MOMENT = (1980, 1, 1, 0, 0, 0)  # the first that a zip file can name, so that equal sites make equal files

_MARK = b"written by packets export"


def is_export(path: Path) -> bool:
    """Return whether a file is a zip file that `export_zip` wrote."""
    try:
        with zipfile.ZipFile(path) as archive:
            return archive.comment == _MARK
    except (OSError, zipfile.BadZipFile):
        return False


def export_zip(site: Path, target: Path, clashes: Sequence[ProgramClash] = ()) -> Path:
    """Write the files of ``site``, and a list of that order alone, into ``target``, the same bytes each time.

    ``clashes`` are the programs that another order uses otherwise, which the list says.
    """
    card = read_card(site)
    pages: dict[str, str] = {}
    if card is not None:
        listed = OrderList()
        listed.add(site.name, card)
        pages = listed.pages(clashes=clashes, alone=True)
    remove_left(target.parent, target.name)
    fresh = unfinished(target)
    try:
        with zipfile.ZipFile(fresh, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.comment = _MARK
            for name, text in sorted(pages.items()):
                _add(archive, name, text.encode())
            for path in sorted(p for p in site.rglob("*") if p.is_file()):
                _add(archive, f"{site.name}/{path.relative_to(site).as_posix()}", path.read_bytes())
        fresh.replace(target)
    finally:
        fresh.unlink(missing_ok=True)
    return target


def _add(archive: zipfile.ZipFile, name: str, content: bytes) -> None:
    entry = zipfile.ZipInfo(name, _MOMENT)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    archive.writestr(entry, content)
