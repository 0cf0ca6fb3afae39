"""The tables opened for work; orders loaded and computed, with their last released packets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from pathlib import Path

from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.table_checks.table_problems import table_problems
from weld_packets.errors import Gathering, Problem, SourceError
from weld_packets.grouping import grouped
from weld_packets.model.order import Operation, Order
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.packet.records.order import Packet
from weld_packets.plant.approvals import with_approvals
from weld_packets.processes.family import family_of
from weld_packets.revisions.queries.archive import Archive, last_released
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.orders.orders import SourcedOrder, load_order
from weld_packets.sources.tables.tables import Workspace, load_workspace

_KEPT = 4
"""The order at hand, the one before it, and others in the chain of orders."""


def open_workspace(root: Path) -> Workspace:
    """Return the workspace at ``root``; raise SourceError with every problem of its tables, placed in their files."""
    workspace = load_workspace(root)
    found = sorted(workspace.placed(table, problem) for table, problem in table_problems(workspace.approved))
    if found:
        raise SourceError(found)
    return workspace


@dataclass(frozen=True)
class Computed:
    """An order with the settings of its operations."""

    order: Order
    results: tuple[OperationResult, ...]


class Orders:
    """The orders of a workspace while their sources stay as they are."""

    def __init__(self, workspace: Workspace, archive: Archive | None = None) -> None:
        """Take the released records from ``archive`` where the caller has it open."""
        self._plain = workspace
        self._given = archive
        self.sourced = lru_cache(_KEPT)(self._load)
        self.computed = lru_cache(_KEPT)(self._compute)
        self.released = lru_cache(1)(self._last_released)

    @cached_property
    def archive(self) -> Archive:
        """The released records."""
        return self._given or open_archive(self._plain.root / INSTRUCTIONS)

    @cached_property
    def _workspace(self) -> Workspace:
        """The workspace with the approvals that count."""
        return with_approvals(self._plain, self.archive.register)

    @property
    def approved(self) -> ApprovedTables:
        """The tables of the plant."""
        return self._workspace.approved

    def _load(self, slug: str) -> SourcedOrder:
        return load_order(self._workspace, slug)

    def _compute(self, slug: str) -> Computed:
        return compute(self._workspace, self.sourced(slug))

    def _last_released(self, slug: str) -> tuple[str, Packet] | None:
        return last_released(self.archive, slug)


def compute(workspace: Workspace, sourced: SourcedOrder) -> Computed:
    """Return the settings of all operations; raise SourceError with the problems of all."""
    gathering = Gathering()
    results: list[OperationResult] = []
    for number, operation in enumerate(sourced.order.operations):
        with gathering.step(key=f"operations[{number}]"):
            results.append(compute_operation(operation, workspace.approved))
    if gathering.problems:
        raise SourceError(said_once(sorted({sourced.placed(problem) for problem in gathering.problems})))
    return Computed(sourced.order, tuple(results))


def said_once(problems: Sequence[Problem]) -> list[Problem]:
    """Return ``problems`` with those that say the same of several welds as one, at the first of them."""
    equal = grouped(((each.file, each.message, each.remedy), each) for each in problems)
    return [_of_all(same) for same in equal.values()]


def _of_all(same: Sequence[Problem]) -> Problem:
    first, *others = same
    lines = ", ".join(dict.fromkeys(str(each.line) for each in others if each.line != first.line))
    places = f"{len(others)} more" + (f", on line {lines}" if lines else "")
    return replace(first, message=f"{first.message} (and {places})") if others else first


def compute_operation(operation: Operation, approved: ApprovedTables) -> OperationResult:
    """Return the settings of an operation."""
    return family_of(operation.process).compute(operation, approved)
