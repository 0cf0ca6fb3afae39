"""The programs of orders against those of all other orders, as their sources have them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.commands.shared.numbers import KnownPrograms, Uses
from weld_packets.commands.shared.orders import compute_operation
from weld_packets.errors import PacketError, Problem
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import Operation, Order
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.programs import operation_uses
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
    wanted = frozenset((use.robot, use.program) for _, uses in orders for use in uses)
    for slug in sorted(set(order_names(workspace.root)) - {slug for slug, _ in orders}):
        known.clashes(slug, _uses(workspace, slug, wanted))
    found = ((slug, problem) for slug, uses in orders for problem in known.clashes(slug, uses))
    return tuple(load_order(workspace, slug).placed(problem) for slug, problem in found)


def _uses(workspace: Workspace, slug: str, wanted: _Pairs) -> tuple[ProgramUse, ...]:
    """Return what an order uses ``wanted`` programs for; whether it names one is seen from the bytes of its source.

    So a thousand orders need not be read for one. A number that is written with an escape shows by its backslash.
    """
    try:
        source = read_bytes(workspace.root / FOLDER / slug / ORDER_FILE, ORDER_FILE, TEXT_LIMIT)
        if b"\\" not in source and not any(program.encode() in source for _, program in wanted):
            return ()
        order = load_order(workspace, slug).order
        operations = enumerate(order.operations, 1)
        return tuple(
            use
            for number, operation in operations
            for use in _in_operation(number, operation, order, workspace.approved, wanted)
        )
    except PacketError:
        return ()


def _in_operation(
    number: int, operation: Operation, order: Order, approved: ApprovedTables, wanted: _Pairs
) -> Iterator[ProgramUse]:
    coupons = {(robot, program) for robot in operation.robots for _, program in operation.coupon_programs_of(robot)}
    if coupons & wanted:
        yield from operation_uses(OperationView(number, order, compute_operation(operation, approved), approved))
    else:
        yield from (ProgramUse(robot, program, "") for robot, program in operation.programs.items())
