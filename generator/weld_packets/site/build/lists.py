"""Write the pages over all orders: their list, the register, the tables that were used."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from weld_packets.revisions.register.integrity import ReadFile
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.manifest import MANIFEST, manifest_bytes
from weld_packets.site.pages.order_list import order_list
from weld_packets.site.pages.register_pages import KeptRecord, register_pages
from weld_packets.site.pages.table_pages import TABLE_PAGE, nothing_kept, table_pages


def write_lists(
    site_root: Path,
    cards: Mapping[str, dict[str, Any]],
    register: Register,
    day: date,
    plant: str = "",
    *,
    read: ReadFile = nothing_kept,
    kept: Sequence[KeptRecord] | None = (),
) -> Path:
    """Write the pages over all sites below ``site_root`` and their manifest; return the path of the first page.

    ``cards`` are those of the sites by the name of their folder; statuses are those at the end of ``day``.
    ``plant`` is the name over the list, where there is one; ``read`` reads what tables held; ``kept`` are the
    qualification records of the plant's tables, None where they cannot be read.
    """
    built = frozenset(slug for slug in register.by_order if (site_root / slug / "history.html").is_file())
    pages = {**order_list(cards, plant), **register_pages(register, built, day, cards, kept)}
    pages |= table_pages(register, cards, read)
    for stale in {path.name for path in site_root.glob(f"{TABLE_PAGE}*.html")} - pages.keys():
        (site_root / stale).unlink()
    for name, text in pages.items():
        _replace(site_root / name, text)
    files = (path for path in site_root.glob("[!.]*") if path.is_file() and path.name != MANIFEST)
    digests = {path.name: sha256(path.read_bytes()).hexdigest() for path in files}
    _replace(site_root / MANIFEST, manifest_bytes(digests).decode())
    return site_root / "index.html"


def _replace(path: Path, text: str) -> None:
    """Write ``text`` in one step, since somebody may be reading; leave the file alone if it says so already."""
    content = text.encode()
    if not (path.is_file() and path.read_bytes() == content):
        fresh = path.with_name(f".{path.name}.{os.getpid()}")
        fresh.write_bytes(content)
        fresh.replace(path)
