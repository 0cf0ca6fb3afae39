"""All that an order's site shows of its revisions, read from the released records alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.queries.archive import Archive, packet_of
from weld_packets.revisions.queries.history import HistoryEntry, history_entries
from weld_packets.revisions.queries.proposed import Proposed, proposed_of
from weld_packets.revisions.queries.set_ups import NO_SET_UPS, SetUps, set_ups_of
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.register import register_state_text
from weld_packets.revisions.status.nonconformities import NonconformityState, nonconformities_of
from weld_packets.revisions.status.status import (
    Period,
    as_of,
    control_of,
    draft_control,
    periods,
    unchanged_days,
    zone_of,
)

REVIEW = "review.html"
"""The page of what waits for approval."""
GOOD_DAYS = 31
"""How long pages are good where the plant does not say: no source; a withdrawal reaches every copy in a month."""


@dataclass(frozen=True)
class RevisionView:
    """One revision as it is printed: ``folder`` holds its pages inside the site, empty for the main pages.

    ``changes`` are against the revision ``compared_with``; ``covers`` names the parts that it holds for where it shares
    the order with another revision; ``nonconformities`` are the open ones of the order. ``review`` is the page of what
    waits for approval, from the site's first page.
    """

    packet: Packet
    control: Control
    folder: str = ""
    changes: tuple[Change, ...] = ()
    compared_with: str = ""
    covers: str = ""
    nonconformities: tuple[NonconformityState, ...] = ()
    review: str = ""

    @property
    def name(self) -> str:
        """Return the revision letter, or ``draft``."""
        return self.control.revision or self.control.status


@dataclass(frozen=True)
class OrderHistory:
    """An order with releases: what the main pages show (None where nothing is in force), and all other revisions.

    ``others`` are newest first. ``built`` is the day at whose end each status holds, ``steady`` the first and last day
    on which all stay so (empty: open), ``zone`` the time zone of all days, ``register`` the state of the register,
    ``set_ups`` what was filed from cells, ``nonconformities`` all of the order, ``proposed`` what waits for approval.
    """

    slug: str
    main: RevisionView | None
    others: tuple[RevisionView, ...]
    entries: tuple[HistoryEntry, ...]
    periods: tuple[Period, ...]
    register: str
    built: date
    steady: tuple[str, str]
    zone: str = "UTC"
    set_ups: SetUps = NO_SET_UPS
    nonconformities: tuple[NonconformityState, ...] = ()
    proposed: tuple[Proposed, ...] = ()

    @property
    def good_days(self) -> int:
        """Return how many days after they were built the pages may still say that a revision is in force."""
        stated = self.newest.packet.head.copy_days
        return int(stated) if stated else GOOD_DAYS

    @property
    def good_until(self) -> str:
        """Return the last of these days."""
        return str(self.built + timedelta(days=self.good_days))

    @property
    def views(self) -> tuple[RevisionView, ...]:
        """Return every view, the main pages first."""
        return ((self.main,) if self.main else ()) + self.others

    @property
    def newest(self) -> RevisionView:
        """Return the view whose words name the order: the main one, or else the newest."""
        return self.views[0]

    @property
    def in_force(self) -> RevisionView | None:
        """Return the newest view in force."""
        return next((view for view in self.views if view.control.status == "in force"), None)


def load_order_history(archive: Archive, slug: str, day: date) -> OrderHistory | None:
    """Return the history of ``slug`` as its revisions are at the end of ``day``, None before its first release.

    Raises PacketError where a record is missing or altered.
    """
    records = archive.register.of(slug)
    packets = {entry.revision: packet_of(archive, entry) for entry in records if entry.kind == "release"}
    if not packets:
        return None
    entries = history_entries(records, day, lambda entry: packets[entry.revision])
    found = nonconformities_of(archive.register, slug)
    proposed = proposed_of(archive, slug, day)
    review, open_ones = REVIEW if proposed else "", tuple(each for each in found if not each.closed)
    released = _released_views(records, day, packets, entries)
    views = [replace(view, nonconformities=open_ones, review=review) for view in released]
    current = next((view for view in views if view.control.status == "in force"), None)
    return OrderHistory(
        slug=slug,
        main=replace(current, folder="") if current else None,
        others=tuple(view for view in views if view is not current),
        entries=entries,
        periods=periods(records),
        register=register_state_text(archive.register),
        built=day,
        steady=unchanged_days(records, day),
        zone=zone_of(records),
        set_ups=set_ups_of(archive, slug),
        nonconformities=found,
        proposed=proposed,
    )


def with_draft(history: OrderHistory, packet: Packet) -> OrderHistory:
    """Return the history with the draft on its main pages, compared with the newest release."""
    released = sorted(_in_folders(history), key=lambda view: _age(history, view))
    before = released[0]
    changes = diff(before.packet, packet)
    draft = RevisionView(
        packet, draft_control(packet), changes=changes, compared_with=before.name, review=before.review
    )
    return replace(history, main=draft, others=tuple(released))


def _in_folders(history: OrderHistory) -> list[RevisionView]:
    return [replace(view, folder=revision_folder(view.name)) for view in history.views]


def _age(history: OrderHistory, view: RevisionView) -> int:
    """Return 0 for the newest release, more for older ones."""
    marks = [entry.revision for entry in history.entries if entry.kind == "release"]
    return marks[::-1].index(view.name)


def _released_views(
    records: Sequence[RegisterEntry], day: date, packets: dict[str, Packet], entries: Sequence[HistoryEntry]
) -> list[RevisionView]:
    """Return a view for each release, newest first, each in its own folder."""
    covers = {found.revision: found.covers for found in as_of(records, day).in_force}
    releases = [entry for entry in entries if entry.kind == "release"]
    return [
        RevisionView(
            packet=packets[entry.revision],
            control=control_of(records, entry.revision, day),
            folder=revision_folder(entry.revision),
            changes=entry.changes,
            compared_with=entry.compared_with,
            covers=covers.get(entry.revision, ""),
        )
        for entry in reversed(releases)
    ]


def revision_folder(mark: str) -> str:
    """Return the folder inside a site in which a revision has its lasting address."""
    return f"rev-{mark.lower()}"
