"""One order's whole packet."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.changeover import Changeover
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.plain import Fact, Plain
from weld_packets.packet.records.run import RunPlan
from weld_packets.packet.records.safety import Callout
from weld_packets.packet.records.steps import Action, Procedure


class CellStart(Plain):
    """The steps that start the run of one operation, by the key of its operation."""

    operation: str
    steps: tuple[Action, ...]


class InspectionLine(Plain):
    """One check of the inspection plan for one row; ``limits`` are those that the operation's welds are held to."""

    operation: str
    operation_name: str
    stage: str
    what: str
    how: str
    accept: str
    every: str
    source: str
    limits: tuple[str, ...] = ()


class TableUse(Plain):
    """One table that the packet drew on: its identity and the rows that were read."""

    table: str
    title: str
    revision: str
    source: str
    approved_by: str
    approved_on: str
    rows: tuple[str, ...]
    notes: tuple[str, ...]


class OrderHead(Plain):
    """What identifies the order on every page."""

    slug: str
    number: str
    title: str
    part_number: str
    part_name: str
    quantity: int
    due: str
    revision_intent: str
    previous_order: str
    plant: str
    show_first: str
    supervisor: str = ""
    """Whom to call when work stops, and how; empty in records that were made before plants named one."""


class Packet(Plain):
    """One order's whole packet.

    ``starts`` are the lists that start each cell; records that were made before they were written cell by cell hold one
    for all in ``start``. ``procedures`` are called for now and then during a run, ``stop_if`` are conditions on which
    the cell is stopped and the supervisor called.
    """

    format: Literal["weld-packet-1"] = "weld-packet-1"
    head: OrderHead
    operations: tuple[OperationSheet, ...]
    changeover: Changeover | None
    callouts: tuple[Callout, ...]
    cautions: tuple[str, ...]
    start: tuple[Action, ...]
    run: RunPlan
    run_steps: tuple[Action, ...]
    inspections: tuple[InspectionLine, ...]
    tables: tuple[TableUse, ...]
    formulas: tuple[Fact, ...]
    starts: tuple[CellStart, ...] = ()
    procedures: tuple[Procedure, ...] = ()
    stop_if: tuple[str, ...] = ()
