"""Distances of resistance spot welds by EN 1993-1-3, for an order that asks for them.

The limits are from memory: they warn and never block. The force in the joint is not known here, so that the distance
to the nearest edge is held against both that of an end and that of a side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.calculation.countermeasures import PITCH
from weld_packets.calculation.places.millimetres import SLACK, within
from weld_packets.calculation.sentences import lengths
from weld_packets.calculation.trace import Verdict, Words, warned
from weld_packets.geometry.nearest import pairs_closer
from weld_packets.model.order import Component
from weld_packets.processes.spot.pattern.edges import distances
from weld_packets.processes.spot.pattern.pitch_and_reach import Placed
from weld_packets.processes.spot.stack.requirements import StackRequirements
from weld_packets.units.digits import TENTH

END_AT_LEAST, SIDE_AT_MOST, PITCH_AT_LEAST, PITCH_AT_MOST = 2.0, 4.0, 3.0, 8.0
"""In weld diameters d_s: distance to an end in the direction of the force, to a side, and pitch along the force."""
_SOURCE = "EN 1993-1-3 8.4 with d_s = 5 √t, from memory"


def en_1993_verdicts(placed: Sequence[Placed], components: Sequence[Component]) -> tuple[Verdict, ...]:
    """Return for every stack how its spots compare with the distances of EN 1993-1-3; they warn and never block."""
    inside: dict[int, float] = {}
    for entry in distances(placed, components):
        inside[entry.item.index] = min(entry.inside, inside.get(entry.item.index, entry.inside))
    works = list({item.work.stack.id: item.work for item in placed}.values())
    return tuple(verdict for work in works for verdict in (*_edges(work, placed, inside), *_pitch(work, placed)))


def _edges(work: StackRequirements, placed: Sequence[Placed], inside: dict[int, float]) -> Iterator[Verdict]:
    mine = [item for item in placed if item.work is work and item.index in inside]
    if not mine:
        return
    nearest, farthest = (pick(mine, key=lambda item: inside[item.index]) for pick in (min, max))
    found, minimum = lengths(inside[nearest.index], END_AT_LEAST * work.design, TENTH)
    said: Words = (
        f"{nearest.spot.id} is ",
        found,
        " from the nearest edge; an end distance is at least 2 d_s, ",
        minimum,
    )
    yield _verdict("en_1993_end", work, said, good=within(minimum.millimetres, found.millimetres))
    found, maximum = lengths(inside[farthest.index], SIDE_AT_MOST * work.design, TENTH)
    said = (f"{farthest.spot.id} is ", found, " from the nearest edge; a side distance is at most 4 d_s, ", maximum)
    yield _verdict("en_1993_side", work, said, good=within(found.millimetres, maximum.millimetres))


def _pitch(work: StackRequirements, placed: Sequence[Placed]) -> Iterator[Verdict]:
    near = [item for item in placed if item.work.stack.shares(work.stack)]
    maximum = PITCH_AT_MOST * work.design
    apart: dict[int, float] = {}
    for first, second, away in pairs_closer([item.point for item in near], maximum + SLACK):
        for index in (first, second):
            apart[index] = min(away, apart.get(index, away))
    mine = [index for index, item in enumerate(near) if item.work is work]
    alone = [near[index].spot.id for index in mine if index not in apart]
    if len(near) > 1:
        limit = lengths(maximum, maximum, TENTH)[1]
        without = f"{alone[0]} and {len(alone) - 1} more have" if len(alone) > 1 else f"{(*alone, 'no spot')[0]} has"
        yield _verdict("en_1993_pitch_maximum", work, (f"{without} no neighbour within 8 d_s, ", limit), good=not alone)
    if any(index in apart for index in mine):
        closest = min((index for index in mine if index in apart), key=lambda index: apart[index])
        found, minimum = lengths(apart[closest], PITCH_AT_LEAST * work.design, TENTH)
        said = (f"{near[closest].spot.id} is ", found, " from its neighbour; at least 3 d_s, ", minimum)
        yield _verdict("en_1993_pitch", work, said, good=within(minimum.millimetres, found.millimetres))


def _verdict(key: str, work: StackRequirements, said: Words, *, good: bool) -> Verdict:
    subject = f"stack {work.stack.id}"
    if good:
        return Verdict(key, subject, said, passed=True, source=_SOURCE)
    return warned(key, subject, said, _SOURCE, PITCH)
