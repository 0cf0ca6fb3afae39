"""Names within an order: each must lead somewhere and stand once.

They are read from the tree, so that an order with other faults is told about its names in the same run.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from weld_packets.errors import Problem
from weld_packets.model.approved_tables import Shop
from weld_packets.sources.reading.places import Document, KeyPath, Places
from weld_packets.sources.reading.references import repeated, unknown

_EACH = "*"
"""The step of a route that goes to every item of a list."""
Route = tuple[str, ...]
"""Keys from a row down to names."""

_ARMS: Route = ("arms", _EACH)
_PAIR = 2
_ONCE: dict[Route, str] = {
    ("arms", _EACH): "arm",
    ("parts", _EACH, "id"): "part",
    ("seams", _EACH, "id"): "seam",
    ("stacks", _EACH, "id"): "stack",
    ("spots", _EACH, "id"): "spot",
}
_IN_ROW: dict[Route, Route] = {
    ("seams", _EACH, "arm"): ("arms", _EACH),
    ("spots", _EACH, "arm"): ("arms", _EACH),
    ("seams", _EACH, "parts", _EACH): ("parts", _EACH, "id"),
    ("stacks", _EACH, "sheets", _EACH): ("parts", _EACH, "id"),
    ("stacks", _EACH, "visible"): ("parts", _EACH, "id"),
    ("spots", _EACH, "stack"): ("stacks", _EACH, "id"),
}
_SPOT_PROCESS = "21"


def name_problems(document: Document, shop: Shop) -> Iterator[Problem]:
    """Yield every name of an order that leads nowhere, in the shop's tables or in its row, or stands twice."""
    tree, places = document.tree, document.places
    yield from repeated(places, _names(tree, ("rows", _EACH, "name")), "row")
    rows = tree.get("rows")
    for index, row in enumerate(rows if isinstance(rows, list) else []):
        path: KeyPath = ("rows", index)
        for route, what in _ONCE.items():
            yield from repeated(places, _names(row, route, path), what)
        yield from _leads_to_tables(row, path, shop, places)
        yield from _leads_within(row, path, shop, places)


def _leads_to_tables(row: Any, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    spot = isinstance(row, dict) and row.get("process") == _SPOT_PROCESS
    targets: dict[Route, tuple[Collection[str], str]] = {
        ("cell",): (shop.cells, "cell"),
        ("arms", _EACH): (shop.arms, "arm"),
        ("wire",): (shop.wires, "wire"),
        ("gas",): (shop.gases, "gas"),
        ("parts", _EACH, "material"): (shop.materials, "material"),
        ("schedule",): (shop.spot_schedules, "spot schedule") if spot else (shop.arc_schedules, "arc schedule"),
    }
    for route, (known, what) in targets.items():
        for place, name in _names(row, route, path):
            yield from unknown(places, place, name, known, what)


def _leads_within(row: Any, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    """Yield names that no item of their row has; where that list is itself in doubt, only the list is told of."""
    for route, target in _IN_ROW.items():
        named = [name for _, name in _names(row, target, path)]
        known = set(named)
        doubtful = len(known) < len(named) or (target == _ARMS and (len(known) != _PAIR or known - set(shop.arms)))
        for place, name in () if doubtful else _names(row, route, path):
            yield from unknown(places, place, name, known, f"{_ONCE[target]} in this row")


def _names(node: Any, route: Route, path: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    """Yield the texts at the end of ``route``, each with its path; whatever is not as expected is passed over."""
    if not route:
        if isinstance(node, str):
            yield path, node
    elif route[0] == _EACH and isinstance(node, list):
        for index, item in enumerate(node):
            yield from _names(item, route[1:], (*path, index))
    elif isinstance(node, dict) and route[0] in node:
        yield from _names(node[route[0]], route[1:], (*path, route[0]))
