"""The site of an order with releases: the revision in force on the main pages, every other one whole in its folder."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import pairwise

from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.programs import used_by_revision
from weld_packets.revisions.queries.table_changes import TableChange, table_changes
from weld_packets.revisions.status.status import Period, days_ahead
from weld_packets.site.pages.order_pages import (
    card_of,
    in_folder,
    pages_of_revision,
    qualified_of,
    sign_files,
    site_title,
    stamp_of,
)
from weld_packets.site.pages.revisions.order_history import OrderHistory, RevisionView, revision_folder
from weld_packets.site.pages.revisions.record_pages import check_page, history_page
from weld_packets.site.pages.revisions.review_page import proposed_view, review_page, with_review
from weld_packets.site.pages.site_plan import (
    Card,
    Notice,
    PageFragment,
    Qualified,
    RevisionChoice,
    SitePlan,
    Stamp,
)
from weld_packets.site.pages.templating import render
from weld_packets.wording.revisions import (
    DO_NOT_WELD,
    NONE_IN_FORCE,
    coming_notice,
    only_for_words,
    revision_words,
    status_words,
    superseded_notice,
    withdrawn_notice,
)

_NONE = "no revision in force"
_FIRST_PAGE = "index.html"
STATUS_DATA = "assets/records.js"
STATUS_SCRIPTS = (STATUS_DATA, "assets/revision_status.js")


@dataclass(frozen=True)
class _Printed:
    """A view with its pages, without what connects them to the other revisions."""

    view: RevisionView
    pages: tuple[PageFragment, ...]

    def place(self, page: str) -> str:
        """Return where ``page`` of the view is in the site, its first page where it has no such page."""
        wanted = page if any(known.path == page for known in self.pages) else _FIRST_PAGE
        return f"{self.view.folder}/{wanted}" if self.view.folder else wanted


@dataclass(frozen=True)
class _Among:
    """All printed views of an order, and the one in force."""

    history: OrderHistory
    printed: tuple[_Printed, ...]

    @property
    def in_force(self) -> _Printed | None:
        """Return the newest view in force."""
        return next((one for one in self.printed if one.view is self.history.in_force), None)

    def sharing(self, view: RevisionView) -> _Printed | None:
        """Return another view that is in force together with ``view``, for other parts."""
        found = (one for one in self.printed if one.view.control.status == "in force")
        return next((one for one in found if view.covers and one.view is not view), None)

    def choices(self, shown: RevisionView | None, page: str) -> tuple[RevisionChoice, ...]:
        """Return the selector of ``page`` of the view ``shown``."""
        return tuple(
            RevisionChoice(
                revision_words(one.view.control.revision, one.view.control.status),
                one.view.control.status,
                _away(shown) + one.place(page),
                one.view is shown,
            )
            for one in self.printed
        )


def plan_released_site(history: OrderHistory) -> SitePlan:
    """Return the whole site of an order with releases."""
    views = (*history.views, *(proposed_view(each, number) for number, each in enumerate(history.proposed, 1)))
    among = _Among(history, tuple(_Printed(one, pages_of_revision(one, _away(one))) for one in views))
    first = _main_pages(among) if history.main else (_nothing_page(among),)
    others = (page for one in among.printed if one.view.folder for page in _folder_pages(among, one))
    pages = (*first, *_record_pages(among), *others)
    sheets = {one.view.name: sorted(page.name for page in one.pages) for one in among.printed}
    return SitePlan(
        slug=history.slug,
        title=site_title(history.newest.packet),
        stamp=_stamp(history),
        pages=tuple(replace(page, scripts=(*STATUS_SCRIPTS, *page.scripts)) for page in pages),
        card=_card(history),
        files={**_status_data(history, sheets), **dict(_lasting_addresses(among))},
        shared=dict(sign_files([one.packet for one in views])),
    )


def _card(history: OrderHistory) -> Card:
    """Return the card of the order, headed by its open nonconformities."""
    card = with_review(card_of(history.newest.packet), history.proposed)
    found = tuple(f"Open nonconformity {each.number}" for each in history.nonconformities if not each.closed)
    return replace(
        card,
        steady=history.steady,
        good_until=history.good_until,
        built=str(history.built),
        renew=str(history.built + timedelta(days=history.good_days // 2)),
        zone=history.zone,
        facts=(*found, *card.facts),
        programs=tuple(_programs(history)),
        table_changes=tuple(_table_changes(history)),
        qualified=tuple(_qualified(history)),
    )


def _programs(history: OrderHistory) -> Iterator[ProgramUse]:
    """Yield what each revision that is in force or will be uses programs for; those of others bind no other order."""
    days = days_ahead(history.periods, history.built)
    for view in history.views:
        if view.name in days:
            yield from used_by_revision(view.packet, view.name, days[view.name])


def _qualified(history: OrderHistory) -> Iterator[Qualified]:
    """Yield how the operations are qualified of each revision by which somebody works or is to work."""
    for view in history.views:
        control = view.control
        if control.status not in ("superseded", "withdrawn"):
            since = f", from {control.effective_from}" if control.status == "not yet in force" else ""
            state = f"{status_words(control.revision, control.status)}{since}" if view.folder else ""
            yield from qualified_of(view.packet, view.folder, state)


def _table_changes(history: OrderHistory) -> Iterator[TableChange]:
    """Yield what each new revision of a table meant for the order, from its releases in their order."""
    packets = {view.name: view.packet for view in history.views}
    released = [entry.revision for entry in history.entries if entry.kind == "release"]
    for older, newer in pairwise(released):
        yield from table_changes((older, packets[older]), (newer, packets[newer]))


def _lasting_addresses(among: _Among) -> Iterator[tuple[str, bytes]]:
    """Yield a page for each main page in the folder that its revision has once another is in force.

    A bookmark of it means that revision for as long as the site is kept. Until then the page has a link to the main
    page and nothing else: no page of ours leads on by itself.
    """
    main = among.printed[0]
    if main.view.folder or not main.view.control.revision:
        return
    for page in main.pages:
        content = render("revisions/lasting.html", view=main.view, page=page, history=among.history)
        yield f"{revision_folder(main.view.name)}/{page.path}", content.encode()


def _main_pages(among: _Among) -> tuple[PageFragment, ...]:
    main = among.printed[0]
    notice = _shared_notice(among, main.view)
    return tuple(replace(page, choices=among.choices(main.view, page.path), notice=notice) for page in main.pages)


def _nothing_page(among: _Among) -> PageFragment:
    title = "No revision in force"
    return PageFragment(
        _FIRST_PAGE,
        title,
        title,
        render("revisions/nothing.html", history=among.history, coming=_coming(among.history)),
        choices=among.choices(None, _FIRST_PAGE),
        notice=_none_notice(among.history),
        coded=False,
    )


def _record_pages(among: _Among) -> tuple[PageFragment, ...]:
    """Return the pages about all revisions; they carry the order and no status, which would be taken for an answer."""
    history = among.history
    head = history.newest.packet.head
    known_to = str(history.built)
    stamp = Stamp(head.number, "", "", supervisor=head.supervisor, known_to=known_to) if history.main else None
    choices = among.choices(None, _FIRST_PAGE)
    return tuple(
        replace(page, choices=choices, stamp=stamp, notice=_none_notice(history))
        for page in (*_reviews(history), history_page(history), check_page())
    )


def _reviews(history: OrderHistory) -> Iterator[PageFragment]:
    for number, each in enumerate(history.proposed, 1):
        yield review_page(each, number, history.zone)


def _folder_pages(among: _Among, printed: _Printed) -> Iterator[PageFragment]:
    """Yield the pages of a view beside the main one: kept whole, out of the page list and out of the search."""
    view = printed.view
    for page in printed.pages:
        kept = in_folder(page, view)
        notice = kept.notice or _notice(among, view, page.path)
        stamp = replace(stamp_of(view.packet, view.control), known_to=str(among.history.built))
        yield replace(kept, stamp=stamp, choices=among.choices(view, page.path), notice=notice)


def _notice(among: _Among, view: RevisionView, page: str) -> Notice | None:
    """Return the notice across a page of ``view`` outside the main pages, with a link to what counts."""
    control, current = view.control, among.in_force
    if control.status == "in force":
        return _shared_notice(among, view)
    said = {
        "superseded": superseded_notice(control.superseded_by),
        "withdrawn": withdrawn_notice(control.reason),
        "not yet in force": coming_notice(control.effective_from),
    }[control.status]
    if current is None:
        return Notice(f"{said} {NONE_IN_FORCE}", f"../{_FIRST_PAGE}", "What to do")
    return Notice(said, _away(view) + current.place(page), f"Open revision {current.view.name}, in force")


def _shared_notice(among: _Among, view: RevisionView) -> Notice | None:
    """Return which parts ``view`` holds for, where it shares the order with another revision in force."""
    other = among.sharing(view)
    if other is None:
        return None
    link = f"Other parts: revision {other.view.name}"
    return Notice(only_for_words(view.covers), _away(view) + other.place(_FIRST_PAGE), link)


def _none_notice(history: OrderHistory) -> Notice | None:
    return None if history.main else Notice(DO_NOT_WELD, "history.html", "What happened")


def _coming(history: OrderHistory) -> RevisionView | None:
    """Return the revision that takes effect next, where one is due."""
    waiting = [view for view in history.others if view.control.status == "not yet in force"]
    return waiting[-1] if waiting else None


def _away(view: RevisionView | None) -> str:
    """Return the path from the pages of ``view`` to the site's first page."""
    return "../" if view and view.folder else ""


def _stamp(history: OrderHistory) -> Stamp:
    if history.main is None:
        head = history.newest.packet.head
        return Stamp(head.number, "", _NONE, supervisor=head.supervisor, known_to=str(history.built))
    stamp = stamp_of(history.main.packet, history.main.control)
    return replace(stamp, known_to=str(history.built) if history.main.control.revision else "")


# ---------------------------------------------------------------- what the pages' scripts know of the revisions


def _status_data(history: OrderHistory, sheets: Mapping[str, Sequence[str]]) -> dict[str, bytes]:
    """Return the data script of an order; ``sheets`` names the sheets of each view by its name."""
    data = {
        "order": history.newest.packet.head.number,
        "built": str(history.built),
        "zone": history.zone,
        "goodDays": history.good_days,
        "register": history.register,
        "revisions": [_revision(view, sheets[view.name]) for view in history.views],
        "periods": [_period(period) for period in history.periods],
    }
    return {STATUS_DATA: f"window.packetRecords = {json.dumps(data, indent=1, sort_keys=True)}\n".encode()}


def _revision(view: RevisionView, sheets: Sequence[str]) -> dict[str, object]:
    control = view.control
    return {
        "mark": control.revision,
        "folder": view.folder,
        "digest": control.digest,
        "effective": control.effective_from,
        "approver": control.approver,
        "reason": control.reason,
        "sheets": list(sheets),
    }


def _period(period: Period) -> dict[str, object]:
    return {
        "since": period.since,
        "inForce": [
            {"mark": one.revision, "since": one.since, "covers": one.covers, "approver": one.approver}
            for one in period.found.in_force
        ],
        "turned": period.found.turned,
        "earlier": [str(part) for part in period.found.earlier_that_day],
        "status": {one.revision: [one.status, one.superseded_by] for one in period.statuses},
    }
