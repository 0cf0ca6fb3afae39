"""Fit-up before the arc: the root gap and what it costs, tacks, and the range of the contact distance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR

from weld_packets.calculation.countermeasures import BUTT_GAP, MEASURE_TACKS, gap_kept
from weld_packets.calculation.formula import Length, Number, Source, Standing, formula
from weld_packets.calculation.imperfections import doubt_of, level_limit, measures_of_fillet
from weld_packets.calculation.readings import Shown, result, rounded_result, share_of_size, value_of
from weld_packets.calculation.sentences import at_least, at_most, lengths
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Name, Remark, Step, Verdict, Weight, warned
from weld_packets.errors import refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, as_written, exceeds, in_mm, kinds, magnitude, quantity
from weld_packets.units.digits import HUNDREDTH, TENTH

ROOT_GAP = Name("root_gap", "Root gap, maximum", "g", kinds.LENGTH)
AT_GAP = Name("throat_at_gap", "Throat left at the maximum root gap", "a", kinds.LENGTH)
KEPT_TO = Name("gap_keeping_throat", "Root gap up to which the throat is kept", "g", kinds.LENGTH)
OF_WIRE = Source("share of the wire diameter that a robot bridges without sensing", standing=Standing.FROM_MEMORY)
GAP_COST = Source("equal legs measured from the plate's face, 90° between the components", standing=Standing.GEOMETRY)
WIDE_GAP = Source("ISO 9692-1", "square butt welded from one side: a gap of about the thickness", Standing.FROM_MEMORY)
TACK_LENGTH = Source("EN 1011-2", "clause 13 as quoted by a welding school: 50 mm, below 12 mm four times the thicker")
GAP_NUMBER = "617"
"""ISO 6520-1 number of an incorrect root gap of a fillet."""
NEVER_MORE = Shown("mm", HUNDREDTH, ROUND_FLOOR, "rounded down, so that no gap is too wide")
MINIMUM_TACK, TACK_PLATE, TACK_TIMES = 50.0, 12.0, 4.0


@formula("s * d", symbol="g", source=OF_WIRE, s="share", d="wire_diameter")
def bridged_gap(*, share: Number, wire_diameter: Length) -> Length:
    """Return the root gap that a robot bridges without sensing it."""


@formula("(z - g) / sqrt(2)", symbol="a", source=GAP_COST, validity="T joint; g less than z", z="leg", g="gap")
def throat_at_gap(*, leg: Length, gap: Length) -> Length:
    """Return the throat of a T fillet whose upright component is off the plate by a gap."""


@formula("sqrt(2) * (a_e - a)", symbol="g", source=GAP_COST, validity="T joint", a_e="expected", a="required")
def gap_keeping_throat(*, expected: Length, required: Length) -> Length:
    """Return the gap at which the throat expected at the set values has shrunk to the one required."""


# ---------------------------------------------------------------- root gap


@dataclass(frozen=True)
class Fillet:
    """Leg and throat that a fillet requires, and the throat that its set values are expected to make."""

    leg: Quantity
    throat: Quantity
    expected: Quantity


def gap_figures(group: SeamGroup, size: Fillet, passes: int, approved: ApprovedTables) -> Iterator[Figure]:
    """Yield the largest root gap of a fillet and, of a T joint, the throat that it leaves; nothing without a rule.

    It is the smaller of what the plant says that a robot bridges and of what the quality level allows. Neither asks
    whether the throat is kept: where it is not, the gap warns, and says up to which gap it is.
    """
    rule = approved.plant.root_gap
    if rule is None or not group.is_fillet:
        return
    share = quantity(float(rule.of_wire), "1")
    bridged = bridged_gap.work(share=share, wire_diameter=group.wire.diameter)
    origin = Given("share of the wire diameter", share, "1", rule.of_wire_source)
    allowed = _level_allows(group, size.throat, passes, approved)
    smaller = bridged.result
    trace: tuple[Step, ...] = (origin, bridged)
    if allowed is not None and in_mm(allowed.value) < in_mm(smaller):
        smaller, trace = allowed.value, (origin, bridged, allowed)
    figure = rounded_result(ROOT_GAP, smaller, NEVER_MORE, trace)
    if group.seam.joint != "T fillet" or in_mm(smaller) >= in_mm(size.leg):
        yield figure
        return
    yield from _of_t_joint(figure, smaller, size)


def butt_gap(group: SeamGroup) -> Iterator[Verdict]:
    """Yield a warning for a butt whose gap is larger than its thinner component is thick."""
    gap = group.seam.gap
    if not group.is_butt or gap is None or not exceeds(in_mm(gap), in_mm(group.governing)):
        return
    found, thin = lengths(in_mm(gap), in_mm(group.governing), TENTH)
    said = ("gap ", found, ", the thinner component is ", thin, " thick: the arc may burn through")
    yield warned("butt_gap", "gap of the butt", said, str(WIDE_GAP), BUTT_GAP)


def _of_t_joint(figure: Figure, unrounded: Quantity, size: Fillet) -> Iterator[Figure]:
    gap = value_of(figure)
    left = throat_at_gap.work(leg=size.leg, gap=gap)
    kept = gap_keeping_throat.work(expected=size.expected, required=size.throat)
    if in_mm(kept.result) >= in_mm(gap):
        yield figure
    else:
        kept_to = rounded_result(KEPT_TO, kept.result, NEVER_MORE, (kept,))
        yield replace(figure, remarks=(_costs_throat(unrounded, left.result, size.throat, kept.result),))
        yield kept_to
    note = Remark(Weight.NOTE, "what is left of the throat of the required leg at the maximum gap", GAP_COST)
    yield result(AT_GAP, left, digits=2, shares={"leg": share_of_size(size.leg)}, remarks=(note,))


def _costs_throat(gap: Quantity, left: Quantity, required: Quantity, kept: Quantity) -> Remark:
    smaller, _ = lengths(in_mm(left), in_mm(required), TENTH)
    open_by, wanted = at_most(gap, HUNDREDTH), at_least(required)
    said = ("at a gap of ", open_by, " the required leg leaves ", smaller, " of the required throat ", wanted)
    return Remark(Weight.WARNING, said, GAP_COST, gap_kept(at_most(kept, HUNDREDTH)))


def _level_allows(group: SeamGroup, throat: Quantity, passes: int, approved: ApprovedTables) -> Given | None:
    measures = measures_of_fillet(thickness=group.governing, throat=throat, passes=passes)
    found = level_limit(GAP_NUMBER, approved.imperfections, group.quality, measures)
    if found is None or found.size is None:
        return None
    source = f"{found.imperfection.source}: {GAP_NUMBER}{doubt_of(found.limit)}"
    return Given(f"root gap at level {group.quality}", found.size, "mm", source)


# ---------------------------------------------------------------- tacks


def tack_check(group: SeamGroup) -> Iterator[Verdict]:
    """Yield a warning for tacks shorter than the quoted rule for plate; refuse tacks longer than their seam.

    The rule is for structural plate. Raises OutOfRangeError for tacks that do not fit on the seam, or have no length.
    """
    tacks = group.tacks
    if tacks is None or tacks.number == 0:
        return
    if tacks.length is None or tacks.made_by is None:
        missing = "length" if tacks.length is None else "made by"
        raise refusal(f"tacks without '{missing}'", f"write '{missing}', or 'number: 0' for none", key="tacks")
    long, number = in_mm(tacks.length), tacks.number
    shortest, seam = min(zip(group.lengths, group.seams, strict=True), key=lambda found: found[0])
    if exceeds(number * long, shortest):
        raise refusal(
            f"{number} tacks of {as_written(tacks.length)} do not fit on seam {seam.id}",
            "write fewer or shorter tacks",
            key="tacks",
            value=as_written(tacks.length),
        )
    thick = max(in_mm(component.thickness) for component in group.components)
    minimum = TACK_TIMES * thick if thick < TACK_PLATE else MINIMUM_TACK
    found, wanted = lengths(long, minimum, TENTH)
    said = (found, " long, structural plate asks for ", wanted)
    if exceeds(minimum, long):
        yield warned("tacks", "tacks", said, str(TACK_LENGTH), MEASURE_TACKS)
    else:
        yield Verdict("tacks", "tacks", said, passed=True, source=str(TACK_LENGTH))


# ---------------------------------------------------------------- contact distance


def toleranced(distance: Figure, plant: Plant) -> Figure:
    """Return the contact distance with the allowed range that the plant's tolerance gives, where it states one."""
    tolerance = plant.contact_distance_tolerance
    if tolerance is None:
        return distance
    middle, width = magnitude(value_of(distance), distance.unit), magnitude(tolerance, distance.unit)
    ends = (quantity(middle - width, distance.unit), quantity(middle + width, distance.unit))
    return replace(
        distance, allowed_range=AllowedRange(*ends, f"± {as_written(tolerance)}: {plant.contact_distance_source}")
    )
