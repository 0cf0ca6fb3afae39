"""A page for each table that was approved or released: every revision whole, its approval, and what used it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from weld_packets.revisions.queries.table_history import (
    KnownRevision,
    ShownRevision,
    kept_since,
    known_revisions,
    shown_revision,
)
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.integrity import ReadFile
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.status.status import zone_of
from weld_packets.revisions.status.table_contents import value_text
from weld_packets.site.pages.templating import render
from weld_packets.wording.revisions import DIFFERENCE_NOT_KNOWN, not_shown_words

TABLE_PAGE = "table-"
"""How the name of each of these pages begins."""
_HEAD = ("table", "kind", "title", "revision", "source", "reliability", "document", "transcribed", "checked", "notes")
"""Keys that say what a table is, before its values."""
_NAMING = ("id", "name", "gauge", "thickness", "over", "up to")
"""Keys by which a reader knows a row: its first columns, since what was kept has its keys sorted."""


def nothing_kept(_name: str, _digest: str) -> bytes | None:
    """Return no file: for pages that are made away from the records."""
    return None


def page_of_table(table: str) -> str:
    """Return the page of a table; a name may hold a slash, and never a tilde."""
    return f"{TABLE_PAGE}{table.replace('/', '~')}.html"


Meant = dict[tuple[str, str], list[tuple[str, Mapping[str, Any]]]]
"""By table and revision: the orders that went on to a later one, each with what that meant for it."""


@dataclass
class Users:
    """What the built sites say: the numbers of the orders by folder, and what new revisions of tables meant."""

    built: dict[str, str] = field(default_factory=dict)
    meant: Meant = field(default_factory=dict)

    def add(self, slug: str, card: Mapping[str, Any]) -> None:
        """Add what an order's card says, by the folder of its site."""
        self.built[slug] = str(card["order"])
        for change in card["table_changes"]:
            self.meant.setdefault((change["table"], change["before"]), []).append((slug, change))


def table_pages(register: Register, users: Users, read: ReadFile) -> dict[str, str]:
    """Return a page for each table that the register names, by file."""
    return {
        page_of_table(table): render(
            "all_orders/table.html",
            table=table,
            revisions=tuple(reversed(shown_revisions(revisions, read))),
            meant=users.meant,
            head=_HEAD,
            built=users.built,
            kept_since=kept_since(register),
            not_shown=not_shown_words,
            difference_not_known=DIFFERENCE_NOT_KNOWN,
            total=len(register.listed),
            register_state=register_state_text(register),
            register_digest=register.state.register_digest,
            zone=zone_of(register.entries),
            columns=columns_of,
            value_text=value_text,
            short=short,
            until="",
            day="",
        )
        for table, revisions in known_revisions(register).items()
    }


def shown_revisions(revisions: Sequence[KnownRevision], read: ReadFile) -> list[ShownRevision]:
    """Return the revisions of a table with their contents, each compared with the one before it, oldest first."""
    shown: list[ShownRevision] = []
    for known in revisions:
        shown.append(shown_revision(read, known, shown[-1] if shown else None))
    return shown


def columns_of(items: object) -> list[str] | None:
    """Return the keys of a list of rows that are shown as columns, what names a row first; None for anything else."""
    if not isinstance(items, list) or not items or not all(isinstance(item, Mapping) for item in items):
        return None
    keys = dict.fromkeys(key for item in items for key in item)
    return [*(key for key in _NAMING if key in keys), *(key for key in keys if key not in _NAMING)]
