"""What to do when a fault shows: remedies inside the allowed ranges, and when to stop and call."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Literal, NamedTuple

from weld_packets.grouping import grouped
from weld_packets.model.tables.faults import Fault, Remedy
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import FaultLine
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.units import Quantity, magnitude
from weld_packets.units.amounts import Direction
from weld_packets.wording.english import inside, joined, listed

_LIMIT = {"up": "at most", "down": "at least"}
NO_ROOM = "already at the end of its allowed range"
NO_CHANGE = "cannot be changed by more than the gun repeats it"
NO_RANGE = "has no allowed range here: do not change it"


def fault_lines(view: OperationView) -> tuple[FaultLine, ...]:
    """Return the faults of an operation's process, each remedy with the end of the allowed range that it may go to."""
    return tuple(_line(fault, view) for fault in view.approved.faults if view.operation.process in fault.processes)


def _line(fault: Fault, view: OperationView) -> FaultLine:
    return FaultLine(
        sign=fault.sign,
        remedies=tuple(filter(None, (_remedy(remedy, view) for remedy in fault.remedies))) or (_nothing_left(view),),
        stop_when=fault.stop_when,
        source=fault.source,
        limits=view.limit_lines(fault.limits),
    )


def _nothing_left(view: OperationView) -> str:
    return f"Nothing is left to try inside the allowed ranges: stop and call {view.call}."


def _remedy(remedy: Remedy, view: OperationView) -> str:
    """Return a remedy with how far it may go; empty where nothing of it is left inside the allowed ranges."""
    if remedy.setting == "none":
        return remedy.check
    values = view.values(remedy.setting)
    reaches = grouped((_reach_of(remedy, value, group, view), group) for group, value in values)
    if not {reach.end for reach in reaches} - {NO_ROOM, NO_CHANGE, NO_RANGE}:
        return ""
    said, label = remedy.check.rstrip("."), inside(values[-1][1].label)
    alone = label in said.lower() and len(reaches) == 1  # the remedy has named its setting
    return f"{said}: {next(iter(reaches)) if alone else _sentence(label, reaches)}."


class _Reach(NamedTuple):
    """How far a remedy may go, while which other setting is as set, and what must then be read."""

    end: str
    held: str = ""
    shown: str = ""

    def __str__(self) -> str:
        return f"{self.end}{self.held}{self.shown}"


def _sentence(label: str, reaches: dict[_Reach, list[SettingGroup]]) -> str:
    """Return how far each group may go; what is as set at all of them is said once, before them."""
    if len(reaches) == 1:
        return f"{label} {next(iter(reaches))}"
    held = {reach.held for reach in reaches}
    before = f"{held.pop()}:" if len(held) == 1 and held != {""} else ""
    each = (
        f"{reach._replace(held='') if before else reach} for {listed(group.name for group in groups)}"
        for reach, groups in reaches.items()
    )
    return f"{label}{before} {'; '.join(each)}"


def _reach_of(remedy: Remedy, value: Value, group: SettingGroup, view: OperationView) -> _Reach:
    """Return how far a remedy may go at one group of welds, or why it cannot be done there."""
    reach = _reach(remedy.direction, value)
    if remedy.direction == "none" or reach in {NO_ROOM, NO_RANGE}:
        return _Reach(reach)
    shares = view.family.repeats(value.figure, group.robots, view.approved)
    if shares is not None and not _beyond_repeating(value, remedy.direction, shares):
        return _Reach(NO_CHANGE)
    moved = view.family.moved_readings.get(value.figure)
    return _Reach(reach, _held(value, group, view.family.changed_alone), _shown(moved, group))


def _held(value: Value, group: SettingGroup, pairs: Sequence[frozenset[str]]) -> str:
    """Return which setting must stay as it is while this one is changed; nothing where the two limit no weld."""
    others = {key for pair in pairs if group.coupled and value.figure in pair for key in pair - {value.figure}}
    return "".join(f" while the {inside(each.label)} is as set" for each in group.dialled if each.figure in others)


def _shown(moved: str | None, group: SettingGroup) -> str:
    """Return within which range the reading that a setting moves must stay; nothing without such a reading."""
    read = next((each for each in group.derived if each.figure == moved), None)
    return "" if read is None or not read.allowed else f", {inside(read.label)} {read.allowed}"


def _beyond_repeating(value: Value, direction: str, shares: Sequence[Quantity]) -> bool:
    """Return whether a setting can be changed by more than by what it differs from weld to weld anyway."""
    if value.amount is None or value.window is None:
        return False
    maximum = max((Decimal(repr(magnitude(share, "1"))) for share in shares), default=Decimal(0))
    now, end = Decimal(value.amount.value), value.window.high if direction == "up" else value.window.low
    return abs(Decimal(end) - now) > maximum * now


def _reach(direction: Direction | Literal["none"], value: Value) -> str:
    if direction == "none":
        return joined((value.text, value.allowed), ", allowed ")
    if value.window is None or value.amount is None or not (edge := value.end_text(direction)):
        return NO_RANGE
    if value.amount.value == (value.window.high if direction == "up" else value.window.low):
        return NO_ROOM
    return f"{_LIMIT[direction]} {edge}"
