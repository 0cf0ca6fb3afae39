"""Flare-bevel joints: a seam in the groove between a tube's rounded corner and a plate, flush with the tube's side.

The groove has no edge to measure a fillet from, and its root stays open where the arc does not reach it. How deep it is
filled is the effective throat; the order states it, and a section of the coupon shows it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import acos, sqrt
from typing import cast

from weld_packets.calculation.countermeasures import FLARE_SECTION
from weld_packets.calculation.formula import Length, Number, Source, Standing, formula
from weld_packets.calculation.readings import beside, ordered, result
from weld_packets.calculation.sentences import length, lengths, refused
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Verdict, Weight, Words, warned
from weld_packets.errors import refusal
from weld_packets.model.order import Component, Section
from weld_packets.model.tables.charts import ArcChart
from weld_packets.model.tables.plant import Plant
from weld_packets.model.trade import Joint
from weld_packets.units import Quantity, as_written, in_mm, kinds, magnitude, plain, quantity, with_unit
from weld_packets.units.digits import TENTH

FLARE: Joint = "flare bevel"
CORNER = Name("corner_radius", "Outer corner radius", "R", kinds.LENGTH)
RULED = Name("throat_by_rule", "Throat that the rule grants", "a_f", kinds.LENGTH)
TUBE_RANGES = ((6.0, 1.6, 2.4), (10.0, 2.0, 3.0), (float("inf"), 2.4, 3.6))
"""Outer corner radius over the wall of a cold-formed tube: wall in mm up to which, minimum, maximum."""
TUBE_STANDARD = Source("EN 10219-2", "external corner profile by wall thickness", Standing.FROM_MEMORY)
TRIALS = Source("EN 1993-1-8", "4.6, the throat is taken from sectioned trial welds", Standing.FROM_MEMORY)
GROOVE = Source("groove between a quarter of a circle and two planes that touch it", standing=Standing.GEOMETRY)
FLUSH_RULE = Source("AISC LRFD specification 1999, as quoted by Packer", "flush flare-bevel weld: 5/16 of the radius")


@dataclass(frozen=True)
class Radius:
    """The outer corner radius of a tube in mm, from ``minimum`` to ``maximum``, and where it comes from."""

    minimum: float
    maximum: float
    origin: str
    from_memory: bool


def is_angular(component: Component) -> bool:
    """Return whether a component is a tube with flat sides and rounded corners."""
    return component.section is not None and component.section.form != "round tube"


def outer_radius(component: Component) -> Radius:
    """Return the outer corner radius of a tube with corners: the order's, else the range of the standard by its wall.

    Raises OutOfRangeError for a tube that is not cold-formed and whose radius the order does not give.
    """
    section = cast("Section", component.section)
    if section.corner_radius is not None:
        stated = in_mm(section.corner_radius)
        return Radius(stated, stated, "order", from_memory=False)
    if section.form != "cold-formed tube":
        raise refusal(
            f"the corner radius of {component.name} is not known",
            "give the 'corner radius' of its section, measured outside",
            key="components",
            value=component.id,
        )
    wall = in_mm(component.thickness)
    minimum, maximum = next((low, high) for up_to, low, high in TUBE_RANGES if wall <= up_to)
    return Radius(minimum * wall, maximum * wall, str(TUBE_STANDARD), from_memory=True)


@formula("c * R", symbol="a_f", source=FLUSH_RULE, c="share", R="corner_radius")
def throat_by_rule(*, share: Number, corner_radius: Length) -> Length:
    """Return the effective throat that a rule grants a flush weld in the groove beside a corner."""


def groove_area(*, corner_radius: Quantity, throat: Quantity) -> Quantity:
    """Return the cross-section of the groove from the tube's side down to a throat of at most the radius, in mm².

    The gap at a depth x is R less the root of R² less (R - x)²; this is its integral.
    """
    radius = magnitude(corner_radius, "mm")
    depth = min(magnitude(throat, "mm"), radius)
    left = radius - depth
    under_the_curve = (radius**2 * acos(left / radius) - left * sqrt(max(radius**2 - left**2, 0.0))) / 2
    return quantity(radius * depth - under_the_curve, "mm²")


def tube_of(components: tuple[Component, Component]) -> Component:
    """Return the tube of a flare bevel; raise OutOfRangeError where neither component is said to be one."""
    tubes = [component for component in components if is_angular(component)]
    if not tubes:
        raise refusal(
            "a flare bevel runs along the corner of a tube, and neither component is said to be one",
            "write 'section: {form: cold-formed tube, corner radius: 6 mm}' at the tube, or choose another joint",
            key="joint",
            value=FLARE,
        )
    return tubes[0]


def check_throat(components: tuple[Component, Component], throat: Quantity) -> None:
    """Raise OutOfRangeError for a throat that is deeper than the groove beside a corner whose radius is known."""
    tube = tube_of(components)
    radius = outer_radius(tube)
    if in_mm(throat) > radius.maximum and not radius.from_memory:
        wanted, deep = lengths(in_mm(throat), radius.maximum, TENTH)
        raise refused(
            ("a throat of ", wanted, " is deeper than the groove beside a corner of radius ", deep),
            "require a smaller throat, or put the load on seams across the tube",
            key="throat",
            value=as_written(throat),
        )


def flare_throat(
    components: tuple[Component, Component], throat: Quantity, table: ArcChart, plant: Plant
) -> tuple[tuple[Figure, ...], Verdict]:
    """Return the corner radius, the throat that the plant's rule grants where it holds, and the warning that follows.

    The rule is for flush welds and leaves out short arc; whatever it grants, a section of the coupon decides.
    """
    radius = outer_radius(tube_of(components))
    minimum = quantity(radius.minimum, "mm")
    memory = Remark(Weight.WARNING, "corner radius from the range of the standard", TUBE_STANDARD, FLARE_SECTION)
    corner = ordered(CORNER, minimum, radius.origin, remarks=(memory,) if radius.from_memory else ())
    wanted, round_by = length(in_mm(throat), TENTH), length(radius.minimum, TENTH)
    start: Words = ("throat ", wanted, " in a flare bevel with corner radius ", round_by)
    why = _rule_is_silent(table, plant)
    if why or plant.flare_bevel_throat is None:
        return (corner,), _undecided((*start, f": {why}, only a section of the coupon decides"), plant)
    share = quantity(float(plant.flare_bevel_throat), "1")
    worked = throat_by_rule.work(share=share, corner_radius=minimum)
    ruled = result(RULED, worked, before=(Given("share of the radius", share, "1", plant.flare_bevel_source),))
    granted = length(in_mm(worked.result), TENTH)
    said = (*start, ": the rule for flush welds grants ", granted, ", a section of the coupon decides")
    return (corner, ruled), _undecided(said, plant)


def _rule_is_silent(table: ArcChart, plant: Plant) -> str:
    if table.transfer == "short arc":
        return "the rule for flush welds excludes short arc"
    return "" if plant.flare_bevel_throat is not None else "the plant's table states no rule"


def _undecided(said: Words, plant: Plant) -> Verdict:
    source = f"{TRIALS}; rule: {plant.flare_bevel_source}"
    return warned("flare_throat", "throat", said, source, FLARE_SECTION)


def groove_filled(components: tuple[Component, Component], throat: Quantity, nominal: Quantity) -> Verdict:
    """Return whether the cross-section deposited fills the groove down to the throat, at the largest corner radius.

    Raises OutOfRangeError where it does not; with a radius from memory that is a warning.
    """
    radius = outer_radius(tube_of(components))
    needed = groove_area(corner_radius=quantity(radius.maximum, "mm"), throat=throat)
    have, take = (with_unit(plain(each), "mm²") for each in beside(nominal, needed, "mm²", TENTH))
    text = f"{have} deposited, {take} fill the groove down to the throat"
    verdict = Verdict("groove_filled", "groove", text, passed=True, source=f"{GROOVE}; radius: {radius.origin}")
    if magnitude(nominal, "mm²") >= magnitude(needed, "mm²"):
        return verdict
    if radius.from_memory:
        return replace(verdict, passed=None, warns=True, countermeasure=FLARE_SECTION)
    raise refusal(
        f"the wire fed deposits {have}, the groove down to the throat takes {take}",
        "require a smaller throat, or use a chart with more wire feed or slower travel",
        key="throat",
        value=as_written(throat),
    )
