"""What the robots of an operation weld with, as far as a setter must know it and cannot see it on the settings."""

from __future__ import annotations

from collections.abc import Callable

from weld_packets.model.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import NOT_STATED, MachineLine

_CURRENT_TYPES = {"AC": "alternating current (AC)", "MFDC": "medium-frequency direct current (MFDC)"}
_Say = Callable[[OperationView, Robot], str]


def machine_lines(view: OperationView) -> tuple[MachineLine, ...]:
    """Return drive, current type, upslope, stepper and cooling water of both guns; nothing for robots with torches."""
    first, second = view.robots
    if view.gun(first) is None:
        return ()
    return tuple(MachineLine(name=name, values=(say(view, first), say(view, second))) for name, say in _LINES.items())


def _drive(view: OperationView, robot: Robot) -> str:
    gun = view.gun(robot)
    return NOT_STATED if gun is None else gun.drive


def _current_type(view: OperationView, robot: Robot) -> str:
    gun = view.gun(robot)
    return NOT_STATED if gun is None or gun.current_type is None else _CURRENT_TYPES[gun.current_type]


def _upslope(view: OperationView, robot: Robot) -> str:
    found = {value.text: None for group, value in view.values("upslope_time") if robot.id in group.robots}
    return "; ".join(found) or NOT_STATED


def _stepper(view: OperationView, robot: Robot) -> str:
    gun = view.gun(robot)
    return NOT_STATED if gun is None or gun.stepper is None else gun.stepper


def _cooling(view: OperationView, robot: Robot) -> str:
    return view.cooling(robot) or NOT_STATED


_LINES: dict[str, _Say] = {
    "Drive of the gun": _drive,
    "Current type": _current_type,
    "Upslope": _upslope,
    "Stepper": _stepper,
    "Cooling water": _cooling,
}
