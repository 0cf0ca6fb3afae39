"""The records of set-ups and runs of an order as they are filed, with what to look at in each."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.packet.forms import run_form
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.archive import RESTORE, Archive, released_packet, unaltered
from weld_packets.revisions.register.entries import FiledEntry, RunEntry, SetUpEntry
from weld_packets.revisions.set_ups.drift import Series, series_of
from weld_packets.revisions.set_ups.record import (
    NumberEntry,
    ReadingEntry,
    ResultEntry,
    SetUp,
    TogetherEntry,
    moment,
    read_form,
    read_set_up,
)
from weld_packets.revisions.set_ups.run_checks import Overdue, done_late, overdue_of
from weld_packets.revisions.set_ups.run_record import EventDone, Run

_OUTSIDE = ("low", "high", "implausible")
_FAILED = (*_OUTSIDE, "mismatch", "not accepted")


FailedEntry = ReadingEntry | NumberEntry | ResultEntry


def of_words(entry: FailedEntry) -> str:
    """Return what an entry is of, by the keys of its release."""
    match entry:
        case ReadingEntry():
            return f"{entry.value}, {entry.robot}"
        case NumberEntry():
            return f"{entry.what} {entry.asked}, {entry.robot}"
        case ResultEntry():
            return entry.result


@dataclass(frozen=True)
class FiledSetUp:
    """A set-up record with its line in the register."""

    entry: SetUpEntry
    set_up: SetUp

    @property
    def state(self) -> str:
        """How far it came."""
        reached = [each.what for each in self.set_up.accepted]
        return next((f"{what} accepted" for what in ("first-off", "coupons") if what in reached), "being set")

    @property
    def expired(self) -> bool:
        """Whether the qualification of the setter had expired when the set-up was begun."""
        named = self.set_up.qualification
        return named is not None and named.valid_until < self.set_up.begun[:10]

    @property
    def outside(self) -> tuple[ReadingEntry, ...]:
        """The readings outside their allowed range or in another unit."""
        return tuple(entry for entry in self.set_up.readings if entry.verdict in _OUTSIDE)

    @property
    def apart(self) -> tuple[TogetherEntry, ...]:
        """The values that lie outside what another one leaves them."""
        return tuple(entry for entry in self.set_up.together if entry.verdict in _OUTSIDE)

    @property
    def refused(self) -> tuple[ResultEntry, ...]:
        """The results that were not accepted."""
        return tuple(entry for entry in self.set_up.results if entry.verdict == "not accepted")

    @property
    def failed_before(self) -> tuple[FailedEntry, ...]:
        """The entries that failed and were then replaced by another of the same, in the order of their times."""
        replaced = self.set_up.replaced
        if replaced is None:
            return ()
        entries: tuple[FailedEntry, ...] = (*replaced.numbers, *replaced.readings, *replaced.results)
        return tuple(sorted((one for one in entries if one.verdict in _FAILED), key=lambda one: moment(one.at)))


@dataclass(frozen=True)
class FiledRun:
    """The record of a run with its line in the register; ``overdue`` was neither done nor passed over at its end."""

    entry: RunEntry
    run: Run
    overdue: tuple[Overdue, ...] = ()

    @property
    def passed_over(self) -> tuple[EventDone, ...]:
        """What was not done, since a later turn of the same took its place."""
        return tuple(event for event in self.run.events if event.passed_over)

    @property
    def late(self) -> tuple[EventDone, ...]:
        """What was done after the part count at which it was due."""
        done = (event for event in self.run.events if not event.passed_over)
        return tuple(event for event in done if done_late(event) > 0)


@dataclass(frozen=True)
class SetUps:
    """All set-ups of an order, oldest first, what was read over them, and its runs."""

    order: str
    filed: tuple[FiledSetUp, ...] = ()
    series: tuple[Series, ...] = ()
    runs: tuple[FiledRun, ...] = ()

    @property
    def drifting(self) -> tuple[Series, ...]:
        """The values that drift."""
        return tuple(series for series in self.series if series.drift)


NO_SET_UPS = SetUps("")


def set_ups_of(archive: Archive, order: str) -> SetUps:
    """Return the set-ups of ``order``; raise PacketError where one is missing or altered, or two have one place."""
    listed = archive.register.filed_once(order)
    set_ups = (_filed(archive, entry) for entry in listed if isinstance(entry, SetUpEntry))
    filed = sorted(set_ups, key=lambda each: moment(each.set_up.begun))
    packets = {
        revision: released_packet(archive, order, revision) for revision in {each.set_up.revision for each in filed}
    }
    series = series_of([each.set_up for each in filed], packets)
    runs = (_filed_run(archive, entry) for entry in listed if isinstance(entry, RunEntry))
    return SetUps(order, tuple(filed), series, tuple(sorted(runs, key=lambda each: moment(each.run.begun))))


def _filed(archive: Archive, entry: SetUpEntry) -> FiledSetUp:
    return FiledSetUp(entry, read_set_up(_content(archive, entry), entry.path))


def _filed_run(archive: Archive, entry: RunEntry) -> FiledRun:
    run = read_form(Run, _content(archive, entry), entry.path)
    return filed_run(released_packet(archive, entry.order, run.revision), entry, run)


def filed_run(packet: Packet, entry: RunEntry, run: Run) -> FiledRun:
    """Return a run that is filed, with what the packet of its release lets it be overdue with."""
    return FiledRun(entry, run, overdue_of(run, run_form(packet)))


def _content(archive: Archive, entry: FiledEntry) -> bytes:
    return unaltered(archive, entry.path, entry.file_digest, "it was filed", RESTORE)
