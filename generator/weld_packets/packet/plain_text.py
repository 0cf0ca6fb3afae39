"""The settings of a packet as a plain-text table, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.qualification import qualification_words
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.wording.english import listed, some

_HEADS = ("", "setting", "value", "allowed range", "step", "source")


def settings_lines(packet: Packet) -> tuple[str, ...]:
    """Return the settings of every operation: what is dialled, then what follows, with range, step and source."""
    head = packet.head
    lines = [f"{head.number}  {head.title}  ({head.quantity} x {head.part_number} {head.part_name})"]
    for operation in packet.operations:
        lines += ["", *_operation(operation)]
    if packet.run.warnings:
        lines += ["", *_run_warnings(packet)]
    return tuple(line.rstrip() for line in lines)


def warning_lines(packet: Packet) -> tuple[str, ...]:
    """Return every warning of a packet in a line of its own, with the operation that it concerns."""
    of_operations = (
        f"operation {operation.number}, {operation.name}: check: {each.line}"
        for operation in packet.operations
        for each in operation.warnings
    )
    return (*of_operations, *_qualification_lines(packet), *_run_warnings(packet))


def _qualification_lines(packet: Packet) -> Iterator[str]:
    """Yield procedure, records and verdict of every operation, and what welds that lie outside all records miss.

    Why something cannot be decided fills the page of the operation's qualification; here it would hide the rest.
    """
    for operation in packet.operations:
        found = operation.qualification
        if found is not None and found.outcome is not None:
            head = f"operation {operation.number}, {operation.name}: qualification"
            yield f"{head}: {qualification_words(found)}"
            outside = (welds for welds in found.welds if welds.outcome == "outside")
            yield from (f"{head} of {some(welds.welds)}: {welds.text}" for welds in outside)


def _run_warnings(packet: Packet) -> tuple[str, ...]:
    return tuple(f"run: check: {each.line}" for each in packet.run.warnings)


def _operation(operation: OperationSheet) -> Iterator[str]:
    programs = ", ".join(f"{program.robot} {program.number}" for program in operation.programs)
    head = f"operation {operation.number}  {operation.name}  cell {operation.cell}"
    yield f"{head}  {operation.process} {operation.process_name}  programs {programs}"
    if operation.qualification is not None:
        yield f"  qualification: {qualification_words(operation.qualification)}"
    yield from (f"  check: {each.line}" for each in operation.warnings)
    for group in operation.groups:
        yield f"  {group.title}  robots {listed(group.robots)}{_set(group)}  welds {some(group.welds)}{_passes(group)}"
        yield from _table([_HEADS, *_cells(group)])


def _set(group: SettingGroup) -> str:
    return f"  weld schedule {group.weld_schedule}" if group.weld_schedule else ""


def _passes(group: SettingGroup) -> str:
    return f"  {group.pass_count} passes" if group.pass_count > 1 else ""


def _cells(group: SettingGroup) -> Iterator[tuple[str, ...]]:
    for mark, values in (("set", group.dialled), ("", group.derived)):
        for value in values:
            step = "" if value.step is None else value.step.text
            yield mark, value.label, _amount(value), value.allowed, step, value.outside or _origin(value)


def _amount(value: Value) -> str:
    return "-" if value.amount is None else value.with_direction


def _origin(value: Value) -> str:
    """Return how a value came about: the formulas, the tables with revision and rows, or where it is given."""
    last = next((point.form for point in reversed(value.trace) if point.form != "rounded"), "")
    reads = tuple(f"{point.table} {point.revision}, {' - '.join(point.rows)}" for point in value.trace if point.table)
    worked = tuple(f"{point.symbol} = {point.expression}" for point in value.trace if point.form == "formula")
    given = tuple(point.origin for point in value.trace if point.form == "given")
    origins = {"formula": (*worked, *reads), "lookup": reads, "given": given}.get(last, ())
    return "; ".join(dict.fromkeys(origins))


def _table(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "    " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
