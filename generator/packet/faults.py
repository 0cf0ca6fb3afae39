"""What to do when a fault shows: remedies inside the window, and when to stop and call."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.tables import Fault, Remedy
from generator.packet.records import FaultLine, Value
from generator.packet.rowview import RowView
from generator.packet.wording import amount_text, edge_text, inside, joined, listed, window_text

_LIMIT = {"up": "at most", "down": "at least"}
NO_ROOM = "is already at the end of its window: stop and call"
NO_WINDOW = "has no window here: do not change it, stop and call"
NOT_SET = "not set in this row: stop and call"


def fault_lines(view: RowView) -> tuple[FaultLine, ...]:
    """Return the faults of a row's process, each remedy with the end of the window that it may go to."""
    return tuple(_line(fault, view) for fault in view.shop.faults if view.row.process in fault.processes)


def _line(fault: Fault, view: RowView) -> FaultLine:
    return FaultLine(
        sign=fault.sign,
        remedies=tuple(_remedy(remedy, view) for remedy in fault.remedies),
        stop_when=fault.stop_when,
        source=fault.source,
    )


def _remedy(remedy: Remedy, view: RowView) -> str:
    if remedy.setting == "none":
        return remedy.check
    allowed = dict.fromkeys(_allowed(remedy, view))
    return f"{remedy.check.rstrip('.')}: {joined(allowed) or NOT_SET}."


def _allowed(remedy: Remedy, view: RowView) -> Iterator[str]:
    found = [(group, _way(remedy.direction, value)) for group, value in view.values(remedy.setting)]
    alike = len({way for _, way in found}) == 1
    for group, way in found:
        yield way if alike else f"{way} for {group.title}, {listed(list(group.arms))}"


def _way(direction: str, value: Value) -> str:
    label = inside(value.label)
    if direction == "none":
        return joined((f"{label} {amount_text(value)}", window_text(value)), ", window ")
    if value.window is None or value.amount is None or not (edge := edge_text(value.window, value, direction)):
        return f"{label} {NO_WINDOW}"
    if value.amount.value == (value.window.high if direction == "up" else value.window.low):
        return f"{label} {NO_ROOM}"
    return f"{label} {_LIMIT[direction]} {edge} (window)"
