"""The status of an order's revisions, period by period, so that a page can answer for any day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.status import AsOf, as_of, control_of, days_of_change


@dataclass(frozen=True)
class RevisionStatus:
    """A revision with its status in a period."""

    revision: str
    status: str
    superseded_by: str


@dataclass(frozen=True)
class Period:
    """The status of all revisions from the end of the day ``found.day`` until the day before the next period."""

    found: AsOf
    statuses: tuple[RevisionStatus, ...]

    @property
    def since(self) -> str:
        """Return the first day, year-month-day."""
        return self.found.day


def periods(entries: Sequence[RegisterEntry], order: str) -> tuple[Period, ...]:
    """Return the periods of ``order``, oldest first; none before its first release."""
    return tuple(_period(entries, order, day) for day in days_of_change(entries))


def days_in_force(entries: Sequence[RegisterEntry], order: str) -> dict[str, list[tuple[str, str]]]:
    """Return for each revision the first and the last day of each period at whose days' end it is in force.

    The last day of the latest period is open: an empty text.
    """
    known = periods(entries, order)
    last_days = [str(date.fromisoformat(later.since) - timedelta(days=1)) for later in known[1:]]
    found: dict[str, list[tuple[str, str]]] = {}
    for period, last in zip(known, (*last_days, ""), strict=True):
        for each in period.found.in_force:
            found.setdefault(each.revision, []).append((period.since, last))
    return found


def unchanged_days(entries: Sequence[RegisterEntry], day: date) -> tuple[str, str]:
    """Return the first and the last day around ``day`` on which no status changes; empty: open."""
    turns = days_of_change(entries)
    first = max((turn for turn in turns if turn <= day), default=None)
    after = min((turn for turn in turns if turn > day), default=None)
    return str(first or ""), str(after - timedelta(days=1)) if after else ""


def _period(entries: Sequence[RegisterEntry], order: str, day: date) -> Period:
    return Period(as_of(entries, order, day), tuple(_statuses(entries, day)))


def _statuses(entries: Sequence[RegisterEntry], day: date) -> list[RevisionStatus]:
    letters = [entry.revision for entry in entries if entry.kind == "release"]
    controls = [control_of(entries, letter, day) for letter in letters]
    return [RevisionStatus(control.revision, control.status, control.superseded_by) for control in controls]
