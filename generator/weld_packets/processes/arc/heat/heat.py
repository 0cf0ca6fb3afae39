"""Arc energy and heat input: their formulas, and those of settings."""

from __future__ import annotations

from weld_packets.calculation.countermeasures import SECTION
from weld_packets.calculation.formula import (
    Current,
    HeatPerLength,
    Number,
    Source,
    Speed,
    Voltage,
    formula,
)
from weld_packets.calculation.readings import result, share_of, value_of
from weld_packets.calculation.sentences import stated_range
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight
from weld_packets.model.processes import arc_process
from weld_packets.units import kinds, quantity

ARC_ENERGY = Source("TWI, heat input and arc energy", "voltage times current over travel speed")
HEAT_INPUT = Source("EN 1011-1:2009", "heat input; SSAB Welding Handbook, 2nd edition, page 13")

ENERGY = Name("arc_energy", "Arc energy (heat input of US codes)", "E", kinds.HEAT)
HEAT = Name("heat_input", "Heat input", "Q", kinds.HEAT)
USUAL_HEAT = (0.1, 2.0)
COURSE = Source("TWI, MIG/MAG welding course text", "heat input 0.1 to 2 kJ/mm")
_UNUSUAL = Remark(
    Weight.WARNING,
    (
        "outside the usual ",
        stated_range(quantity(USUAL_HEAT[0], "kJ/mm"), quantity(USUAL_HEAT[1], "kJ/mm"), kinds.HEAT, "0.1 to 2 kJ/mm"),
    ),
    COURSE,
    SECTION,
)


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


def heat_of(
    number: str, current: Figure, voltage: Figure, speed: Figure, remarks: tuple[Remark, ...] = ()
) -> tuple[Figure, Figure]:
    """Return arc energy and heat input of a process by its number, by its thermal efficiency in the table."""
    process = arc_process(number)
    share = quantity(process.thermal_efficiency, "1")
    put_in = {"arc_voltage": value_of(voltage), "welding_current": value_of(current), "travel_speed": value_of(speed)}
    energy = arc_energy.work(**put_in)
    heat = heat_input.work(thermal_efficiency=share, **put_in)
    usual = () if USUAL_HEAT[0] <= heat.result.magnitude <= USUAL_HEAT[1] else (_UNUSUAL,)
    factor = Given("thermal efficiency", share, "1", process.efficiency_source)
    shares = {
        "welding_current": share_of(current),
        "arc_voltage": share_of(voltage),
        "travel_speed": share_of(speed),
    }
    return (
        result(ENERGY, energy, remarks=remarks, shares=shares),
        result(HEAT, heat, before=(factor,), remarks=(*remarks, *usual), shares=shares),
    )
