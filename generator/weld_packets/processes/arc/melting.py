"""Wire and deposit: section, deposition rate, the balance of wire and weld, the law of melting; what one pass melts."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.calculation.formula import (
    Area,
    Current,
    Density,
    Length,
    LinearMass,
    MassRate,
    Number,
    Share,
    Source,
    Speed,
    Standing,
    Voltage,
    WireFeed,
    Worked,
    formula,
)
from weld_packets.calculation.readings import share_moved, share_of, share_of_stated
from weld_packets.calculation.trace import Figure
from weld_packets.units import Quantity

ROUND_WIRE = Source("round wire", standing=Standing.GEOMETRY)
MIG_HANDBOOK = Source("ESAB MIG Welding Handbook", "wire length per mass, pages 7-8 to 7-10")
CONSUMPTION = Source("Kobelco, consumption of welding consumables", "wire mass = area, density, efficiency")
BALANCE = Source("wire fed = metal deposited", standing=Standing.GEOMETRY)
STICK_OUT = Source("contact tip, stick-out and arc in one line", standing=Standing.GEOMETRY)
MELTING = Source("Lesnewich 1958, Norrish, Advanced Welding Processes", "melting of the wire", Standing.FROM_MEMORY)
MELTED = "solid and metal-cored wire on direct current; constants of the wire's table, as reliable as that table says"
TUNGSTEN_VOLTAGE = Source("IEC 60974-1", "conventional load voltage, TIG, as a machine manual quotes it")
_LOAD_VOLTAGE = Source("IEC 60974-1", "conventional load voltage, MIG/MAG; rating plates agree")


@formula("pi * d**2 / 4", symbol="S", source=ROUND_WIRE, d="wire_diameter")
def wire_section(*, wire_diameter: Length) -> Area:
    """Return the cross-section of the wire; of a cored wire with its core."""


@formula("S * ρ", symbol="q", source=MIG_HANDBOOK, S="section", ρ="density")
def wire_mass_per_length(*, section: Area, density: Density) -> LinearMass:
    """Return the mass of a length of wire."""


@formula("0.06 * w * q * η / 100", symbol="D", source=MIG_HANDBOOK, w="wire_feed", q="linear_mass", η="efficiency")
def deposition_rate(*, wire_feed: WireFeed, linear_mass: LinearMass, efficiency: Share) -> MassRate:
    """Return the mass of weld metal deposited while the arc burns; efficiency is weld metal over wire."""


@formula(
    "1000 / 60 * w * S * η / 100 / A_1",
    symbol="v",
    source=BALANCE,
    w="wire_feed",
    S="section",
    η="efficiency",
    A_1="pass_area",
)
def balanced_travel_speed(*, wire_feed: WireFeed, section: Area, efficiency: Share, pass_area: Area) -> Speed:
    """Return the travel speed at which the wire fed makes the required cross-section in one pass."""


@formula(
    "1000 / 60 * w * S * η / 100 / v",
    symbol="A_1",
    source=BALANCE,
    w="wire_feed",
    S="section",
    η="efficiency",
    v="travel_speed",
)
def nominal_area(*, wire_feed: WireFeed, section: Area, efficiency: Share, travel_speed: Speed) -> Area:
    """Return the cross-section that one pass deposits at the set wire feed and travel speed."""


@formula("A * ρ / (η / 100)", symbol="m_L", source=CONSUMPTION, A="weld_area", ρ="density", η="efficiency")
def wire_per_weld_length(*, weld_area: Area, density: Density, efficiency: Share) -> LinearMass:
    """Return the wire that a length of weld takes, all passes."""


@formula("D - l", symbol="L", source=STICK_OUT, D="contact_distance", l="arc_length")
def stick_out(*, contact_distance: Length, arc_length: Length) -> Length:
    """Return the length of wire that carries current between the contact tip and the arc."""


@formula(
    "0.06 * (a * I / S + b * L * I**2 / S**2)",
    symbol="w",
    source=MELTING,
    validity=MELTED,
    a="arc_melting",
    b="resistance_melting",
    I="welding_current",
    L="stick_out",
    S="section",
)
def melted_wire_feed(
    *, arc_melting: Number, resistance_melting: Number, welding_current: Current, stick_out: Length, section: Area
) -> WireFeed:
    """Return the wire feed that a current melts: heat of the arc, and resistance heating of the stick-out."""


@formula(
    "S * (sqrt(a**2 + 4 * b * L * w / 0.06) - a) / (2 * b * L)",
    symbol="I",
    source=MELTING,
    validity=MELTED,
    S="section",
    a="arc_melting",
    b="resistance_melting",
    L="stick_out",
    w="wire_feed",
)
def drawn_current(
    *, section: Area, arc_melting: Number, resistance_melting: Number, stick_out: Length, wire_feed: WireFeed
) -> Current:
    """Return the current that a wire feed draws, the inverse of ``melted_wire_feed``."""


@formula(
    "min(14 + 0.05 * I, 44)",
    symbol="U_2",
    source=_LOAD_VOLTAGE,
    validity="test load of a power source, not a setting; the 44 V end above 600 A is from memory",
    I="welding_current",
)
def conventional_load_voltage(*, welding_current: Current) -> Voltage:
    """Return the voltage at which a power source is tested at a current."""


@formula(
    "min(10 + 0.04 * I, 34)",
    symbol="U_2",
    source=TUNGSTEN_VOLTAGE,
    validity="test load of a power source, not a setting; up to 600 A",
    I="welding_current",
)
def tungsten_load_voltage(*, welding_current: Current) -> Voltage:
    """Return the voltage at which a power source for a tungsten electrode is tested at a current."""


@dataclass(frozen=True)
class Melt:
    """What one pass melts: wire feed as set, section of the wire, share of it that becomes weld metal.

    ``known`` is the share of itself to which the wire feed is set.
    """

    wire_feed: Quantity
    section: Quantity
    efficiency: Quantity
    known: float = 0.0

    @property
    def shares(self) -> dict[str, float]:
        """To which share of themselves wire feed and efficiency are known."""
        return {"wire_feed": self.known, "efficiency": share_of_stated(self.efficiency, "%")}


def nominal_share(melt: Melt, speed: Figure, nominal: Worked) -> float:
    """Return to which share of itself the cross-section is known that one pass deposits at a set travel speed."""
    return share_moved(nominal, {**melt.shares, "travel_speed": share_of(speed)}, "mm²")


def nominal_by(wire_feed: Quantity, melt: Melt, travel_speed: Quantity) -> Worked:
    """Return the cross-section that one pass deposits at a feed and a speed."""
    return nominal_area.work(
        wire_feed=wire_feed, section=melt.section, efficiency=melt.efficiency, travel_speed=travel_speed
    )
