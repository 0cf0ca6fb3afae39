"""What was counted at the set-ups of an order and done in its run, in place of what its packet had planned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from weld_packets.calculation.judgement import number_of
from weld_packets.grouping import grouped
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.forms import SetUpForm, SupplyCounter
from weld_packets.packet.records.order import Packet
from weld_packets.planning.fitted import Done, counted_from, recorded_from
from weld_packets.planning.records import Left
from weld_packets.plant.fitted.done_in_run import Place, Ran, ran
from weld_packets.revisions.queries.archive import Archive, released_packet
from weld_packets.revisions.queries.set_ups import FiledSetUp, set_ups_of
from weld_packets.revisions.set_ups.counters import counter_of
from weld_packets.wording.english import joined
from weld_packets.wording.fitted import (
    NO_PART_COUNT,
    NOT_KEPT,
    SEVERAL_OPERATIONS,
    as_planned,
    counted_in_run,
    counted_twice,
    from_run,
    from_set_up,
    not_counted,
)


@dataclass(frozen=True)
class _Counts:
    """What one set-up counted of one consumable, by how it counts; ``counters`` are all that it can count by."""

    filed: FiledSetUp
    counters: Mapping[str, SupplyCounter]
    found: Mapping[str, Fraction]

    @property
    def used(self) -> Fraction | None:
        """The share that is used of one, at most 1: due at once. None where only its turns were counted."""
        for how in ("left", "used", "worn"):
            if how in self.found:
                share = self.found[how] / Fraction(Decimal(self.counters[how].whole))
                return min(1 - share if how == "left" else share, Fraction(1))
        return None

    @property
    def missing(self) -> str:
        """What else must be counted before this counts; empty where nothing is missing."""
        if self.used is None:
            return next((each.what for how, each in self.counters.items() if how != "turns"), "")
        return self.counters["turns"].what if "turns" in self.counters and "turns" not in self.found else ""

    @property
    def turns(self) -> tuple[int, int]:
        """How often it is dressed before it is changed, and how often it was."""
        if "turns" not in self.counters:
            return 0, 0
        return int(self.counters["turns"].whole), int(self.found["turns"])

    @property
    def day(self) -> str:
        """The day on which the set-up was begun."""
        return self.filed.set_up.begun[:10]


def as_counted(left: Sequence[Left], packet: Packet, archive: Archive, slug: str) -> tuple[Left, ...]:
    """Return what the order of ``packet`` leaves, from what was counted before its first part and done in its run.

    What the records cannot decide stays as planned, and says why.
    """
    if slug not in archive.register.set_ups and slug not in archive.register.runs:
        return tuple(left)
    filed = set_ups_of(archive, slug)
    counted, run = _counted(archive, slug, filed.filed), ran(archive, slug, filed.runs)
    return tuple(
        _with(each, counted.get(Place(each.place, each.what), []), run, packet)
        if each.order == packet.head.number
        else each
        for each in left
    )


def _counted(archive: Archive, slug: str, filed: Sequence[FiledSetUp]) -> dict[Place, list[_Counts]]:
    """Return what was counted of each consumable, by the set-ups that went on to an accepted first-off."""
    proved = (each for each in filed if each.state == "first-off accepted")
    return grouped(pair for each in proved for pair in _of(each, _form(archive, slug, each)).items())


def _form(archive: Archive, slug: str, filed: FiledSetUp) -> SetUpForm:
    packet = released_packet(archive, slug, filed.set_up.revision)
    return set_up_form(next(each for each in packet.operations if each.number == filed.set_up.operation))


def _of(filed: FiledSetUp, form: SetUpForm) -> dict[Place, _Counts]:
    counters: dict[Place, dict[str, SupplyCounter]] = {}
    for counter in form.counters:
        counters.setdefault(Place(counter.place, counter.supply), {})[counter.counts] = counter
    found: dict[Place, dict[str, Fraction]] = {}
    for entry in filed.set_up.counters:
        named = counter_of(entry, form)
        if named is not None:
            count = Fraction(Decimal(number_of(entry.count)))
            found.setdefault(Place(named.place, named.supply), {})[named.counts] = count
    return {place: _Counts(filed, counters[place], counts) for place, counts in found.items()}


def _with(left: Left, counted: Sequence[_Counts], run: Ran | None, packet: Packet) -> Left:
    counters = _counters_of(left, packet)
    reason = SEVERAL_OPERATIONS if len(counters) > 1 else _undecided(counted, run)
    if reason:
        return replace(left, counted=as_planned(reason))
    begun, said, parts = None, "", packet.head.quantity
    for counts in counted:
        turns, dressings = counts.turns
        begun, said = (counts.used or Fraction(0), dressings), from_set_up(counts.day)
        left = replace(left, turns=turns)
    if run is None or run.reason:
        return _without_run(left, begun, said, run, parts)
    done = [each for what in (left.what, left.renewed_with) for each in run.done.get(Place(left.place, what), ())]
    if begun is None and left.begun is None:
        return replace(left, counted=as_planned(NOT_KEPT))
    shown = run.run.counts_of(counters[0])
    if not shown:
        return _without_run(left, begun, said, replace(run, reason=NO_PART_COUNT), parts)
    made = shown[-1]
    after = recorded_from(left, begun or (left.begun or Fraction(0), left.dressings_begun), done, made)
    return replace(after, counted=joined((said, _run_words(run.day, made, done, parts, left.lesser_noun)), " and "))


def _counters_of(left: Left, packet: Packet) -> list[str]:
    """Return the part counters of the operations that use what is fitted at a place."""
    return [packet.part_counters[each.key] for each in packet.operations if left.place in {each.cell, *each.robots}]


def _without_run(left: Left, begun: tuple[Fraction, int] | None, said: str, run: Ran | None, parts: int) -> Left:
    """Return what the planned run of so many parts leaves, and why none that is recorded counts."""
    unknown = as_planned(run.reason) if run else ""
    after = counted_from(left, *begun, left.turns, parts) if begun else left
    return replace(after, counted=joined((said, unknown), "; "))


def _undecided(counted: Sequence[_Counts], run: Ran | None) -> str:
    """Return why what the set-ups counted does not decide; empty where it does, or where none counted."""
    days = [counts.day for counts in counted]
    if len(counted) > 1:
        return counted_twice(days)
    for counts in counted:
        if counts.used is None or counts.missing:
            return not_counted(counts.day, counts.missing)
        if run and run.begun_before(counts.filed.set_up.operation, counts.filed.set_up.begun):
            return counted_in_run(counts.day)
    return ""


def _run_words(day: str, made: int, done: Sequence[Done], quantity: int, noun: str) -> str:
    changes = [each.at for each in done if not each.dressing]
    last = max(changes, default=0)
    dressings = [each.at for each in done if each.dressing and each.at >= last]
    return from_run(day, made, quantity, sorted(changes), sorted(dressings), noun=noun)
