"""Check orders and tables without building; print digests.

ORDER is the name of an order's folder in instructions/; without one all are checked. Each good order gets a line with
the digest of its packet and a line for each warning.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from weld_packets.commands.shared.drafts import Drafts
from weld_packets.commands.shared.numbers import Uses, repeated_numbers
from weld_packets.commands.shared.orders import open_workspace
from weld_packets.commands.shared.plant import in_plant, print_lines
from weld_packets.commands.shared.programs import program_problems
from weld_packets.errors import PacketError, Problem
from weld_packets.packet.programs import program_uses
from weld_packets.packet.terminal import warning_lines
from weld_packets.processes.arc.chart_comparison import contradicted_rows
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.status.clock import moment_now
from weld_packets.revisions.status.rules import approval_problems
from weld_packets.sources.orders.order_folders import order_names


@click.command(help=__doc__)
@click.argument("orders", metavar="[ORDER]...", nargs=-1)
@in_plant
def command(root: Path, orders: Sequence[str]) -> None:
    report = check(root, orders)
    print_lines(report.lines)
    if report.problems:
        raise PacketError(report.problems)


@dataclass(frozen=True)
class CheckReport:
    """Of each order that is good a line, one for each of its warnings, and one for each table that bars its release.

    Before them stands a line for each row of a chart that contradicts the data of a wire. ``problems`` are those of the
    other orders.
    """

    lines: tuple[str, ...]
    problems: tuple[Problem, ...]


def check(root: Path, orders: Sequence[str]) -> CheckReport:
    """Compute the packets of ``orders``, or of all, and return their digests; raise SourceError for wrong tables."""
    workspace, today = open_workspace(root), moment_now().date()
    drafts = Drafts(workspace)
    lines = [
        f"table {row.table}, row {row.row}: check: wire feed {row.remark.text}"
        for row in contradicted_rows(workspace.approved)
    ]
    problems: list[Problem] = []
    numbered: list[tuple[str, str]] = []
    programs: list[Uses] = []
    for slug in orders or order_names(root):
        try:
            packet = drafts.draft(slug)
        except PacketError as error:
            problems += error.problems
        else:
            numbered.append((slug, packet.head.number))
            programs.append((slug, program_uses(packet)))
            lines += [
                f"{slug}: good, {len(packet.operations)} operations, digest {packet_digest(packet)}",
                *(f"{slug}: {line}" for line in warning_lines(packet)),
                *(f"{slug}: not to be released yet: {problem.message}" for problem in approval_problems(packet, today)),
            ]
    problems += [*repeated_numbers(numbered), *program_problems(workspace, programs)]
    return CheckReport(tuple(lines), tuple(dict.fromkeys(problems)))
