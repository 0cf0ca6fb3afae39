"""The site of an order with releases: the revision in force on the main pages, every other one whole in its folder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from weld_packets.packet.records import Control
from weld_packets.site.pages.check_page import check_page
from weld_packets.site.pages.dossier import Dossier, Edition
from weld_packets.site.pages.history_page import history_page
from weld_packets.site.pages.markup import render
from weld_packets.site.pages.order_pages import card_of, edition_pages, sign_files, stamp_of, title_of
from weld_packets.site.pages.siteplan import Choice, Notice, PageFragment, SitePlan, Stamp
from weld_packets.site.pages.standing import STANDING_SCRIPTS, standing_data

_NONE = "no revision in force"
_FIRST_PAGE = "index.html"


@dataclass(frozen=True)
class _Printed:
    """An edition with its pages, which do not know yet that they stand among others."""

    edition: Edition
    pages: tuple[PageFragment, ...]

    def place(self, page: str) -> str:
        """Return where ``page`` of the edition stands in the site, its first page where it has no such page."""
        wanted = page if any(known.path == page for known in self.pages) else _FIRST_PAGE
        return f"{self.edition.folder}/{wanted}" if self.edition.folder else wanted


@dataclass(frozen=True)
class _Among:
    """All printed editions of an order, and the one in force."""

    dossier: Dossier
    printed: tuple[_Printed, ...]

    @property
    def in_force(self) -> _Printed | None:
        """Return the newest edition in force."""
        return next((one for one in self.printed if one.edition is self.dossier.in_force), None)

    def sharing(self, edition: Edition) -> _Printed | None:
        """Return another edition that is in force together with ``edition``, for other parts."""
        found = (one for one in self.printed if one.edition.control.status == "in force")
        return next((one for one in found if edition.covers and one.edition is not edition), None)

    def choices(self, shown: Edition | None, page: str) -> tuple[Choice, ...]:
        """Return the selector of ``page`` of the edition ``shown``."""
        return tuple(
            Choice(
                _label(one.edition.control),
                one.edition.control.status,
                _away(shown) + one.place(page),
                one.edition is shown,
            )
            for one in self.printed
        )


def plan_order(dossier: Dossier) -> SitePlan:
    """Return the whole site of an order with releases."""
    among = _Among(dossier, tuple(_Printed(one, edition_pages(one, _away(one))) for one in dossier.editions))
    first = _main_pages(among) if dossier.main else (_nothing_page(among),)
    others = (page for one in among.printed if one.edition.folder for page in _folder_pages(among, one))
    pages = (*first, *_record_pages(among), *others)
    sheets = {one.edition.mark: sorted(page.name for page in one.pages) for one in among.printed}
    return SitePlan(
        slug=dossier.slug,
        title=title_of(dossier.newest.packet),
        stamp=_stamp(dossier),
        pages=tuple(replace(page, scripts=(*STANDING_SCRIPTS, *page.scripts)) for page in pages),
        card=replace(card_of(dossier.newest.packet), steady=dossier.steady),
        files=standing_data(dossier, sheets),
        alike=dict(sign_files([one.packet for one in dossier.editions])),
    )


def _main_pages(among: _Among) -> tuple[PageFragment, ...]:
    main = among.printed[0]
    notice = _shared_notice(among, main.edition)
    return tuple(replace(page, choices=among.choices(main.edition, page.path), notice=notice) for page in main.pages)


def _nothing_page(among: _Among) -> PageFragment:
    title = "No revision in force"
    return PageFragment(
        _FIRST_PAGE,
        title,
        title,
        render("nothing.html", dossier=among.dossier, coming=_coming(among.dossier)),
        choices=among.choices(None, _FIRST_PAGE),
        notice=_none_notice(among.dossier),
        coded=False,
    )


def _record_pages(among: _Among) -> tuple[PageFragment, ...]:
    """Return the pages about all revisions; they carry the order and no status, which would be taken for an answer."""
    dossier = among.dossier
    stamp = Stamp(dossier.newest.packet.head.number, "", "") if dossier.main else None
    choices = among.choices(None, _FIRST_PAGE)
    return tuple(
        replace(page, choices=choices, stamp=stamp, notice=_none_notice(dossier))
        for page in (history_page(dossier), check_page())
    )


def _folder_pages(among: _Among, printed: _Printed) -> Iterator[PageFragment]:
    """Yield the pages of an edition beside the main one: kept whole, out of the page list and out of the search."""
    edition = printed.edition
    for page in printed.pages:
        yield replace(
            page,
            path=f"{edition.folder}/{page.path}",
            html=page.html.replace('src="assets/', 'src="../assets/'),
            listed=False,
            search=(),
            stamp=stamp_of(edition.packet, edition.control),
            choices=among.choices(edition, page.path),
            notice=_notice(among, edition, page.path),
        )


def _notice(among: _Among, edition: Edition, page: str) -> Notice | None:
    """Return what stands across a page of ``edition`` outside the main pages, with a link to what counts."""
    control, current = edition.control, among.in_force
    if control.status == "in force":
        return _shared_notice(among, edition)
    said = {
        "superseded": f"By revision {control.superseded_by}. Do not work from this page.",
        "withdrawn": f"{control.reason}. Do not work from this page.",
        "not yet in force": f"Takes effect from {control.effective_from}. Do not work from this page before.",
    }[control.status]
    if current is None:
        return Notice(f"{said} No revision of this order is in force.", f"../{_FIRST_PAGE}", "What to do")
    return Notice(said, _away(edition) + current.place(page), f"Open revision {current.edition.mark}, in force")


def _shared_notice(among: _Among, edition: Edition) -> Notice | None:
    """Return which parts ``edition`` holds for, where it shares the order with another revision in force."""
    other = among.sharing(edition)
    if other is None:
        return None
    link = f"Other parts: revision {other.edition.mark}"
    return Notice(f"Only for parts {edition.covers}.", _away(edition) + other.place(_FIRST_PAGE), link)


def _none_notice(dossier: Dossier) -> Notice | None:
    return None if dossier.main else Notice("Do not weld this order.", "history.html", "What happened")


def _coming(dossier: Dossier) -> Edition | None:
    """Return the revision that takes effect next, where one is due."""
    waiting = [edition for edition in dossier.others if edition.control.status == "not yet in force"]
    return waiting[-1] if waiting else None


def _away(edition: Edition | None) -> str:
    """Return the way from the pages of ``edition`` to the site's first page."""
    return "../" if edition and edition.folder else ""


def _label(control: Control) -> str:
    return f"Rev {control.revision}" if control.revision else "Draft"


def _stamp(dossier: Dossier) -> Stamp:
    if dossier.main is None:
        return Stamp(dossier.newest.packet.head.number, "", _NONE)
    return stamp_of(dossier.main.packet, dossier.main.control)
