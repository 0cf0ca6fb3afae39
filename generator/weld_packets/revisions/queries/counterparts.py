"""What in one revision of an order is the same thing as something in another."""

from __future__ import annotations

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value


def same_operation(operation: OperationSheet, other: Packet) -> OperationSheet | None:
    """Return the same operation of another revision: by its name, which stays where its number changes, else by key."""
    named = next((each for each in other.operations if each.name == operation.name), None)
    return named or next((each for each in other.operations if each.key == operation.key), None)


def groups_of_same_welds(group: SettingGroup, other: OperationSheet | None) -> tuple[SettingGroup, ...]:
    """Return the groups of another operation that have a weld of ``group``."""
    welds = set(group.welds)
    return tuple(each for each in other.groups if welds.intersection(each.welds)) if other else ()


def same_setting(value: Value, group: SettingGroup, other: OperationSheet | None) -> Value | None:
    """Return the setting of the same name for one of the same welds in another operation."""
    groups = groups_of_same_welds(group, other)
    return next((each for one in groups for each in one.dialled if each.key == value.key), None)
