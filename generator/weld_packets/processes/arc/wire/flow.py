"""Whether a gas is used at the flow that a chart gives."""

from __future__ import annotations

from dataclasses import replace

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.trace import Figure, Window
from weld_packets.errors import refusal
from weld_packets.model.tables import Gas
from weld_packets.units import Quantity, as_written, magnitude


def flow_of(gas: Gas, flow: Figure) -> Figure:
    """Return a gas flow with its window cut to what the gas is used at; raise OutOfRangeError for a flow outside."""
    found = value_of(flow)
    if not _litres(gas.flow_from) <= _litres(found) <= _litres(gas.flow_to):
        raise refusal(
            f"{flow.label} {as_written(found)} is outside what gas {gas.id} is used at, "
            f"{as_written(gas.flow_from)} to {as_written(gas.flow_to)}",
            "correct the chart, or the flow in the table of gases",
            value=as_written(found),
        )
    return replace(flow, window=None if flow.window is None else _cut(flow.window, gas))


def _cut(window: Window, gas: Gas) -> Window:
    low, high, origin = window.low, window.high, window.origin
    if low is not None and _litres(low) < _litres(gas.flow_from):
        low, origin = gas.flow_from, f"{origin}; lower end: gas {gas.id}"
    if high is not None and _litres(high) > _litres(gas.flow_to):
        high, origin = gas.flow_to, f"{origin}; upper end: gas {gas.id}"
    return Window(low, high, origin)


def _litres(flow: Quantity) -> float:
    return magnitude(flow, "l/min")
