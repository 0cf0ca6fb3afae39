"""Which revision gave each setting its value, who approved it, and why it changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.packet.records import Control, OperationSheet, Packet, Value
from weld_packets.revisions.differences.changes import FieldPath, SettingChanged
from weld_packets.site.pages.order_history import OrderHistory, RevisionView

_Place = tuple[str, str, str]


@dataclass(frozen=True)
class LastChange:
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


def last_changes(history: OrderHistory, shown: RevisionView) -> list[tuple[OperationSheet, list[LastChange]]]:
    """Return, operation by operation, every dialled setting of the view ``shown`` with where its value is from."""
    reasons = {entry.revision: entry.reason for entry in history.entries if entry.kind == "release"}
    found: dict[_Place, LastChange] = {}
    for view in _up_to(history, shown):
        changed = _changed(view)
        for place, group, value in _settings(view.packet):
            known = found.get(place)
            if known is None or _reading(known.value) != _reading(value):
                change = changed.get(("operations", place[0], "groups", place[1], "dialled", place[2]))
                before, because = (change.before, change.because) if change else ("", ())
                found[place] = LastChange(group, value, view.control, reasons[view.name], before, because)
    return [
        (operation, [found[place] for place, _, _ in _operation_settings(operation)])
        for operation in shown.packet.operations
    ]


def _up_to(history: OrderHistory, shown: RevisionView) -> list[RevisionView]:
    """Return the releases from the first to ``shown``."""
    marks = [entry.revision for entry in history.entries if entry.kind == "release"]
    views = {view.name: view for view in history.views}
    return [views[mark] for mark in marks[: marks.index(shown.name) + 1]]


def _changed(view: RevisionView) -> dict[FieldPath, SettingChanged]:
    found = (change for change in view.changes if isinstance(change, SettingChanged))
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
