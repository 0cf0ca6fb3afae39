"""What was counted at the cells when an order was set up, in place of what its packet had planned to be fitted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from weld_packets.calculation.judgement import number_of
from weld_packets.packet.asked import asked_of
from weld_packets.packet.records import Asked, AskedCounter, Packet
from weld_packets.planning import Left
from weld_packets.planning.fitted import counted_from
from weld_packets.processes.cell.drafts import listed
from weld_packets.revisions.queries.archive import Archive, released_packet
from weld_packets.revisions.queries.set_ups import FiledSetUp, set_ups_of
from weld_packets.revisions.set_ups.checks import counter_of


@dataclass(frozen=True)
class _Counts:
    """What one set-up counted of one consumable, by how it counts; ``asked`` are all the ways in which that can be."""

    filed: FiledSetUp
    asked: Mapping[str, AskedCounter]
    found: Mapping[str, Fraction]

    @property
    def used(self) -> Fraction | None:
        """The share that is used of one, at most 1: due at once. None where only its turns were counted."""
        for how in ("left", "used", "worn"):
            if how in self.found:
                share = self.found[how] / Fraction(Decimal(self.asked[how].whole))
                return min(1 - share if how == "left" else share, Fraction(1))
        return None

    @property
    def missing(self) -> str:
        """What else must be counted before this counts; empty where nothing is missing."""
        if self.used is None:
            return next((each.what for how, each in self.asked.items() if how != "turns"), "")
        return self.asked["turns"].what if "turns" in self.asked and "turns" not in self.found else ""

    @property
    def turns(self) -> tuple[int, int]:
        """How often it is dressed before it is changed, and how often it was."""
        if "turns" not in self.asked:
            return 0, 0
        return int(self.asked["turns"].whole), int(self.found["turns"])


_Place = tuple[str, str]
"""The robot or cell, and the consumable."""


def as_counted(left: Sequence[Left], packet: Packet, archive: Archive, slug: str) -> tuple[Left, ...]:
    """Return what the order of ``packet`` leaves, from what was counted of it before its first part.

    Where two set-ups counted the same thing, nobody knows how many parts were made between them: it stays as planned,
    and says so.
    """
    if slug not in archive.register.set_ups:
        return tuple(left)
    found = _counted(archive, slug)
    return tuple(_with(each, found.get((each.place, each.what), []), packet) for each in left)


def _counted(archive: Archive, slug: str) -> dict[_Place, list[_Counts]]:
    """Return what was counted of each consumable, by the set-ups that went on to an accepted first-off."""
    found: dict[_Place, list[_Counts]] = {}
    for each in set_ups_of(archive, slug).filed:
        if each.state == "first-off accepted":
            for place, counts in _of(each, _asked(archive, slug, each)).items():
                found.setdefault(place, []).append(counts)
    return found


def _asked(archive: Archive, slug: str, filed: FiledSetUp) -> Asked:
    packet = released_packet(archive, slug, filed.set_up.revision)
    return asked_of(next(each for each in packet.operations if each.number == filed.set_up.operation))


def _of(filed: FiledSetUp, asked: Asked) -> dict[_Place, _Counts]:
    ways: dict[_Place, dict[str, AskedCounter]] = {}
    for counter in asked.counters:
        ways.setdefault((counter.place, counter.supply), {})[counter.counts] = counter
    found: dict[_Place, dict[str, Fraction]] = {}
    for entry in filed.set_up.counters:
        named = counter_of(entry, asked)
        if named is not None:
            count = Fraction(Decimal(number_of(entry.count)))
            found.setdefault((named.place, named.supply), {})[named.counts] = count
    return {place: _Counts(filed, ways[place], counts) for place, counts in found.items()}


def _with(left: Left, counted: Sequence[_Counts], packet: Packet) -> Left:
    if not counted or left.order != packet.head.number:
        return left
    days = listed(counts.filed.set_up.begun[:10] for counts in counted)
    if len(counted) > 1:
        unknown = "how many parts were made between them is not recorded"
        return replace(left, counted=f"as planned: it was counted at the set-ups of {days}, and {unknown}")
    (counts,) = counted
    used = counts.used
    if used is None or counts.missing:
        return replace(left, counted=f"as planned: the set-up of {days} did not count '{counts.missing}'")
    turns, dressings = counts.turns
    recounted = counted_from(left, used, dressings, turns, packet.head.quantity)
    return replace(recounted, counted=f"from what its set-up of {days} counted")
