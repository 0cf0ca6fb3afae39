"""What was done in the run of an order, and when, as its record says it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import NamedTuple

from weld_packets.packet.forms import due_of_run
from weld_packets.packet.records.order import Packet, RunEvent, RunRule
from weld_packets.planning.fitted import Done
from weld_packets.revisions.queries.archive import Archive, released_packet
from weld_packets.revisions.queries.set_ups import FiledRun
from weld_packets.revisions.set_ups.record import moment
from weld_packets.revisions.set_ups.run_record import Run, run_moments
from weld_packets.wording.fitted import COUNTS_FALL, NO_PART_COUNT, NOT_KEPT, not_ended, several_runs


class Place(NamedTuple):
    """A consumable, and the robot or cell at which it is."""

    place: str
    what: str


@dataclass(frozen=True)
class Ran:
    """What was done to each consumable in the one run of an order; ``reason`` says why that cannot be known."""

    run: Run
    done: Mapping[Place, Sequence[Done]]
    reason: str = ""

    @property
    def day(self) -> str:
        """The day on which it was begun."""
        return self.run.begun[:10]

    def begun_before(self, operation: int, set_up_begun: str) -> bool:
        """Return whether an operation already ran when a set-up of it was begun."""
        return any(
            start.operation == operation and moment(start.at) < moment(set_up_begun) for start in self.run.starts
        )


def ran(archive: Archive, slug: str, runs: Sequence[FiledRun]) -> Ran | None:
    """Return what the filed runs of an order say; None where there is none."""
    found = _newest(each.run for each in runs)
    if not found:
        return None
    run = found[-1]
    if len(found) > 1:
        return Ran(run, {}, several_runs([each.begun[:10] for each in found]))
    if run.saved_during:
        return Ran(run, {}, not_ended(run.begun[:10], run.parts))
    if not run.counts:
        return Ran(run, {}, NO_PART_COUNT)
    if any(_falls(run.counts_of(cell)) for cell in run.last_counts):
        return Ran(run, {}, COUNTS_FALL)
    return _done(run, _packets(archive, slug))


def _newest(runs: Iterable[Run]) -> list[Run]:
    """Return one record of each run: that of its end, else the one that was saved last during it."""
    found: dict[str, Run] = {}
    for run in sorted(runs, key=lambda each: (not each.saved_during, _last(each))):
        found[run.of_run] = run
    return sorted(found.values(), key=lambda each: moment(each.begun))


def _last(run: Run) -> datetime:
    return max((at for _, at in run_moments(run)), default=moment(run.begun))


def _falls(counts: Sequence[int]) -> bool:
    return any(later < one for one, later in pairwise(counts))


def _packets(archive: Archive, slug: str) -> Iterable[Packet]:
    releases = (entry for entry in archive.register.of(slug) if entry.kind == "release")
    return (released_packet(archive, slug, entry.revision) for entry in releases)


def _done(run: Run, packets: Iterable[Packet]) -> Ran:
    """Return what was done in a run, by the events of every revision: its starts may name several."""
    known: dict[str, tuple[RunEvent | RunRule, str]] = {}
    for packet in packets:
        counters = packet.part_counters
        known |= {key: (due, counters[due.operation]) for key, due in due_of_run(packet).items()}
    found: dict[Place, list[Done]] = {}
    for event in run.events:
        due, counter = known[event.key]
        if int(event.at_count) > run.last_count(counter):
            return Ran(run, {}, COUNTS_FALL)
        if event.passed_over:
            continue
        if not due.supply:
            return Ran(run, {}, NOT_KEPT)
        for place in _places(due):
            found.setdefault(Place(place, due.supply), []).append(Done(int(event.at_count), _is_dressing(due)))
    return Ran(run, found)


def _places(due: RunEvent | RunRule) -> tuple[str, ...]:
    return due.robots if isinstance(due, RunRule) else due.places


def _is_dressing(due: RunEvent | RunRule) -> bool:
    return isinstance(due, RunRule) or due.dressing
