"""List the released orders that used a table.

TABLE is the name that the table gives itself, such as spot-uncoated; ROW is one of its rows, such as
"over 0.8 mm up to 1 mm". The values that rest on it are listed too.

Example: packets where-used spot-uncoated "over 0.8 mm up to 1 mm" --revision B
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.errors import PacketError, Problem, refuse
from weld_packets.plant.archive import today_of
from weld_packets.revisions.queries.archive import Archive, uses_of
from weld_packets.revisions.queries.where_used import TableReading
from weld_packets.revisions.register.forks import fork_problem
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.reading.nearest import nearest


@click.command(help=__doc__)
@click.argument("table", metavar="TABLE")
@click.argument("row", metavar="[ROW]", default="")
@click.option("--revision", default="", help="Only this revision of the table.")
@in_plant
def command(root: Path, table: str, row: str, revision: str) -> None:
    archive = open_archive(root / INSTRUCTIONS)
    print_lines(where_used_lines(archive, TableReading(table, revision, row)))
    refuse([fork_problem(order, made) for order, made in archive.register.forks.items()])


def where_used_lines(archive: Archive, wanted: TableReading) -> list[str]:
    """Return the released revisions that read what is wanted of a table, with the values that rest on it."""
    lines = []
    for use in uses_of(archive, wanted, today_of(archive.register.entries, archive.register)):
        lines.append(
            f"{use.order}, revision {use.revision} ({use.status}): {wanted.table} revision {use.table_revision}"
        )
        lines += [f"  row {name}" for name in use.rows]
        lines += [f"  {name}" for name in use.figures]
    return lines or [_unused(archive, wanted)]


def _unused(archive: Archive, wanted: TableReading) -> str:
    """Return that nothing used what is wanted, with the rows that were used where only the row is at fault."""
    whole = uses_of(archive, replace(wanted, row=""), today_of(archive.register.entries, archive.register))
    rows = dict.fromkeys(row for use in whole for row in use.rows)
    if wanted.row and rows:
        return f"no released revision used row '{wanted.row}' of {wanted.table}; rows used are: {', '.join(rows)}"
    known = {name for entry in archive.register.entries for name, _ in entry.tables}
    if known and wanted.table not in known:
        message = "no released revision used a table of this name"
        raise PacketError([Problem("TABLE", 0, "", wanted.table, message, nearest(wanted.table, known))])
    of_revision = f" revision {wanted.revision}" if wanted.revision else ""
    return f"no released revision used {wanted.table}{of_revision}"
