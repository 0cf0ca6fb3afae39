"""Size of a weld: leg, throat, and the cross-section that has to be filled."""

from __future__ import annotations

from weld_packets.calculation.formula import Area, Length, Number, Share, Source, Standing, formula

FILLET_GEOMETRY = Source("equal-leg fillet, 90° between the components", standing=Standing.GEOMETRY)
REINFORCED = Source("Kobelco, consumption of welding consumables", "fillet: half the square of the leg, with a factor")
_BUTT = Source("ESAB Filler Metal Data Handbook", "weight per length of square butt and reinforcement")
GAP_RECTANGLE = Source("rectangle of gap and thickness", standing=Standing.GEOMETRY)
EQUAL_PASSES = Source("passes of equal cross-section", standing=Standing.COMMON_PRACTICE)
AIM = Source("the size required is a minimum; settings aim above it", standing=Standing.COMMON_PRACTICE)
BALANCE_SPREAD = Source("half the spread of a cross-section, root of the sum of squares", standing=Standing.GEOMETRY)


@formula("z / sqrt(2)", symbol="a", source=FILLET_GEOMETRY, z="leg")
def throat_from_leg(*, leg: Length) -> Length:
    """Return the throat of an equal-leg fillet: the height of the right-angled triangle."""


@formula("a * sqrt(2)", symbol="z", source=FILLET_GEOMETRY, a="throat")
def leg_from_throat(*, throat: Length) -> Length:
    """Return the leg of an equal-leg fillet."""


@formula("r * a**2", symbol="A", source=REINFORCED, r="reinforcement", a="throat")
def fillet_area(*, reinforcement: Number, throat: Length) -> Area:
    """Return the cross-section of an equal-leg fillet; the factor allows for a convex face."""


@formula("sqrt(A / r)", symbol="a", source=REINFORCED, A="weld_area", r="reinforcement")
def throat_from_area(*, weld_area: Area, reinforcement: Number) -> Length:
    """Return the throat that a cross-section of weld metal makes, the inverse of ``fillet_area``."""


@formula("b * t + 2 / 3 * w * h", symbol="A", source=_BUTT, b="gap", t="thickness", w="cap_width", h="cap_height")
def butt_area(*, gap: Length, thickness: Length, cap_width: Length, cap_height: Length) -> Area:
    """Return the cross-section of a square butt weld: the gap, and a cap two thirds of its width times height."""


@formula("b * t", symbol="A_g", source=GAP_RECTANGLE, b="gap", t="thickness")
def gap_area(*, gap: Length, thickness: Length) -> Area:
    """Return the cross-section of the gap of a square butt joint: the minimum that has to be filled."""


@formula(
    "sqrt(u_w**2 + u_v**2 + u_η**2 + u_r**2) / 2",
    symbol="m",
    source=BALANCE_SPREAD,
    u_w="feed_spread",
    u_v="speed_spread",
    u_η="efficiency_spread",
    u_r="reinforcement_spread",
)
def size_margin(
    *, feed_spread: Share, speed_spread: Share, efficiency_spread: Share, reinforcement_spread: Share
) -> Share:
    """Return to which share of itself a throat is known that wire feed, travel speed and the wire's yield make."""


@formula("a * (1 + m / 100)", symbol="a_t", source=AIM, a="throat", m="margin")
def target_throat(*, throat: Length, margin: Share) -> Length:
    """Return the throat that settings aim at, above the one required by a margin."""


@formula("A * (1 + m / 100)**2", symbol="A_t", source=AIM, A="weld_area", m="margin")
def target_area(*, weld_area: Area, margin: Share) -> Area:
    """Return the cross-section of a weld whose sizes are all above the required ones by a margin."""


@formula("A / n", symbol="A_1", source=EQUAL_PASSES, A="weld_area", n="passes")
def area_per_pass(*, weld_area: Area, passes: Number) -> Area:
    """Return the cross-section that each of ``passes`` equal passes deposits."""


@formula("A_1 * n", symbol="A", source=EQUAL_PASSES, A_1="pass_area", n="passes")
def area_of_passes(*, pass_area: Area, passes: Number) -> Area:
    """Return the cross-section that all passes deposit together."""
