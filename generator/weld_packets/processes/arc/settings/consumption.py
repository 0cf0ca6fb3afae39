"""What welding takes: time, wire and gas."""

from __future__ import annotations

from weld_packets.calculation.formula import (
    SUMMED,
    Duration,
    GasFlow,
    Length,
    LinearMass,
    Mass,
    Number,
    Source,
    Speed,
    Standing,
    Volume,
    WireFeed,
    Worked,
    formula,
)
from weld_packets.calculation.readings import measured, result, share_moved, share_of, value_of
from weld_packets.calculation.trace import Figure, Given, Name
from weld_packets.processes.arc.melting import (
    Melt,
    deposition_rate,
    nominal_share,
    wire_mass_per_length,
    wire_per_weld_length,
)
from weld_packets.processes.arc.passes.passes import Passes
from weld_packets.processes.arc.seam_groups import SeamGroup, closes
from weld_packets.units import Quantity, kinds, quantity

BY_DEFINITION = Source("rate times time", standing=Standing.GEOMETRY)
GAS_ON = Source("gas flows before, during and after each pass", standing=Standing.COMMON_PRACTICE)
LENGTH = Name("weld_length", "Length of these seams on one part", "L", kinds.LENGTH)
TIME = Name("arc_time", "Arc time on one part", "t", kinds.DURATION)
RATE = Name("deposition_rate", "Deposition rate", "D", kinds.MASS_RATE)
WIRE = Name("wire_mass", "Wire for one part", "m", kinds.MASS)
PER_LENGTH = Name("wire_per_weld_length", "Wire per length of weld", "m_L", kinds.LINEAR_MASS)
PATH = 1.0
"""Millimetres to which the length of a taught path is known: common practice, no source."""
GAS = Name("gas_volume", "Gas for one part", "V", kinds.VOLUME)


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


@formula("t + N * t_o", symbol="t_w", source=SUMMED, t="arc_time", N="starts", t_o="overhead")
def arc_weld_time(*, arc_time: Duration, starts: Number, overhead: Duration) -> Duration:
    """Return the time of some seams: the arc, and gas pre-flow, arc start and crater of each pass."""


# ---------------------------------------------------------------- figures of a group of seams


def consumption(group: SeamGroup, melt: Melt, passes: Passes, nominal: Worked, gas_flow: Figure) -> tuple[Figure, ...]:
    """Return what these seams of one part take at the set values; ``nominal`` is the cross-section of one pass."""
    length, count = quantity(sum(group.lengths), "mm"), quantity(passes.count, "1")
    burning = arc_time.work(passes=count, weld_length=length, travel_speed=value_of(passes.speed))
    linear = wire_mass_per_length.work(section=melt.section, density=group.wire.density)
    rate = deposition_rate.work(wire_feed=melt.wire_feed, linear_mass=linear.result, efficiency=melt.efficiency)
    mass = wire_mass.work(wire_feed=melt.wire_feed, linear_mass=linear.result, burning_time=burning.result)
    weld = nominal.result * float(passes.count)
    share = wire_per_weld_length.work(weld_area=weld, density=group.wire.density, efficiency=melt.efficiency)
    speed = {"travel_speed": share_of(passes.speed), "weld_length": PATH / length.magnitude}
    burnt = share_moved(burning, speed, "s")
    area = {"weld_area": nominal_share(melt, passes.speed, nominal)}
    efficiency = Given("deposition efficiency", melt.efficiency, "%", group.wire.efficiency_source)
    return (
        measured(LENGTH, length, _of_seams(group), PATH),
        result(TIME, burning, shares=speed),
        result(RATE, rate, before=(linear, efficiency), shares=melt.shares),
        result(PER_LENGTH, share, before=(efficiency,), shares=area),
        result(WIRE, mass, before=(linear,), shares={"wire_feed": melt.known, "burning_time": burnt}),
        _gas(group, passes.count, burning.result, gas_flow),
    )


def consumption_without_wire(group: SeamGroup, travel_speed: Figure, gas_flow: Figure) -> tuple[Figure, ...]:
    """Return what these seams of one part take at the set values, in one pass without filler: arc time and gas."""
    length = quantity(sum(group.lengths), "mm")
    speed = value_of(travel_speed)
    burning = arc_time.work(passes=quantity(1, "1"), weld_length=length, travel_speed=speed)
    shares = {"travel_speed": share_of(travel_speed), "weld_length": PATH / length.magnitude}
    return (
        measured(LENGTH, length, _of_seams(group), PATH),
        result(TIME, burning, shares=shares),
        _gas(group, 1, burning.result, gas_flow),
    )


def _of_seams(group: SeamGroup) -> str:
    overlaps = ", with the overlap of closed ones" if any(closes(seam) for seam in group.seams) else ""
    number = len(group.seams)
    return f"path of the seam{overlaps}" if number == 1 else f"paths of {number} seams{overlaps}"


def _gas(group: SeamGroup, passes: int, burning: Quantity, gas_flow: Figure) -> Figure:
    flowing = flowing_time.work(
        burning_time=burning,
        passes=quantity(passes, "1"),
        seams=quantity(len(group.seams), "1"),
        overhead=group.robot.weld_overhead,
    )
    overhead = Given("time per pass besides the arc", group.robot.weld_overhead, "s", group.robot.times_source)
    volume = gas_volume.work(gas_flow=value_of(gas_flow), flowing_time=flowing.result)
    return result(GAS, volume, before=(overhead, flowing), shares={"gas_flow": share_of(gas_flow)})
