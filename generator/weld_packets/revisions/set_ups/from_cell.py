"""What every record from a cell must be, of a set-up or of a run: made by a release, and no text of it turned.

The rest of a set-up is compared with that release and with the form of its operation.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import turned_in
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.set_ups.record import SetUp
from weld_packets.revisions.set_ups.run_record import Run

CLOCK_MAY_RUN_AHEAD = timedelta(minutes=5)
"""By how much a device's clock may be before that of the computer that files its record; a choice of ours."""
CLOCK = "set the clock of the device, or of this computer"
NOT_EDITED = "file the record as its page saved it; nothing in it is edited"
FROM_PAGE = "enter it on the page of this revision and save the record anew"


def release_of(kept: SetUp | Run, entries: Sequence[RegisterEntry]) -> RegisterEntry | Problem:
    """Return the entry of the release that a record from a cell names, or why its order has none such."""
    releases = {entry.revision: entry for entry in entries if entry.kind == "release"}
    known = f"name one of: {', '.join(releases)}"
    if not releases:
        return unplaced("slug", kept.slug, "no revision of this order is released", "release it, or correct the order")
    if not kept.revision:
        message = "this was made by a draft, of which no record says what it required"
        return unplaced("revision", kept.status, message, "set up and start by a released revision")
    entry = releases.get(kept.revision)
    if entry is None:
        return unplaced("revision", kept.revision, "this order has no such released revision", known)
    if kept.record_digest != entry.record_digest:
        message = f"is not the record of revision {entry.revision}, which is {short(entry.record_digest)}"
        owner = next((each.revision for each in releases.values() if each.record_digest == kept.record_digest), "")
        remedy = f"that is revision {owner}: the record was edited" if owner else "take the pages of this plant"
        return unplaced("record_digest", short(kept.record_digest), message, remedy)
    return entry


def head_problems(kept: SetUp | Run, entry: RegisterEntry, packet: Packet) -> Iterator[Problem]:
    """Yield where a record from a cell names another packet or order than its release has."""
    if kept.packet_digest != entry.packet_digest:
        message = f"is not the packet of revision {entry.revision}, which is {short(entry.packet_digest)}"
        yield unplaced("packet_digest", short(kept.packet_digest), message, NOT_EDITED)
    if kept.order != packet.head.number:
        yield unplaced("order", kept.order, f"this is order {packet.head.number}", NOT_EDITED)


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


def turned_text_problems(kept: SetUp | Run) -> Iterator[Problem]:
    """Yield texts that a reader would read as others, since a sign turns what follows round.

    Other signs that nobody sees come with the keyboard of a tablet, and are no reason to lose a record.
    """
    for path, text in _texts(kept.model_dump(mode="json")):
        if sign := turned_in(text):
            yield unplaced(path, text, f"holds a sign that turns what follows round, {sign}", NOT_EDITED)


def _texts(node: object, path: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(node, str):
        yield path, node
    elif isinstance(node, dict):
        for key, value in node.items():
            yield from _texts(value, f"{path}.{key}" if path else str(key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from _texts(value, f"{path}[{index}]")
