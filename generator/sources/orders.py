"""Work orders: the folders of ``instructions/``, each with its order.yaml and what the order brings along."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from generator.errors import Gathering, Problem, SourceError
from generator.model.order import Order
from generator.sources.binding import bind
from generator.sources.binding_words import meant
from generator.sources.enclosures import enclose
from generator.sources.files import read_text, reserved
from generator.sources.order_checks import order_problems
from generator.sources.places import Places, capped
from generator.sources.strict_yaml import read_yaml
from generator.sources.tables import Workspace

FOLDER = "instructions"
ORDER_FILE = "order.yaml"
_NAME = re.compile(r"[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?")
_NAME_REMEDY = "write lower-case letters, digits and inner hyphens, at most 64; no name that Windows keeps, such as con"


@dataclass(frozen=True)
class SourcedOrder:
    """An order as loaded, and where each of its values stands."""

    name: str
    order: Order
    places: Places

    def placed(self, problem: Problem) -> Problem:
        """Return ``problem`` with file and line, found from its key path within the order."""
        return self.places.found(problem)


def order_names(root: Path) -> tuple[str, ...]:
    """Return the names of all orders in the workspace at ``root``, sorted.

    Raises SourceError for folders whose name is not safe as a path and address, or that hold no order.yaml.
    """
    folder = root / FOLDER
    if not folder.is_dir():
        remedy = "start in the folder that holds mkdocs.yml, or name it"
        raise SourceError([Problem(FOLDER, 0, "", "", "there is no such folder", remedy)])
    gathering = Gathering()
    names = sorted(path.name for path in folder.iterdir() if path.is_dir() and not path.name.startswith("."))
    for name in names:
        with gathering.step():
            check_name(name)
            if not (folder / name / ORDER_FILE).exists():
                message, remedy = f"the folder holds no {ORDER_FILE}", f"write {ORDER_FILE}, or move the folder away"
                raise SourceError([Problem(f"{FOLDER}/{name}", 0, "", "", message, remedy)])
    gathering.finish()
    return tuple(names)


def check_name(name: str) -> None:
    """Raise SourceError unless ``name`` is safe as the name of an order: in a path, an address and on any system."""
    if _NAME.fullmatch(name) is None or reserved(name):
        raise SourceError([Problem(FOLDER, 0, "", name, "this cannot be the name of an order", _NAME_REMEDY)])


def load_order(workspace: Workspace, name: str) -> SourcedOrder:
    """Return the order ``name`` of ``workspace``.

    Raises SourceError with every problem of the order, of the files that it brings along, and of what it refers to.
    """
    check_name(name)
    folder = workspace.root / FOLDER / name
    if folder.is_symlink() or not folder.is_dir():
        raise _no_such_order(workspace.root, name)
    file = f"{FOLDER}/{name}/{ORDER_FILE}"
    document = enclose(read_yaml(read_text(folder / ORDER_FILE, file), file), folder)
    order = bind(document, Order)
    problems = [
        *order_problems(order, workspace.shop, document.places),
        *_previous(order, name, workspace, document.places),
    ]
    if problems:
        raise SourceError(capped(sorted(problems)))
    return SourcedOrder(name, order, document.places)


def _no_such_order(root: Path, name: str) -> SourceError:
    known = [path.parent.name for path in (root / FOLDER).glob(f"*/{ORDER_FILE}")]
    return SourceError([Problem(FOLDER, 0, "", name, "there is no order of this name", meant(name, known))])


def _previous(order: Order, name: str, workspace: Workspace, places: Places) -> list[Problem]:
    previous = order.previous_order
    if previous is None or (previous != name and (workspace.root / FOLDER / previous / ORDER_FILE).exists()):
        return []
    fault = "an order cannot follow itself" if previous == name else "there is no order of this name"
    known = [path.parent.name for path in (workspace.root / FOLDER).glob(f"*/{ORDER_FILE}") if path.parent.name != name]
    return [places.problem(("previous order",), previous, fault, meant(previous, known))]
