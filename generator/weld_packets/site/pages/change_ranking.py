"""Tell the changes that somebody acts on from those that follow from them, so that a list of changes can be read."""

from __future__ import annotations

from collections.abc import Iterable

from weld_packets.revisions.differences.changes import (
    CalculationChanged,
    Change,
    SettingChanged,
    TableRevisionCited,
    WeldAdded,
    WeldChanged,
    WeldRemoved,
    WeldsRenumbered,
)

_OF_OPERATION = frozenset(
    {"programs", "coupon_programs", "fixture", "datum", "components", "cell", "robots", "process", "name"}
)
_OF_TABLE = frozenset({"revision"})
_WHOLE_ITEM = 2


def is_primary(change: Change) -> bool:
    """Return whether ``change`` is set, loaded, welded or ordered otherwise than before.

    Allowed ranges, checks, steps, captions and derived values follow from such a change and do not lead.
    """
    match change:
        case WeldAdded() | WeldRemoved() | WeldChanged() | WeldsRenumbered():
            return True
        case SettingChanged():
            return any("dialled" in path for path in change.paths)
        case _:
            return any(_leading_place(path) for path in change.paths)


def is_recalculated(change: Change) -> bool:
    """Return whether ``change`` leaves every value as it was: only a calculation or a table's revision differs.

    Such a change is for the history. No page marks it, and no count of changes includes it.
    """
    return isinstance(change, CalculationChanged | TableRevisionCited)


def split_changes(changes: Iterable[Change]) -> tuple[list[Change], list[Change]]:
    """Return the changes that lead, and those that follow; those that only recalculate are in neither list."""
    primary: list[Change] = []
    secondary: list[Change] = []
    for change in (each for each in changes if not is_recalculated(each)):
        (primary if is_primary(change) else secondary).append(change)
    return primary, secondary


def _leading_place(path: tuple[str, ...]) -> bool:
    if path[:1] == ("head",):
        return True
    if path[:1] == ("tables",):
        return bool(_OF_TABLE & set(path[_WHOLE_ITEM:]))
    if path[:1] in {("operations",), ("callouts",)}:
        return len(path) == _WHOLE_ITEM or (path[0] == "operations" and path[_WHOLE_ITEM] in _OF_OPERATION)
    return False
