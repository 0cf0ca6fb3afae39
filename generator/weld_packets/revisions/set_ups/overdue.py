"""What was due at a part count of a run and was neither done nor passed over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.packet.records import RunForm
from weld_packets.revisions.set_ups.run_record import Run


@dataclass(frozen=True)
class Overdue:
    """What was due ``at`` a part count, and by how many parts the last count is past it."""

    what: str
    cell: str
    at: int
    by: int


def overdue_of(run: Run, form: RunForm) -> tuple[Overdue, ...]:
    """Return what is overdue at the last part count, first due first.

    Of what recurs it is the latest turn alone, as on the page. A cell that has not started has nothing due; where no
    start is noted, nothing says which have.
    """
    started = {start.cell for start in run.starts}
    found = (one for one in _open(run, form) if not started or one.cell in started)
    return tuple(sorted((one for one in found if one.by > 0), key=lambda one: one.at))


def _open(run: Run, form: RunForm) -> Iterator[Overdue]:
    done = {(event.key, event.due) for event in run.events}
    for event in form.events:
        if (event.key, event.at) not in done:
            yield Overdue(event.what, event.cell, event.at, run.parts - event.at)
    for rule in form.rules:
        last = max((turn for turn in rule.turns if turn < run.parts), default=0)
        if last and (rule.key, last) not in done:
            yield Overdue(rule.what, rule.cell, last, run.parts - last)
