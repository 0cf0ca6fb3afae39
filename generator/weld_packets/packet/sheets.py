"""Which sheets a weld joins."""

from __future__ import annotations

from weld_packets.model.order import ArcOperation, Component, SpotOperation


def sheets_of(operation: ArcOperation | SpotOperation, weld: str) -> tuple[Component, ...]:
    """Return the parts that a weld joins, in the order in which the operation names them."""
    components = {component.id: component for component in operation.components}
    return tuple(components[name] for name in _names(operation, weld))


def _names(operation: ArcOperation | SpotOperation, weld: str) -> tuple[str, ...]:
    if isinstance(operation, ArcOperation):
        return next(seam.components for seam in operation.seams if seam.id == weld)
    stack = next(spot.stack for spot in operation.spots if spot.id == weld)
    return next(each.sheets for each in operation.stacks if each.id == stack)
