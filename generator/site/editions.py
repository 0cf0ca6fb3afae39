"""The site of an order with releases: the revision in force on the main pages, every other one whole in its folder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.packet.records import Control
from generator.site.check_page import check_page
from generator.site.dossier import Dossier, Edition
from generator.site.history_page import history_page
from generator.site.markup import render
from generator.site.pages import card_of, edition_pages, sign_files, stamp_of, title_of
from generator.site.siteplan import Choice, Notice, PageFragment, SitePlan, Stamp
from generator.site.standing import STANDING_SCRIPTS, standing_data

_NONE = "no revision in force"
_MAIN_HOME = "index.html"


def plan_order(dossier: Dossier) -> SitePlan:
    """Return the whole site of an order with releases."""
    main = _main_pages(dossier)
    others = tuple(page for edition in dossier.others for page in _folder_pages(dossier, edition))
    stamp = _stamp(dossier)
    pages = (*main, *_record_pages(dossier), *others)
    packets = [edition.packet for edition in dossier.editions]
    sheets = {edition.mark: _sheets(edition) for edition in dossier.editions}
    return SitePlan(
        slug=dossier.slug,
        title=title_of(dossier.newest.packet),
        stamp=stamp,
        pages=tuple(replace(page, scripts=(*STANDING_SCRIPTS, *page.scripts)) for page in pages),
        card=replace(card_of(dossier.newest.packet), steady=dossier.steady),
        files=dict(sign_files(packets)) | standing_data(dossier, sheets),
    )


def _main_pages(dossier: Dossier) -> tuple[PageFragment, ...]:
    if dossier.main is None:
        return (_nothing_page(dossier),)
    pages = edition_pages(dossier.main)
    shown = tuple(replace(page, choices=_choices(dossier, dossier.main, page.path)) for page in pages)
    return _noticed(shown, _shared_notice(dossier, dossier.main))


def _record_pages(dossier: Dossier) -> tuple[PageFragment, ...]:
    """Return the pages about all revisions; they carry the order and no status, which would be taken for an answer."""
    stamp = Stamp(dossier.newest.packet.head.number, "", "") if dossier.main else None
    choices = _choices(dossier, None, _MAIN_HOME)
    pages = (history_page(dossier), check_page())
    return _noticed(tuple(replace(page, choices=choices, stamp=stamp) for page in pages), _none_notice(dossier))


def _nothing_page(dossier: Dossier) -> PageFragment:
    html = render("nothing.html", dossier=dossier, coming=_coming(dossier))
    choices = _choices(dossier, None, _MAIN_HOME)
    title = "No revision in force"
    return PageFragment(_MAIN_HOME, title, title, html, choices=choices, notice=_none_notice(dossier), coded=False)


def _folder_pages(dossier: Dossier, edition: Edition) -> Iterator[PageFragment]:
    """Yield the pages of an edition beside the main one: kept whole, out of the page list and out of the search."""
    for page in edition_pages(edition, home="../"):
        yield replace(
            page,
            path=f"{edition.folder}/{page.path}",
            html=page.html.replace('src="assets/', 'src="../assets/'),
            listed=False,
            search=(),
            stamp=stamp_of(edition.packet, edition.control),
            choices=_choices(dossier, edition, page.path),
            notice=_notice(dossier, edition, page.path),
        )


def _choices(dossier: Dossier, shown: Edition | None, page: str) -> tuple[Choice, ...]:
    """Return the selector of a page: the same page of each revision, or its first page where it has no such page."""
    away = "../" if shown and shown.folder else ""
    return tuple(
        Choice(_label(edition.control), edition.control.status, away + _path(edition, page), edition is shown)
        for edition in dossier.editions
    )


def _label(control: Control) -> str:
    return f"Rev {control.revision}" if control.revision else "Draft"


def _path(edition: Edition, page: str) -> str:
    wanted = page if page in _page_names(edition) else _MAIN_HOME
    return f"{edition.folder}/{wanted}" if edition.folder else wanted


def _page_names(edition: Edition) -> set[str]:
    rows = {f"row-{row.number}{part}.html" for row in edition.packet.rows for part in ("", "-figures")}
    return rows | {f"{name}.html" for name in _COMMON_PAGES}


_COMMON_PAGES = ("index", "changeover", "safety", "start", "inspection", "sources", "packet")


def _sheets(edition: Edition) -> list[str]:
    return sorted(name.removesuffix(".html") for name in _page_names(edition))


def _notice(dossier: Dossier, edition: Edition, page: str) -> Notice | None:
    """Return what stands across a page of ``edition`` outside the main pages, with a link to what counts."""
    control, current = edition.control, dossier.in_force
    if control.status == "in force":
        return _shared_notice(dossier, edition)
    said = {
        "superseded": f"By revision {control.superseded_by}. Do not work from this page.",
        "withdrawn": f"{control.reason}. Do not work from this page.",
        "not yet in force": f"Takes effect from {control.effective_from}. Do not work from this page before.",
    }
    text = said.get(control.status, "Do not work from this page.")
    if current is None:
        return Notice(f"{text} No revision of this order is in force.", f"../{_MAIN_HOME}", "What to do")
    return Notice(text, "../" + _path(current, page), f"Open revision {current.mark}, in force")


def _shared_notice(dossier: Dossier, edition: Edition) -> Notice | None:
    """Return which parts ``edition`` holds for, where it shares the order with another revision in force."""
    others = [other for other in dossier.editions if other.control.status == "in force" and other is not edition]
    if not edition.covers or not others:
        return None
    away = "../" if edition.folder else ""
    href = away + _path(others[0], _MAIN_HOME)
    return Notice(f"Only for parts {edition.covers}.", href, f"Other parts: revision {others[0].mark}")


def _none_notice(dossier: Dossier) -> Notice | None:
    if dossier.main is not None:
        return None
    return Notice("Do not weld this order.", "history.html", "What happened")


def _noticed(pages: tuple[PageFragment, ...], notice: Notice | None) -> tuple[PageFragment, ...]:
    return tuple(replace(page, notice=notice) for page in pages) if notice else pages


def _coming(dossier: Dossier) -> Edition | None:
    waiting = [edition for edition in dossier.others if edition.control.status == "not yet in force"]
    return waiting[-1] if waiting else None


def _stamp(dossier: Dossier) -> Stamp:
    if dossier.main is None:
        return Stamp(dossier.newest.packet.head.number, "", _NONE)
    return stamp_of(dossier.main.packet, dossier.main.control)
