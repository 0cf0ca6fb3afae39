"""Separate changes that somebody acts on from those that follow from them, so that a list of changes can be read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from itertools import groupby

from weld_packets.revisions.differences.changes import (
    Altered,
    CalculationChanged,
    Change,
    FieldPath,
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
_STEPS = frozenset(
    {
        "confirm", "set_up", "prove", "set_up_stages", "prove_stages", "steps", "stages", "start", "starts",
        "run_steps", "procedures", "stop_if", "emergency_if",
    }
)  # fmt: skip
_BASIS = "basis"
_REASON: FieldPath = ("head", "revision_intent")
_OTHER_REVISION = re.compile(r"(?<=revision )[A-Z]{1,2}\b")
_WHOLE_ITEM = 2
_RESULT = 4
"""Length of the path of a whole result: operations, the operation, results, the result."""
_LIMITS = frozenset({"minimum", "maximum"})
_SAFETY = 5
"""From settings down to safety messages, changes lead; steps and texts follow."""


FOR_HISTORY = "tables and calculations"
"""The class of what no page marks."""
CLASS_ANCHORS: Mapping[str, str] = {
    "settings": "class-settings",
    "welds": "class-welds",
    "programs, fixtures, components": "class-programs",
    "limits of acceptance": "class-limits",
    "head of the order": "class-head",
    "safety messages": "class-safety",
    "steps": "class-steps",
    "texts, ranges and what follows": "class-texts",
    FOR_HISTORY: "class-tables",
}
"""The classes of changes, each with its place on a page."""
CLASSES = tuple(CLASS_ANCHORS)
"""By rank, the weightiest first, and last those for the history."""
LEADING = CLASSES[:4]
"""The classes of what makes a part good or bad; a program of another revision is the costliest slip of them."""


def class_of(change: Change) -> str:
    """Return the class that a change is counted in."""
    return FOR_HISTORY if is_for_history(change) else CLASSES[rank(change)]


def in_classes(changes: Iterable[Change]) -> list[tuple[str, list[Change]]]:
    """Return the changes in their classes, the weightiest first, without classes that have none."""
    found: dict[str, list[Change]] = {name: [] for name in CLASSES}
    for change in changes:
        found[class_of(change)].append(change)
    return [(name, same) for name, same in found.items() if same]


def rank(change: Change) -> int:
    """Return how soon a reader must meet a change.

    0 is a setting; then welds, programs and fixtures, limits of acceptance, the order, safety, steps, and last what
    follows, and texts.
    """
    match change:
        case SettingChanged() if any("dialled" in path for path in change.paths):
            return 0
        case WeldAdded() | WeldRemoved() | WeldChanged() | WeldsRenumbered():
            return 1
        case _:
            return min(map(_rank_of_place, change.paths), default=_SAFETY + 2)


def _rank_of_place(path: FieldPath) -> int:
    if path[:1] == ("operations",) and (len(path) == _WHOLE_ITEM or path[_WHOLE_ITEM] in _OF_OPERATION):
        return 2
    if path[_WHOLE_ITEM : _WHOLE_ITEM + 1] == ("results",) and (len(path) == _RESULT or path[-1] in _LIMITS):
        return 3
    if path[:1] == ("head",):
        return 4
    if path[:1] == ("callouts",):
        return _SAFETY
    return _SAFETY + 1 if _STEPS.intersection(path) else _SAFETY + 2


def is_primary(change: Change) -> bool:
    """Return whether ``change`` is set, loaded, welded or ordered otherwise than before, or a safety message.

    Allowed ranges, checks, steps, captions and derived values follow from such a change and do not lead.
    """
    return rank(change) <= _SAFETY


def is_for_history(change: Change) -> bool:
    """Return whether ``change`` leaves everything that is set, made, read and done as it was.

    A calculation, a table, the source of a count or the revision of an order before this one differ, or the reason for
    the revision does, which every revision has. No page marks such a change, and no count of changes includes it.
    """
    if isinstance(change, CalculationChanged | TableRevisionCited) or change.paths == (_REASON,):
        return True
    if change.paths and all(path[:1] == ("tables",) or path[-1:] == (_BASIS,) for path in change.paths):
        return True
    return isinstance(change, Altered) and _without_revision(change.before) == _without_revision(change.after)


def _without_revision(text: str) -> str:
    """Return a sentence of a record without the revision that it names; a record holds no more of it than the words."""
    return _OTHER_REVISION.sub("", text)


def split_changes(changes: Iterable[Change]) -> tuple[list[Change], list[Change]]:
    """Return the changes that lead, and those that follow, the weightiest first; in neither those for the history."""
    ranked = sorted((each for each in changes if not is_for_history(each)), key=rank)
    return [each for each in ranked if is_primary(each)], [each for each in ranked if not is_primary(each)]


def gathered(changes: Iterable[Change]) -> list[str]:
    """Return the changes in words, those of one table in one line."""
    lines: list[str] = []
    for table, same in groupby(changes, key=_table):
        found = list(same)
        if table:
            words = "; ".join(", ".join((*change.where[1:], change.saying)) for change in found)
            lines.append(f"{found[0].where[0]}: {words}" if found[0].where else words)
        else:
            lines += map(str, found)
    return lines


def _table(change: Change) -> str:
    """Return the table whose use a change lies in, empty for any other change."""
    tables = {path[1] for path in change.paths if path[:1] == ("tables",) and len(path) > 1}
    return tables.pop() if len(tables) == 1 else ""
