"""Settings that are read on a meter or a gauge (gas flow, distances, angles) or dialled without regard to others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from weld_packets.calculation.chart import Place, read, read_range
from weld_packets.calculation.countermeasures import SECTION
from weld_packets.calculation.dial import Setting, at_step, set_to_nearest
from weld_packets.calculation.formula import Source
from weld_packets.calculation.readings import as_stated, ordered, value_of
from weld_packets.calculation.trace import AllowedRange, Figure, Name, Remark, Weight
from weld_packets.errors import refusal
from weld_packets.model.tables.charts import SeamChart
from weld_packets.model.tables.materials import Gas
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Kind, Quantity, as_written, kinds, magnitude, quantity, spelling

GAS_FLOW = Name("gas_flow", "Gas flow", "g", kinds.GAS_FLOW)
WORK_ANGLE = Name("work_angle", "Work angle", "β", kinds.ANGLE)
TRAVEL_ANGLE = Name("travel_angle", "Travel angle", "τ", kinds.ANGLE)
ANGLES = Source("a power-source maker's manual", "butt ± 15°, fillet at 45°")
MAXIMUM_TURN = 15.0
"""Degrees by which an order may turn the torch from the chart's angle without a warning."""


def inside(dial: Dial) -> Figure:
    """Return a figure at the step nearest to its middle that lies well inside its range."""
    return at_step(dial.name, dial.middle, dial.nearest(), dial.allowed_range, dial.setting, dial.trace)


def metered(place: Place, plant: Plant) -> Figure:
    """Return the gas flow, set on a flow meter that is read to one of its own units: common practice, no source.

    A plant of US customary units has meters and gauges of these, whatever the units of its charts.
    """
    lookup, allowed_range = read_range(place, "gas_flow")
    meter = Setting("flow meter", quantity(1.0, _read_in(lookup.result, plant, kinds.GAS_FLOW)))
    return inside(Dial(GAS_FLOW, lookup.result, allowed_range, meter, (lookup,)))


def gauged(place: Place, name: Name, column: str, gauges: Mapping[str, Quantity], plant: Plant) -> Figure:
    """Return a distance as a gauge sets it: in whole steps between two rows, as stated on a row.

    ``gauges`` are the steps of the gauge in mm and in inches.
    """
    lookup = read(place, column)[0]
    stated = as_stated(lookup.result, spelling(lookup.result))
    gauge = Setting("gauge", gauges.get(_read_in(lookup.result, plant, kinds.LENGTH), gauges["mm"]))
    if len(lookup.rows) == 1 and spelling(lookup.result) == gauge.unit:
        step = min(gauge.width, Decimal(1).scaleb(int(stated.as_tuple().exponent)))
        return replace(ordered(name, lookup.result, ""), step=step, trace=(lookup,))
    return set_to_nearest(name, lookup.result, gauge, (lookup,))


def _read_in(value: Quantity, plant: Plant, kind: Kind) -> str:
    return kind.customary if plant.show_first == "US customary" else spelling(value)


def flow_of(gas: Gas, flow: Figure) -> Figure:
    """Return a gas flow with its range cut to what the gas is used at; raise OutOfRangeError for a flow outside."""
    found = value_of(flow)
    if not _litres(gas.flow_from) <= _litres(found) <= _litres(gas.flow_to):
        raise refusal(
            f"{flow.label} {as_written(found)} is outside what gas {gas.id} is used at, "
            f"{as_written(gas.flow_from)} to {as_written(gas.flow_to)}",
            "correct the chart, or the flow in the table of gases",
            value=as_written(found),
        )
    return replace(flow, allowed_range=None if flow.allowed_range is None else _cut(flow.allowed_range, gas))


def _cut(allowed_range: AllowedRange, gas: Gas) -> AllowedRange:
    low, high, origin = allowed_range.low, allowed_range.high, allowed_range.origin
    if low is not None and _litres(low) < _litres(gas.flow_from):
        low, origin = gas.flow_from, f"{origin}; lower end: gas {gas.id}"
    if high is not None and _litres(high) > _litres(gas.flow_to):
        high, origin = gas.flow_to, f"{origin}; upper end: gas {gas.id}"
    return AllowedRange(low, high, origin)


def _litres(flow: Quantity) -> float:
    return magnitude(flow, "l/min")


def angles(group: SeamGroup, table: SeamChart) -> tuple[Figure, Figure]:
    """Return the angles of the torch: the order's own, else the chart's, with the direction of travel."""
    chart = f"table {table.table}: {table.angles_source}"
    found = []
    for name, own, usual in (
        (WORK_ANGLE, group.seam.work_angle, table.work_angle),
        (TRAVEL_ANGLE, group.seam.travel_angle, table.travel_angle),
    ):
        figure = ordered(name, usual if own is None else own, chart if own is None else "order")
        found.append(replace(figure, remarks=tuple(_turned(usual if own is None else own, usual))))
    direction = Remark(Weight.NOTE, table.travel_direction)
    return found[0], replace(found[1], remarks=(direction, *found[1].remarks))


def _turned(angle: Quantity, usual: Quantity) -> Iterator[Remark]:
    if abs(magnitude(angle, "°") - magnitude(usual, "°")) > MAXIMUM_TURN:
        words = f"more than {MAXIMUM_TURN:g}° from the {as_written(usual)} of the chart"
        yield Remark(Weight.WARNING, words, ANGLES, SECTION)
