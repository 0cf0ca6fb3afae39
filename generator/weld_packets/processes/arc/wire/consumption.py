"""What one part takes of these seams: arc time, wire, gas."""

from __future__ import annotations

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import measured, result, value_of
from weld_packets.calculation.spread import share_moved, share_of
from weld_packets.calculation.trace import Figure, Given, Name
from weld_packets.processes.arc.passes import Melt, Passes, nominal_share
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.closed import closes
from weld_packets.processes.arc.wire.melting import deposition_rate, wire_mass_per_length, wire_per_weld_length
from weld_packets.processes.arc.wire.use import arc_time, flowing_time, gas_volume, wire_mass
from weld_packets.units import Quantity, kinds, quantity

LENGTH = Name("weld_length", "Length of these seams on one part", "L", kinds.LENGTH)
TIME = Name("arc_time", "Arc time on one part", "t", kinds.DURATION)
RATE = Name("deposition_rate", "Deposition rate", "D", kinds.MASS_RATE)
WIRE = Name("wire_mass", "Wire for one part", "m", kinds.MASS)
PER_LENGTH = Name("wire_per_weld_length", "Wire per length of weld", "m_L", kinds.LINEAR_MASS)
PATH = 1.0
"""Millimetres to which the length of a taught path is known: common practice, no source."""
GAS = Name("gas_volume", "Gas for one part", "V", kinds.VOLUME)


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
    return f"paths of {len(group.seams)} seams{overlaps}"


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
