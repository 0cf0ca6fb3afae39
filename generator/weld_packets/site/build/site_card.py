"""The card of a site: what the list of orders, and the next build, must know of it without reading its pages."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import orjson

from weld_packets.files import plain_content
from weld_packets.packet.program_use import ProgramUse

if TYPE_CHECKING:
    from weld_packets.revisions.queries.table_changes import TableChange
    from weld_packets.site.pages.site_plan import SitePlan

CARD = "card.json"
_KEYS = frozenset({
    "title", "order", "revision", "status", "summary", "facts", "words", "cells", "steady", "good_until", "renew",
    "zone", "programs", "qualified", "table_changes", "review", "fingerprint",
})  # fmt: skip


def write_card(plan: SitePlan, site: Path, fingerprint: str) -> None:
    """Write what the list of orders, and the next build, must know of this site."""
    card = {
        **{name: part for name, part in vars(plan.card).items() if name != "built"},
        **{name: getattr(plan.stamp, name) for name in ("order", "revision", "status")},
        "table_changes": [_change(each) for each in plan.card.table_changes],
        "fingerprint": fingerprint,
    }
    (site / CARD).write_bytes(orjson.dumps(card, option=orjson.OPT_SORT_KEYS | orjson.OPT_APPEND_NEWLINE))


def _change(change: TableChange) -> dict[str, Any]:
    return {**vars(change), "settings": [{"says": str(each), "inside": each.inside} for each in change.settings]}


def read_card(site: Path) -> dict[str, Any] | None:
    """Return what `write_card` wrote, or None where there is no whole site."""
    return _read(str(site))


def _read(site: str) -> dict[str, Any] | None:
    try:
        card = orjson.loads(plain_content(f"{site}/{CARD}"))
    except (OSError, ValueError, RecursionError):
        return None
    return card if isinstance(card, dict) and card.keys() >= _KEYS else None


class Cards(Mapping[str, dict[str, Any]]):
    """The card of every whole site below a folder by its name, sorted; none of one that is being made.

    Each is read when it is asked for and not kept, so that those of ten thousand orders take no memory.
    """

    def __init__(self, site_root: Path) -> None:
        """Take the folder; nothing is read yet."""
        self._root = site_root
        self._last: tuple[str, dict[str, Any] | None] = ("", None)

    def __getitem__(self, name: str) -> dict[str, Any]:
        """Return the card of a site; raise KeyError where there is no whole one."""
        card = self._card(name)
        if card is None:
            raise KeyError(name)
        return card

    def __iter__(self) -> Iterator[str]:
        """Yield the names of the sites."""
        return (name for name in folder_names(self._root) if self._card(name) is not None)

    def __len__(self) -> int:
        """Return how many there are."""
        return sum(1 for _ in self)

    def _card(self, name: str) -> dict[str, Any] | None:
        """Return a card; the last one is kept, since who goes through them asks for the name and then for the card."""
        if self._last[0] != name:
            self._last = (name, _read(f"{self._root}/{name}"))
        return self._last[1]


def folder_names(site_root: Path) -> list[str]:
    """Return the names of the folders below ``site_root`` that may be sites, sorted."""
    with os.scandir(site_root) as entries:
        return sorted(
            entry.name for entry in entries if not entry.name.startswith(".") and entry.is_dir(follow_symlinks=False)
        )


class SharedPrograms:
    """Which programs of a robot several orders use; most are of one order alone.

    Programs are distinguished by hash alone, which takes little memory; to count one too many as shared does no harm.
    """

    def __init__(self) -> None:
        """Begin with no program."""
        self._met: set[int] = set()
        self._shared: set[int] = set()

    def add(self, _slug: str, card: Mapping[str, Any]) -> None:
        """Add the programs that an order's card names."""
        own = {_program(use) for use in card["programs"]}
        self._shared |= own & self._met
        self._met |= own

    def uses(self, cards: Mapping[str, Mapping[str, Any]]) -> Iterator[tuple[str, list[ProgramUse]]]:
        """Yield for each site of ``cards`` its uses of shared programs, if any; read only where there are any."""
        for name, card in cards.items() if self._shared else ():
            found = [_use(use) for use in card["programs"] if _program(use) in self._shared]
            if found:
                yield name, found


def _program(use: Mapping[str, Any]) -> int:
    return hash((use["robot"], use["program"]))


def uses_of_site(site: Path) -> list[ProgramUse]:
    """Return what the order of a site uses the programs of its robots for; nothing where there is no whole site."""
    return [_use(use) for use in (read_card(site) or {"programs": ()})["programs"]]


def _use(kept: Mapping[str, Any]) -> ProgramUse:
    return ProgramUse(**{**kept, "days": tuple(kept.get("days", ("", "")))})
