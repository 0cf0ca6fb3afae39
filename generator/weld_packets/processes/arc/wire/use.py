"""What welding takes: time, wire, gas, and the share of a cycle that a power source allows."""

from __future__ import annotations

from weld_packets.calculation.formula import (
    Current,
    Duration,
    GasFlow,
    Length,
    LinearMass,
    Mass,
    Number,
    Share,
    Source,
    Speed,
    Standing,
    Volume,
    WireFeed,
    formula,
)

SUMMED = Source("sum of times", standing=Standing.GEOMETRY)
BY_DEFINITION = Source("rate times time", standing=Standing.GEOMETRY)
GAS_ON = Source("gas flows before, during and after each pass", standing=Standing.COMMON_PRACTICE)
DUTY = Source("IEC 60974-1", "duty cycle over 10 min at 40 °C; heating with the square of the current")


@formula("n * L / v", symbol="t", source=BY_DEFINITION, n="passes", L="weld_length", v="travel_speed")
def arc_time(*, passes: Number, weld_length: Length, travel_speed: Speed) -> Duration:
    """Return the time that the arc burns for a length of weld, all passes."""


@formula("w / 60 * q * t / 1000", symbol="m", source=BY_DEFINITION, w="wire_feed", q="linear_mass", t="burning_time")
def wire_mass(*, wire_feed: WireFeed, linear_mass: LinearMass, burning_time: Duration) -> Mass:
    """Return the mass of wire fed while the arc burns."""


@formula(
    "t + n * s * o",
    symbol="t_g",
    source=GAS_ON,
    validity="the whole overhead counts as time of flowing gas",
    t="burning_time",
    n="passes",
    s="seams",
    o="overhead",
)
def flowing_time(*, burning_time: Duration, passes: Number, seams: Number, overhead: Duration) -> Duration:
    """Return the time that gas flows: while the arc burns, and before and after each pass."""


@formula("g * t / 60", symbol="V", source=BY_DEFINITION, g="gas_flow", t="flowing_time")
def gas_volume(*, gas_flow: GasFlow, flowing_time: Duration) -> Volume:
    """Return the volume of gas that flows, at the state for which the flow meter is marked."""


@formula(
    "min(100, X_1 * (I_1 / I)**2)",
    symbol="X",
    source=DUTY,
    validity="from the rating point whose current is next above",
    X_1="rated_share",
    I_1="rated_current",
    I="welding_current",
)
def allowed_duty(*, rated_share: Share, rated_current: Current, welding_current: Current) -> Share:
    """Return the share of ten minutes for which a power source may give a current; at most all of it."""


@formula("t + N * t_o", symbol="t_w", source=SUMMED, t="arc_time", N="starts", t_o="overhead")
def arc_weld_time(*, arc_time: Duration, starts: Number, overhead: Duration) -> Duration:
    """Return the time of some seams: the arc, and gas pre-flow, arc start and crater of each pass."""
