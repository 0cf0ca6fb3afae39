"""Size of a weld: leg, throat, and the cross-section that has to be filled."""

from __future__ import annotations

from math import sqrt

from generator.process.formula import Area, Length, Number, Source, Standing, formula
from generator.units import magnitude, quantity

FILLET_GEOMETRY = Source("equal-leg fillet, 90° between the parts", standing=Standing.GEOMETRY)
REINFORCED = Source("Kobelco, consumption of welding consumables", "fillet: half the square of the leg, with a factor")
BUTT = Source("ESAB Filler Metal Data Handbook", "weight per length of square butt and reinforcement")
GAP_RECTANGLE = Source("rectangle of gap and thickness", standing=Standing.GEOMETRY)
EQUAL_RUNS = Source("runs of equal cross-section", standing=Standing.COMMON_PRACTICE)


@formula("z / sqrt(2)", symbol="a", source=FILLET_GEOMETRY, z="leg")
def throat_from_leg(*, leg: Length) -> Length:
    """Return the throat of an equal-leg fillet: the height of the right-angled triangle."""
    return quantity(magnitude(leg, "mm") / sqrt(2), "mm")


@formula("a * sqrt(2)", symbol="z", source=FILLET_GEOMETRY, a="throat")
def leg_from_throat(*, throat: Length) -> Length:
    """Return the leg of an equal-leg fillet."""
    return quantity(magnitude(throat, "mm") * sqrt(2), "mm")


@formula("r * a**2", symbol="A", source=REINFORCED, r="reinforcement", a="throat")
def fillet_area(*, reinforcement: Number, throat: Length) -> Area:
    """Return the cross-section of an equal-leg fillet; the factor stands for a convex face."""
    return quantity(magnitude(reinforcement, "1") * magnitude(throat, "mm") ** 2, "mm²")


@formula("sqrt(A / r)", symbol="a", source=REINFORCED, A="weld_area", r="reinforcement")
def throat_from_area(*, weld_area: Area, reinforcement: Number) -> Length:
    """Return the throat that a cross-section of weld metal makes, the inverse of ``fillet_area``."""
    return quantity(sqrt(magnitude(weld_area, "mm²") / magnitude(reinforcement, "1")), "mm")


@formula("b * t + 2 / 3 * w * h", symbol="A", source=BUTT, b="gap", t="thickness", w="cap_width", h="cap_height")
def butt_area(*, gap: Length, thickness: Length, cap_width: Length, cap_height: Length) -> Area:
    """Return the cross-section of a square butt weld: the gap, and a cap two thirds of its width times height."""
    cap = magnitude(cap_width, "mm") * magnitude(cap_height, "mm") * 2 / 3
    return quantity(magnitude(gap, "mm") * magnitude(thickness, "mm") + cap, "mm²")


@formula("b * t", symbol="A_g", source=GAP_RECTANGLE, b="gap", t="thickness")
def gap_area(*, gap: Length, thickness: Length) -> Area:
    """Return the cross-section of the gap of a square butt joint: the least that has to be filled."""
    return quantity(magnitude(gap, "mm") * magnitude(thickness, "mm"), "mm²")


@formula("A / n", symbol="A_1", source=EQUAL_RUNS, A="weld_area", n="runs")
def area_per_run(*, weld_area: Area, runs: Number) -> Area:
    """Return the cross-section that each of ``runs`` equal runs lays."""
    return quantity(magnitude(weld_area, "mm²") / magnitude(runs, "1"), "mm²")


@formula("A_1 * n", symbol="A", source=EQUAL_RUNS, A_1="run_area", n="runs")
def area_of_runs(*, run_area: Area, runs: Number) -> Area:
    """Return the cross-section that all runs lay together."""
    return quantity(magnitude(run_area, "mm²") * magnitude(runs, "1"), "mm²")
