"""What the robots of an operation weld with, as far as a setter must know it and cannot see it on the settings."""

from __future__ import annotations

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import NOT_STATED, MachineLine


def machine_lines(view: OperationView) -> tuple[MachineLine, ...]:
    """Return what is stated of both machines, such as drive and stepper of guns; nothing where nothing is stated."""
    return tuple(
        MachineLine(name=name, values=(first or NOT_STATED, second or NOT_STATED))
        for name, (first, second) in view.family.machine_lines(view)
    )
