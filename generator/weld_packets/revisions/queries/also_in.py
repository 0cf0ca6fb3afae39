"""Which other revisions of an order hold the settings and the places of welds that a nonconformity concerns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches

from weld_packets.errors import PacketError, Problem, unplaced
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.revisions.queries.counterparts import groups_of_same_welds, same_operation
from weld_packets.revisions.records.nonconformity import AlsoIn, Concerned

_NEAR = 3
"""How many names a message suggests."""


def concerned_in(packet: Packet, named: Sequence[str]) -> tuple[Concerned, ...]:
    """Return what is ``named`` of a packet: ``4:A07`` a weld of operation 4, ``4:weld time`` a setting of it.

    A setting is taken for all welds of the operation that have it. Raises PacketError for a name that is not there.
    """
    found: dict[Concerned, None] = {}
    problems: list[Problem] = []
    for text in named:
        number, _, name = text.partition(":")  # what a person typed
        matches = _named(packet, number.strip(), " ".join(name.split()).casefold())  # spaces as the reader likes
        found |= dict.fromkeys(matches)
        if not matches:
            problems.append(_unknown(packet, number.strip(), text))
    if problems:
        raise PacketError(problems)
    return tuple(found)


def also_in(packet: Packet, concerned: Sequence[Concerned], others: Mapping[str, Packet]) -> tuple[AlsoIn, ...]:
    """Return how each of ``others``, by its revision, compares with ``packet`` in what is ``concerned``.

    Where nothing is named, all settings and welds of ``packet`` are compared.
    """
    places = tuple(concerned) or tuple(_everything(packet))
    return tuple(
        _compared(revision, packet, other, places, named=bool(concerned)) for revision, other in others.items()
    )


def _compared(revision: str, packet: Packet, other: Packet, places: Sequence[Concerned], *, named: bool) -> AlsoIn:
    held = set(_everything(other))
    same = tuple(each for each in places if _held(each, packet, other, held))
    return AlsoIn(
        revision=revision,
        settings_same=_count(same, "setting"),
        settings=_count(places, "setting"),
        welds_same=_count(same, "weld"),
        welds=_count(places, "weld"),
        same=same if named else (),
    )


def _count(all_of: Sequence[Concerned], kind: str) -> int:
    return sum(each.kind == kind for each in all_of)


def _held(wanted: Concerned, packet: Packet, other: Packet, held: set[Concerned]) -> bool:
    """Return whether ``other`` holds ``wanted``: a weld at that place, a setting of that value for one of its welds."""
    operation = next(each for each in packet.operations if each.number == wanted.operation)
    counterpart = same_operation(operation, other)
    if counterpart is None:
        return False
    if wanted.kind == "weld":
        places = {_place(weld.pieces) for weld in counterpart.geometry}
        return wanted.value in places
    if wanted.model_copy(update={"operation": counterpart.number}) in held:
        return True
    return any(
        each.value == wanted.value and each.name == wanted.name
        for own in operation.groups
        if own.title == wanted.group
        for group in groups_of_same_welds(own, counterpart)
        for each in _settings_of(counterpart, group)
    )


def _everything(packet: Packet) -> Iterator[Concerned]:
    for operation in packet.operations:
        yield from _of_operation(operation)


def _of_operation(operation: OperationSheet) -> Iterator[Concerned]:
    for weld in operation.geometry:
        yield Concerned(operation=operation.number, kind="weld", name=weld.key, value=_place(weld.pieces))
    for group in operation.groups:
        yield from _settings_of(operation, group)


def _settings_of(operation: OperationSheet, group: SettingGroup) -> Iterator[Concerned]:
    for value in group.dialled:
        said = _said(value)
        yield Concerned(operation=operation.number, kind="setting", name=value.label, group=group.title, value=said)


def _said(value: Value) -> str:
    return f"{value.amount.value} {value.amount.unit}".rstrip() if value.amount else value.outside


def _place(pieces: Sequence[Sequence[str]]) -> str:
    points = ", then ".join("/".join(point) for point in pieces)
    return f"{points} mm"


def _named(packet: Packet, number: str, name: str) -> list[Concerned]:
    return [
        each
        for operation in packet.operations
        if str(operation.number) == number
        for each in _of_operation(operation)
        if each.name.casefold() == name
    ]


def _unknown(packet: Packet, number: str, text: str) -> Problem:
    operation = next((each for each in packet.operations if str(each.number) == number), None)
    if operation is None:
        numbers = ", ".join(str(each.number) for each in packet.operations)
        message, remedy = "names no operation of this revision", f"write one of {numbers}, a colon and a name: 1:A07"
    else:
        settings = list(dict.fromkeys(value.label for group in operation.groups for value in group.dialled))
        name = text.partition(":")[2].strip()  # what a person typed
        near = get_close_matches(name, [*settings, *(weld.key for weld in operation.geometry)], _NEAR)
        meant = f"did you mean {' or '.join(near)}? " if near else ""
        message = "names no weld and no setting of this operation"
        remedy = f"{meant}Write {number}, a colon and a weld as drawn, or one of: {', '.join(settings)}"
    return unplaced("concerns", text, message, remedy)
