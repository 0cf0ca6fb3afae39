"""The release that a set-up was made by, with the form of its operation: what the set-up is compared with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.errors import Problem, unplaced
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.set_ups.from_cell import NOT_EDITED, head_problems
from weld_packets.revisions.set_ups.record import SetUp


@dataclass(frozen=True)
class Of:
    """The release that a set-up belongs to: its order's entries, its own, its packet, and the form of its operation."""

    entries: Sequence[RegisterEntry]
    entry: RegisterEntry
    packet: Packet
    sheet: OperationSheet
    form: SetUpForm


def of_release(
    set_up: SetUp, entries: Sequence[RegisterEntry], entry: RegisterEntry, packet: Packet
) -> Of | list[Problem]:
    """Return what a set-up is compared with, or why it is of no operation of that packet."""
    found = list(head_problems(set_up, entry, packet))
    sheet = next((each for each in packet.operations if each.number == set_up.operation), None)
    if sheet is None:
        numbers = ", ".join(str(each.number) for each in packet.operations)
        message = f"revision {entry.revision} has no such operation"
        found.append(unplaced("operation", str(set_up.operation), message, f"it has operations {numbers}"))
        return found
    for key, said, released in (
        ("operation_name", set_up.operation_name, sheet.name),
        ("cell", set_up.cell, sheet.cell),
    ):
        if said != released:
            message = f"operation {sheet.number} of revision {entry.revision} has {released!r}"
            found.append(unplaced(key, said, message, NOT_EDITED))
    return found or Of(entries, entry, packet, sheet, set_up_form(sheet))
