"""The rows of a table carried out to a list or workbook, and back into the table's file."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weld_packets.files import write_whole
from weld_packets.sources.folders import TABLES
from weld_packets.sources.reading.files import neighbour, read_text, refused
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.places import Document
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.rows import COUNTS, CSV, LEFT_OUT, WORDS, WORKBOOK, expand_rows, named_file, with_rows
from weld_packets.sources.tables.tables import document_of, read_table, record_of

_UNITLESS = (WORDS, COUNTS)
_ENDING = f"end its name in {CSV} or {WORKBOOK}"


@dataclass(frozen=True)
class Rows:
    """The header and the rows of a table as texts; an empty cell gives no value."""

    columns: dict[str, str]
    cells: tuple[tuple[str, ...], ...]

    @property
    def header(self) -> tuple[str, ...]:
        """The columns as a list names them, each with its unit."""
        return tuple(name if unit in _UNITLESS else f"{name} ({unit})" for name, unit in self.columns.items())


def table_file(root: Path, name: str) -> Path:
    """Return the file of the table of a name; raise SourceError where there is none."""
    known: dict[str, Path] = {}
    for path in sorted((root / TABLES).glob("[!.]*.yaml")):
        document, _ = document_of(path)
        known[str(document.tree.get("table", ""))] = path
    if name not in known:
        raise refused(TABLES, "there is no table of this name", nearest(name, known), value=name)
    return known[name]


def rows_of(path: Path) -> Rows:
    """Return the rows of a table; raise SourceError for a table that has none, or that is not right."""
    document, out_of_use = document_of(path)
    read_table(document, out_of_use, path.parent)
    record = record_of(document)
    if "columns" not in record.model_fields:
        kind = str(document.tree["kind"])
        message = f"a table of kind {kind!r} has entries with keys, not rows under columns"
        raise refused(f"{TABLES}/{path.name}", message, "edit it in its file")
    return _bare(expand_rows(with_rows(document, record, path.parent), record))


def _bare(document: Document) -> Rows:
    """Return the rows of a table with its cells spread over its columns, without their units."""
    columns: dict[str, str] = document.tree["columns"]
    rows = (
        tuple(row.get(name, "").removesuffix("" if unit in _UNITLESS else f" {unit}") for name, unit in columns.items())
        for row in document.tree["rows"]
    )
    return Rows(columns, tuple(rows))


def write_rows(rows: Rows, file: Path) -> None:
    """Write ``rows`` as a list or workbook; raise SourceError where the file is there already, or of another form."""
    ending = file.suffix.lower()
    if ending not in (CSV, WORKBOOK):
        raise refused(str(file), "rows are written to a CSV file or a workbook", _ENDING)
    if file.exists():
        raise refused(str(file), "there is such a file already", "move it away, or name another")
    if ending == CSV:
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows([rows.header, *rows.cells])
        content = text.getvalue().encode()
    else:
        packed = io.BytesIO()
        _workbook(rows).save(packed)
        content = packed.getvalue()
    write_whole(file, content, durable=True)


def _workbook(rows: Rows) -> Any:
    from openpyxl import Workbook  # noqa: PLC0415 - 0.2 s to load, and few plants need it

    book = Workbook()
    sheet = book.active
    sheet.title = "rows"
    units = list(rows.columns.values())
    sheet.append(rows.header)
    for row in rows.cells:
        sheet.append([_typed(text, unit) for text, unit in zip(row, units, strict=True)])
        for cell in sheet[sheet.max_row]:
            if cell.data_type == "f":  # words that begin with '=' are no formula
                cell.data_type = "s"
    sheet.freeze_panes = "A2"
    return book


def _typed(text: str, unit: str) -> float | int | str | None:
    """Return a cell as a spreadsheet program keeps it: a number as a number, nothing as nothing."""
    if not text:
        return None
    if unit == WORDS:
        return text
    return int(text) if text.isdigit() else float(text)


def with_new_rows(path: Path, source: str | dict[str, Any], folder: Path) -> str:
    """Return the text of a table's file with the rows of ``source``, a list or a range of a workbook in ``folder``.

    All else stays as it is written, except comments between the rows. Raises SourceError for a table with rows in a
    file of their own, and with all that is wrong with the new rows.
    """
    document, _ = document_of(path)
    shown = f"{TABLES}/{path.name}"
    record = record_of(document)
    if name := named_file(document.tree):
        raise refused(shown, f"the rows of this table are in {name}", "edit that file")
    if "columns" not in record.model_fields:
        raise refused(shown, "a table of this kind has no rows under columns", "edit it in its file")
    bare = {key: part for key, part in document.tree.items() if key != "columns"} | {"rows": source}
    rows = _bare(with_rows(Document(bare, document.places), record, folder))
    text = _replaced(read_text(path, shown), document, rows)
    read_table(read_yaml(text, shown), (), path.parent)
    return text


def _replaced(text: str, document: Document, rows: Rows) -> str:
    """Return ``text`` with ``columns`` and ``rows`` written anew where the former of them was."""
    lines = text.split("\n")
    heads = sorted(line for path, line in document.places.key_lines.items() if len(path) == 1)
    kept: list[str] = []
    starts = [document.places.key_lines[key] for key in (("columns",), ("rows",)) if key in document.places.key_lines]
    spans = [(start, next((head for head in heads if head > start), len(lines) + 1)) for start in starts]
    first = min(starts, default=len(lines))
    for number, line in enumerate(lines, start=1):
        if number == first:
            kept += _block(rows)
        if not any(start <= number < end and not _is_of_next(lines, number, end) for start, end in spans):
            kept.append(line)
    return "\n".join(kept).rstrip("\n") + "\n"


def _is_of_next(lines: Sequence[str], number: int, end: int) -> bool:
    """Say whether a line is a comment at the margin just above the next key, and so belongs to that."""
    return end <= len(lines) and all(line.startswith("#") for line in lines[number - 1 : end - 1])


def _block(rows: Rows) -> list[str]:
    columns = ", ".join(f"{name}: {unit}" for name, unit in rows.columns.items())
    units = list(rows.columns.values())
    cells = ([_written(text, unit) for text, unit in zip(row, units, strict=True)] for row in rows.cells)
    return [f"columns: {{{columns}}}", "rows:", *(f"  - [{', '.join(row)}]" for row in cells)]


def _written(text: str, unit: str) -> str:
    """Return a cell as YAML: words in quotes, nothing as the word for it."""
    if unit != WORDS:
        return text or LEFT_OUT
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def source_of(file: Path, sheet: str, cells: str) -> str | dict[str, Any]:
    """Return how a table would name ``file`` as its rows; raise SourceError where it lacks what a workbook needs."""
    neighbour(file.parent, file.name)
    if file.suffix.lower() != WORKBOOK:
        return file.name
    if not sheet or not cells:
        remedy = "add --sheet NAME --range A1:I20"
        raise refused(str(file), "a workbook needs the name of its sheet and the range", remedy)
    return {"workbook": file.name, "sheet": sheet, "range": cells}
