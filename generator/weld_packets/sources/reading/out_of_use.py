"""Keys, words and columns that are out of use, each with what is written instead.

A source that still has one is refused, and read on under the new name, so that all that is wrong with it is found in
one run. To rename a key, add its line here; a test holds each line to the model.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from weld_packets.errors import Problem
from weld_packets.sources.reading.places import Document, KeyPath, Places, key_text

EACH = "*"
"""The step of a route that goes to every item of a list."""
Route = tuple[str, ...]
"""Keys from the top of a source down to a place; ``|`` parts a key out of use from its new name."""


@dataclass(frozen=True)
class Renamed:
    """A key out of use at the end of ``within``; with ``value``, the value there that is out of use.

    ``new`` is the new key, or the new value.
    """

    within: Route
    key: str
    new: str
    value: str | None = None

    @property
    def old(self) -> str:
        """Return what is out of use."""
        return self.key if self.value is None else self.value


_OPERATION: Route = ("rows|operations", EACH)
_SEAM: Route = (*_OPERATION, "seams", EACH)
_STACK: Route = (*_OPERATION, "stacks", EACH)
_SPOT: Route = (*_OPERATION, "spots", EACH)
_CELL: Route = ("cells", EACH)
_GUN: Route = ("guns", EACH)
_TORCH: Route = ("power sources", EACH, "torch")
_ENTRY: Route = ("entries", EACH)

ORDER_KEYS = (
    Renamed(_SEAM, "arm", "robot"),
    Renamed(_SEAM, "parts", "components"),
    Renamed(_SEAM, "set number", "weld schedule"),
    Renamed(_SEAM, "cap width", "weld cap width"),
    Renamed(_SEAM, "cap height", "weld cap height"),
    Renamed(_STACK, "set number", "weld schedule"),
    Renamed(_SPOT, "arm", "robot"),
    Renamed(_OPERATION, "arms", "robots"),
    Renamed(_OPERATION, "parts", "components"),
    Renamed(_OPERATION, "schedule", "chart"),
    Renamed((), "rows", "operations"),
)
"""Out of use in an order; inner places come first, so that a message names the keys above as they are written."""
TABLE_KEYS = (
    Renamed(("weld diameter",), "least", "minimum"),
    Renamed(("weld diameter",), "aimed", "target"),
    Renamed(("columns",), "least shade", "minimum shade"),
    Renamed(_CELL, "arms", "robots"),
    Renamed(_GUN, "greatest duty", "maximum duty"),
    Renamed(_TORCH, "tip setback", "contact tip setback"),
    Renamed(_ENTRY, "greatest force", "maximum force"),
    Renamed(_ENTRY, "container", "cylinder"),
    Renamed(_ENTRY, "container name", "cylinder name"),
    Renamed((), "arms", "robots"),
    Renamed((), "chart", "form"),
    Renamed((), "stop and call", "stop when"),
    Renamed((), "tip change after", "cap change after"),
    Renamed((), "kind", "arc chart", "arc schedule"),
    Renamed((), "kind", "spot chart", "spot schedule"),
    Renamed((), "cap face is", "minimum", "least"),
    Renamed((), "cap face is", "maximum", "greatest"),
)
"""Out of use in a table of any kind; a kind that never had a key never has it by chance either."""
COLUMNS: Mapping[str, str] = {
    "arm": "robot",
    "part 1": "component 1",
    "part 2": "component 2",
    "set number": "weld schedule",
    "cap width": "weld cap width",
    "cap height": "weld cap height",
}
"""Out of use as columns of a weld list."""


def words_for_old(old: str, new: str) -> tuple[str, str]:
    """Return message and remedy for what is out of use."""
    return f"{old!r} is out of use", f"write {new!r}"


def renewed(document: Document, out_of_use: Sequence[Renamed]) -> tuple[Document, list[Problem]]:
    """Return ``document`` with new names alone, and a problem for each one out of use.

    Where both an old key and its new name are given, the old one is left out.
    """
    problems: list[Problem] = []
    for one in out_of_use:
        holders = dict(_holders(document.tree, one.within))
        found = [path for path, holder in holders.items() if _has(holder, one)]
        problems += [_problem(document.places, (*path, one.key), one) for path in found]
        if found:
            document = _without(document, one, frozenset(found))
    return document, problems


def _problem(places: Places, path: KeyPath, one: Renamed) -> Problem:
    words = words_for_old(one.old, one.new)
    return Problem(places.file, places.key_lines[path], key_text(path), one.value or "", *words)


def _holders(node: Any, route: Route, path: KeyPath = ()) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    """Yield the mappings at the end of ``route`` with their paths."""
    if not route:
        if isinstance(node, dict):
            yield path, node
    elif route[0] == EACH:
        for index, item in enumerate(node if isinstance(node, list) else ()):
            yield from _holders(item, route[1:], (*path, index))
    elif isinstance(node, dict):
        for key in route[0].split("|"):
            if key in node:
                yield from _holders(node[key], route[1:], (*path, key))


def _has(holder: dict[str, Any], one: Renamed) -> bool:
    return one.key in holder and (one.value is None or holder[one.key] == one.value)


def _without(document: Document, one: Renamed, found: frozenset[KeyPath]) -> Document:
    tree = _rebuilt(document.tree, one, found)
    places = document.places
    if one.value is None:
        depth = len(next(iter(found)))
        lines, key_lines = (
            {_moved(path, one, found, depth): line for path, line in known.items()}
            for known in (places.lines, places.key_lines)
        )
        places = Places(places.file, lines, key_lines)
    return Document(tree, places)


def _rebuilt(node: Any, one: Renamed, found: frozenset[KeyPath], path: KeyPath = ()) -> Any:
    if isinstance(node, list):
        return [_rebuilt(item, one, found, (*path, index)) for index, item in enumerate(node)]
    if not isinstance(node, dict):
        return node
    kept = {key: _rebuilt(value, one, found, (*path, key)) for key, value in node.items()}
    if path not in found:
        return kept
    if one.value is not None:
        return kept | {one.key: one.new}
    if one.new in kept:
        return {key: value for key, value in kept.items() if key != one.key}
    return {one.new if key == one.key else key: value for key, value in kept.items()}


def _moved(path: KeyPath, one: Renamed, found: frozenset[KeyPath], depth: int) -> KeyPath:
    """Return where the value at ``path`` is now."""
    if len(path) > depth and path[depth] == one.key and path[:depth] in found:
        return (*path[:depth], one.new, *path[depth + 1 :])
    return path
