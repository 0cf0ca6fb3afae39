"""Tables as they are printed: units in the head of each column, bare numbers in the rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from weld_packets.errors import Gathering, Problem, SourceError
from weld_packets.model.tables import Table
from weld_packets.sources.reading.binding_words import nearest
from weld_packets.sources.reading.fields_at import keys_of, kind_of
from weld_packets.sources.reading.places import Document, KeyPath, Places, key_text
from weld_packets.units import is_fraction, meant_unit, parse_number

WORDS, COUNTS = "text", "number"
"""What is written in place of a unit over a column of words, and of numbers without a unit."""
_FRACTIONS = ("in", "ft")
"""Units of columns in which a cell may be a fraction, such as 3/16."""
LEFT_OUT = "none"
"""The cell of a column of numbers that gives no value."""


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
        raise SourceError([Problem("", 0, "", "", "one number or word is expected in a cell", "write it")])
    if unit == WORDS:
        return {name: cell}
    if cell == LEFT_OUT:
        return {}
    if not (unit in _FRACTIONS and is_fraction(cell)):
        parse_number(cell)
    return {name: cell if unit == COUNTS else f"{cell} {unit}"}
