"""Whether a clock may say what is in force: not where records show that its day is over. Nothing here asks the clock.

Pages speak of days. So a clock that another computer's is ahead of by minutes does no harm, but that of yesterday would
say of a superseded revision that it is in force.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from weld_packets.errors import Problem, unplaced
from weld_packets.revisions.records.record import moment_text
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import CLOCK_BEHIND_REMEDY, releases_not_withdrawn
from weld_packets.revisions.status.status import as_of, day_of, end_of_day

_UNKNOWN = "nobody can say what is in force"
_LATER_REMEDY = (
    "set the clock or SOURCE_DATE_EPOCH; what was recorded under a wrong clock does not count once a release is "
    "withdrawn, and once another revision is released after a withdrawal"
)


def behind_problems(register: Register, now: datetime) -> list[Problem]:
    """Return why a clock at ``now`` cannot say what is in force: records were made on a later day, in the plant's zone.

    After a withdrawal by which time went on, either clock may have been wrong. What was recorded for a later day then
    counts against the clock where it decides what is in force.
    """
    end = moment_text(end_of_day(register.entries, now))
    if not register.entries or register.latest_at <= end:
        return []
    shown = moment_text(now)
    if register.last_at > end:
        message = f"the clock is before the last record of the register, {register.last_place} of {register.last_at}"
        return [unplaced("clock", shown, f"{message}: {_UNKNOWN}", CLOCK_BEHIND_REMEDY)]
    late = sorted(
        (entry.at, entry.path) for entries in register.by_order.values() for entry in _later(entries, end, now)
    )
    if not late:
        return []
    at, path = late[-1]
    more = f", and before {len(late) - 1} more" if late[1:] else ""
    return [unplaced("clock", shown, f"the clock is before {path} of {at}{more}: {_UNKNOWN}", _LATER_REMEDY)]


def _later(entries: Sequence[RegisterEntry], end: str, now: datetime) -> Iterator[RegisterEntry]:
    """Yield each record of an order after the ``end`` of a day that decides what is in force on it."""
    yield from (entry for entry in releases_not_withdrawn(entries) if entry.at > end)
    late = [entry for entry in entries if entry.kind == "withdrawal" and entry.at > end]
    in_force = {each.revision for each in as_of(entries, day_of(entries, now)).in_force} if late else set()
    yield from (entry for entry in late if entry.revision in in_force)
