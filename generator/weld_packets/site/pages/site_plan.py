"""What one order's site is made of, before any tool turns it into files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from weld_packets.packet.program_use import ProgramUse
from weld_packets.revisions.queries.table_changes import TableChange

ALL_ORDERS = "../index.html"
"""The list of all orders, from the main pages of a site: it is beside the folders of all sites."""


@dataclass(frozen=True)
class SearchEntry:
    """One place that the search finds: plain text, never markup; an empty anchor means the page itself.

    ``keys`` are words that lead to the place and are not shown, such as another name of a thing.
    """

    title: str
    text: str
    anchor: str = ""
    keys: str = ""


@dataclass(frozen=True)
class PageSection:
    """One heading that the page list shows under its page; ``title`` is plain text."""

    anchor: str
    title: str


@dataclass(frozen=True)
class Stamp:
    """What every page's head and every printed sheet's foot says of the document; all plain text.

    Attributes:
        order: order number as people say it.
        revision: revision mark, empty while there is none.
        status: one of ``draft``, ``proposed``, ``in force``, ``superseded``, ``withdrawn``, ``not yet in force``, or
            ``no revision in force``.
        detail: by what it is superseded, from when it holds, who approved it; what is not known is left out.
        digest: short digest of the record, empty where there is none.
        supervisor: whom to call when page and cell disagree; empty in records that do not name one.
        known_to: the day up to which the page knows the records; empty for a draft.
        risk_assessment: number and day of the plant's risk assessment; empty where the plant does not name it.

    """

    order: str
    revision: str
    status: str
    detail: tuple[str, ...] = ()
    digest: str = ""
    supervisor: str = ""
    known_to: str = ""
    risk_assessment: str = ""


@dataclass(frozen=True)
class RevisionChoice:
    """One revision that a page's selector offers: ``href`` leads from the page to it; ``chosen`` is the page's own."""

    label: str
    status: str
    href: str
    chosen: bool


@dataclass(frozen=True)
class Notice:
    """The notice across the top of a page that must not be worked from as it is; ``href`` leads to what counts."""

    text: str
    href: str = ""
    link: str = ""


@dataclass(frozen=True)
class BarKey:
    """One key of the bar at the foot; ``name`` is what a script knows it by."""

    title: str
    href: str
    name: str


@dataclass(frozen=True)
class PageFragment:
    """One page's body as markup that is already escaped, and what surrounds it as plain text.

    Attributes:
        path: file of the page inside the site, such as ``operation-1.html``.
        sheet: name of the printed sheet, shown in the head of each of its sheets.
        group: heading of the page list under which the page is listed; empty at the top.
        listed: whether the page list and the previous/next buttons lead to it.
        stamp: replaces the site's stamp on this page, as on a superseded one.
        choices: revisions to choose from, newest first.
        notice: the text across the top, in place of what the status says by itself.
        scripts: own scripts, by path inside the site.
        coded: whether its printed sheets carry a code.
        part: the part of the packet to which its printed sheets belong and which their code names, such as an
            operation; empty for a page that is a part by itself.
        parts: sheets whose codes the page carries, one for each of its parts; empty for a page that is one sheet.
        bar: keys of the bar at the foot beside all orders, and beside pages and search where the strip has not these;
            empty for back and next.
        has_strip: whether the page itself begins with who it is for, in place of the head of every other page.
        data: a script with what the scripts of this page and of others beside it know; it is kept as ``data_path``.
        rank: how soon the search lists the page's places among others that answer as well; lower is sooner.

    """

    path: str
    title: str
    nav_title: str
    html: str
    sheet: str = ""
    group: str = ""
    listed: bool = True
    search: tuple[SearchEntry, ...] = ()
    rank: int = 5
    sections: tuple[PageSection, ...] = ()
    stamp: Stamp | None = None
    choices: tuple[RevisionChoice, ...] = ()
    notice: Notice | None = None
    scripts: tuple[str, ...] = ()
    coded: bool = True
    part: str = ""
    parts: tuple[str, ...] = ()
    bar: tuple[BarKey, ...] = ()
    has_strip: bool = False
    data: str = ""

    @property
    def data_path(self) -> str:
        """Return where ``data`` is kept inside the site."""
        return f"{self.path.removesuffix('.html')}-form.js"

    @property
    def folder(self) -> str:
        """Return the folder inside the site in which the page is, empty for the main pages."""
        return self.path.rpartition("/")[0]

    @property
    def name(self) -> str:
        """Return the name of the sheet for a machine, such as ``operation-1``."""
        return self.path.rpartition("/")[2].removesuffix(".html")

    @property
    def sheets(self) -> tuple[str, ...]:
        """Return what the codes of the page's printed sheets name, in order."""
        return self.parts or (self.part or self.name,)


@dataclass(frozen=True)
class Qualified:
    """How an operation is qualified: its pages, WPS, verdict, and the records that cover its welds with their last day.

    ``outcome`` is empty where there is none, and ``text`` says why. ``due`` is the day on which the order is due,
    ``state`` that of its revision where it is not the main one of the site. ``named`` are the records that its page
    names beside those: the nearest ones, which cover none of its welds.
    """

    page: str
    wps_page: str
    operation: str
    wps: str
    outcome: str
    text: str
    records: tuple[tuple[str, str], ...] = ()
    due: str = ""
    state: str = ""
    named: tuple[str, ...] = ()


@dataclass(frozen=True)
class Card:
    """What the list of all orders shows of this one; plain text.

    ``programs`` is what the order uses the programs of its robots for, to be compared with other orders.
    ``steady`` are the first and the last day, in the time zone ``zone``, on which the order's status is as its site
    says; empty: open. After the day ``good_until`` its site answers for nothing, after ``renew`` a build makes it anew,
    and before the day ``built``, that of a clock which was ahead.
    ``words`` find the order in that list beside what is shown of it; ``cells`` are those it runs through.
    ``qualified`` is how its operations are qualified, ``table_changes`` what new revisions of tables meant for it.
    ``review`` is the page that shows what waits for approval.
    """

    title: str
    summary: str
    facts: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()
    steady: tuple[str, str] = ("", "")
    good_until: str = ""
    renew: str = ""
    built: str = ""
    zone: str = "UTC"
    programs: tuple[ProgramUse, ...] = ()
    qualified: tuple[Qualified, ...] = ()
    table_changes: tuple[TableChange, ...] = ()
    review: str = ""


@dataclass(frozen=True)
class SitePlan:
    """A whole site: ``slug`` names its folder.

    ``files`` are further files by path inside it, ``shared`` those that are in the sites of many orders.
    """

    slug: str
    title: str
    stamp: Stamp
    pages: tuple[PageFragment, ...]
    card: Card
    files: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
    shared: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
