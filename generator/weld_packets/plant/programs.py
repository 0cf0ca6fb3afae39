"""The programs of orders against those of all other orders, as their sources have them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from weld_packets.calculation.results import OperationResult
from weld_packets.errors import PacketError, Problem
from weld_packets.model.order import Operation, Order
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.programs import operation_uses, part_uses
from weld_packets.plant.folders import INSTRUCTIONS
from weld_packets.plant.numbers import KnownPrograms, Uses
from weld_packets.plant.orders import compute_operation
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.status import WORKED_BY, control_of, day_of
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.files import load_register
from weld_packets.sources.orders.order_folders import FOLDER, ORDER_FILE, order_names
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.reading.files import TEXT_LIMIT, read_bytes
from weld_packets.sources.tables.tables import Workspace

_Pairs = frozenset[tuple[str, str]]
"""Robots, each with a program."""


def program_problems(workspace: Workspace, orders: Sequence[Uses]) -> tuple[Problem, ...]:
    """Return what the programs of ``orders`` clash with, in every other order and among each other, with their lines.

    Another order with wrong sources is passed over; they are reported when that order is checked.
    """
    known = KnownPrograms()
    others = _Others(workspace, frozenset((use.robot, use.program) for _, uses in orders for use in uses))
    for slug in sorted(set(order_names(workspace.root)) - {slug for slug, _ in orders}):
        known.clashes(slug, others.uses(slug))
    found = (clash for slug, uses in orders for clash in known.clashes(slug, uses))
    return tuple(load_order(workspace, clash.order).placed(clash.problem) for clash in found)


@dataclass(frozen=True)
class _Others:
    """The orders that are not checked, and the programs of those that are."""

    workspace: Workspace
    wanted: _Pairs

    def uses(self, slug: str) -> tuple[ProgramUse, ...]:
        """Return what an order uses the wanted programs for; whether it names one is seen from the bytes of its source.

        So a thousand orders need not be read for one. A number that is written with an escape shows by its backslash.
        """
        try:
            source = read_bytes(self.workspace.root / FOLDER / slug / ORDER_FILE, ORDER_FILE, TEXT_LIMIT)
            if b"\\" not in source and not any(program.encode() in source for _, program in self.wanted):
                return ()
            order = load_order(self.workspace, slug).order
            operations = enumerate(order.operations, 1)
            found = [use for number, operation in operations for use in self._in(number, operation, order)]
            kept = tuple(use for use in found if (use.robot, use.program) in self.wanted)
            return () if kept and self._is_over(slug) else kept
        except PacketError:
            return ()

    def _in(self, number: int, operation: Operation, order: Order) -> tuple[ProgramUse, ...]:
        robots = operation.robots
        coupons = {(robot, program) for robot in robots for _, program in operation.coupon_programs_of(robot)}
        if self.wanted.isdisjoint({*operation.programs.items(), *coupons}):
            return ()
        approved = self.workspace.approved
        if coupons & self.wanted:
            return operation_uses(OperationView(number, order, compute_operation(operation, approved), approved))
        return part_uses(OperationView(number, order, OperationResult(operation, (), ()), approved))

    def _is_over(self, slug: str) -> bool:
        """Return whether an order was released, and no revision of it is in force or will be."""
        entries = self._register.of(slug)
        day = day_of(entries, moment_now())
        statuses = {control_of(entries, each.revision, day).status for each in entries if each.kind == "release"}
        return bool(statuses) and statuses.isdisjoint(WORKED_BY)

    @cached_property
    def _register(self) -> Register:
        return load_register(self.workspace.root / INSTRUCTIONS)
