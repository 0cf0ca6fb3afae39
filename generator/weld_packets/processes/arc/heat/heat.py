"""Heat input of a weld and what it does to the metal: carbon equivalents, preheat and cooling times of a joint."""

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
from weld_packets.calculation.readings import no_number, result, share_of, value_of
from weld_packets.calculation.sentences import stated_range
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight
from weld_packets.model.processes import arc_process
from weld_packets.model.tables.materials import ROOM
from weld_packets.processes.arc.heat.cooling import LONGEST, SHORTEST, cooling_times
from weld_packets.processes.arc.heat.equivalents import decisive, equivalents, is_stainless, unfit
from weld_packets.processes.arc.heat.preheat import preheat_figure
from weld_packets.processes.arc.heat.temperatures import component_minimum, in_celsius, interpass_maximum
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, kinds, quantity

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


def metal_figures(group: SeamGroup, heat: Quantity, known: float = 0.0, passes: int = 1) -> tuple[Figure, ...]:
    """Return carbon equivalents of the more hardenable component, preheat, shortest and longest cooling time.

    ``known`` is the share of itself to which the heat input is known.
    """
    material = decisive(group)
    ce, cet, pcm = equivalents(material)
    preheat = preheat_figure(group, cet, heat)
    if is_stainless(material):
        why = unfit(material, {})
        return ce, cet, pcm, preheat, no_number(SHORTEST, why), no_number(LONGEST, why)
    return ce, cet, pcm, preheat, *_cooling(group, preheat, heat, known, passes)


def _cooling(group: SeamGroup, preheat: Figure, heat: Quantity, known: float, passes: int) -> tuple[Figure, Figure]:
    minimum = component_minimum(group, preheat)
    if minimum is None or in_celsius(minimum.value) <= in_celsius(ROOM):
        start, words = ROOM, "a room at 20 °C"
    else:
        start, words = minimum.value, minimum.source
    origin = Given("temperature before welding", start, "°C", words)
    warmest = interpass_maximum(group)
    again = None
    if passes > 1 and warmest is not None:
        again = Given("temperature before a further pass", warmest.value, "°C", warmest.source)
    return cooling_times(group, origin, heat, known, again)
