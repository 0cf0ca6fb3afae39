"""Lists in rows, as CAD and spreadsheet programs write them: one header line names columns and their units."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.errors import Gathering, PacketError, Problem, SourceError, shorten, unread
from weld_packets.sources.reading.out_of_use import COLUMNS, words_for_old
from weld_packets.sources.reading.places import capped
from weld_packets.units import Kind, is_fraction_of, meant_unit, parse_number

_ROW_LIMIT = 5_000
_COLUMN_LIMIT = 50
_HEADING_LIMIT = 100
_DELIMITERS = {",": "a comma", ";": "a semicolon", "\t": "a tab"}
_HEADING = re.compile(r"(?P<name>[^()\[\]]+?) *(?:[(\[] *(?P<unit>[^()\[\]]+?) *[)\]])?")
_QUOTED = re.compile(r'"[^"]*"')


@dataclass(frozen=True)
class Column:
    """A column that a sheet may have.

    Attributes:
        name: its heading, read without regard to capitals.
        kind: kind of quantity of its numbers, whose unit the heading gives; nothing for words.
        required: whether the sheet must have it and every row must fill it.

    """

    name: str
    kind: Kind | None = None
    required: bool = True


@dataclass(frozen=True)
class Sheet:
    """Rows as text by column name, quantities with their unit, the line of each, and the unit of each column."""

    file: str
    rows: tuple[dict[str, str], ...]
    lines: tuple[int, ...]
    units: dict[str, str]


@dataclass(frozen=True)
class _Heading:
    column: Column
    unit: str


@dataclass(frozen=True)
class Cell:
    """A cell as text, and where it is; ``as_text`` where the file says that it is text and no number."""

    text: str
    where: str = ""
    as_text: bool = False


Grid = Sequence[tuple[int, Sequence[Cell]]]
"""The lines of a sheet, each with its number, as cells; the first is the header."""


def read_sheet(text: str, file: str, columns: Sequence[Column], *, what: str = "weld point") -> Sheet:
    """Return the rows of a CSV ``text`` with some of ``columns`` as its columns, in any order.

    Raises SourceError with every problem (at most 50 are listed, with the count of the rest): unknown, missing and
    repeated columns, units missing or of another kind, rows of another length, empty cells, and numbers that are not
    plain decimals.
    """
    numbered = [(number, line) for number, line in enumerate(text.split("\n"), start=1) if line.strip()]
    if not numbered:
        raise SourceError([Problem(file, 1, "", "", "there is no header line", _header_remedy(columns))])
    first, header = numbered[0]
    delimiter = _delimiter(header, first, file, columns)
    head = _line(header, delimiter, first, file)
    gathering = Gathering()
    grid = [(first, head)]
    for number, line in numbered[1 : _ROW_LIMIT + 2]:
        with gathering.step():
            grid.append((number, _line(line, delimiter, number, file)))
    return read_grid(grid, file, columns, what=what, found=gathering.problems)


def read_grid(grid: Grid, file: str, columns: Sequence[Column], *, what: str, found: Sequence[Problem] = ()) -> Sheet:
    """Return the rows of a ``grid`` of cells, as ``read_sheet`` does; ``found`` is what is wrong with it already."""
    (first, header), body = grid[0], grid[1:]
    headings = _headings(header, first, file, columns)
    if not (body or found) or len(body) > _ROW_LIMIT:
        many = f"more than {_ROW_LIMIT:,} lines", "make several lists"
        fault, remedy = many if body else ("there is no row below the header", f"write one line for each {what}")
        raise SourceError([Problem(file, first, "", "", fault, remedy)])
    return _body(body, headings, file, found)


def _delimiter(header: str, line: int, file: str, columns: Sequence[Column]) -> str:
    bare = _QUOTED.sub("", header)
    used = [sign for sign in _DELIMITERS if sign in bare]
    if len(used) == 1:
        return used[0]
    words = " and ".join(_DELIMITERS[sign] for sign in used)
    message = f"the header holds {words}; one of them must divide the columns" if used else "the header has one column"
    raise SourceError([Problem(file, line, "", shorten(header), message, _header_remedy(columns))])


def _line(line: str, delimiter: str, number: int, file: str) -> list[Cell]:
    try:
        cells = next(csv.reader([line], delimiter=delimiter, strict=True))
    except csv.Error:
        remedy = "close the quotes in this line; write two quotes for one inside"
        raise SourceError([Problem(file, number, "", shorten(line), "the quotes do not match", remedy)]) from None
    return [Cell(cell.strip()) for cell in cells]


def _headings(cells: Sequence[Cell], line: int, file: str, columns: Sequence[Column]) -> list[_Heading]:
    known = {column.name.casefold(): column for column in columns}
    problems: list[Problem] = []
    headings: list[_Heading] = []
    for cell in cells[:_COLUMN_LIMIT]:
        try:
            headings.append(_heading(cell.text, known, headings))
        except SourceError as error:
            key = cell.where or "header"
            problems += [Problem(file, line, key, cell.text, one.message, one.remedy) for one in error.problems]
    named = [_name_in(cell.text) for cell in cells]
    found = {heading.column.name for heading in headings} | {*named, *(COLUMNS.get(name, name) for name in named)}
    problems += [
        Problem(file, line, "", "", f"the column {column.name!r} is missing", _header_remedy(columns))
        for column in columns
        if column.required and column.name not in found
    ]
    if problems:
        raise SourceError(problems)
    return headings


def _heading(cell: str, known: dict[str, Column], before: list[_Heading]) -> _Heading:
    match = _HEADING.fullmatch(cell) if len(cell) <= _HEADING_LIMIT else None
    column = known.get(match["name"].strip().casefold()) if match else None
    if match is None or column is None:
        raise _stranger(_name_in(cell), known)
    if column in [heading.column for heading in before]:
        raise unread("this column is there twice", "keep one of the two")
    unit = match["unit"] or ""
    if column.kind is None and unit:
        raise unread("this column holds words and has no unit", f"write {column.name!r}")
    if column.kind is not None and unit not in column.kind.spellings:
        offered = ", ".join(column.kind.spellings)
        fault = f"{unit!r} is not a unit of {column.kind.name}" if unit else "this column needs a unit in brackets"
        meant = meant_unit(unit, column.kind)
        beside = next((heading.unit for heading in before if heading.column.kind is column.kind), column.kind.unit)
        hint = f"did you mean {meant}? " if meant else ""
        raise unread(fault, f"{hint}write '{column.name} ({beside})' (units: {offered})")
    return _Heading(column, unit)


def _stranger(name: str, known: dict[str, Column]) -> SourceError:
    new = COLUMNS.get(name, "")
    if new in known:
        return unread(*words_for_old(name, known[new].name))
    return unread("this is not a column of this list", _header_remedy(list(known.values())))


def _name_in(cell: str) -> str:
    """Return the name of the column that a heading means, so that one with a faulty unit is not called missing too."""
    return re.split(r"[(\[]", cell, maxsplit=1)[0].strip().casefold()


def _header_remedy(columns: Sequence[Column]) -> str:
    names = (f"{column.name} ({column.kind.unit})" if column.kind else column.name for column in columns)
    return f"the columns are: {', '.join(names)}"


def _body(body: Grid, headings: list[_Heading], file: str, found: Sequence[Problem]) -> Sheet:
    rows: list[dict[str, str]] = []
    problems = list(found)
    for number, cells in body:
        try:
            rows.append(_row(cells, headings, number, file))
        except SourceError as error:
            problems += error.problems
    if problems:
        raise SourceError(capped(sorted(problems)))
    units = {heading.column.name: heading.unit for heading in headings}
    return Sheet(file, tuple(rows), tuple(number for number, _ in body), units)


def _row(cells: Sequence[Cell], headings: list[_Heading], line: int, file: str) -> dict[str, str]:
    if len(cells) != len(headings):
        message = f"this row has {len(cells)} cells and the header has {len(headings)}"
        remedy = "write one cell for each column; a decimal comma also makes two cells of one number"
        raise SourceError([Problem(file, line, "", shorten(",".join(cell.text for cell in cells)), message, remedy)])
    problems: list[Problem] = []
    row: dict[str, str] = {}
    for cell, heading in zip(cells, headings, strict=True):
        key = f"{cell.where}, {heading.column.name}" if cell.where else heading.column.name
        try:
            row |= _value(cell, heading)
        except PacketError as error:
            problems += [Problem(file, line, key, cell.text, one.message, one.remedy) for one in error.problems]
    if problems:
        raise SourceError(problems)
    return row


def _value(cell: Cell, heading: _Heading) -> dict[str, str]:
    name = heading.column.name
    if not cell.text:
        if heading.column.required:
            raise unread("the cell is empty", "fill it")
        return {}
    if not heading.unit:
        return {name: cell.text}
    if "," in cell.text:
        raise unread("a comma is not a decimal sign here", f"write {cell.text.replace(',', '.', 1)!r}")
    if not is_fraction_of(heading.unit, cell.text):
        parse_number(cell.text)
    if cell.as_text:
        raise unread("the number is kept as text", "make the cell a number in the spreadsheet program")
    return {name: f"{cell.text} {heading.unit}"}
