"""Carry the rows of a table out to a list or workbook, and back.

`packets tables export TABLE FILE` writes them as CSV or .xlsx; `packets tables import TABLE FILE` puts them into the
table's file. A table may also name such a file as its rows: `rows: chart.csv`.

Example: packets tables export spot-uncoated chart.xlsx
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.plant import in_plant
from weld_packets.sources.tables.carried import rows_of, source_of, table_file, with_new_rows, write_rows
from weld_packets.sources.writing import write_whole


@click.group(help=__doc__)
def command() -> None:
    pass


@command.command("export")
@click.argument("table", metavar="TABLE")
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@in_plant
def export_rows(root: Path, table: str, file: Path) -> None:
    """Write the rows of TABLE to FILE, which ends in .csv or .xlsx and is not there yet.

    Example: packets tables export spot-uncoated chart.csv
    """
    rows = rows_of(table_file(root, table))
    write_rows(rows, file)
    print(f"wrote {len(rows.cells)} rows of table {table} to {file}")


@command.command("import")
@click.argument("table", metavar="TABLE")
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.option("--sheet", default="", metavar="NAME", help="Sheet of a workbook.")
@click.option("--range", "cells", default="", metavar="CELLS", help="Range of a workbook with its header, as A1:I20.")
@in_plant
def import_rows(root: Path, table: str, file: Path, sheet: str, cells: str) -> None:
    """Put the rows of FILE, a CSV file or a workbook, into the file of TABLE in place of its own.

    Only columns and rows change, with the comments between them. The new rows are checked first; where anything is
    wrong, the table stays as it is.

    Example: packets tables import spot-uncoated chart.xlsx --sheet rows --range A1:I9
    """
    path = table_file(root, table)
    text = with_new_rows(path, source_of(file, sheet, cells), file.parent)
    write_whole(path, text)
    print(f"wrote the rows of {file} to {path}")
    print("next: raise its revision, delete or renew its approval, and run packets check")
