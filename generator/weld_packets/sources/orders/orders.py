"""Work orders: the folders of ``instructions/``, each with its order.yaml and what the order brings along."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weld_packets.errors import Gathering, Problem, SourceError
from weld_packets.model.order import Operation, Order, order_record
from weld_packets.model.processes import Route, family, process, written, written_for
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE, order_path
from weld_packets.sources.orders.enclosures import WELDS, enclose
from weld_packets.sources.orders.gauges import gauged
from weld_packets.sources.orders.order_checks import order_problems
from weld_packets.sources.orders.order_folders import check_name, is_safe
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import read_text, refused
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.out_of_use import EACH, ORDER_KEYS, renewed
from weld_packets.sources.reading.places import Document, KeyPath, Places, capped, repeated, unknown
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.rows import unnamed_files
from weld_packets.sources.tables.tables import Workspace

_UNNAMED = "name it with 'welds:' in an operation, or move it out of the order's folder"
_ROBOTS: Route = ("robots", EACH)
_PAIR = 2
_NO_SUCH_ORDER = "there is no order of this name"
_ONCE: dict[Route, str] = {("robots", EACH): "robot", ("components", EACH, "id"): "component"}


@dataclass(frozen=True)
class SourcedOrder:
    """An order as loaded, and where each of its values is written."""

    name: str
    order: Order
    places: Places

    def placed(self, problem: Problem) -> Problem:
        """Return ``problem`` with file and line, found from its key path within the order."""
        return self.places.found(problem.shown_first(self.order.show_first))


def load_order(workspace: Workspace, name: str) -> SourcedOrder:
    """Return the order ``name`` of ``workspace``.

    Raises SourceError with every problem of the order, of the files that it brings along, and of what it refers to.
    """
    folder = known_order(workspace.root, name)
    gathering = Gathering()
    document = _document(folder, gathering)
    with gathering.step():
        named = [operation.get(WELDS) for operation in _operations(document)]
        gathering.problems += unnamed_files(folder, order_path(name), named, _UNNAMED)
        document, gauges = gauged(enclose(document, folder), workspace.approved.materials, workspace.approved.gauges)
        gathering.problems += gauges
        gathering.problems += name_problems(document, workspace.approved)
        gathering.problems += _previous(document, name, workspace.root)
        order = bind(document, order_record())
        if not any(_lacks_tables(operation, workspace) for operation in order.operations):
            gathering.problems += order_problems(order, workspace.approved, document.places)
    if gathering.problems:
        raise SourceError(capped(sorted(set(gathering.problems))))
    return SourcedOrder(name, order, document.places)


def faults_without_tables(root: Path, name: str) -> tuple[Problem, ...]:
    """Return what is wrong with an order whatever the tables say, where these cannot be read."""
    folder = known_order(root, name)
    gathering = Gathering()
    with gathering.step():
        document, gauges = gauged(enclose(_document(folder, gathering), folder), {}, ())
        gathering.problems += gauges
        bind(document, order_record())
    return tuple(sorted(set(gathering.problems)))


def _document(folder: Path, gathering: Gathering) -> Document:
    """Return what the file of an order says under today's keys; those out of use are gathered."""
    file = f"{order_path(folder.name)}/{ORDER_FILE}"
    document, out_of_use = renewed(read_yaml(read_text(folder / ORDER_FILE, file), file), ORDER_KEYS)
    gathering.problems += out_of_use
    return document


def _lacks_tables(operation: Operation, workspace: Workspace) -> bool:
    """Say whether the plant has no tables for an operation, so that nothing else can be said of it."""
    kinds = family(process(operation.process).family).kinds(operation.process)
    return not all(workspace.approved.has(kind) for kind in kinds)


def _operations(document: Document) -> Iterator[dict[str, Any]]:
    operations = document.tree.get("operations")
    return (each for each in (operations if isinstance(operations, list) else ()) if isinstance(each, dict))


def known_order(root: Path, name: str) -> Path:
    """Return the folder of the order ``name``; raise SourceError where it cannot be one, or there is none."""
    check_name(name)
    folder = root / INSTRUCTIONS / name
    if folder.is_symlink():
        message = "the order's folder is a symbolic link, which may lead out of the workspace"
        raise refused(order_path(name), message, "put the folder itself here")
    if not folder.is_dir():
        raise refused(INSTRUCTIONS, _NO_SUCH_ORDER, nearest(name, _orders(root)), value=name)
    return folder


def _orders(root: Path) -> list[str]:
    return [path.parent.name for path in (root / INSTRUCTIONS).glob(f"*/{ORDER_FILE}")]


def _previous(document: Document, name: str, root: Path) -> list[Problem]:
    """Return what is wrong with the name of the previous order, as far as it can be the name of an order."""
    previous = document.tree.get("previous order")
    if not isinstance(previous, str) or not is_safe(previous):
        return []
    if previous != name and (root / INSTRUCTIONS / previous / ORDER_FILE).exists():
        return []
    fault = "an order cannot follow itself" if previous == name else _NO_SUCH_ORDER
    known = [each for each in _orders(root) if each != name]
    return [document.places.problem(("previous order",), previous, fault, nearest(previous, known))]


# ---------------------------------------------------------------- names


def _once() -> dict[Route, str]:
    """Return routes to the identifiers of an operation, with what each is called, for all families together."""
    return _ONCE | {route: what for family in written() for route, what in family.once.items()}


def name_problems(document: Document, approved: ApprovedTables) -> Iterator[Problem]:
    """Yield every name of an order that leads nowhere, in the plant's tables or in its operation, or is given twice."""
    tree, places = document.tree, document.places
    yield from repeated(places, _names(tree, ("operations", EACH, "name")), "operation")
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
        ("robots", EACH): (approved.robots, "robot"),
        ("components", EACH, "material"): (approved.materials, "material"),
        ("wpqr", EACH): ([record.table for record in approved.records], "qualification record"),
        **({} if family is None or missing else family.named(str(number), approved)),
    }
    for route, (known, what) in targets.items():
        for place, name in _names(operation, route, path):
            yield from unknown(places, place, name, known, what)


def _leads_within(operation: Any, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield names that no item of their operation has; where that list itself is in doubt, only it is reported."""
    once = _once()
    for route, target in (pair for each in written() for pair in each.within.items()):
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
    elif route[0] == EACH and isinstance(node, list):
        for index, item in enumerate(node):
            yield from _names(item, route[1:], (*path, index))
    elif isinstance(node, dict) and route[0] in node:
        yield from _names(node[route[0]], route[1:], (*path, route[0]))
