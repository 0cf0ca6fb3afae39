"""Which revision gave each setting its value, who approved it, and why it changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.packet.records import Control, OperationSheet, Packet, Value
from weld_packets.revisions.differences.changes import Path, SettingChanged
from weld_packets.site.pages.dossier import Dossier, Edition

_Place = tuple[str, str, str]


@dataclass(frozen=True)
class Settled:
    """One setting with the control of the revision that gave it its present value, and why that was released.

    ``before`` is the value that it replaced, empty where the setting came with that revision; ``because`` are the
    causes that were found in the two calculations.
    """

    group: str
    value: Value
    control: Control
    reason: str
    before: str = ""
    because: tuple[str, ...] = ()


def settled(dossier: Dossier, shown: Edition) -> list[tuple[OperationSheet, list[Settled]]]:
    """Return, operation by operation, every dialled setting of the edition ``shown`` with where its value is from."""
    reasons = {operation.revision: operation.reason for operation in dossier.history if operation.kind == "release"}
    found: dict[_Place, Settled] = {}
    for edition in _up_to(dossier, shown):
        changed = _changed(edition)
        for place, group, value in _settings(edition.packet):
            known = found.get(place)
            if known is None or _reading(known.value) != _reading(value):
                change = changed.get(("operations", place[0], "groups", place[1], "dialled", place[2]))
                before, because = (change.before, change.because) if change else ("", ())
                found[place] = Settled(group, value, edition.control, reasons[edition.mark], before, because)
    return [
        (operation, [found[place] for place, _, _ in _operation_settings(operation)])
        for operation in shown.packet.operations
    ]


def _up_to(dossier: Dossier, shown: Edition) -> list[Edition]:
    """Return the releases from the first to ``shown``."""
    marks = [operation.revision for operation in dossier.history if operation.kind == "release"]
    editions = {edition.mark: edition for edition in dossier.editions}
    return [editions[mark] for mark in marks[: marks.index(shown.mark) + 1]]


def _changed(edition: Edition) -> dict[Path, SettingChanged]:
    found = (change for change in edition.changes if isinstance(change, SettingChanged))
    return {path: change for change in found for path in change.paths}


def _settings(packet: Packet) -> Iterator[tuple[_Place, str, Value]]:
    for operation in packet.operations:
        yield from _operation_settings(operation)


def _operation_settings(operation: OperationSheet) -> Iterator[tuple[_Place, str, Value]]:
    for group in operation.groups:
        for value in group.dialled:
            yield (operation.key, group.key, value.key), group.title, value


def _reading(value: Value) -> object:
    return value.amount, value.outside
