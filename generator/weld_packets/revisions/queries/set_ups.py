"""The set-up records of an order as they are filed, with what stands out in each."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.errors import PacketError, Problem
from weld_packets.revisions.queries.archive import Archive, released_packet
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.register.entries import SetUpEntry
from weld_packets.revisions.set_ups.drift import Series, series_of
from weld_packets.revisions.set_ups.record import ReadingEntry, ResultEntry, SetUp, moment, read_set_up

_OUTSIDE = ("low", "high", "implausible")


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
    def outside(self) -> tuple[ReadingEntry, ...]:
        """The readings outside their allowed range or in another unit."""
        return tuple(entry for entry in self.set_up.readings if entry.verdict in _OUTSIDE)

    @property
    def refused(self) -> tuple[ResultEntry, ...]:
        """The results that were not accepted."""
        return tuple(entry for entry in self.set_up.results if entry.verdict == "not accepted")


@dataclass(frozen=True)
class SetUps:
    """All set-ups of an order, oldest first, and what was read over them."""

    order: str
    filed: tuple[FiledSetUp, ...] = ()
    series: tuple[Series, ...] = ()

    @property
    def drifting(self) -> tuple[Series, ...]:
        """The values that drift."""
        return tuple(series for series in self.series if series.drift)


NO_SET_UPS = SetUps("")


def set_ups_of(archive: Archive, order: str) -> SetUps:
    """Return the set-ups of ``order``; raise PacketError where one is missing or altered."""
    listed = archive.register.set_ups.get(order, ())
    filed = sorted((_filed(archive, entry) for entry in listed), key=lambda each: moment(each.set_up.begun))
    packets = {
        revision: released_packet(archive, order, revision) for revision in {each.set_up.revision for each in filed}
    }
    return SetUps(order, tuple(filed), series_of([each.set_up for each in filed], packets))


def _filed(archive: Archive, entry: SetUpEntry) -> FiledSetUp:
    data = archive.read(entry.path, entry.file_digest)
    if data is None or sha256(data) != entry.file_digest:
        message = "is missing" if data is None else "is altered since it was filed"
        raise PacketError([Problem(entry.path, 0, "", "", message, "run 'packets verify', and restore the file")])
    return FiledSetUp(entry, read_set_up(data, entry.path))
