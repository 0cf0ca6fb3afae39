"""Which sheets a weld joins."""

from __future__ import annotations

from weld_packets.model.order import Component
from weld_packets.packet.operation_view import OperationView


def sheets_of(view: OperationView, weld: str) -> tuple[Component, ...]:
    """Return the components that a weld joins, in the order in which the operation names them."""
    components = {component.id: component for component in view.operation.components}
    return tuple(components[name] for each in view.welds if each.id == weld for name in each.components)
