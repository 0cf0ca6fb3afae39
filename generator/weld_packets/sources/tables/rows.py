"""Rows of a table as it is printed, with units in the head of each column; in its file, a list or a workbook."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from weld_packets.errors import Gathering, Problem, SourceError, located, unread
from weld_packets.model.table import Table
from weld_packets.sources.reading.binding import keys_of, kind_of, types_of
from weld_packets.sources.reading.files import neighbour, read_text
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.places import Document, KeyPath, Places, key_text
from weld_packets.sources.reading.sheet import Column, Sheet, read_grid, read_sheet
from weld_packets.units import is_fraction_of, meant_unit, parse_number

CSV, WORKBOOK = ".csv", ".xlsx"
SHEETS = (CSV, WORKBOOK, ".xls", ".xlsm", ".ods")
"""Endings of files that hold rows, whether or not they are read."""
_ROWS: KeyPath = ("rows",)
_KEYS = ("workbook", "sheet", "range")
_FORM = "write 'rows: {workbook: chart.xlsx, sheet: Chart, range: A1:I20}'"
WORDS, COUNTS = "text", "number"
"""What is written in place of a unit over a column of words, and of numbers without a unit."""
LEFT_OUT = "none"
"""The cell of a column of numbers that gives no value."""


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
    return file, (Path(folder.name) / name).as_posix()


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


# ---------------------------------------------------------------- columns and rows


def expand_rows(document: Document, table: type[Table]) -> Document:
    """Return ``document`` with each row of bare cells as keys, and values with the unit of their column.

    A document without ``columns``, or with rows that are mappings, comes back as it is. Raises SourceError for
    unknown columns, units of another kind, rows of another length and cells that are not numbers, all at once.
    """
    columns, rows = document.tree.get("columns"), document.tree.get("rows")
    if "columns" not in table.model_fields or not isinstance(columns, dict) or not isinstance(rows, list):
        return document
    gathering = Gathering()
    units = _units(columns, row_fields(table), document.places, gathering)
    gathering.finish()
    reader = _Reader(units, document.places, dict(document.places.lines), gathering)
    expanded = [reader.row(row, ("rows", index)) for index, row in enumerate(rows)]
    gathering.finish()
    places = Places(document.places.file, reader.lines, document.places.key_lines, document.places.grafts)
    return Document(document.tree | {"rows": expanded}, places)


def row_fields(table: type[Table]) -> dict[str, FieldInfo]:
    """Return the keys that a row of ``table`` may have."""
    row = get_args(table.model_fields["rows"].annotation)[0]
    return keys_of(row) if isinstance(row, type) and issubclass(row, BaseModel) else {}


def _units(
    columns: dict[str, Any], fields: dict[str, FieldInfo], places: Places, gathering: Gathering
) -> dict[str, str]:
    units: dict[str, str] = {}
    for name, unit in columns.items():
        path: KeyPath = ("columns", name)
        if name not in fields:
            gathering.add(places.problem(path, "", f"there is no column {name!r}", nearest(name, fields)))
        elif fault := _unit_fault(unit, fields[name], path, places):
            gathering.add(fault)
        else:
            units[name] = unit
    return units


def _unit_fault(unit: Any, field: FieldInfo, path: KeyPath, places: Places) -> Problem | None:
    kind = kind_of(field)
    allowed = kind.spellings if kind else (WORDS, COUNTS)
    if unit in allowed:
        return None
    held = f"a unit of {kind.name}" if kind else "the word over a column without a unit"
    shown = unit if isinstance(unit, str) else ""
    meant = meant_unit(shown, kind) if kind else ""
    hint = f"did you mean {meant}? " if meant else ""
    return places.problem(path, shown, f"this is not {held}", f"{hint}write {' or '.join(allowed)}")


@dataclass
class _Reader:
    """Turns rows of cells into rows of keys, and keeps the line of each cell."""

    units: dict[str, str]
    places: Places
    lines: dict[KeyPath, int]
    gathering: Gathering

    def row(self, row: Any, path: KeyPath) -> Any:
        if not isinstance(row, list):
            return row
        if len(row) != len(self.units):
            message = f"this row has {len(row)} cells and there are {len(self.units)} columns"
            self.gathering.add(self.places.problem(path, "", message, f"the columns are: {', '.join(self.units)}"))
            return {}
        record: dict[str, str] = {}
        for position, (cell, name) in enumerate(zip(row, self.units, strict=True)):
            file, line = self.places.at((*path, position))
            self.lines[*path, name] = line
            with self.gathering.step(file, line, key_text((*path, name))):
                record |= _cell(cell, name, self.units[name])
        return record


def _cell(cell: Any, name: str, unit: str) -> dict[str, str]:
    if not isinstance(cell, str):
        raise unread("one number or word is expected in a cell", "write one number or one word")
    if unit == WORDS:
        return {name: cell}
    if cell == LEFT_OUT:
        return {}
    if not is_fraction_of(unit, cell):
        parse_number(cell)
    return {name: cell if unit == COUNTS else f"{cell} {unit}"}
