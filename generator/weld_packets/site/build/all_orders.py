"""Write the pages over all orders: their list, the register, the tables that were used."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from weld_packets.files import write_whole
from weld_packets.packet.program_use import ProgramClash
from weld_packets.revisions.register.integrity import ReadFile
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.manifest import MANIFEST, manifest_bytes
from weld_packets.site.build.site_card import SharedPrograms
from weld_packets.site.pages.all_orders.instrument_page import KeptInstruments
from weld_packets.site.pages.all_orders.order_list import OrderList
from weld_packets.site.pages.all_orders.qualification_page import KeptRecord, QualifiedOperations
from weld_packets.site.pages.all_orders.register_pages import clash_line, register_pages
from weld_packets.site.pages.all_orders.table_pages import TABLE_PAGE, Users, nothing_kept, table_pages

_TABLES_FROM = ".tables"
"""The file that notes what the pages of tables were written from, and what they looked like then."""


@dataclass
class OverAll:
    """What the pages over all orders take from the cards of the sites, each of which is read once.

    ``numbers`` are those of the orders by the folder of their site; ``programs`` finds those that several use.
    """

    numbers: dict[str, str] = field(default_factory=dict)
    orders: OrderList = field(default_factory=OrderList)
    qualified: QualifiedOperations = field(default_factory=QualifiedOperations)
    users: Users = field(default_factory=Users)
    programs: SharedPrograms = field(default_factory=SharedPrograms)


def gathered(cards: Mapping[str, dict[str, Any]]) -> OverAll:
    """Return what the pages take from ``cards``, those of the sites by the name of their folder."""
    over_all = OverAll()
    for slug, card in cards.items():
        over_all.numbers[slug] = str(card["order"])
        for each in (over_all.orders, over_all.qualified, over_all.users, over_all.programs):
            each.add(slug, card)
    return over_all


def write_lists(
    site_root: Path,
    over_all: OverAll,
    register: Register,
    day: date,
    plant: str = "",
    *,
    read: ReadFile = nothing_kept,
    kept: Sequence[KeptRecord] | None = (),
    clashes: Sequence[ProgramClash] = (),
    instruments: KeptInstruments | None = None,
    sources: str = "",
) -> Path:
    """Write the pages over all sites below ``site_root`` and their manifest; return the path of the first page.

    ``over_all`` is what the cards of the sites say; statuses are those at the end of ``day``.
    ``plant`` is the name over the list, where there is one; ``read`` reads what tables held; ``kept`` are the
    qualification records of the plant's tables, None where they cannot be read; ``clashes`` the programs that two of
    the orders use otherwise; ``instruments`` what the plant measures and calculates with. ``sources`` is the digest of
    the register and of the program: pages of tables that were written from the same are left as they are. Without it
    they are written anew.
    """
    built = {
        slug: over_all.numbers.get(slug, slug)
        for slug in register.by_order
        if (site_root / slug / "history.html").is_file()
    }
    lines = [clash_line(clash, over_all.numbers) for clash in clashes]
    pages = {
        **over_all.orders.pages(plant, clashes),
        **register_pages(register, built, day, over_all.qualified, kept, clashes=lines, instruments=instruments),
    }
    for name, text in pages.items():
        _replace(site_root / name, text)
    _write_tables(site_root, register, over_all.users, read, sources)
    files = (path for path in site_root.glob("[!.]*") if path.is_file() and path.name != MANIFEST)
    digests = {path.name: sha256(path.read_bytes()).hexdigest() for path in files}
    _replace(site_root / MANIFEST, manifest_bytes(digests).decode())
    return site_root / "index.html"


def _write_tables(site_root: Path, register: Register, users: Users, read: ReadFile, sources: str) -> None:
    """Write a page for each table, of which a plant has dozens, unless they are as they would be written."""
    made_from = _digest([sources, repr(sorted(users.built.items())), repr(sorted(users.meant.items()))])
    note = site_root / _TABLES_FROM
    if sources and note.is_file() and note.read_bytes() == _note(site_root, made_from):
        return
    pages = table_pages(register, users, read)
    for stale in _names(site_root) - pages.keys():
        (site_root / stale).unlink()
    for name, text in pages.items():
        _replace(site_root / name, text)
    write_whole(note, _note(site_root, made_from))


def _note(site_root: Path, made_from: str) -> bytes:
    pages = (f"{name} {sha256((site_root / name).read_bytes()).hexdigest()}" for name in sorted(_names(site_root)))
    return f"{made_from} {_digest(pages)}".encode()


def _names(site_root: Path) -> set[str]:
    return {path.name for path in site_root.glob(f"{TABLE_PAGE}*.html")}


def _digest(parts: Iterable[str]) -> str:
    return sha256("\n".join(parts).encode()).hexdigest()


def _replace(path: Path, text: str) -> None:
    """Write ``text`` in one step; leave the file alone if it says so already."""
    content = text.encode()
    if path.is_symlink() or not (path.is_file() and path.read_bytes() == content):
        write_whole(path, content)
