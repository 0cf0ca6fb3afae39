"""File and list records of set-ups and runs from the cells.

`packets records add FILE...` checks each file against the released record that it names and files it beside its order.
`packets records list [ORDER]` lists what is filed, with what was read outside its range and what drifts.

Example: packets records add lk-2041-*.json
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import click

from weld_packets import __version__
from weld_packets.commands.shared.code_version import commit_of
from weld_packets.commands.shared.order_argument import one_or_all_argument
from weld_packets.commands.shared.releasing.responsible import clock_allowance_of, line_to_keep
from weld_packets.commands.shared.root import NAMED_PATH, in_plant
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError, Problem
from weld_packets.files import real_path
from weld_packets.plant.archive import archive_of
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.queries.set_ups import (
    FailedEntry,
    FiledRun,
    FiledSetUp,
    SetUps,
    filed_run,
    of_words,
    set_ups_of,
)
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.register.entries import RunEntry, SetUpEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.set_ups.acceptance import unrecorded_lines
from weld_packets.revisions.set_ups.drift import Series
from weld_packets.revisions.set_ups.record import SetUp, set_up_data
from weld_packets.revisions.set_ups.run_record import Run, run_data
from weld_packets.revisions.status.release_rules import CLOCK_ALLOWANCE
from weld_packets.revisions.store.clock import machine_clock, moment_now
from weld_packets.revisions.store.files import open_archive
from weld_packets.revisions.store.set_ups import FiledRecord, file_from_cell
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.reading.files import read_bytes
from weld_packets.wording.english import counted

_RECORD_LIMIT = 5_000_000
"""Bytes that a record from a cell may have; one of a long run has a hundredth of it."""


@click.group(help=__doc__)
def command() -> None:
    pass


@command.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=NAMED_PATH)
@in_plant
def add(root: Path, files: tuple[Path, ...]) -> None:
    """Check records of set-ups and runs and file them beside their orders.

    One file at fault does not stop the others. Exit status 1 where any is refused.
    """
    problems: list[Problem] = []
    register: Register | None = None
    for file in files:
        try:
            filed = _file(root, file)
        except PacketError as error:
            problems += error.problems
            print(f"{file}: refused, {counted(len(error.problems), 'problem')}")
        else:
            register = register if filed.already else filed.register
            print(f"{file}: {_filed_line(filed)}")
            print_lines(f"{file}: {line}" for line in _unrecorded_lines(filed))
            print_lines(f"{file}: {line}" for line in _instrument_lines(root, filed.kept))
    if register is not None:
        print(line_to_keep(register))
    if problems:
        raise PacketError(problems)


def _file(root: Path, file: Path) -> FiledRecord:
    data = read_bytes(real_path(file), str(file), _RECORD_LIMIT)
    code = Code(version=__version__, commit=commit_of())
    clock, allowance = machine_clock(), _allowance(root)
    return file_from_cell(
        root / INSTRUCTIONS, data, str(file), at=moment_now(), code=code, machine_clock=clock, allowance=allowance
    )


def _allowance(root: Path) -> timedelta:
    """Return how far a clock of the plant may run ahead; a record is filed also where its tables are wrong."""
    from weld_packets.sources.tables.tables import load_workspace  # noqa: PLC0415 - a list needs no table

    try:
        return clock_allowance_of(load_workspace(root).approved.plant)
    except PacketError:
        return CLOCK_ALLOWANCE


def _unrecorded_lines(filed: FiledRecord) -> Iterator[str]:
    """Yield what an accepted first-off rests on that its record does not hold."""
    if isinstance(filed.kept, SetUp):
        yield from unrecorded_lines(filed.kept, filed.packet)


def _instrument_lines(root: Path, kept: SetUp | Run) -> Iterator[str]:
    """Yield what speaks against the instruments of a set-up; nothing where the plant's tables cannot be read."""
    if not isinstance(kept, SetUp) or not kept.instruments:
        return
    from weld_packets.plant.instruments import instrument_faults  # noqa: PLC0415 - as above
    from weld_packets.sources.tables.tables import load_workspace  # noqa: PLC0415

    try:
        table = load_workspace(root).approved.instruments
    except PacketError:
        return
    yield from instrument_faults(table, kept.instruments, date.fromisoformat(kept.begun[:10]))


def _filed_line(filed: FiledRecord) -> str:
    if filed.already:
        return f"filed already on {filed.entry.filed_at} as {filed.entry.path}"
    match filed.entry, filed.kept:
        case SetUpEntry() as entry, SetUp() as set_up:
            said = _line(FiledSetUp(entry, set_up))
        case RunEntry() as entry, Run() as run:
            said = run_line(filed_run(filed.packet, entry, run))
    return f"filed as {filed.entry.path}; {said}"


@command.command("list")
@one_or_all_argument
@json_option
@in_plant
def list_(root: Path, order: str | None, *, as_json: bool) -> None:
    """List the records that are filed, of an order or of all."""
    found = filed_set_ups(root, order)
    if as_json:
        print_json([_data(each) for each in found])
    else:
        print_lines(set_up_lines(found))
        set_ups = [each for of_order in found for each in of_order.filed]
        print_lines(f"{each.entry.path}: {line}" for each in set_ups for line in _instrument_lines(root, each.set_up))


def filed_set_ups(root: Path, order: str | None) -> list[SetUps]:
    """Return what is filed for an order, or for all; raise SourceError where there is no such order."""
    if order is not None:
        return [set_ups_of(archive_of(root, order), order)]
    archive: Archive = open_archive(root / INSTRUCTIONS)
    return [
        set_ups_of(archive, each) for each in sorted(archive.register.set_ups.keys() | archive.register.runs.keys())
    ]


def set_up_lines(found: Sequence[SetUps]) -> Iterator[str]:
    """Yield a line for each record, then one for each value that drifts."""
    for of_order in found:
        for each in of_order.filed:
            yield f"{of_order.order}  {each.set_up.begun}  {_line(each)}  {each.entry.path}"
        for one in of_order.runs:
            yield f"{of_order.order}  {one.run.begun}  {run_line(one)}  {one.entry.path}"
    if not any(of_order.filed or of_order.runs for of_order in found):
        yield "no record of a set-up or a run is filed"
    for of_order in found:
        for series in of_order.drifting:
            yield f"{of_order.order}  drifts: {series.name}: {series.drift} ({_read_as(series)})"


def _line(each: FiledSetUp) -> str:
    set_up = each.set_up
    parts = [
        f"operation {set_up.operation} revision {set_up.revision}: {each.state}",
        f"set by {set_up.setter or 'nobody named'}",
        f"{len(each.outside) + len(each.apart)} outside",
        counted(len(set_up.deviations), "deviation"),
    ]
    if set_up.replaced is not None:
        parts.append(f"{len(each.failed_before)} failed and replaced")
    if set_up.qualification is not None:
        ended = f", expired on {set_up.qualification.valid_until}" if each.expired else ""
        parts[1] += f" (qualification {set_up.qualification.number}{ended})"
    if set_up.status_reason:
        parts.append(f"{set_up.status}, because: {set_up.status_reason}")
    return ", ".join(parts)


def run_line(each: FiledRun) -> str:
    """Return in a line what the record of a run holds."""
    run = each.run
    reasons = dict.fromkeys(start.status_reason for start in run.starts if start.status_reason)
    parts = [
        f"run by revision {run.revision}: {counted(run.parts, 'part')} counted",
        *(["saved during the run"] if run.saved_during else []),
        counted(len(run.starts), "start"),
        f"{counted(len(run.events) - len(each.passed_over), 'event')} done, {len(each.late)} late",
        f"{len(each.passed_over)} passed over, {len(each.overdue)} overdue",
        *(f"started because: {reason}" for reason in reasons),
    ]
    return ", ".join(parts)


def _failed(entry: FailedEntry) -> dict[str, str]:
    return {"of": of_words(entry), "entered": entry.entered, "verdict": entry.verdict, "at": entry.at, "by": entry.by}


def _read_as(series: Series) -> str:
    return f"{', '.join(str(point.number) for point in series.points[-6:])} {series.unit}".strip()


def _data(of_order: SetUps) -> dict[str, Any]:
    return {
        "order": of_order.order,
        "set_ups": [
            {
                "file": each.entry.path,
                "file_digest": each.entry.file_digest,
                "filed_at": each.entry.filed_at,
                "state": each.state,
                "qualification_expired": each.expired,
                "outside": [{"value": one.value, "robot": one.robot, "verdict": one.verdict} for one in each.outside],
                "failed_and_replaced": [_failed(one) for one in each.failed_before],
                "outside_together": [one.model_dump() for one in each.apart],
                "record": set_up_data(each.set_up),
            }
            for each in of_order.filed
        ],
        "runs": [
            {
                "file": each.entry.path,
                "file_digest": each.entry.file_digest,
                "filed_at": each.entry.filed_at,
                "parts": each.run.parts,
                "late": [event.what for event in each.late],
                "passed_over": [event.what for event in each.passed_over],
                "overdue": [{"what": one.what, "cell": one.cell, "due": one.at, "by": one.by} for one in each.overdue],
                "record": run_data(each.run),
            }
            for each in of_order.runs
        ],
        "drifting": [
            {
                "operation": series.operation,
                "value": series.key,
                "robot": series.robot,
                "drift": series.drift,
                "readings": [str(point.number) for point in series.points],
                "unit": series.unit,
            }
            for series in of_order.drifting
        ],
    }
