"""How an order's revisions stand from one turning day to the next, so that a page can answer for any day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from weld_packets.revisions.register.register import RegisterEntry
from weld_packets.revisions.status.status import AsOf, as_of, control_of, turning_days


@dataclass(frozen=True)
class Standing:
    """A revision with its status in a phase."""

    revision: str
    status: str
    superseded_by: str


@dataclass(frozen=True)
class Phase:
    """How all revisions stand from the end of the day ``found.day`` until the day before the next phase."""

    found: AsOf
    standings: tuple[Standing, ...]

    @property
    def since(self) -> str:
        """Return the first day, year-month-day."""
        return self.found.day


def phases(chain: Sequence[RegisterEntry], order: str) -> tuple[Phase, ...]:
    """Return the phases of ``order``, oldest first; none before its first release."""
    return tuple(_phase(chain, order, day) for day in turning_days(chain))


def steady_days(chain: Sequence[RegisterEntry], day: date) -> tuple[str, str]:
    """Return the first and the last day around ``day`` on which the revisions stand as they do then; empty: open."""
    turns = turning_days(chain)
    first = max((turn for turn in turns if turn <= day), default=None)
    after = min((turn for turn in turns if turn > day), default=None)
    return str(first or ""), str(after - timedelta(days=1)) if after else ""


def _phase(chain: Sequence[RegisterEntry], order: str, day: date) -> Phase:
    return Phase(as_of(chain, order, day), tuple(_standings(chain, day)))


def _standings(chain: Sequence[RegisterEntry], day: date) -> list[Standing]:
    marks = [entry.revision for entry in chain if entry.kind == "release"]
    controls = [control_of(chain, mark, day) for mark in marks]
    return [Standing(control.revision, control.status, control.superseded_by) for control in controls]
