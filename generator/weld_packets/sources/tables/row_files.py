"""Rows of a table that are in a file of their own beside it: CSV, or a range of a workbook."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

from weld_packets.errors import Problem, SourceError, located
from weld_packets.model.tables import Table
from weld_packets.sources.reading.binding_words import nearest
from weld_packets.sources.reading.fields_at import kind_of, types_of
from weld_packets.sources.reading.files import neighbour, read_text
from weld_packets.sources.reading.places import Document, KeyPath, Places, key_text
from weld_packets.sources.reading.sheet import Column, Sheet, read_grid, read_sheet
from weld_packets.sources.tables.chart_rows import COUNTS, WORDS, row_fields

CSV, WORKBOOK = ".csv", ".xlsx"
SHEETS = (CSV, WORKBOOK, ".xls", ".xlsm", ".ods")
"""Endings of files that hold rows, whether or not they are read."""
_ROWS: KeyPath = ("rows",)
_KEYS = ("workbook", "sheet", "range")
_FORM = "write 'rows: {workbook: chart.xlsx, sheet: Chart, range: A1:I20}'"


def with_rows(document: Document, table: type[Table], folder: Path) -> Document:
    """Return ``document`` with the rows and columns of the file that its ``rows`` names, if it names one.

    Raises SourceError with all that is wrong with that file, each with its line or cell.
    """
    rows = document.tree.get("rows")
    if "columns" not in table.model_fields or not isinstance(rows, str | dict):
        return document
    places = document.places
    if "columns" in document.tree:
        message = "the columns and their units are those of the file that 'rows' names"
        raise SourceError([places.problem(("columns",), "", message, "delete the key, or write the rows here")])
    sheet = _sheet(rows, columns_of(table), places, folder)
    counted = {name: unit or _unitless(name, table) for name, unit in sheet.units.items()}
    lines: dict[KeyPath, int] = {(index,): line for index, line in enumerate(sheet.lines)}
    grafts = {_ROWS: Places(sheet.file, lines), ("columns",): Places(sheet.file)}
    tree = document.tree | {"columns": counted, "rows": list(sheet.rows)}
    return Document(tree, Places(places.file, places.lines, places.key_lines, grafts))


def columns_of(table: type[Table]) -> tuple[Column, ...]:
    """Return the columns that the rows of a kind of table may have."""
    fields = row_fields(table)
    return tuple(Column(name, kind_of(field), required=field.is_required()) for name, field in fields.items())


def _unitless(name: str, table: type[Table]) -> str:
    """Return what is written over a column without a unit: of counts, or of words."""
    return COUNTS if {int, Decimal} & set(types_of(row_fields(table)[name])) else WORDS


def _at_its_key(problem: Problem, rows: dict[str, Any], places: Places) -> Problem:
    """Return a problem of the sheet or the range that a table names at that key of the table."""
    named = [key for key in ("sheet", "range") if not problem.key and problem.value == rows[key]]
    if not named:
        return problem
    return places.problem((*_ROWS, named[0]), problem.value, problem.message, problem.remedy)


def _no_rows(name: str) -> tuple[str, str]:
    """Return message and remedy for rows that are named as one file, and are not a list in CSV."""
    if name.lower().endswith(WORKBOOK):
        remedy = f"write 'rows: {{workbook: {name}, sheet: Chart, range: A1:I20}}', with its own sheet and range"
        return "a workbook is read from a sheet and a range of it", remedy
    return "rows are read from a CSV file or a workbook", "save it as CSV in UTF-8, or as a workbook .xlsx"


def _sheet(rows: str | dict[str, Any], columns: tuple[Column, ...], places: Places, folder: Path) -> Sheet:
    if isinstance(rows, str):
        if not rows.lower().endswith(CSV):
            raise SourceError([places.problem(_ROWS, rows, *_no_rows(rows))])
        file, shown = _file(rows, _ROWS, places, folder)
        return read_sheet(read_text(file, shown), shown, columns, what="row")
    for key in rows:
        if key not in _KEYS:
            raise SourceError([places.problem((*_ROWS, key), "", f"there is no key {key!r}", nearest(key, _KEYS))])
    for key in _KEYS:
        if not isinstance(rows.get(key), str):
            raise SourceError([places.problem(_ROWS, "", f"{key!r} of the workbook is missing", _FORM)])
    file, shown = _file(rows["workbook"], (*_ROWS, "workbook"), places, folder)
    if not shown.lower().endswith(WORKBOOK):
        message, remedy = "only workbooks .xlsx are read", "save it as .xlsx in the spreadsheet program"
        raise SourceError([places.problem((*_ROWS, "workbook"), rows["workbook"], message, remedy)])
    from weld_packets.sources.reading.workbook import read_range  # noqa: PLC0415 - few plants need it

    try:
        place, grid = read_range(file, shown, rows["sheet"], rows["range"])
    except SourceError as error:
        raise SourceError(_at_its_key(problem, rows, places) for problem in error.problems) from None
    return read_grid(grid, place, columns, what="row")


def _file(name: str, path: KeyPath, places: Places, folder: Path) -> tuple[Path, str]:
    with located(*places.at(path), key_text(path)):
        file = neighbour(folder, name)
    if not os.path.lexists(file):
        raise SourceError(
            [places.problem(path, name, "there is no such file beside the table", "check the name, or add it")]
        )
    return file, f"{folder.name}/{name}"


def named_file(tree: dict[str, Any]) -> str:
    """Return the name of the file that a table's ``rows`` name, nothing where they name none."""
    rows = tree.get("rows")
    name = rows.get("workbook") if isinstance(rows, dict) else rows
    return name if isinstance(name, str) else ""


def unnamed_files(folder: Path, shown: str, named: Collection[Any], remedy: str) -> Iterator[Problem]:
    """Yield lists and workbooks in ``folder`` that nothing names, and so nothing reads."""
    if not folder.is_dir():
        return
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in SHEETS and not path.name.startswith((".", "~$")) and path.name not in named:
            yield Problem(f"{shown}/{path.name}", 0, "", "", "nothing names this file, so that it is not read", remedy)
