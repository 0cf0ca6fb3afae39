"""Cross-sections that a weld may have: required, target, largest; and the throats that a chart means."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, inf, sqrt

from weld_packets.calculation.chart import Place, carries, read_range
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.results import SizeWord
from weld_packets.calculation.trace import AllowedRange
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.passes.dials import Dials, Sections
from weld_packets.processes.arc.passes.feed_and_speed import OVER
from weld_packets.processes.arc.passes.passes import DrawnSize
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.formulas import fillet_area, target_area, throat_from_area, throat_from_leg
from weld_packets.processes.arc.size.lap_edge import longest_leg
from weld_packets.processes.arc.size.sizes import Size, largest_throat, margin, reinforcement
from weld_packets.processes.arc.size.upper_sizes import cap_bound
from weld_packets.units import Quantity, in_mm, kinds, magnitude, quantity

_STEP = 0.05
"""Millimetres between the throats that are tried for a refusal."""


def charted_throats(place: Place) -> AllowedRange | None:
    """Return the throats of one pass that a chart prints or that follow from its legs; None where it has neither."""
    if carries(place, "throat"):
        return read_range(place, "throat")[1]
    if not carries(place, "leg"):
        return None
    legs = read_range(place, "leg")[1]
    low, high = (None if leg is None else throat_from_leg(leg=leg) for leg in (legs.low, legs.high))
    return AllowedRange(low, high, legs.origin)


def sections_of(group: SeamGroup, size: Size, approved: ApprovedTables) -> Sections:
    """Return the cross-sections of a weld whose size is known."""
    if size.area is None or size.target is None:
        raise ValueError(group.seam.id)
    if size.throat is None:
        return _of_butt(group, size.area, size.target, approved)
    return _of_fillet(group, size.throat, size.area, size.target, approved)


def _of_fillet(
    group: SeamGroup, throat: Quantity, required: Worked, target: Worked, approved: ApprovedTables
) -> Sections:
    largest = largest_throat(group, throat, 1, approved.imperfections)
    if largest is None:
        return Sections(required, target)
    area = fillet_area(reinforcement=reinforcement(approved.plant), throat=largest[0])
    return Sections(required, target, area, largest[1])


def _of_butt(group: SeamGroup, area: Worked, target: Worked, approved: ApprovedTables) -> Sections:
    """Return the cross-sections of a butt; a limit of its excess weld metal that was read is the largest."""
    bound = cap_bound(group, 1, approved.imperfections)
    if bound is None or bound.only_warns:
        return Sections(area, target)
    return Sections(area, target, bound.area, f"largest cap, {bound.source}")


def drawn_sizes(size: Size, sections: Sections, factor: Quantity) -> tuple[DrawnSize, ...]:
    """Return the sizes that are drawn as lines of equal weld: a fillet by its throat, a butt by its cross-section."""
    areas: list[tuple[SizeWord, Quantity]] = [
        ("required", sections.required.result),
        ("target", sections.target.result),
    ]
    if sections.largest is not None:
        areas.append(("largest", sections.largest))
    if size.throat is None:
        return tuple(DrawnSize(word, area, kinds.AREA, area) for word, area in areas)
    throats = ((word, throat_from_area(weld_area=area, reinforcement=factor), area) for word, area in areas)
    return tuple(DrawnSize(word, throat, kinds.LENGTH, area) for word, throat, area in throats)


def tried(group: SeamGroup, dials: Dials, approved: ApprovedTables) -> Iterator[tuple[float, Sections]]:
    """Yield rising throats in mm, for each number of passes, with the cross-sections that they take.

    They are those that the fastest feed at the slowest speed deposits, and the reverse, and what lies between, with
    the smallest and the largest that the chart means; of a lap those that its edge carries, up to the largest.
    """
    edge = longest_leg(group)
    carried = inf if edge is None else in_mm(throat_from_leg(leg=edge[1]))
    factor, share = reinforcement(approved.plant), margin(approved.plant)[0]
    feeds, speeds = dials.feed.target_steps, dials.speed.steps
    one = dials.slope(quantity(1.0, "mm²"))
    for count in dials.counts:
        ends = (one * count * feeds.low / speeds.high * (1 - OVER), one * count * feeds.high / speeds.low)
        low, high = (sqrt(end / magnitude(factor, "1")) / (1 + magnitude(share, "1")) for end in ends)
        grid = {number * _STEP for number in range(ceil(low / _STEP), floor(high / _STEP) + 1)}
        ends_of_size = {*_of_chart(dials, count), carried} - {inf}
        for millimetres in sorted(each for each in grid | ends_of_size if each <= carried):
            throat = quantity(millimetres, "mm")
            yield millimetres, _of_throat(group, throat, approved)


def _of_chart(dials: Dials, count: int) -> Iterator[float]:
    """Yield the throats in mm whose passes are the smallest and the largest that the chart means."""
    if dials.throats is not None:
        yield from (in_mm(end) * sqrt(count) for end in (dials.throats.low, dials.throats.high) if end is not None)


def _of_throat(group: SeamGroup, throat: Quantity, approved: ApprovedTables) -> Sections:
    required = fillet_area.work(reinforcement=reinforcement(approved.plant), throat=throat)
    target = target_area.work(weld_area=required.result, margin=margin(approved.plant)[0])
    return _of_fillet(group, throat, required, target, approved)
