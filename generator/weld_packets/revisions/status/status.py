"""Which revision counts when: in force, superseded, withdrawn, not yet in force.

A revision that is withdrawn after it took effect leaves none in force until the next release: the one that it had
superseded does not come back by itself. One that is withdrawn before it takes effect has superseded nothing, and is
withdrawn as soon as that is recorded: nobody is to wait for it.
A day is one of the time zone of the order's newest record; each record takes effect in its own.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from weld_packets.errors import refusal
from weld_packets.grouping import grouped
from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.effectivity import UTC_ZONE, begins
from weld_packets.revisions.records.record import read_moment
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.units.zones import clock_text, day_at, midnight, time_text

WORKED_BY: frozenset[str] = frozenset({"in force", "not yet in force"})
"""The statuses of a revision by which somebody works or is to work."""
_ONE_DAY = timedelta(days=1)
_INSTANT = timedelta(microseconds=1)


@dataclass(frozen=True)
class InForce:
    """One revision in force, with the parts that it covers where it shares the order with another."""

    revision: str
    record_digest: str
    since: str
    approver: str
    covers: str = ""


@dataclass(frozen=True)
class PartOfDay:
    """A revision that was in force for a part of a day only.

    ``since`` and ``until`` are times of the clock, empty where that is the start of the day.
    """

    revision: str
    since: str
    until: str

    def __str__(self) -> str:
        """Return it as printed."""
        return f"revision {self.revision} {f'from {self.since} ' if self.since else ''}until {self.until}"


@dataclass(frozen=True)
class AsOf:
    """What was in force at an order at the end of a day; newest revision first, none where nothing was.

    ``turned`` is the time of the clock at which that began on the day, empty where it was so from its start.
    ``earlier_that_day`` are revisions that were in force for a part of the day only.
    """

    day: str
    in_force: tuple[InForce, ...]
    turned: str
    earlier_that_day: tuple[PartOfDay, ...]


@dataclass(frozen=True)
class _Life:
    """One release with the moments at which it takes effect and is withdrawn.

    ``end`` is not after ``start`` where it never takes effect. Where the clock shows that it is withdrawn before it was
    released, one of the two was wrong, and it may have been in force: what it superseded does not come back.
    """

    entry: RegisterEntry
    start: datetime
    withdrawal: RegisterEntry | None
    end: datetime | None

    def took_effect(self, at: datetime) -> bool:
        return self.start <= at and (self.end is None or self.end > self.start or self._ends_before_it_was_made)

    @property
    def _ends_before_it_was_made(self) -> bool:
        return self.withdrawal is not None and self.withdrawal.at < self.entry.at

    def is_withdrawn(self, at: datetime) -> bool:
        return self.end is not None and self.end <= at


def zone_of(entries: Sequence[RegisterEntry]) -> str:
    """Return the time zone of the days of ``entries``: that of the newest, UTC where there is none."""
    return entries[-1].effective.zone if entries else UTC_ZONE


def day_of(entries: Sequence[RegisterEntry], at: datetime) -> date:
    """Return on which day of ``entries`` a moment is."""
    return day_at(at, zone_of(entries))


def end_of_day(entries: Sequence[RegisterEntry], at: datetime) -> datetime:
    """Return the last moment of the day of ``entries`` that a moment is on."""
    return _end_of(day_of(entries, at), zone_of(entries))


def draft_control(packet: Packet) -> Control:
    """Return what document control says of a packet that is not released."""
    return Control(revision="", status="draft", digest=packet_digest(packet))


def control_of(entries: Sequence[RegisterEntry], revision: str, day: date) -> Control:
    """Return what document control says of a released ``revision`` at the end of ``day``.

    Raises OutOfRangeError where the order has no such revision.
    """
    lives, at = _lives(entries), _end_of(day, zone_of(entries))
    life = next((life for life in lives if life.entry.revision == revision), None)
    if life is None:
        raise refusal("there is no such released revision", f"name one of: {_marks(lives)}", value=revision)
    entry = life.entry
    status, successor = _status(lives, life, at)
    return Control.model_validate({
        "revision": revision,
        "status": status,
        "superseded_by": successor,
        "effective_from": str(entry.effective),
        "author": entry.author,
        "approver": entry.approver,
        "reason": life.withdrawal.reason if life.withdrawal and status == "withdrawn" else entry.reason,
        "released_on": clock_text(read_moment(entry.recorded_at), zone_of(entries)),
        "digest": entry.record_digest,
        "packet_digest": entry.packet_digest,
        "code": f"{entry.code.version}, commit {entry.code.commit}",
    })  # fmt: skip


def as_of(entries: Sequence[RegisterEntry], day: date) -> AsOf:
    """Return what was in force on ``day`` at the order of these entries."""
    lives, zone = _lives(entries), zone_of(entries)
    final = _in_force(lives, _end_of(day, zone))
    turns = [midnight(day, zone), *_moments(lives, day, zone)]
    return AsOf(
        day.isoformat(),
        tuple(_as_in_force(life, covers, zone) for life, covers in final.items()),
        _time(_last_turn(lives, turns, final), day, zone),
        tuple(_earlier(lives, [*turns, midnight(day + _ONE_DAY, zone)], set(final), day, zone)),
    )


def _last_turn(lives: Sequence[_Life], turns: Sequence[datetime], final: Mapping[_Life, str]) -> datetime:
    """Return the moment of a day from which on everything is in force as at its end."""
    since = turns[0]
    for before, turn in pairwise(turns):
        if _in_force(lives, before) != final:
            since = turn
    return since


def _earlier(
    lives: Sequence[_Life], turns: Sequence[datetime], final: Collection[_Life], day: date, zone: str
) -> Iterator[PartOfDay]:
    """Yield what was in force between the turns of a day and no more at its end, by revision."""
    found: dict[str, tuple[datetime, datetime]] = {}
    for start, end in pairwise(turns):
        for life in _in_force(lives, start):
            if life not in final:
                since, _ = found.get(life.entry.revision, (start, end))
                found[life.entry.revision] = (since, end)
    for revision, (since, until) in sorted(found.items()):
        yield PartOfDay(revision, _time(since, day, zone), _time(until, day, zone))


def _time(moment: datetime, day: date, zone: str) -> str:
    return "" if moment == midnight(day, zone) else time_text(moment, zone)


def in_force(entries: Sequence[RegisterEntry], day: date) -> RegisterEntry | None:
    """Return the newest revision in force at the end of ``day``, None where there is none."""
    found = _in_force(_lives(entries), _end_of(day, zone_of(entries)))
    return next(iter(found)).entry if found else None


def is_in_force_at(entries: Sequence[RegisterEntry], revision: str, at: datetime) -> bool:
    """Return whether a released ``revision`` was in force at a moment, also where it shared the order."""
    return any(life.entry.revision == revision for life in _in_force(_lives(entries), at))


def days_of_change(entries: Sequence[RegisterEntry]) -> list[date]:
    """Return the days on which a revision takes effect or is withdrawn, in order."""
    lives, zone = _lives(entries), zone_of(entries)
    return sorted({day_at(moment, zone) for life in lives for moment in (life.start, life.end) if moment is not None})


def _lives(entries: Sequence[RegisterEntry]) -> list[_Life]:
    ends = {entry.revision: entry for entry in entries if entry.kind == "withdrawal"}
    return [_life(entry, ends.get(entry.revision)) for entry in entries if entry.kind == "release"]


def _life(entry: RegisterEntry, withdrawal: RegisterEntry | None) -> _Life:
    start = begins(entry.effective, read_moment(entry.recorded_at))
    if withdrawal is None:
        return _Life(entry, start, None, None)
    recorded = read_moment(withdrawal.recorded_at)
    end = begins(withdrawal.effective, recorded)
    return _Life(entry, start, withdrawal, end if end > start else recorded)


def _in_force(lives: Sequence[_Life], at: datetime) -> dict[_Life, str]:
    """Return the lives in force, newest first, with the parts that they cover (empty: all).

    They go down to the newest one that took effect on a date; withdrawn ones keep their share and are left out.
    """
    found: dict[_Life, str] = {}
    until = ""
    for life in reversed([life for life in lives if life.took_effect(at)]):
        shares = life.entry.effective.kind != "date"
        found[life] = ", ".join(text for text in (f"from {life.entry.effective}" if shares else "", until) if text)
        until = f"before {life.entry.effective}"
        if not shares:
            break
    return {life: covers for life, covers in found.items() if not life.is_withdrawn(at)}


def _status(lives: Sequence[_Life], life: _Life, at: datetime) -> tuple[str, str]:
    newer = [other for other in lives if other.entry.sequence > life.entry.sequence and other.took_effect(at)]
    if life.is_withdrawn(at):
        return "withdrawn", ""
    if life in _in_force(lives, at):
        return "in force", _partly(newer)
    if not any(other.entry.effective.kind == "date" for other in newer):
        return "not yet in force", ""
    return "superseded", next(other.entry.revision for other in newer if other.entry.effective.kind == "date")


def _partly(newer: Sequence[_Life]) -> str:
    return f"{newer[0].entry.revision} from {newer[0].entry.effective}" if newer else ""


def _as_in_force(life: _Life, covers: str, zone: str) -> InForce:
    since = day_at(life.start, zone).isoformat()
    return InForce(life.entry.revision, life.entry.record_digest, since, life.entry.approver, covers)


def _moments(lives: Sequence[_Life], day: date, zone: str) -> list[datetime]:
    known = [moment for life in lives for moment in (life.start, life.end) if moment is not None]
    return sorted(moment for moment in known if day_at(moment, zone) == day)


def _end_of(day: date, zone: str) -> datetime:
    return midnight(day + _ONE_DAY, zone) - _INSTANT


def _marks(lives: Sequence[_Life]) -> str:
    return ", ".join(life.entry.revision for life in lives) or "none is released"


# ---------------------------------------------------------------- periods


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


def periods(entries: Sequence[RegisterEntry]) -> tuple[Period, ...]:
    """Return the periods of an order, oldest first; none before its first release."""
    return tuple(_period(entries, day) for day in days_of_change(entries))


def days_in_force(entries: Sequence[RegisterEntry]) -> dict[str, list[tuple[str, str]]]:
    """Return for each revision the first and the last day of each period at whose days' end it is in force.

    The last day of the latest period is open: an empty text.
    """
    return _days(periods(entries))


def _days(known: Sequence[Period]) -> dict[str, list[tuple[str, str]]]:
    last_days = [str(date.fromisoformat(later.since) - timedelta(days=1)) for later in known[1:]]
    return grouped(
        (each.revision, (period.since, last))
        for period, last in zip(known, (*last_days, ""), strict=True)
        for each in period.found.in_force
    )


def days_ahead(known: Sequence[Period], day: date) -> dict[str, tuple[str, str]]:
    """Return of each revision that is in force at the end of ``day``, or will be, the first and the last such day.

    ``known`` are the periods of its order. An empty last day is open.
    """
    ahead = {
        revision: [span for span in spans if not span[1] or span[1] >= str(day)]
        for revision, spans in _days(known).items()
    }
    return {revision: (spans[0][0], spans[-1][1]) for revision, spans in ahead.items() if spans}


def unchanged_days(entries: Sequence[RegisterEntry], day: date) -> tuple[str, str]:
    """Return the first and the last day around ``day`` on which no status changes; empty: open."""
    turns = days_of_change(entries)
    first = max((turn for turn in turns if turn <= day), default=None)
    after = min((turn for turn in turns if turn > day), default=None)
    return str(first or ""), str(after - timedelta(days=1)) if after else ""


def _period(entries: Sequence[RegisterEntry], day: date) -> Period:
    return Period(as_of(entries, day), tuple(_statuses(entries, day)))


def _statuses(entries: Sequence[RegisterEntry], day: date) -> list[RevisionStatus]:
    letters = [entry.revision for entry in entries if entry.kind == "release"]
    controls = [control_of(entries, letter, day) for letter in letters]
    return [RevisionStatus(control.revision, control.status, control.superseded_by) for control in controls]
