"""A range of a workbook as a grid of cells: what a person sees there, and nothing that the file only seems to say."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
import zlib
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cached_property
from math import isfinite
from pathlib import Path
from typing import Any

from weld_packets.errors import Gathering, SourceError, unplaced, unread
from weld_packets.sources.reading.files import read_bytes, refused, unwanted
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.sheet import Cell, Grid

WORKBOOK_LIMIT = 2_000_000
"""Bytes that a workbook may have, as the other sources."""
_UNPACKED_LIMIT = 8_000_000
_PARTS_LIMIT = 500
_RANGE = re.compile(r"\$?([A-Z]{1,2})\$?([1-9][0-9]{0,4}):\$?([A-Z]{1,2})\$?([1-9][0-9]{0,4})")
_COLUMNS_LIMIT, _ROWS_LIMIT = 50, 2_000
_DOCUMENT_TYPES = [
    mark.encode(code) for mark in ("<!DOCTYPE", "<!ENTITY") for code in ("ascii", "utf-16-le", "utf-16-be")
]
_NARROW, _LOW = 1, 2
"""Characters and points below which a column or row shows nothing of what is in it."""
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([^"]*)"')
_BESIDE_DIGITS = re.compile(r"""_.|\*.|\[[^\]]*\]|\\[^\d+-]|"[^"\d+-]*"|\s""")
"""What a format of numbers puts beside the digits: room, fill, colour, country, words such as a unit."""
_SHOWN_DIGITS = re.compile(r"(?:[#0?]+,)?[#0?]+(?:\.([#0?]+))?")
_DIGITS = 15
"""What a spreadsheet program shows and keeps of a number; what is beyond is noise of its binary form."""


def read_range(path: Path, shown: str, sheet: str, cells: str) -> tuple[str, Grid]:
    """Return what messages call a range of a workbook, and its cells; the first row is the header.

    Raises SourceError for a file that is not a workbook or too large, an unknown sheet, a range that is not one, and
    with the problems of all cells: merged, hidden, dates, errors, formulas without a result.
    """
    edges = _edges(cells, shown)
    data = _checked(read_bytes(path, shown, WORKBOOK_LIMIT), shown)
    formulas = _sheet(data, shown, sheet, results=False)
    place = f"{shown}, sheet {sheet}"
    reader = _Range(formulas, data, shown, sheet)
    gathering = Gathering()
    grid: list[tuple[int, list[Cell]]] = []
    left, top, right, bottom = edges
    for row in range(top, bottom + 1):
        line: list[Cell] = []
        for column in range(left, right + 1):
            with gathering.step(place, row, formulas.cell(row, column).coordinate):
                line.append(reader.cell(row, column))
        if row == top or any(cell.text for cell in line):
            grid.append((row, line))
    gathering.finish()
    return place, grid


def _edges(cells: str, shown: str) -> tuple[int, int, int, int]:
    """Return left, top, right and bottom of a range as a person writes it."""
    from openpyxl.utils.cell import column_index_from_string  # noqa: PLC0415 - as in _sheet

    found = _RANGE.fullmatch(cells)
    if found is None:
        raise refused(
            shown, "this is not a range of cells", "write its first and last cell, such as A1:I20", value=cells
        )
    left, right = column_index_from_string(found[1]), column_index_from_string(found[3])
    top, bottom = int(found[2]), int(found[4])
    if right < left or bottom < top:
        raise refused(shown, "this range ends before it begins", "write its top left cell first", value=cells)
    if right - left >= _COLUMNS_LIMIT or bottom - top >= _ROWS_LIMIT:
        message = f"this range has more than {_COLUMNS_LIMIT} columns or {_ROWS_LIMIT:,} rows"
        raise refused(shown, message, "name only the cells of the table", value=cells)
    return left, top, right, bottom


def _checked(data: bytes, shown: str) -> bytes:
    """Return ``data`` where its parts are few, small and plain, before a library unfolds them."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
            if len(parts) > _PARTS_LIMIT:
                raise _too_large(shown)
            left = _UNPACKED_LIMIT
            for part in parts:
                with archive.open(part) as file:
                    text = file.read(left + 1)
                left -= len(text)
                if left < 0:
                    raise _too_large(shown)
                if any(mark in text for mark in _DOCUMENT_TYPES):
                    raise refused(shown, "a part of this file has a document type", "save it anew as .xlsx")
                if any(not _is_small(ref) for ref in _MERGED.findall(text)):
                    raise refused(shown, "cells are merged over a very large range", "unmerge them")
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OSError, EOFError, ValueError, zlib.error):
        raise _no_workbook(shown) from None
    return data


def _is_small(ref: bytes) -> bool:
    text = ref.decode("ascii", "replace")
    try:
        left, top, right, bottom = _edges(text, "")
    except SourceError:
        return False
    return (right - left + 1) * (bottom - top + 1) <= _COLUMNS_LIMIT * _ROWS_LIMIT


def _too_large(shown: str) -> SourceError:
    return refused(shown, "this workbook is too large", "copy the sheet with the table into a workbook of its own")


def _no_workbook(shown: str) -> SourceError:
    return refused(shown, "this is not a workbook that can be read", "save it as .xlsx, without a password")


def _sheet(data: bytes, shown: str, name: str, *, results: bool) -> Any:
    """Return a sheet with its formulas, or with the ``results`` that were last computed of them."""
    from openpyxl import load_workbook  # noqa: PLC0415 (0.2 s to load, and few plants need it)

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about what is no cell: drawings, rules of formatting
            book = load_workbook(io.BytesIO(data), data_only=results)
            names = list(book.sheetnames)
            found = book[name] if name in names else None
    except Exception:  # noqa: BLE001 (the library has no error of its own for a file that is not what it should be)
        raise _no_workbook(shown) from None
    if found is None or not hasattr(found, "merged_cells"):
        raise refused(shown, "the workbook has no sheet of this name", nearest(name, names), value=name)
    return found


class _Range:
    """Reads the cells of one sheet; what formulas gave is looked up when the first one is met."""

    def __init__(self, sheet: Any, data: bytes, shown: str, name: str) -> None:
        self._sheet = sheet
        self._source = (data, shown, name)
        self._results: Any = None

    def cell(self, row: int, column: int) -> Cell:
        """Return a cell; raise SourceError for one that does not hold what it shows."""
        cell = self._sheet.cell(row, column)
        where: str = cell.coordinate
        if any(where in merged for merged in self._sheet.merged_cells.ranges):
            raise unread("this cell is merged with others", "unmerge them and write the value into each")
        if self._hidden(cell):
            raise unread("this cell is in a hidden row or column", "show it, or leave it out of the range")
        if cell.value is not None and cell.font.strike:
            raise unread("this cell is struck through", "write what holds, without a line through it")
        value = cell.value
        if cell.data_type == "f":
            value = self._result(row, column)
        return Cell(_text(value, cell), where, as_text=isinstance(value, str))

    def _hidden(self, cell: Any) -> bool:
        row = self._sheet.row_dimensions[cell.row]
        low = self._sheet.sheet_format.zeroHeight if row.height is None else row.height < _LOW
        return bool(row.hidden or low or any(cell.column in each for each in self._hidden_columns))

    @cached_property
    def _hidden_columns(self) -> list[range]:
        """The columns that show nothing, hidden or too narrow; the file states neighbours of one look together."""
        looks = self._sheet.column_dimensions.values()
        return [range(each.min, each.max + 1) for each in looks if each.min and (each.hidden or each.width < _NARROW)]

    def _result(self, row: int, column: int) -> Any:
        if self._results is None:
            data, shown, name = self._source
            self._results = _sheet(data, shown, name, results=True)
        result = self._results.cell(row, column).value
        if result is None:
            remedy = "open the file in the spreadsheet program and save it, or write the value"
            raise unread("the file has no result of this formula", remedy)
        return result


def _shows(number_format: str, number: str) -> bool:
    """Return whether a format shows all digits of a number, without scaling it or putting others beside them."""
    plain = _BESIDE_DIGITS.sub("", number_format.partition(";")[0])
    if plain.lower() in ("general", "@"):
        return True
    found = _SHOWN_DIGITS.fullmatch(plain)
    return found is not None and Decimal(number) == round(Decimal(number), len(found[1] or ""))


def _text(value: Any, cell: Any) -> str:
    """Return what a person sees in a cell; raise SourceError where that is not what the file holds."""
    if value is None:
        return ""
    if isinstance(value, bool):
        raise unread("a number or a word is expected, not TRUE or FALSE", "write the number or the word")
    if isinstance(value, date | datetime | time | timedelta):
        raise unread("a date or time is in this cell", "format the cell as a number and write the number")
    if isinstance(value, int | float):
        if "%" in str(cell.number_format):
            raise unread(
                "the cell is formatted as per cent, so that it holds a hundredth of what it shows",
                "format it as a number and write what it should show",
            )
        number = format(value, f".{_DIGITS}g")
        if isfinite(value) and not _shows(str(cell.number_format), number):
            raise unread(
                f"the cell is formatted so that it does not show the {number} that it holds",
                "round the number, or format the cell so that it shows all digits and nothing else",
            )
        return number
    text = str(value).strip()
    if cell.data_type == "e" or text.startswith("#"):
        raise unread("there is an error in this cell", "correct its formula")
    if hidden := unwanted(text) or ("a line end" if "\n" in text else ""):
        raise SourceError([unplaced("", hidden, "there is a control or invisible character here", "delete it")])
    return text
