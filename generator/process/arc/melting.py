"""Wire and deposit: section, deposition rate, the balance of wire and weld, the burn-off law."""

from __future__ import annotations

from math import pi

from generator.process.formula import (
    Area,
    Current,
    Density,
    Length,
    LinearMass,
    MassRate,
    Share,
    Source,
    Speed,
    Standing,
    Voltage,
    WireFeed,
    formula,
)
from generator.units import magnitude, quantity

ROUND_WIRE = Source("round wire", standing=Standing.GEOMETRY)
MIG_HANDBOOK = Source("ESAB MIG Welding Handbook", "wire length per mass, pages 7-8 to 7-10")
CONSUMPTION = Source("Kobelco, consumption of welding consumables", "wire mass = area, density, efficiency")
BALANCE = Source("wire melted equals weld metal laid", standing=Standing.GEOMETRY)
BURN_OFF = Source("Norrish, Advanced Welding Processes", "burn-off law of Lesnewich", Standing.FROM_MEMORY)
LOAD_VOLTAGE = Source("IEC 60974-1", "conventional load voltage, MIG/MAG; rating plates agree")


@formula("pi * d**2 / 4", symbol="S", source=ROUND_WIRE, d="wire_diameter")
def wire_section(*, wire_diameter: Length) -> Area:
    """Return the cross-section of the wire; of a cored wire with its core."""
    return quantity(pi * magnitude(wire_diameter, "mm") ** 2 / 4, "mm²")


@formula("S * ρ", symbol="q", source=MIG_HANDBOOK, S="section", ρ="density")
def wire_mass_per_length(*, section: Area, density: Density) -> LinearMass:
    """Return the mass of a length of wire."""
    return quantity(magnitude(section, "mm²") * magnitude(density, "g/cm³"), "g/m")


@formula("0.06 * w * q * η / 100", symbol="D", source=MIG_HANDBOOK, w="wire_feed", q="linear_mass", η="efficiency")
def deposition_rate(*, wire_feed: WireFeed, linear_mass: LinearMass, efficiency: Share) -> MassRate:
    """Return the mass of weld metal laid while the arc burns; efficiency is weld metal over wire."""
    grams = magnitude(wire_feed, "m/min") * magnitude(linear_mass, "g/m") * magnitude(efficiency, "1")
    return quantity(0.06 * grams, "kg/h")


@formula(
    "1000 / 60 * w * S * η / 100 / A_1",
    symbol="v",
    source=BALANCE,
    w="wire_feed",
    S="section",
    η="efficiency",
    A_1="run_area",
)
def balanced_travel_speed(*, wire_feed: WireFeed, section: Area, efficiency: Share, run_area: Area) -> Speed:
    """Return the travel speed at which the wire fed makes the asked cross-section in one run."""
    laid = magnitude(wire_feed, "mm/s") * magnitude(section, "mm²") * magnitude(efficiency, "1")
    return quantity(laid / magnitude(run_area, "mm²"), "mm/s")


@formula(
    "0.06 * v * A_1 / (S * η / 100)",
    symbol="w",
    source=BALANCE,
    v="travel_speed",
    A_1="run_area",
    S="section",
    η="efficiency",
)
def balanced_wire_feed(*, travel_speed: Speed, run_area: Area, section: Area, efficiency: Share) -> WireFeed:
    """Return the wire feed that makes the asked cross-section at a travel speed."""
    wanted = magnitude(travel_speed, "m/min") * magnitude(run_area, "mm²")
    return quantity(wanted / (magnitude(section, "mm²") * magnitude(efficiency, "1")), "m/min")


@formula(
    "1000 / 60 * w * S * η / 100 / v",
    symbol="A_1",
    source=BALANCE,
    w="wire_feed",
    S="section",
    η="efficiency",
    v="travel_speed",
)
def laid_area(*, wire_feed: WireFeed, section: Area, efficiency: Share, travel_speed: Speed) -> Area:
    """Return the cross-section that one run lays at the set wire feed and travel speed."""
    laid = magnitude(wire_feed, "mm/s") * magnitude(section, "mm²") * magnitude(efficiency, "1")
    return quantity(laid / magnitude(travel_speed, "mm/s"), "mm²")


@formula("A * ρ / (η / 100)", symbol="m_L", source=CONSUMPTION, A="weld_area", ρ="density", η="efficiency")
def wire_per_weld_length(*, weld_area: Area, density: Density, efficiency: Share) -> LinearMass:
    """Return the wire that a length of weld takes, all runs."""
    metal = magnitude(weld_area, "mm²") * magnitude(density, "g/cm³")
    return quantity(metal / magnitude(efficiency, "1"), "g/m")


@formula(
    "0.06 * (0.3 * (1.2 / d)**2 * I + 5e-5 * (1.2 / d)**4 * L * I**2)",
    symbol="w",
    source=BURN_OFF,
    validity="plain steel solid wire; constants for 1.2 mm, other diameters scaled by area; about ± 15 to 25 %",
    d="wire_diameter",
    I="welding_current",
    L="stick_out",
)
def burn_off_wire_feed(*, wire_diameter: Length, welding_current: Current, stick_out: Length) -> WireFeed:
    """Return the wire feed that a current melts: arc heating plus resistance heating of the stick-out."""
    ratio = 1.2 / magnitude(wire_diameter, "mm")
    amperes = magnitude(welding_current, "A")
    length = magnitude(stick_out, "mm")
    return quantity(0.06 * (0.3 * ratio**2 * amperes + 5e-5 * ratio**4 * length * amperes**2), "m/min")


@formula(
    "min(14 + 0.05 * I, 44)",
    symbol="U_2",
    source=LOAD_VOLTAGE,
    validity="test load of a power source, not a setting; the 44 V end above 600 A is from memory",
    I="welding_current",
)
def conventional_load_voltage(*, welding_current: Current) -> Voltage:
    """Return the voltage at which a power source is tested at a current."""
    return quantity(min(14 + 0.05 * magnitude(welding_current, "A"), 44), "V")
