"""Heat: arc energy, heat input, cooling time between 800 and 500 °C."""

from __future__ import annotations

from weld_packets.calculation.formula import (
    Current,
    Duration,
    HeatPerLength,
    Length,
    Number,
    Source,
    Speed,
    Standing,
    Temperature,
    Voltage,
    formula,
)

ARC_ENERGY = Source("TWI, heat input and arc energy", "voltage times current over travel speed")
HEAT_INPUT = Source("EN 1011-1:2009", "heat input; SSAB Welding Handbook, 2nd edition, page 13")
COOLING = Source("EN 1011-2:2001", "Annex D; SSAB Welding Handbook, 2nd edition, page 17, formulas 3.1 and 3.2")
TRANSITION = Source("EN 1011-2:2001", "Annex D, both formulas set equal with their shape factors", Standing.FROM_MEMORY)

LOW_ALLOY = "unalloyed and low-alloy steel; preheat below 500 °C"


@formula("U * I / (1000 * v)", symbol="E", source=ARC_ENERGY, U="arc_voltage", I="welding_current", v="travel_speed")
def arc_energy(*, arc_voltage: Voltage, welding_current: Current, travel_speed: Speed) -> HeatPerLength:
    """Return the electric energy per length of a pass; US codes call this the heat input. Means mislead for pulses."""


@formula(
    "k * U * I / (1000 * v)",
    symbol="Q",
    source=HEAT_INPUT,
    k="thermal_efficiency",
    U="arc_voltage",
    I="welding_current",
    v="travel_speed",
)
def heat_input(
    *, thermal_efficiency: Number, arc_voltage: Voltage, welding_current: Current, travel_speed: Speed
) -> HeatPerLength:
    """Return the energy that reaches the plate per length of a pass."""


@formula(
    "(4300 - 4.3 * T) * 1e5 * Q**2 / d**2 * (1 / (500 - T)**2 - 1 / (800 - T)**2) * F",
    symbol="t_85",
    source=COOLING,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    d="thickness",
    F="shape_factor",
)
def cooling_time_thin(
    *, preheat: Temperature, heat: HeatPerLength, thickness: Length, shape_factor: Number
) -> Duration:
    """Return t8/5 where heat flows in the plane of the sheet only (thinner than the transition)."""


@formula(
    "(6700 - 5 * T) * Q * (1 / (500 - T) - 1 / (800 - T)) * F",
    symbol="t_85",
    source=COOLING,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    F="shape_factor",
)
def cooling_time_thick(*, preheat: Temperature, heat: HeatPerLength, shape_factor: Number) -> Duration:
    """Return t8/5 where heat flows into the depth of the plate too (thicker than the transition)."""


@formula(
    "sqrt((4300 - 4.3 * T) / (6700 - 5 * T) * 1e5 * Q * (1 / (500 - T) + 1 / (800 - T)) * F_2 / F_3)",
    symbol="d_t",
    source=TRANSITION,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    F_2="thin_factor",
    F_3="thick_factor",
)
def transition_thickness(
    *, preheat: Temperature, heat: HeatPerLength, thin_factor: Number, thick_factor: Number
) -> Length:
    """Return the thickness at which both cooling formulas, each with its shape factor, give the same time.

    Below it the formula for thin plate gives the larger time, above it the one for thick plate: the larger one holds,
    so that no time jumps from one plate to the next thicker one.
    """
