"""The rows of a table go out to a list or workbook and come back as they were; nothing else of the table changes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from weld_packets.sources.tables.rows_export import Rows, write_rows
from weld_packets.sources.tables.tables import load_workspace

Run = Callable[..., Any]
BY_ROWS = ["spot-uncoated", "spot-stainless", "shades", "arc-co2-fillet-1.0", "spot-spacing-metric"]


def rows(root: Path, table: str) -> Any:
    return load_workspace(root).approved.tables[table]


@pytest.mark.parametrize("table", BY_ROWS)
@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_rows_that_go_out_come_back_as_they_were(
    workshop: Path, tmp_path: Path, run: Run, table: str, ending: str
) -> None:
    before = rows(workshop, table)
    file = tmp_path / f"chart.{ending}"
    assert run("tables", "export", table, str(file)).status == 0
    span = (
        [] if ending == "csv" else ["--sheet", "rows", "--range", f"A1:{'ABCDEFGHIJKLMNO'[len(before.columns) - 1]}40"]
    )
    answer = run("tables", "import", table, str(file), *span)
    assert (answer.status, answer.errors) == (0, "")
    assert rows(workshop, table) == before
    again = tmp_path / "again.csv"
    assert run("tables", "export", table, str(again)).status == 0
    if ending == "csv":
        assert again.read_bytes() == file.read_bytes()


def test_words_that_begin_like_a_formula_go_into_a_workbook_as_words(tmp_path: Path) -> None:
    write_rows(Rows({"id": "text", "size": "mm"}, (("=1+1", "2"),)), tmp_path / "chart.xlsx")
    kept = openpyxl.load_workbook(tmp_path / "chart.xlsx").active["A2:B2"][0]
    assert [(cell.value, cell.data_type) for cell in kept] == [("=1+1", "s"), (2, "n")]


def test_only_columns_and_rows_of_the_file_change(workshop: Path, tmp_path: Path, run: Run) -> None:
    path = workshop / "tables" / "spot_uncoated.yaml"
    before = path.read_text("utf-8")
    run("tables", "export", "spot-uncoated", str(tmp_path / "c.csv"))
    edited = (tmp_path / "c.csv").read_text("utf-8").replace("1.0,1.2,5,1.6", "1.0,1.2,5,1.5")
    (tmp_path / "c.csv").write_text(edited, encoding="utf-8")
    assert run("tables", "import", "spot-uncoated", str(tmp_path / "c.csv")).status == 0
    after = path.read_text("utf-8")
    assert after.partition("rows:\n")[0] == before.partition("rows:\n")[0]
    assert "  - [1.0, 1.2, 5, 1.5, 1.8, 11, 15, 7, 9]\n" in after


def test_rows_that_are_wrong_leave_the_table_as_it_is(workshop: Path, tmp_path: Path, run: Run) -> None:
    path = workshop / "tables" / "spot_uncoated.yaml"
    before = path.read_bytes()
    run("tables", "export", "spot-uncoated", str(tmp_path / "c.csv"))
    text = (tmp_path / "c.csv").read_text("utf-8").replace("1.0,1.2,5,1.6", "1.0,1.2,5,1600")
    (tmp_path / "c.csv").write_text(text, encoding="utf-8")
    answer = run("tables", "import", "spot-uncoated", str(tmp_path / "c.csv"))
    assert answer.status == 1
    assert "force from" in answer.errors
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("export", "spot-uncoted", "c.csv"), "did you mean 'spot-uncoated'?"),
        (("export", "hazards", "c.csv"), "has entries with keys, not rows under columns"),
        (("export", "spot-uncoated", "c.txt"), "end its name in .csv or .xlsx"),
        (("import", "spot-uncoated", "c.xlsx"), "add --sheet NAME --range A1:I20"),
        (("import", "spot-uncoated", "c.csv"), "there is no such file"),
    ],
)
def test_what_cannot_be_carried_is_reported(
    run: Run, tmp_path: Path, monkeypatch: Any, words: tuple[str, ...], expected: str
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = run("tables", *words)
    assert answer.status == 1
    assert expected in answer.errors


def test_no_file_is_written_over(run: Run, tmp_path: Path) -> None:
    (tmp_path / "c.csv").write_text("mine")
    assert "there is such a file already" in run("tables", "export", "shades", str(tmp_path / "c.csv")).errors
    assert (tmp_path / "c.csv").read_text("utf-8") == "mine"


def test_rows_in_a_file_of_their_own_are_edited_there(workshop: Path, tmp_path: Path, run: Run) -> None:
    run("tables", "export", "shades", str(workshop / "tables" / "shades.csv"))
    path = workshop / "tables" / "shades.yaml"
    head = path.read_text("utf-8").partition("columns:")[0]
    path.write_text(f"{head}rows: shades.csv\n", encoding="utf-8")
    assert run("tables", "export", "shades", str(tmp_path / "again.csv")).status == 0
    assert (tmp_path / "again.csv").read_bytes() == (workshop / "tables" / "shades.csv").read_bytes()
    assert "are in shades.csv" in run("tables", "import", "shades", str(tmp_path / "again.csv")).errors
