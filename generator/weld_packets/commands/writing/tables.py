"""Show tables as they were approved; carry rows out and back.

`packets tables show TABLE` prints a table as it was approved, what changed in it, and what that meant for the orders
that used it. `packets tables export TABLE FILE` writes the rows of one as CSV or .xlsx; `packets tables import TABLE
FILE` puts them into the table's file. A table may also name such a file as its rows: `rows: chart.csv`.

Example: packets tables export spot-uncoated chart.xlsx
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from weld_packets.commands.shared.root import NAMED_PATH, in_plant
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError, Problem
from weld_packets.files import write_whole
from weld_packets.sources.folders import INSTRUCTIONS

if TYPE_CHECKING:
    from weld_packets.revisions.queries.table_history import KnownRevision


@click.group(help=__doc__)
def command() -> None:
    pass


@command.command("export")
@click.argument("table", metavar="TABLE")
@click.argument("file", metavar="FILE", type=NAMED_PATH)
@in_plant
def export_rows(root: Path, table: str, file: Path) -> None:
    """Write the rows of TABLE to FILE, which ends in .csv or .xlsx and is not there yet.

    Example: packets tables export spot-uncoated chart.csv
    """
    from weld_packets.sources.tables.rows_export import rows_of, table_file, write_rows  # noqa: PLC0415 - slow to load

    rows = rows_of(table_file(root, table))
    write_rows(rows, file)
    print(f"wrote {len(rows.cells)} rows of table {table} to {file}")


@command.command("import")
@click.argument("table", metavar="TABLE")
@click.argument("file", metavar="FILE", type=NAMED_PATH)
@click.option("--sheet", default="", metavar="NAME", help="Sheet of a workbook.")
@click.option("--range", "cells", default="", metavar="CELLS", help="Range of a workbook with its header, as A1:I20.")
@in_plant
def import_rows(root: Path, table: str, file: Path, sheet: str, cells: str) -> None:
    """Put the rows of FILE, a CSV file or a workbook, into the file of TABLE in place of its own.

    Only columns and rows change, with the comments between them. The new rows are checked first; where anything is
    wrong, the table stays as it is.

    Example: packets tables import spot-uncoated chart.xlsx --sheet rows --range A1:I9
    """
    from weld_packets.sources.tables.rows_export import source_of, table_file, with_new_rows  # noqa: PLC0415 - slow to load

    path = table_file(root, table)
    text = with_new_rows(path, source_of(file, sheet, cells), file.parent)
    write_whole(path, text.encode(), durable=True)
    print(f"wrote the rows of {file} to {path}")
    print("next: raise its revision, delete or renew its approval, and run packets check")


@command.command()
@click.argument("table", metavar="TABLE")
@click.option("--revision", default="", help="Only this revision of the table; without it the newest that is kept.")
@click.option("--against", default="", metavar="REVISION", help="Show the differences from this revision instead.")
@json_option
@in_plant
def show(root: Path, table: str, revision: str, against: str, *, as_json: bool) -> None:
    """Print a whole table as it was approved: source, approval, values, who used it, what a change of it meant.

    Example: packets tables show spot-uncoated --revision B
    """
    from weld_packets.commands.shared.shown_table import (  # noqa: PLC0415 - rows are carried without any record
        revisions_of,
        shown_table,
        table_data,
        table_lines,
    )
    from weld_packets.revisions.store.files import open_archive  # noqa: PLC0415 - the same

    archive = open_archive(root / INSTRUCTIONS)
    known = revisions_of(archive.register, table)
    chosen = _revision(known, revision) if revision else known[-1]
    before = _revision(known, against) if against else _before(known, chosen)
    shown = shown_table(archive, chosen, before)
    if as_json:
        print_json(table_data(shown))
    else:
        print_lines(table_lines(shown))


def _revision(known: Sequence[KnownRevision], revision: str) -> KnownRevision:
    found = next((each for each in known if each.revision == revision), None)
    if found is None:
        marks = ", ".join(each.revision for each in known)
        message = f"the register knows no such revision of table {known[0].table}"
        raise PacketError([Problem("REVISION", 0, "", revision, message, f"name one of: {marks}")])
    return found


def _before(known: Sequence[KnownRevision], chosen: KnownRevision) -> KnownRevision | None:
    at = known.index(chosen)
    return known[at - 1] if at else None
