"""Strength of one spot of two sheets: what a test must reach, and what a calculation may count on.

Both are from memory and labelled so; they are different things and are never compared. They are given where the table
of materials states the tensile strength of both sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR

from weld_packets.calculation.formula import Force, Length, Number, Source, Standing, Stress, formula
from weld_packets.calculation.readings import Shown, rounded_result
from weld_packets.calculation.trace import Figure, Given, Name
from weld_packets.processes.spot.formulas import design_weld_diameter
from weld_packets.processes.spot.stack.sheets import SheetStack
from weld_packets.units import in_mm, kinds, magnitude, quantity
from weld_packets.units.digits import HUNDREDTH

_D8_1M = Source(
    "AWS D8.1M", "minimum strengths, as reprinted in guidelines for high-strength steel", Standing.FROM_MEMORY
)
_EN_1993 = Source("EN 1993-1-3", "8.4, design resistance of spot welds", Standing.FROM_MEMORY)
_SAFETY = quantity(1.25, "1")
_AT_LEAST = Shown("kN", HUNDREDTH, ROUND_CEILING, "a minimum, rounded up to 0.01 kN")
_AT_MOST = Shown("kN", HUNDREDTH, ROUND_FLOOR, "a resistance, rounded down to 0.01 kN")

SHEAR = Name("test_shear_strength", "Tensile shear of a test, minimum", "F_ST", kinds.FORCE)
CROSS = Name("test_cross_tension", "Cross tension of a test, minimum", "F_CT", kinds.FORCE)
TEARING = Name("tearing_resistance", "Tearing and bearing resistance, design", "F_tb", kinds.FORCE)
SHEARING = Name("shear_resistance", "Shear resistance, design", "F_v", kinds.FORCE)


@formula(
    "(1.674 + 6.58e-4 * S - 6.36e-7 * S**2) * S * 4 * t**1.5 / 1000",
    symbol="F_ST",
    source=_D8_1M,
    S="tensile_strength",
    t="thinner_sheet",
)
def shear_of_test(*, tensile_strength: Stress, thinner_sheet: Length) -> Force:
    """Return the tensile shear force that one spot of a test piece must reach."""


@formula("1.25 * t**2.2", symbol="F_CT", source=_D8_1M, t="thinner_sheet")
def cross_tension_of_test(*, thinner_sheet: Length) -> Force:
    """Return the cross tension force that one spot of a test piece must reach."""


@formula(
    "2.7 * sqrt(t) * d * S / (1000 * γ)",
    symbol="F_tb",
    source=_EN_1993,
    t="thinner_sheet",
    d="weld_diameter",
    S="tensile_strength",
    γ="partial_factor",
)
def tearing_resistance(
    *, thinner_sheet: Length, weld_diameter: Length, tensile_strength: Stress, partial_factor: Number
) -> Force:
    """Return the design resistance to tearing and bearing where the thicker sheet is at most 2.5 times the thinner."""


@formula(
    "pi * d**2 / 4 * S / (1000 * γ)",
    symbol="F_v",
    source=_EN_1993,
    d="weld_diameter",
    S="tensile_strength",
    γ="partial_factor",
)
def shear_resistance(*, weld_diameter: Length, tensile_strength: Stress, partial_factor: Number) -> Force:
    """Return the design resistance of the weld itself to shear."""


def strength_figures(stack: SheetStack) -> Iterator[Figure]:
    """Yield the strengths of one spot of a stack of two whose tensile strengths are stated, by the weaker sheet."""
    known = [sheet.material.tensile_strength for sheet in stack.sheets if sheet.material.tensile_strength is not None]
    if stack.has_three or len(known) < len(stack.sheets):
        return
    strength = min(known, key=lambda each: magnitude(each, "N/mm²"))
    thinner = min((sheet.component.thickness for sheet in stack.sheets), key=in_mm)
    given = (Given("tensile strength of the weaker sheet", strength, "N/mm²", "table of materials"),)
    shear = shear_of_test.work(tensile_strength=strength, thinner_sheet=thinner)
    cross = cross_tension_of_test.work(thinner_sheet=thinner)
    yield rounded_result(SHEAR, shear.result, _AT_LEAST, (*given, shear))
    yield rounded_result(CROSS, cross.result, _AT_LEAST, (cross,))
    diameter = design_weld_diameter(governing_thickness=thinner)
    design = {"weld_diameter": diameter, "tensile_strength": strength, "partial_factor": _SAFETY}
    tearing = tearing_resistance.work(thinner_sheet=thinner, **design)
    shearing = shear_resistance.work(**design)
    yield rounded_result(TEARING, tearing.result, _AT_MOST, (*given, tearing))
    yield rounded_result(SHEARING, shearing.result, _AT_MOST, (*given, shearing))
