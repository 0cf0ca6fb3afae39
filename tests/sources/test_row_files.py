"""Rows of a table from a list or a workbook: the same as inline, and every slip reported with its line or cell."""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.styles import Font
from weld_packets.errors import SourceError
from weld_packets.model.tables.charts import SpotSpacing
from weld_packets.sources.digests import OrderDigests, file_digests
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).resolve().parents[2]
HEAD = "table: t-spacing\nkind: spot spacing\ntitle: Spacing\nsource: invented\nrevision: A\nform: points\n"
INLINE = "columns: {thickness: mm, pitch: in, overlap: mm}\nrows:\n  - [1.0, 0.75, 12]\n  - [1.5, 1.25, 14]\n"
CSV = "thickness (mm),pitch (in),overlap (mm)\n1.0,0.75,12\n1.5,1.25,14\n"
HEADER = ("thickness (mm)", "pitch (in)", "overlap (mm)")
BY_RANGE = "rows: {workbook: chart.xlsx, sheet: Chart, range: A1:C3}\n"
Edit = Callable[[Any], None]


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    """The demo's tables, in a workspace of their own."""
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    return tmp_path / "tables"


def write(tables: Path, rows: str) -> None:
    (tables / "t_spacing.yaml").write_text(HEAD + rows, encoding="utf-8")


def workbook(tables: Path, edit: Edit | None = None, name: str = "chart.xlsx") -> None:
    """A workbook with the rows of INLINE on its second sheet, edited."""
    book = Workbook()
    sheet = book.create_sheet("Chart")
    for row in (HEADER, (1.0, 0.75, 12), (1.5, 1.25, 14)):
        sheet.append(row)
    if edit:
        edit(sheet)
    book.save(tables / name)


def chart(tables: Path) -> SpotSpacing:
    return load_workspace(tables.parent).approved.spot_spacings["t-spacing"]


def refused(tables: Path) -> str:
    with pytest.raises(SourceError) as caught:
        load_workspace(tables.parent)
    return str(caught.value)


def test_rows_are_the_same_inline_in_a_list_and_in_a_workbook(tables: Path) -> None:
    write(tables, INLINE)
    inline = chart(tables)
    write(tables, "rows: chart.csv\n")
    (tables / "chart.csv").write_text(CSV, encoding="utf-8")
    assert chart(tables) == inline
    write(tables, BY_RANGE)
    (tables / "chart.csv").unlink()
    workbook(tables)
    assert chart(tables) == inline


def test_a_range_may_be_written_as_a_spreadsheet_program_copies_it(tables: Path) -> None:
    write(tables, BY_RANGE.replace("A1:C3", "$A$1:$C$3"))
    workbook(tables)
    assert len(chart(tables).rows) == 2


def test_a_result_that_the_file_keeps_is_read_in_place_of_its_formula(tables: Path) -> None:
    write(tables, BY_RANGE)
    workbook(tables, lambda sheet: sheet.__setitem__("B3", "=B2+0.5"))
    path = tables / "chart.xlsx"
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    kept = rb"<f>B2+0.5</f><v>1.25</v>"  # as a spreadsheet program saves it
    parts = {name: re.sub(rb"<f>B2\+0\.5</f><v ?/?>(</v>)?", kept, text) for name, text in parts.items()}
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    assert [row.pitch.magnitude for row in chart(tables).rows] == [0.75, 1.25]


def test_an_empty_row_in_the_range_is_passed_over(tables: Path) -> None:
    write(tables, BY_RANGE.replace("C3", "C9"))
    workbook(tables)
    assert len(chart(tables).rows) == 2


def test_the_noise_of_a_binary_number_is_not_read(tables: Path) -> None:
    write(tables, BY_RANGE)
    workbook(tables, lambda sheet: sheet.__setitem__("C3", 0.1 + 0.2 + 13.7))
    assert chart(tables).rows[1].overlap.magnitude == 14.0


@pytest.mark.parametrize(
    "number_format",
    ["General", "@", "0.00", "#.0#", "#,##0.000", '0.00" in"', "_(* #,##0.00_)", "[$-409]0.00;[Red]-0.00"],
)
def test_a_number_whose_format_shows_all_its_digits_is_read(tables: Path, number_format: str) -> None:
    write(tables, BY_RANGE)
    workbook(tables, shown_as(number_format))
    assert [row.pitch.magnitude for row in chart(tables).rows] == [0.75, 1.25]


def _merge(sheet: Any) -> None:
    sheet.merge_cells("C2:C3")


def _percent(sheet: Any) -> None:
    sheet["C2"].number_format = "0.0%"


def _hide(sheet: Any) -> None:
    sheet.row_dimensions[3].hidden = True


def _hide_column(sheet: Any) -> None:
    sheet.column_dimensions["B"].hidden = True


def _hide_columns_together(sheet: Any) -> None:
    sheet.column_dimensions.group("A", "B", hidden=True)


def _low(sheet: Any) -> None:
    sheet.row_dimensions[3].height = 1


def _all_low(sheet: Any) -> None:
    sheet.sheet_format.zeroHeight = True


def _narrow(sheet: Any) -> None:
    sheet.column_dimensions["B"].width = 0.5


def _struck(sheet: Any) -> None:
    sheet["B3"].font = Font(strike=True)


def _small_and_seen(sheet: Any) -> None:
    sheet.row_dimensions[3].height = 2
    sheet.column_dimensions["B"].width = 1
    sheet["B9"].font = Font(strike=True)


def shown_as(number_format: str) -> Edit:
    def edit(sheet: Any) -> None:
        sheet["B2"].number_format = number_format

    return edit


def to(cell: str, value: Any) -> Edit:
    return lambda sheet: sheet.__setitem__(cell, value)


@pytest.mark.parametrize(
    ("edit", "place", "words"),
    [
        (to("B3", "=B2*2"), ":3: B3", "the file has no result of this formula"),
        (_merge, ":3: C3", "this cell is merged with others"),
        (to("A2", datetime(2026, 1, 3, tzinfo=None)), ":2: A2", "a date or time is in this cell"),  # noqa: DTZ001
        (to("A2", "1.0"), ":2: A2, thickness = '1.0'", "the number is kept as text"),
        (to("A2", value=True), ":2: A2", "not TRUE or FALSE"),
        (to("A2", "#N/A"), ":2: A2", "there is an error in this cell"),
        (to("A2", "about 1"), ":2: A2, thickness = 'about 1'", "not a plain decimal number"),
        (to("C3", None), ":3: C3, overlap", "the cell is empty"),
        (_percent, ":2: C2", "formatted as per cent"),
        (_hide, ":3: A3", "in a hidden row or column"),
        (_hide_column, ":2: B2", "in a hidden row or column"),
        (_hide_columns_together, ":3: B3", "in a hidden row or column"),
        (_low, ":3: A3", "in a hidden row or column"),
        (_all_low, ":2: A2", "in a hidden row or column"),
        (_narrow, ":2: B2", "in a hidden row or column"),
        (_struck, ":3: B3", "this cell is struck through"),
        (shown_as("0"), ":2: B2", "does not show the"),
        (shown_as(";;;"), ":2: B2", "does not show the"),
        (shown_as('"9"0.00'), ":2: B2", "does not show the"),
        (shown_as('"-"0.00'), ":2: B2", "does not show the"),
        (shown_as("0.00,"), ":2: B2", "does not show the"),
        (shown_as("# ?/?"), ":2: B2", "does not show the"),
        (shown_as("0E+00"), ":2: B2", "does not show the"),
        (to("B1", "pitch (inch)"), ":1: B1 = 'pitch (inch)'", "'inch' is not a unit of length"),
        (to("B1", "pich (in)"), ":1: B1 = 'pich (in)'", "this is not a column of this list"),
        (to("B1", "pitch"), ":1: B1 = 'pitch'", "needs a unit in brackets"),
    ],
)
def test_a_cell_that_is_not_what_it_shows_is_reported_with_sheet_row_and_column(
    tables: Path, edit: Edit, place: str, words: str
) -> None:
    write(tables, BY_RANGE)
    workbook(tables, edit)
    message = refused(tables)
    assert f"tables/chart.xlsx, sheet Chart{place}" in message
    assert words in message


def test_a_row_or_column_that_is_small_and_seen_is_read(tables: Path) -> None:
    write(tables, BY_RANGE)
    workbook(tables, _small_and_seen)
    assert [row.pitch.magnitude for row in chart(tables).rows] == [0.75, 1.25]


@pytest.mark.parametrize("code", ["utf-8", "utf-16-le", "utf-16-be"])
def test_a_document_type_is_refused_in_whatever_code(tables: Path, code: str) -> None:
    write(tables, BY_RANGE)
    workbook(tables)
    with zipfile.ZipFile(tables / "chart.xlsx", "a") as archive:
        archive.writestr("xl/worksheets/other.xml", '<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'.encode(code))
    assert "has a document type" in refused(tables)


@pytest.mark.parametrize(
    ("rows", "place", "words"),
    [
        (
            "rows: {workbook: chart.xlsx, sheet: Chrt, range: A1:C3}\n",
            "tables/t_spacing.yaml:7: rows.sheet = 'Chrt'",
            "did you mean 'Chart'",
        ),
        (
            "rows: {workbook: chart.xlsx, sheet: Chart, range: A1-C3}\n",
            ":7: rows.range = 'A1-C3'",
            "not a range of cells",
        ),
        ("rows: {workbook: chart.xlsx, sheet: Chart, range: C3:A1}\n", "= 'C3:A1'", "ends before it begins"),
        ("rows: {workbook: chart.xlsx, sheet: Chart, range: $A$1}\n", "= '$A$1'", "not a range of cells"),
        ("rows: {workbook: chart.xlsx, sheet: Chart, range: A1:ZZ3}\n", "= 'A1:ZZ3'", "more than 50 columns"),
        ("rows: {workbook: chart.xlsx, sheet: Chart}\n", ":7: rows", "'range' of the workbook is missing"),
        ("rows: {workbok: chart.xlsx}\n", ":7: rows.workbok", "did you mean 'workbook'"),
        ("rows: {workbook: other.xlsx, sheet: Chart, range: A1:C3}\n", ":7: rows.workbook", "there is no such file"),
        ("rows: {workbook: ../chart.xlsx, sheet: Chart, range: A1:C3}\n", ":7: rows.workbook", "only the plain name"),
        ("rows: chart.xlsx\n", ":7: rows = 'chart.xlsx'", "sheet: Chart, range: A1:I20"),
        ("rows: chart.ods\n", ":7: rows = 'chart.ods'", "save it as CSV"),
        ("columns: {thickness: mm}\nrows: chart.csv\n", ":7: columns", "those of the file that 'rows' names"),
    ],
)
def test_a_file_that_is_named_wrongly_is_reported(tables: Path, rows: str, place: str, words: str) -> None:
    write(tables, rows)
    workbook(tables)
    message = refused(tables)
    assert place in message
    assert words in message


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        (CSV.replace("0.75", "0,75"), "chart.csv:2:", "this row has 4 cells and the header has 3"),
        (CSV.replace("0.75", "wide"), "chart.csv:2: pitch = 'wide'", "not a plain decimal number"),
        (
            CSV.replace(",overlap (mm)", "").replace(",12", "").replace(",14", ""),
            "chart.csv:1:",
            "'overlap' is missing",
        ),
        (CSV.replace("1.0,", "1e9,"), "chart.csv:2: rows[0].thickness", "outside"),
    ],
)
def test_a_slip_in_a_list_is_reported_once_with_its_line(tables: Path, text: str, place: str, words: str) -> None:
    write(tables, "rows: chart.csv\n")
    (tables / "chart.csv").write_text(text, encoding="utf-8")
    message = refused(tables)
    assert f"tables/{place}" in message
    assert words in message
    assert message.count("->") == 1


def test_what_two_rows_say_against_each_other_is_reported_with_their_line_of_the_list(tables: Path) -> None:
    from weld_packets.calculation.table_checks.table_problems import table_problems  # noqa: PLC0415

    write(tables, "rows: chart.csv\n")
    (tables / "chart.csv").write_text(CSV.replace("1.5,", "0.5,"), encoding="utf-8")
    workspace = load_workspace(tables.parent)
    [problem] = [workspace.placed(*each) for each in table_problems(workspace.approved)]
    assert (problem.file, problem.line) == ("tables/chart.csv", 3)


@pytest.mark.parametrize("name", ["old.csv", "old.xlsx", "old.ods"])
def test_a_list_or_workbook_that_nothing_names_is_reported(tables: Path, name: str) -> None:
    (tables / name).write_text("x")
    assert f"tables/{name}:\n    nothing names this file" in refused(tables)


def test_the_lock_of_an_open_workbook_is_no_file_of_the_plant(tables: Path) -> None:
    (tables / "~$chart.xlsx").write_text("x")
    assert load_workspace(tables.parent).approved.tables


def test_the_digests_of_sources_have_the_files_that_rows_are_in(tables: Path) -> None:
    write(tables, BY_RANGE)
    workbook(tables)
    (tables.parent / "instructions").mkdir()
    before, one = file_digests(tables.parent, "none"), OrderDigests(tables.parent).of("none")
    assert "tables/chart.xlsx" in before
    workbook(tables, to("A2", 1.1))
    after, other = file_digests(tables.parent, "none"), OrderDigests(tables.parent).of("none")
    assert {name for name in before if before[name] != after[name]} == {"tables/chart.xlsx"}
    assert one != other


def _zip(**parts: bytes) -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return data.getvalue()


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"no zip at all", "not a workbook that can be read"),
        (_zip(a=b"nothing of a workbook"), "not a workbook that can be read"),
        (_zip(a=b" " * 9_000_000), "too large"),
        (_zip(**{f"p{n}": b"" for n in range(600)}), "too large"),
        (_zip(a=b"<!DOCTYPE x [<!ENTITY y 'z'>]>"), "has a document type"),
        (_zip(a=b'<mergeCell ref="A1:XFD1048576"/>'), "merged over a very large range"),
    ],
)
def test_a_file_that_would_unfold_is_refused_before_it_does(tables: Path, data: bytes, words: str) -> None:
    write(tables, BY_RANGE)
    (tables / "chart.xlsx").write_bytes(data)
    assert words in refused(tables)
