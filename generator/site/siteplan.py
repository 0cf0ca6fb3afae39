"""What one order's site is made of, before any tool turns it into files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType


@dataclass(frozen=True)
class SearchEntry:
    """One findable place: plain text, never markup; an empty anchor means the page itself."""

    title: str
    text: str
    anchor: str = ""


@dataclass(frozen=True)
class Section:
    """One heading that the page list shows under its page; ``title`` is plain text."""

    anchor: str
    title: str


@dataclass(frozen=True)
class Stamp:
    """What every page's head and every printed sheet's foot says of the document; all plain text.

    Attributes:
        order: order number as people say it.
        revision: revision mark, empty while there is none.
        status: one of ``draft``, ``in force``, ``superseded``, ``withdrawn``.
        detail: who approved, from when, or by what it is superseded; may be empty.
        digest: short digest of the record, empty where there is none.

    """

    order: str
    revision: str
    status: str
    detail: str = ""
    digest: str = ""


@dataclass(frozen=True)
class PageFragment:
    """One page's body as markup that is already escaped, and what surrounds it as plain text.

    Attributes:
        path: file of the page inside the site, such as ``row-1.html``.
        sheet: name of the printed sheet, shown in the head of each of its sheets.
        group: heading of the page list under which the page stands; empty at the top.
        listed: whether the page list and the previous/next buttons lead to it.
        stamp: replaces the site's stamp on this page, as on a superseded one.

    """

    path: str
    title: str
    nav_title: str
    html: str
    sheet: str = ""
    group: str = ""
    listed: bool = True
    search: tuple[SearchEntry, ...] = ()
    sections: tuple[Section, ...] = ()
    stamp: Stamp | None = None


@dataclass(frozen=True)
class Card:
    """What the list of all orders shows of this one; plain text."""

    title: str
    summary: str
    facts: tuple[str, ...] = ()


@dataclass(frozen=True)
class SitePlan:
    """A whole site: ``slug`` names its folder; ``files`` are further files by path inside it."""

    slug: str
    title: str
    stamp: Stamp
    pages: tuple[PageFragment, ...]
    card: Card
    files: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
