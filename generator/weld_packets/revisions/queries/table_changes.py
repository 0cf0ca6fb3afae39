"""What a new revision of a table meant for the settings that an order had by the old one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.revisions.queries.counterparts import same_operation, same_setting


@dataclass(frozen=True)
class SettingUnderChange:
    """A setting that was read from a table, and the same setting by another revision of that table.

    ``was`` and ``now`` are the two settings in words, ``allowed`` the range by the other revision; ``inside`` is
    whether the old setting lies in it, None where it states none or the setting is gone.
    """

    place: str
    label: str
    was: str
    now: str
    allowed: str
    inside: bool | None

    @property
    def verdict(self) -> str:
        """Return what that means for parts made by the old setting."""
        if self.inside is None:
            return "no range to compare with" if self.now else "the setting is not there any more"
        return "still inside the corrected range" if self.inside else "OUTSIDE the corrected range"

    def __str__(self) -> str:
        """Return it in a line."""
        allowed = f", allowed {self.allowed}" if self.allowed else ""
        now = f", now {self.now}{allowed}" if self.now else ""
        return f"{self.place}: {self.label} was {self.was}{now}: {self.verdict}"


@dataclass(frozen=True)
class TableChange:
    """A table that an order used by two revisions: those of the table and of the order, and what it meant.

    ``settings`` are those whose value or range differs; ``same`` counts those read from the table that do not.
    """

    table: str
    before: str
    after: str
    of_before: str
    of_after: str
    settings: tuple[SettingUnderChange, ...]
    same: int


def table_changes(old: tuple[str, Packet], new: tuple[str, Packet]) -> Iterator[TableChange]:
    """Yield each table that two revisions of an order used by different revisions; each is given with its packet."""
    (of_before, before), (of_after, after) = old, new
    newer = {use.table: use.revision for use in after.cited}
    for use in before.cited:
        if newer.get(use.table, use.revision) != use.revision:
            found = list(_settings(before, after, use.table))
            changed = tuple(each for each, differs in found if differs)
            yield TableChange(
                use.table, use.revision, newer[use.table], of_before, of_after, changed, len(found) - len(changed)
            )


def _settings(before: Packet, after: Packet, table: str) -> Iterator[tuple[SettingUnderChange, bool]]:
    for operation in before.operations:
        counterpart = same_operation(operation, after)
        for group in operation.groups:
            for value in group.dialled:
                if any(point.form == "lookup" and point.table == table for point in value.trace):
                    yield _compared(operation, group, value, same_setting(value, group, counterpart))


def _compared(
    operation: OperationSheet, group: SettingGroup, old: Value, new: Value | None
) -> tuple[SettingUnderChange, bool]:
    place = f"operation {operation.number}, {group.title}"
    if new is None:
        return SettingUnderChange(place, old.label, old.first_text, "", "", None), True
    found = SettingUnderChange(place, old.label, old.first_text, new.first_text, new.allowed, _inside(old, new))
    return found, (old.amount, _range(old)) != (new.amount, _range(new))


def _range(value: Value) -> tuple[str, str] | None:
    return (value.window.low, value.window.high) if value.window else None


def _inside(old: Value, new: Value) -> bool | None:
    """Return whether an old setting lies in the range of the new one, both ends included."""
    if old.amount is None or new.amount is None or new.window is None or old.amount.unit != new.amount.unit:
        return None
    try:
        was, low, high = (Decimal(text or "NaN") for text in (old.amount.value, new.window.low, new.window.high))
    except InvalidOperation:  # words in the place of a number
        return None
    if was.is_nan() or (low.is_nan() and high.is_nan()):
        return None
    return (low.is_nan() or low <= was) and (high.is_nan() or was <= high)
