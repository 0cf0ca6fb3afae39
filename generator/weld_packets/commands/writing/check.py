"""Check orders and tables without building; print digests.

ORDER is an order's folder in instructions/ or its number; without one all are checked. Each good order gets a line with
the digest of its packet and a line for each warning. What two orders may not share, a number or a program, is compared
between orders that have no other problem. A program that a released revision of another order uses otherwise is a
fault; one that only another order's files use otherwise is a warning.

Example: packets check LK-2041
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import click

from weld_packets import __version__
from weld_packets.commands.shared.failures import INTERNAL_ERROR, SOURCES_WRONG, fault_of, print_faults
from weld_packets.commands.shared.memory import kept
from weld_packets.commands.shared.order_argument import orders_argument
from weld_packets.commands.shared.parallel import Progress, for_each, processes_option, processors
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError, Problem, SourceError
from weld_packets.model.processes import numbers
from weld_packets.packet.plain_text import warning_lines
from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.programs import program_uses
from weld_packets.packet.records.order import Packet
from weld_packets.plant.approvals import changed_tables
from weld_packets.plant.drafts import Drafts
from weld_packets.plant.fitted.carrying import Remembered
from weld_packets.plant.instruments import due_lines
from weld_packets.plant.orders import open_workspace
from weld_packets.plant.people import people_lines
from weld_packets.plant.programs import program_findings
from weld_packets.plant.shared_numbers import repeated_numbers
from weld_packets.processes.family import families
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.effectivity import UTC_ZONE
from weld_packets.revisions.register.forks import fork_problem
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.nonconformities import nonconformity_findings
from weld_packets.revisions.status.proposals import waiting_proposals
from weld_packets.revisions.status.release_rules import (
    approval_problems,
    expired_lines,
    qualification_problems,
)
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.files import load_register
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import faults_without_tables
from weld_packets.sources.schemas import refresh_plant_schema
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units.zones import day_at
from weld_packets.wording.english import counted


@click.command(help=__doc__)
@orders_argument
@processes_option
@json_option
@in_plant
def command(root: Path, orders: Sequence[str], processes: int, *, as_json: bool) -> int:
    report = check(root, orders, processes=processes)
    if as_json:
        print_json(report.data)
    else:
        print_lines(report.lines)
    print_faults(report.faults)
    if as_json and report.problems:
        return SOURCES_WRONG
    if report.problems:
        raise PacketError(report.problems)
    return INTERNAL_ERROR if report.faults else 0


@dataclass(frozen=True)
class CheckReport:
    """Of each order that is good a line, one for each of its warnings, and one for what bars its release.

    Before them is a line for each row of a chart that contradicts the data of a wire. ``problems`` are those of the
    other orders, ``faults`` internal errors at them.
    """

    lines: tuple[str, ...]
    problems: tuple[Problem, ...]
    orders: tuple[_Checked, ...] = ()

    @property
    def data(self) -> dict[str, Any]:
        """The same as data for JSON: each order with its digest and its lines, and every problem."""
        return {
            "orders": [
                {"order": each.slug, "number": each.number, "digest": each.digest, "lines": each.lines}
                for each in self.orders
            ],
            "problems": [problem.data for problem in self.problems],
        }

    @property
    def faults(self) -> tuple[str, ...]:
        """Internal errors, each with its order."""
        return tuple(f"{each.slug}: {each.fault}" for each in self.orders if each.fault)


@dataclass(frozen=True)
class _Job:
    """One order to check at a moment; ``kept`` is the folder of what orders leave fitted, for all processes.

    ``released`` where it has a released revision: its due date may have passed.
    """

    root: Path
    slug: str
    now: datetime
    kept: Path
    released: bool


@dataclass(frozen=True)
class _Checked:
    """What was found of one order; number and uses of programs only where it is good."""

    slug: str
    number: str = ""
    digest: str = ""
    uses: tuple[ProgramUse, ...] = ()
    lines: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    fault: str = ""

    @property
    def is_good(self) -> bool:
        """Whether nothing is wrong with it by itself."""
        return not self.problems and not self.fault


def check(root: Path, orders: Sequence[str], *, processes: int | None = None) -> CheckReport:
    """Compute the packets of ``orders``, or of all, and return their digests; raise SourceError for wrong tables.

    As many ``processes`` work as there are processors, unless given.
    """
    names = list(orders or order_names(root))
    _drafts.cache_clear()
    _workspace.cache_clear()
    try:
        _workspace(root)
    except SourceError as error:
        raise SourceError([*error.problems, *_of_orders(root, names)]) from None
    with TemporaryDirectory(prefix="packets-check-") as folder:
        kept(lambda: _drafts(root, Path(folder)))
        now, register = moment_now(), load_register(root / INSTRUCTIONS)
        jobs = [_Job(root, slug, now, Path(folder), bool(register.every(slug))) for slug in names]
        results = for_each(jobs, _check_one, processes or processors())
        checked = list(Progress(len(names), sys.stderr).over(results))
    workspace = _workspace(root)
    programs = program_findings(workspace, [(each.slug, each.uses) for each in checked if each.is_good])
    checked = [
        replace(each, lines=(*each.lines, *_proposal_lines(register, each), *programs.notes.get(each.slug, ())))
        for each in checked
    ]
    good = [each for each in checked if each.is_good]
    refresh_plant_schema(workspace)
    charts = [
        f"table {row.table}, row {row.row}: check: wire feed {row.remark.text}"
        for family in families(numbers())
        for row in family.contradicted(workspace.approved)
    ]
    problems = [
        *(problem for each in checked for problem in each.problems),
        *repeated_numbers((each.slug, each.number) for each in good),
        *changed_tables(workspace, register),
        *(fork_problem(order, made) for order, made in register.forks.items() if order in names),
        *programs.problems,
    ]
    of_people = people_lines(workspace, register) if good else ()
    instruments = due_lines(workspace.approved.instruments, now.date(), __version__)
    unsettled = (f"{order}: {message}" for order, message in nonconformity_findings(register))
    lines = (*charts, *of_people, *unsettled, *instruments, *(line for each in good for line in each.lines))
    return CheckReport(lines, tuple(dict.fromkeys(problems)), tuple(checked))


def _of_orders(root: Path, names: Sequence[str]) -> Iterator[Problem]:
    """Yield what is wrong with orders whatever the tables say, so that both are corrected in one round."""
    for name in names:
        try:
            yield from faults_without_tables(root, name)
        except SourceError as error:
            yield from error.problems


def _check_one(job: _Job) -> _Checked:
    try:
        packet = _drafts(job.root, job.kept).draft(job.slug)
    except PacketError as error:
        return _Checked(job.slug, problems=error.problems)
    except Exception as error:  # noqa: BLE001 (the other orders are checked, whatever happens to one)
        return _Checked(job.slug, fault=fault_of(error))
    today = day_at(job.now, packet.head.time_zone or UTC_ZONE)
    digest = packet_digest(packet)
    lines = (
        f"OK, {counted(len(packet.operations), 'operation')}, digest {digest}",
        *warning_lines(packet),
        *(() if job.released or packet.head.due >= today.isoformat() else (_overdue(packet),)),
        *expired_lines(packet, today),
        *(
            f"cannot be released yet: {problem.message}; {problem.remedy}"
            for problem in _against_release(packet, today)
        ),
    )
    printed = tuple(f"{job.slug}: {line}" for line in lines)
    return _Checked(job.slug, packet.head.number, digest, tuple(program_uses(packet)), printed)


def _proposal_lines(register: Register, checked: _Checked) -> Iterator[str]:
    """Yield what waits for approval of an order that is good."""
    waiting = waiting_proposals(register, checked.slug) if checked.digest else ()
    for entry in (each.entry for each in waiting):
        edited = entry.packet_digest != checked.digest
        what = ", but the files have changed since: propose it anew, or change them back" if edited else ""
        yield f"{checked.slug}: a proposal by {entry.author} of {entry.recorded_at} waits for approval{what}"


def _overdue(packet: Packet) -> str:
    return f"due: {packet.head.due} has passed before anything was released; correct 'due' in the order"


def _against_release(packet: Packet, today: date) -> Iterator[Problem]:
    yield from approval_problems(packet, today)
    yield from qualification_problems(packet, today)


@cache
def _workspace(root: Path) -> Workspace:
    """Return the tables; a forked process inherits those of its parent."""
    return open_workspace(root)


@cache
def _drafts(root: Path, kept: Path) -> Drafts:
    """Return this process's drafts; what an order leaves fitted is kept in files, so that one process finds it once."""
    return Drafts(_workspace(root), remembered=Remembered(kept, OrderDigests(root).of))
