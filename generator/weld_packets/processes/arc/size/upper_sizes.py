"""The upper side of a weld's size besides its throat: edges of laps and corners, excess weld metal of a butt (502).

Each is a bound on the cross-section of all passes together, so that whoever chooses settings can keep below it, and a
check of the cross-section as set and of the largest that the allowed ranges make.

A T fillet ends at no edge, and no source that was read limits its size by the sheet: one of several passes on thin
sheet can be made, and warns that each pass is to be proved on a section. EN 1993-1-8 and AWS D1.1 have smallest sizes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import sqrt
from typing import cast

from weld_packets.calculation.countermeasures import CORNER_EDGES, MEASURE_CAP, UPPER_EDGE
from weld_packets.calculation.formula import Area, Length, Source, Standing, formula
from weld_packets.calculation.imperfections import level_limit, measures_of_butt
from weld_packets.calculation.sentences import in_mm2, length, lengths, refused
from weld_packets.calculation.trace import Countermeasure, Measured, Verdict
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import ImperfectionLimit, Imperfections
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.formulas import (
    butt_area,
    fillet_area,
    gap_area,
    leg_from_throat,
    throat_from_area,
    throat_from_leg,
)
from weld_packets.processes.arc.size.lap_edge import LAP, LAP_EDGE, LAP_THICK, edge_carries, melted_edge
from weld_packets.units import Quantity, as_written, exceeds, in_mm, magnitude, quantity
from weld_packets.units.digits import TENTH

EXCESS = "502"
"""ISO 6520-1 number of excess weld metal."""
CORNER = "corner fillet"
CORNER_EDGE = Source("outer corner, filled between the edges of both components", standing=Standing.GEOMETRY)
CAP = Source("a cap is two thirds of its width times its height", standing=Standing.GEOMETRY)


@dataclass(frozen=True)
class AllNominal:
    """Cross-section of all passes together: as set, and the largest that the allowed ranges make."""

    as_set: Quantity
    largest: Quantity


@dataclass(frozen=True)
class Bound:
    """The largest cross-section of a weld by one rule, and the largest size that it comes from.

    A rule from memory ``only_warns``, and so does that of an edge: what lies above the required leg may melt off.
    ``size`` is a leg or the height of a cap; ``note`` says where it holds.
    """

    key: str
    what: str
    area: Quantity
    size: Quantity
    source: str
    only_warns: bool
    countermeasure: Countermeasure
    note: str = ""


@formula("1.5 * (A - b * t) / w", symbol="h", source=CAP, A="weld_area", b="gap", t="thickness", w="cap_width")
def cap_height(*, weld_area: Area, gap: Length, thickness: Length, cap_width: Length) -> Length:
    """Return how high the cap of a square butt is; all that does not fill the gap is taken to lie above."""


def upper_bounds(group: SeamGroup, passes: int, approved: ApprovedTables) -> tuple[Bound, ...]:
    """Return every bound on the cross-section of a weld from above; none where no rule gives a number."""
    factor = quantity(float(approved.plant.reinforcement), "1")
    found = (_of_edge(group, factor), cap_bound(group, passes, approved.imperfections))
    return tuple(bound for bound in found if bound is not None)


def upper_sizes(group: SeamGroup, nominal: AllNominal, passes: int, approved: ApprovedTables) -> Iterator[Verdict]:
    """Yield the check of each bound at the cross-section as set and at the largest that the allowed ranges make.

    Raises OutOfRangeError where the cross-section as set is beyond a bound that was read in its source; a bound from
    memory, and a range that only ends beyond a bound, warn. Of a butt without a required cap it is said how wide the
    cap must become.
    """
    factor = quantity(float(approved.plant.reinforcement), "1")
    for bound in upper_bounds(group, passes, approved):
        if not bound.only_warns and _beyond(nominal.as_set, bound.area):
            made, maximum = _sizes(group, bound, nominal.as_set, factor)
            raise refused(
                (f"{bound.what} of ", made, ", at most ", maximum, f" is allowed ({bound.source})"),
                "use less wire feed or faster travel, another size, or another chart",
                value=in_mm2(nominal.as_set),
            )
        yield _verdict(group, bound, nominal.largest, factor)
    if group.is_butt and group.seam.weld_cap_width is None:
        yield _cap_unknown(group, nominal.largest, passes, approved.imperfections)


def _beyond(area: Quantity, maximum: Quantity) -> bool:
    return exceeds(magnitude(area, "mm²"), magnitude(maximum, "mm²"))


def _verdict(group: SeamGroup, bound: Bound, largest: Quantity, reinforcement: Quantity) -> Verdict:
    sizes = _sizes(group, bound, largest, reinforcement)
    said = ("up to ", sizes[0], " within the allowed ranges, at most ", sizes[1], f" {bound.note or 'allowed'}")
    verdict = Verdict(bound.key, f"largest {bound.what}", said, passed=True, source=bound.source)
    return (
        replace(verdict, passed=None, warns=True, countermeasure=bound.countermeasure)
        if _beyond(largest, bound.area)
        else verdict
    )


def _sizes(group: SeamGroup, bound: Bound, area: Quantity, reinforcement: Quantity) -> tuple[Measured, Measured]:
    """Return the size that a cross-section makes, and the largest one, with as many digits as show which is larger."""
    if bound.key == "cap_height":
        gap, width = cast("Quantity", group.seam.gap), cast("Quantity", group.seam.weld_cap_width)
        made = cap_height(weld_area=area, gap=gap, thickness=group.governing, cap_width=width)
    else:
        made = leg_from_throat(throat=throat_from_area(weld_area=area, reinforcement=reinforcement))
    return lengths(in_mm(made), in_mm(bound.size), TENTH)


# ---------------------------------------------------------------- laps


def _of_edge(group: SeamGroup, reinforcement: Quantity) -> Bound | None:
    if group.seam.joint == CORNER:
        return _of_corner(group, reinforcement)
    if group.seam.joint != LAP:
        return None
    component, known = melted_edge(group)
    size = edge_carries(component.thickness)
    area = fillet_area(reinforcement=reinforcement, throat=throat_from_leg(leg=size))
    note = f"along the edge of {component.name}, {as_written(component.thickness)}"
    if not known:
        note = f"{note}, the thinner; the order does not say whose edge is melted ('edge' of the seam)"
    if not exceeds(LAP_THICK, in_mm(component.thickness)):
        note = f"{note}, unless the drawing has it built out"
    return Bound("lap_edge", "leg", area, size, str(LAP_EDGE), only_warns=True, countermeasure=UPPER_EDGE, note=note)


def _of_corner(group: SeamGroup, reinforcement: Quantity) -> Bound:
    """Return the bound of an outer corner, whose legs are the edges of both components: flush with the thinner one.

    A convex face reaches a larger throat there, so that this refuses nothing.
    """
    thin = min(group.components, key=lambda component: in_mm(component.thickness))
    area = fillet_area(reinforcement=reinforcement, throat=throat_from_leg(leg=thin.thickness))
    note = f"before it runs over the edge of {thin.name}, {as_written(thin.thickness)}"
    source, act = str(CORNER_EDGE), CORNER_EDGES
    return Bound("corner_edge", "leg", area, thin.thickness, source, only_warns=True, countermeasure=act, note=note)


# ---------------------------------------------------------------- butts


def cap_bound(group: SeamGroup, passes: int, table: Imperfections | None) -> Bound | None:
    """Return the bound that the quality level sets to the cap of a butt; None of any other weld, or without a cap."""
    if not group.is_butt:
        return None
    width = group.seam.weld_cap_width
    measures = measures_of_butt(thickness=group.governing, cap_width=width, passes=passes)
    found = level_limit(EXCESS, table, group.quality, measures)
    if found is None or found.size is None or width is None:
        return None
    gap = cast("Quantity", group.seam.gap)
    area = butt_area(gap=gap, thickness=group.governing, cap_width=width, cap_height=found.size)
    only_warns = found.limit.from_memory
    return Bound("cap_height", "excess weld metal", area, found.size, found.source, only_warns, MEASURE_CAP)


def _cap_unknown(group: SeamGroup, largest: Quantity, passes: int, table: Imperfections | None) -> Verdict:
    """Return how wide the cap of a butt must become, so that its height stays within the quality level."""
    gap = gap_area(gap=cast("Quantity", group.seam.gap), thickness=group.governing)
    above = magnitude(largest, "mm²") - magnitude(gap, "mm²")
    text = ("up to ", in_mm2(quantity(above, "mm²")), " of weld metal lie above the sheet; the order states no cap")
    verdict = Verdict("cap_height", "excess weld metal", text, passed=None, source=str(CAP), countermeasure=MEASURE_CAP)
    measures = measures_of_butt(thickness=group.governing, cap_width=None, passes=passes)
    found = level_limit(EXCESS, table, group.quality, measures)
    if found is None or above <= 0:
        return verdict
    width = length(minimum_width(above, found.limit), TENTH)
    said = (*text, f"; to keep the height of level {group.quality} the cap must be at least ", width, " wide")
    return replace(verdict, said=said, source=found.source)


def minimum_width(above: float, limit: ImperfectionLimit) -> float:
    """Return the width in mm from which a cap of ``above`` mm² is not higher than a limit on its width allows.

    Height 1.5 times area over width meets plus and share of the width, and the largest height.
    """
    section = 1.5 * above
    plus = 0.0 if limit.plus is None else in_mm(limit.plus)
    share = 0.0 if limit.share is None else float(limit.share)
    sloped = (sqrt(plus**2 + 4 * share * section) - plus) / (2 * share) if share else section / plus
    return sloped if limit.at_most is None else max(sloped, section / in_mm(limit.at_most))
