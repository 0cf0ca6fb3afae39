"""The size of a weld as required, and as the set wire feed and travel speed make it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import cast

from weld_packets.calculation.countermeasures import ENDS, MEASURE_THROAT
from weld_packets.calculation.formula import Source, Standing, Worked
from weld_packets.calculation.imperfections import LevelLimit, level_limit, measures_of_fillet
from weld_packets.calculation.readings import beside, ordered, result, share_of_size, share_of_stated, value_of
from weld_packets.calculation.sentences import at_least, in_mm2, length, lengths, refused, shown_value, stated
from weld_packets.calculation.trace import Figure, Given, InBoth, Name, Remark, Step, Verdict, Weight
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import Imperfections
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.melting import BALANCE
from weld_packets.processes.arc.records import Seam
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.flare import FLARE, groove_filled
from weld_packets.processes.arc.size.formulas import (
    GAP_RECTANGLE,
    area_of_passes,
    butt_area,
    fillet_area,
    gap_area,
    leg_from_throat,
    size_margin,
    target_area,
    target_throat,
    throat_from_area,
    throat_from_leg,
)
from weld_packets.processes.arc.size.lap_edge import check_leg
from weld_packets.units import Quantity, as_written, exceeds, in_mm, kinds, magnitude, quantity
from weld_packets.units.digits import TENTH, WHOLE

THICKNESS = Name("governing_thickness", "Governing thickness", "t", kinds.THICKNESS)
THROAT = Name("throat", "Throat required", "a", kinds.LENGTH)
LEG = Name("leg", "Leg required", "z", kinds.LENGTH)
GAP = Name("gap", "Gap", "b", kinds.LENGTH)
CAP_WIDTH = Name("cap_width", "Weld cap width", "w", kinds.LENGTH)
CAP_HEIGHT = Name("cap_height", "Weld cap height", "h", kinds.LENGTH)
AREA = Name("weld_area", "Cross-section required", "A", kinds.AREA)
NOMINAL = Name("nominal_area", "Cross-section deposited", "A_l", kinds.AREA)
TARGET = Name("throat_target", "Throat, target", "a_t", kinds.LENGTH)
OBTAINED = Name("throat_obtained", "Throat expected at these settings", "a", kinds.LENGTH)
MARGIN = Name("size_margin", "Margin of the target", "m", kinds.SHARE)

THINNER = Source("the thinner component decides the row of an arc chart", standing=Standing.COMMON_PRACTICE)
EN_THROAT = Source("EN 1993-1-8", "4.5.2(2)", Standing.FROM_MEMORY)
AWS_LEG = Source("AWS D1.1/D1.1M", "table 7.7 of 2020 and 2025 as quoted: of the thinner part, low-hydrogen process")
SHORT = Source("EN 1993-1-8", "4.5.1(2), six throats and 30 mm", Standing.FROM_MEMORY)
SHORT_LENGTH, SHORT_THROATS = 30.0, 6.0
_WHOLE_FROM = 10.0
"""Millimetres from which on a length is said in whole ones."""
EN_FROM, EN_MINIMUM = 4.0, 3.0
AWS_FROM = 3.0
_AWS_LEGS = (
    (6.35, 3.0, InBoth("3 mm (1/8 in)", "1/8 in (3 mm)")),
    (12.7, 4.7625, InBoth("5 mm (3/16 in)", "3/16 in (5 mm)")),
    (19.05, 6.0, InBoth("6 mm (1/4 in)", "1/4 in (6 mm)")),
    (math.inf, 7.9375, InBoth("8 mm (5/16 in)", "5/16 in (8 mm)")),
)
"""Up to and with which thickness in mm which leg is the smallest; of both systems of units the smaller number."""
TOO_LARGE = "5214"
"""ISO 6520-1 number of an excessive throat."""


SPREADS = {
    "feed_spread": quantity(2.0, "%"),
    "speed_spread": quantity(1.0, "%"),
    "efficiency_spread": quantity(3.0, "%"),
    "reinforcement_spread": quantity(5.0, "%"),
}
"""How well a machine keeps its wire feed, a robot its speed, and how well the wire's yield and the face of the bead are
known: common practice, no source."""
_SAME_BALANCE = Remark(
    Weight.NOTE, "from the balance that set the travel speed, so no check of it: measure the coupon", BALANCE
)


@dataclass(frozen=True)
class Size:
    """Size of a weld: its figures, and its required and target cross-sections where they follow from the order."""

    figures: tuple[Figure, ...]
    area: Worked | None
    throat: Quantity | None
    target: Worked | None = None


def size_of(group: SeamGroup, plant: Plant) -> Size:
    """Return the required size of a fillet (throat, leg), a butt (gap, cap where given) or a flare bevel.

    Raises OutOfRangeError for a leg that is longer than the edge of a lap.
    """
    if group.seam.joint == FLARE:
        return Size((_required(THROAT, cast("Quantity", group.seam.throat)),), None, None)
    return _fillet(group, plant) if group.is_fillet else _butt(group, plant)


def margin(plant: Plant) -> tuple[Quantity, Step]:
    """Return the share by which settings aim above a required size, and where it comes from.

    It is the plant's own, else the spread of the balance that sets the travel speed.
    """
    if plant.size_margin is not None:
        own = plant.size_margin
        return own, Given(MARGIN.label, own, "%", f"table of plant: {plant.size_margin_source}")
    worked = size_margin.work(**SPREADS)
    return worked.result, worked


def reinforcement(plant: Plant) -> Quantity:
    """Return the plant's factor of a convex face on the cross-section of a fillet."""
    return quantity(float(plant.reinforcement), "1")


def thickness_figure(group: SeamGroup) -> Figure:
    """Return the thickness that decides the row of the chart."""
    both = " and ".join(f"{component.name} {as_written(component.thickness)}" for component in group.components)
    remark = Remark(Weight.NOTE, f"the thinner of {both}", THINNER, reader="auditor")
    return ordered(THICKNESS, group.governing, "order, components of the seam", remarks=(remark,))


def _fillet(group: SeamGroup, plant: Plant) -> Size:
    throat, leg = _throat_and_leg(group.seam)
    required = value_of(throat)
    check_leg(group, value_of(leg))
    remarks = tuple(_size_remarks(group, required, value_of(leg)))
    area = fillet_area.work(reinforcement=reinforcement(plant), throat=required)
    factor = Given("reinforcement", reinforcement(plant), "1", plant.reinforcement_source)
    share, origin = margin(plant)
    over = target_throat.work(throat=required, margin=share)
    target = result(TARGET, over, before=(origin,), shares={"throat": share_of_size(required)})
    figures = replace(throat, remarks=remarks), leg, target, result(AREA, area, before=(factor,), digits=2)
    return Size(figures, area, required, target_area.work(weld_area=area.result, margin=share))


def _throat_and_leg(seam: Seam) -> tuple[Figure, Figure]:
    if seam.leg is not None:
        worked = throat_from_leg.work(leg=seam.leg)
        throat = result(THROAT, worked, shares={"leg": share_of_size(seam.leg)}, minimum=True)
        return throat, _required(LEG, seam.leg)
    required = cast("Quantity", seam.throat)
    leg = result(LEG, leg_from_throat.work(throat=required), shares={"throat": share_of_size(required)}, minimum=True)
    return _required(THROAT, required), leg


def _required(name: Name, size: Quantity) -> Figure:
    """Return a size that the order requires; in the other unit it is rounded up, never too small."""
    return ordered(name, size, "order", minimum=True)


def _size_remarks(group: SeamGroup, throat: Quantity, leg: Quantity) -> Iterator[Remark]:
    """Yield what other rules say of the size; they are notes, since sheet metal is outside those standards."""
    plate = in_mm(group.governing)
    shortest, seam = min(zip(group.lengths, group.seams, strict=True), key=lambda found: found[0])
    minimum = max(SHORT_LENGTH, SHORT_THROATS * in_mm(throat))
    if shortest < minimum:
        found, needed = lengths(shortest, minimum, WHOLE if shortest >= _WHOLE_FROM else TENTH)
        said = (f"seam {seam.id} is ", found, " long: below ", needed, ", start and stop are most of a weld")
        yield Remark(Weight.WARNING, said, SHORT, ENDS)
    if plate >= EN_FROM and in_mm(throat) < EN_MINIMUM:
        throat_required = stated(quantity(EN_MINIMUM, "mm"), kinds.LENGTH)
        yield Remark(Weight.NOTE, ("structural steelwork asks for a throat of at least ", throat_required), EN_THROAT)
    smallest, leg_required = next((leg, text) for thick, leg, text in _AWS_LEGS if not exceeds(plate, thick))
    if plate >= AWS_FROM and exceeds(smallest, in_mm(leg)):
        yield Remark(Weight.NOTE, ("the US structural code asks for a leg of at least ", leg_required), AWS_LEG)


def _butt(group: SeamGroup, plant: Plant) -> Size:
    gap = cast("Quantity", group.seam.gap)
    figure = ordered(GAP, gap, "order")
    width, height = group.seam.weld_cap_width, group.seam.weld_cap_height
    if width is None or height is None:
        return Size((figure,), None, None)
    area = butt_area.work(gap=gap, thickness=group.governing, cap_width=width, cap_height=height)
    caps = ordered(CAP_WIDTH, width, "order"), ordered(CAP_HEIGHT, height, "order")
    target = target_area.work(weld_area=area.result, margin=margin(plant)[0])
    return Size((figure, *caps, result(AREA, area, digits=2)), area, None, target)


def largest_throat(
    group: SeamGroup, throat: Quantity, passes: int, table: Imperfections | None
) -> tuple[Quantity, str] | None:
    """Return the largest throat that the quality level allows for one required, and what says so.

    None where the table of imperfections gives no limit, or one from memory: that warns and never refuses.
    """
    found = _limit_of_throat(group, throat, passes, table)
    if found is None or found.size is None or found.limit.permitted or found.limit.from_memory:
        return None
    return quantity(in_mm(throat) + in_mm(found.size), "mm"), f"largest throat, {found.source}"


@dataclass(frozen=True)
class Nominal:
    """What one pass deposits: at the set feed and speed, and the most while one of both is at an end of its range.

    ``known`` is the share of itself to which the cross-section deposited is known.
    """

    set: Worked
    maximum: Quantity
    known: float = 0.0


def obtained(
    group: SeamGroup, size: Size, nominal: Nominal, passes: int, approved: ApprovedTables
) -> tuple[tuple[Figure, ...], Verdict]:
    """Return what the set values deposit, and the check that it is enough and not too much.

    Raises OutOfRangeError where the wire fed does not even fill the gap of a butt weld or the groove of a flare bevel.
    """
    count = quantity(passes, "1")
    total = area_of_passes.work(pass_area=nominal.set.result, passes=count)
    figure = result(NOMINAL, total, before=(nominal.set,), shares={"pass_area": nominal.known})
    if group.seam.joint == FLARE:
        return (figure,), groove_filled(group.components, cast("Quantity", group.seam.throat), total.result)
    if size.throat is None:
        return (figure,), _fills(group, total)
    factor = reinforcement(approved.plant)
    throat = throat_from_area.work(weld_area=total.result, reinforcement=factor)
    shares = {"weld_area": nominal.known, "reinforcement": share_of_stated(factor, "1")}
    maximum = throat_from_area(weld_area=area_of_passes(pass_area=nominal.maximum, passes=count), reinforcement=factor)
    made = result(OBTAINED, throat, shares=shares, remarks=(_SAME_BALANCE,))
    return (figure, made), _not_too_large(group, size.throat, maximum, passes, approved.imperfections)


def _fills(group: SeamGroup, nominal: Worked) -> Verdict:
    gap = gap_area(gap=cast("Quantity", group.seam.gap), thickness=group.governing)
    if magnitude(gap, "mm²") > magnitude(nominal.result, "mm²"):
        deposited, taken = (
            shown_value(number, "mm²", kinds.AREA) for number in beside(nominal.result, gap, "mm²", TENTH)
        )
        raise refused(
            ("the wire fed deposits ", deposited, ", the gap alone takes ", taken),
            "close the gap, or use a chart with more wire feed or slower travel",
            key="gap",
            value=as_written(cast("Quantity", group.seam.gap)),
        )
    said = (in_mm2(nominal.result), " deposited, of which ", in_mm2(gap), " fill the gap")
    return Verdict("gap_filled", "gap", said, passed=True, source=str(GAP_RECTANGLE))


def _not_too_large(
    group: SeamGroup, required: Quantity, maximum: Quantity, passes: int, table: Imperfections | None
) -> Verdict:
    """Return whether the largest throat of the allowed range is more than the quality level allows.

    A limit that was read ends the allowed range, so that it is kept; one from memory is warned of.
    """
    excess = max(in_mm(maximum) - in_mm(required), 0.0)
    made = length(in_mm(maximum), TENTH)
    said = ("throat up to ", made, " inside the allowed range, ", at_least(required), " required")
    verdict = Verdict("throat", "throat", said, passed=None, source="table of imperfections")
    found = _limit_of_throat(group, required, passes, table)
    if found is None:
        return replace(verdict, said=(*said, f"; no limit of {TOO_LARGE} for level {group.quality} is in the table"))
    verdict = replace(verdict, source=found.source)
    if found.limit.permitted or (found.size is not None and not exceeds(excess, in_mm(found.size))):
        return replace(verdict, passed=True)
    return replace(verdict, warns=True, countermeasure=MEASURE_THROAT)


def _limit_of_throat(group: SeamGroup, throat: Quantity, passes: int, table: Imperfections | None) -> LevelLimit | None:
    measures = measures_of_fillet(thickness=group.governing, throat=throat, passes=passes)
    return level_limit(TOO_LARGE, table, group.quality, measures)
