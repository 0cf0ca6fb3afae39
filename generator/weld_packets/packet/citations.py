"""Which tables a packet drew on, with the rows that were read, and which formulas."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from weld_packets.model.table import SourceDocument, Table
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import RunPlan
from weld_packets.packet.records.values import Fact, TableUse, TracePoint, Value
from weld_packets.packet.safety.conditions import shade_label, shade_row
from weld_packets.packet.safety.messages import Messages
from weld_packets.planning.sampling import sample_of
from weld_packets.wording.english import joined
from weld_packets.wording.phrases import gauge_words

_Reads = Iterator[tuple[str, str]]
"""Table identifier and row as printed."""


def tables_used(views: Sequence[OperationView], run: RunPlan, safety: Messages) -> tuple[TableUse, ...]:
    """Return every table that was read, with its rows in the order of reading."""
    approved = views[0].approved
    found: dict[str, dict[str, None]] = {}
    for table, row in _reads(views, run, safety):
        found.setdefault(table, {})[row] = None
    return tuple(table_use(approved.tables[table], rows) for table, rows in found.items())


def _reads(views: Sequence[OperationView], run: RunPlan, safety: Messages) -> _Reads:
    for point in trace_points(views, run):
        if point.form == "lookup":
            yield from ((point.table, row) for row in point.rows)
    for view in views:
        yield from _entries(view, safety)
    yield views[0].approved.plant.table, ""


def _entries(view: OperationView, safety: Messages) -> _Reads:
    owner = _Owners(view.approved)
    for material in view.materials:
        yield owner["materials"], material.id
    for gauge in (component.gauge for component in view.operation.components):
        if gauge and gauge.table:
            yield gauge.table, gauge_words(gauge)
    entries, equipment = view.family.entries(view.operation, view.approved), view.family.equipment_kind(view.operation)
    yield from ((owner[kind], entry) for kind, entry in entries)
    for robot in view.robots:
        yield owner["machines"], robot.id
        yield owner[equipment], robot.equipment
    yield owner["machines"], view.cell.id
    yield from ((owner["hazards"], hazard) for hazard in safety.of_operation[view.key])
    yield from _judged(view, owner)


def _judged(view: OperationView, owner: Mapping[str, str]) -> _Reads:
    for fault in view.approved.faults:
        if view.operation.process in fault.processes:
            yield owner["faults"], fault.id
    for limit in view.limits:
        yield owner["imperfections"], limit.key
    for check in view.inspections:
        yield owner["inspections"], check.id
        sample = sample_of(check, view.order.quantity, view.approved.samples)
        if sample is not None and sample.row:
            yield owner["sample sizes"], sample.row
    shade = shade_row(view)
    if shade is not None:
        yield owner["shades"], shade_label(shade)


class _Owners(dict[str, str]):
    """The identifier of the one table of an entry kind."""

    def __init__(self, approved: ApprovedTables) -> None:
        super().__init__()
        self._approved = approved

    def __missing__(self, kind: str) -> str:
        self[kind] = self._approved.owner(kind).table
        return self[kind]


def trace_points(views: Iterable[OperationView], run: RunPlan) -> Iterator[TracePoint]:
    """Yield every step of every figure of the packet."""
    for value in (*_setting_values(views), *run.values):
        yield from value.trace


def _setting_values(views: Iterable[OperationView]) -> Iterator[Value]:
    for view in views:
        for group in view.groups:
            yield from group.dialled
            yield from group.derived


def formulas_used(points: Iterable[TracePoint]) -> tuple[Fact, ...]:
    """Return every formula that was worked, once: name, printed form, and where it is printed."""
    used = {(point.label, point.expression): point for point in points if point.form == "formula"}
    return tuple(
        Fact(name=label, value=f"{point.symbol} = {expression}", note=_standing(point))
        for (label, expression), point in used.items()
    )


def _standing(point: TracePoint) -> str:
    parts = (point.source, point.clause, "" if point.standing == "published" else point.standing)
    return "; ".join(text for text in parts if text)


def table_use(table: Table, rows: Iterable[str]) -> TableUse:
    """Return who a table is from, what it rests on, who approved it, and the rows that were read."""
    approved = table.approved
    return TableUse(
        table=table.table,
        title=table.title,
        revision=table.revision,
        source=table.source,
        approved_by="" if approved is None else approved.by,
        approved_on="" if approved is None else approved.date.isoformat(),
        rows=tuple(row for row in rows if row),
        notes=table.notes,
        document="" if table.document is None else _document(table.document),
        reliability="" if table.reliability == "published" else table.reliability,
    )


def _document(found: SourceDocument) -> str:
    """Return the issue of a table's source in a line, and where a copy is kept, if that is stated."""
    copy = "" if found.copy_at is None else f"copy: {found.copy_at}"
    return joined((f"issue {found.issue}", f"of {found.date}", copy), ", ")
