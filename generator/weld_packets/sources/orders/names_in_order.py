"""Names within an order: each must lead somewhere and be given once.

They are read from the tree, so that faulty names are reported in one run with other faults.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from weld_packets.errors import Problem
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.processes import Route, written, written_for
from weld_packets.sources.reading.places import Document, KeyPath, Places
from weld_packets.sources.reading.references import repeated, unknown

_EACH = "*"
"""The step of a route that goes to every item of a list."""
_ROBOTS: Route = ("robots", _EACH)
_PAIR = 2
_ONCE: dict[Route, str] = {("robots", _EACH): "robot", ("components", _EACH, "id"): "component"}


def _once() -> dict[Route, str]:
    """Return routes to the identifiers of an operation, with what each is called, for all families together."""
    return _ONCE | {route: what for family in written() for route, what in family.once.items()}


def name_problems(document: Document, approved: ApprovedTables) -> Iterator[Problem]:
    """Yield every name of an order that leads nowhere, in the plant's tables or in its operation, or is given twice."""
    tree, places = document.tree, document.places
    yield from repeated(places, _names(tree, ("operations", _EACH, "name")), "operation")
    operations = tree.get("operations")
    for index, operation in enumerate(operations if isinstance(operations, list) else []):
        path: KeyPath = ("operations", index)
        for route, what in _once().items():
            yield from repeated(places, _names(operation, route, path), what)
        yield from _leads_to_tables(operation, path, approved, places)
        yield from _leads_within(operation, path, approved, places)


def _leads_to_tables(operation: Any, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    number = operation.get("process") if isinstance(operation, dict) else None
    family = written_for(number)
    missing = [] if family is None else [kind for kind in family.kinds(str(number)) if not approved.has(kind)]
    if missing:
        listed = " and of ".join(f"kind {kind!r}" for kind in missing)
        message = f"process {number} needs a table of {listed}, and tables/ has none"
        remedy = "add one with " + ", and one with ".join(f"'kind: {kind}'" for kind in missing)
        yield places.problem((*path, "process"), str(number), message, remedy)
    targets: dict[Route, tuple[Collection[str], str]] = {
        ("cell",): (approved.cells, "cell"),
        ("robots", _EACH): (approved.robots, "robot"),
        ("components", _EACH, "material"): (approved.materials, "material"),
        ("wpqr", _EACH): ([record.table for record in approved.records], "qualification record"),
        **({} if family is None or missing else family.named(str(number), approved)),
    }
    for route, (known, what) in targets.items():
        for place, name in _names(operation, route, path):
            yield from unknown(places, place, name, known, what)


def _leads_within(operation: Any, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield names that no item of their operation has; where that list itself is in doubt, only it is reported."""
    once = _once()
    for route, target in (pair for family in written() for pair in family.within.items()):
        named = [name for _, name in _names(operation, target, path)]
        known = set(named)
        doubtful = len(known) < len(named) or (
            target == _ROBOTS and (len(known) != _PAIR or _of_other_cells(operation, known, approved))
        )
        for place, name in () if doubtful else _names(operation, route, path):
            yield from unknown(places, place, name, known, f"{once[target]} in this operation")


def _of_other_cells(operation: Any, robots: Collection[str], approved: ApprovedTables) -> bool:
    """Say whether a pair has a robot that is unknown, or in another cell than the operation; that alone is reported."""
    cell = operation.get("cell")
    known = isinstance(cell, str) and cell in approved.cells
    found = [approved.robots.get(name) for name in robots]
    return any(robot is None or (known and robot.cell != cell) for robot in found)


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
