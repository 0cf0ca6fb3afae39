"""The page for an approver: what is proposed, what it changes in classes, and how it is approved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from weld_packets.packet.records.order import Control, Packet
from weld_packets.packet.records.settings import Picture
from weld_packets.revisions.differences.changes import change_lines
from weld_packets.revisions.queries.proposed import Proposed
from weld_packets.revisions.records.canonical import short
from weld_packets.site.pages.operation_pages import operation_page
from weld_packets.site.pages.revisions.change_ranking import CLASS_ANCHORS, FOR_HISTORY, LEADING, in_classes, is_primary
from weld_packets.site.pages.revisions.order_history import REVIEW, RevisionView
from weld_packets.site.pages.revisions.record_pages import overlays
from weld_packets.site.pages.site_plan import Card, Notice, PageFragment, PageSection, SearchEntry
from weld_packets.site.pages.templating import render
from weld_packets.wording.revisions import proposed_notice, waiting_words


class _ChangeClass(NamedTuple):
    """The changes of one class: its name, its place on the page, their lines; those that lead are open."""

    name: str
    anchor: str
    lines: tuple[str, ...]
    leads: bool


def review_path(number: int) -> str:
    """Return the page of the proposal of a number, from 1; after a merge there may be several."""
    return REVIEW if number == 1 else REVIEW.replace(".", f"-{number}.")


def proposed_view(proposed: Proposed, number: int) -> RevisionView:
    """Return what is proposed as it is printed, in a folder of its own."""
    entry = proposed.entry
    control = Control(
        revision="",
        status="proposed",
        effective_from=str(entry.effective),
        author=entry.author,
        reason=entry.reason,
        digest=entry.packet_digest,
        packet_digest=entry.packet_digest,
    )
    folder = "proposed" if number == 1 else f"proposed-{number}"
    return RevisionView(
        proposed.packet,
        control,
        folder,
        changes=proposed.changes,
        compared_with=proposed.compared_with,
        review=review_path(number),
    )


def notice_of_proposed(view: RevisionView) -> Notice:
    """Return the notice across a page of what is proposed."""
    return Notice(proposed_notice(view.control.author), f"../{view.review}", "What is to be approved")


def with_review(card: Card, proposed: Sequence[Proposed]) -> Card:
    """Return what the list of all orders shows of an order of which something waits for approval."""
    if not proposed:
        return card
    said = (waiting_words(each.entry.author, str(each.entry.effective)) for each in proposed)
    return replace(card, facts=(*card.facts, *said), review=review_path(1))


def review_page(proposed: Proposed, number: int, zone: str = "") -> PageFragment:
    """Return the page of a proposal; times are those of ``zone``, else of the packet's plant."""
    view = proposed_view(proposed, number)
    classes = [
        _ChangeClass(name, CLASS_ANCHORS[name], change_lines(same), leads=name != FOR_HISTORY and is_primary(same[0]))
        for name, same in in_classes(proposed.changes)
    ]
    changed = {each.name for each in classes}
    html = render(
        "revisions/review.html",
        packet=proposed.packet,
        entry=proposed.entry,
        view=view,
        compared_with=proposed.compared_with,
        classes=classes,
        unchanged=[name for name in LEADING if name not in changed],
        pictures=tuple(_pictures(proposed.before, proposed)),
        operation_page=operation_page,
        zone=zone or proposed.packet.head.time_zone or "UTC",
        short=short,
    )
    title = "Proposed for approval"
    sections = tuple(PageSection(each.anchor, each.name.capitalize()) for each in classes)
    entry = SearchEntry(title, f"What {proposed.entry.author} proposes, what it changes, how it is approved")
    return PageFragment(
        review_path(number), title, title, html, group="Records", search=(entry,), sections=sections, coded=False
    )


def _pictures(before: Packet | None, proposed: Proposed) -> Iterator[Picture]:
    if before is not None:
        yield from overlays("proposed", before, proposed.packet, proposed.changes)
