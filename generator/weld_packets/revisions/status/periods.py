"""How an order's revisions stand from one turning day to the next, so that a page can answer for any day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from weld_packets.revisions.register.register import RegisterEntry
from weld_packets.revisions.status.status import AsOf, as_of, control_of, days_of_change


@dataclass(frozen=True)
class RevisionStatus:
    """A revision with its status in a period."""

    revision: str
    status: str
    superseded_by: str


@dataclass(frozen=True)
class Period:
    """How all revisions stand from the end of the day ``found.day`` until the day before the next period."""

    found: AsOf
    statuses: tuple[RevisionStatus, ...]

    @property
    def since(self) -> str:
        """Return the first day, year-month-day."""
        return self.found.day


def periods(chain: Sequence[RegisterEntry], order: str) -> tuple[Period, ...]:
    """Return the periods of ``order``, oldest first; none before its first release."""
    return tuple(_period(chain, order, day) for day in days_of_change(chain))


def unchanged_days(chain: Sequence[RegisterEntry], day: date) -> tuple[str, str]:
    """Return the first and the last day around ``day`` on which the revisions stand as they do then; empty: open."""
    turns = days_of_change(chain)
    first = max((turn for turn in turns if turn <= day), default=None)
    after = min((turn for turn in turns if turn > day), default=None)
    return str(first or ""), str(after - timedelta(days=1)) if after else ""


def _period(chain: Sequence[RegisterEntry], order: str, day: date) -> Period:
    return Period(as_of(chain, order, day), tuple(_statuses(chain, day)))


def _statuses(chain: Sequence[RegisterEntry], day: date) -> list[RevisionStatus]:
    marks = [entry.revision for entry in chain if entry.kind == "release"]
    controls = [control_of(chain, mark, day) for mark in marks]
    return [RevisionStatus(control.revision, control.status, control.superseded_by) for control in controls]
