"""Tables: columns and rows as printed, and the messages for the writer of a broken table."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from weld_packets.errors import refusal
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import SpotSpacing
from weld_packets.sources.reading.places import Document
from weld_packets.sources.tables import tables
from weld_packets.sources.tables.tables import Workspace, kept_instruments, kept_plant, kept_records, load_workspace
from weld_packets.units import quantity

Refused = Callable[[Callable[[], object]], str]
ROOT = Path(__file__).resolve().parents[2]
CHART = """\
table: t-spacing
kind: spot spacing
title: Spacing for tests
source: invented
revision: A
form: points
columns: {thickness: mm, pitch: in, overlap: mm}
rows:
  - [1.0, 0.75, 12]
  - [1.5, 1e0, 14]
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A workspace with the demo's tables and one chart more."""
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    (tmp_path / "tables" / "t_spacing.yaml").write_text(CHART, encoding="utf-8")
    return tmp_path


def chart(root: Path) -> SpotSpacing:
    return load_workspace(root).approved.spot_spacings["t-spacing"]


def test_bare_cells_take_the_unit_of_their_column(root: Path) -> None:
    row = chart(root).rows[0]
    assert (row.thickness, row.pitch) == (quantity(1.0, "mm"), quantity(0.75, "in"))


def test_columns_may_stand_in_any_order(root: Path) -> None:
    first = chart(root)
    swapped = CHART.replace("thickness: mm, pitch: in", "pitch: in, thickness: mm")
    swapped = swapped.replace("1.0, 0.75", "0.75, 1.0").replace("1.5, 1e0", "1e0, 1.5")
    (root / "tables" / "t_spacing.yaml").write_text(swapped, encoding="utf-8")
    assert chart(root).rows == first.rows


def test_only_a_table_whose_text_changed_is_bound_again(root: Path) -> None:
    before = load_workspace(root)
    (root / "tables" / "t_spacing.yaml").write_text(CHART.replace("1e0, 14", "1e0, 15"), encoding="utf-8")
    after = load_workspace(root)
    assert after.approved.spot_spacings["t-spacing"].rows[1].overlap == quantity(15, "mm")
    assert after.contents["t-spacing"] != before.contents["t-spacing"]
    assert after.approved.plant is before.approved.plant


def test_rows_of_a_file_are_read_again_though_the_table_that_names_it_is_the_same(root: Path) -> None:
    head = CHART.partition("columns:")[0]
    (root / "tables" / "t_spacing.yaml").write_text(head + "rows: t.csv\n", encoding="utf-8")
    rows = root / "tables" / "t.csv"
    for overlap in (12, 13):
        rows.write_text(f"thickness (mm),pitch (in),overlap (mm)\n1.0,0.75,{overlap}\n", encoding="utf-8")
        assert chart(root).rows[0].overlap == quantity(overlap, "mm")


def test_what_pages_take_of_the_tables_binds_those_of_their_kinds_alone_and_each_text_once(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load_workspace(root)
    bound: list[str] = []
    bind = tables.bind

    def counted(document: Document, record: type[Table]) -> Table:
        bound.append(record.__name__)
        return bind(document, record)

    monkeypatch.setattr(tables, "bind", counted)
    machines, instruments = kept_instruments(root)
    assert (machines is not None, instruments is not None, len(kept_records(root)) > 3) == (True, True, True)
    assert bound == []
    for name in ("machines.yaml", "plant.yaml"):
        path = root / "tables" / name
        path.write_text(path.read_text("utf-8") + f"# of machines and instruments, seen by {root}\n", "utf-8")
    (root / "tables" / "t_spacing.yaml").write_text("kind: spot spacing # of no machines\n", "utf-8")
    assert kept_instruments(root) == (machines, instruments)
    assert bound == ["Machines"]


@pytest.mark.parametrize("written", ["kind: plant", 'kind: "plant"', "'kind': plant"])
def test_the_plant_is_found_by_its_kind_however_that_is_written(root: Path, written: str) -> None:
    path = root / "tables" / "plant.yaml"
    path.write_text(path.read_text("utf-8").replace("kind: plant", written), "utf-8")
    found = kept_plant(root)
    assert found is not None
    assert found.name == load_workspace(root).approved.plant.name
    path.unlink()
    assert kept_plant(root) is None


def test_a_cell_that_says_none_leaves_its_value_out(root: Path) -> None:
    text = CHART.replace("columns: {", "columns: {over: mm, ").replace("[1", "[none, 1")
    (root / "tables" / "t_spacing.yaml").write_text(text, encoding="utf-8")
    assert chart(root).rows[0].over is None


BROKEN = [
    ("short row", "[1.0, 0.75, 12]", "[1.0, 0.75]", 9, "rows[0]", "has 2 cells and there are 3 columns"),
    ("long row", "[1.5, 1e0, 14]", "[1.5, 1e0, 14, 1]", 10, "rows[1]", "has 4 cells"),
    ("unknown column", "pitch: in", "pich: in", 7, "columns.pich", "did you mean 'pitch'?"),
    ("repeated column", "pitch: in", "thickness: in", 7, "columns.thickness", "already given on line 7"),
    ("unit of another kind", "pitch: in", "pitch: kA", 7, "columns.pitch = 'kA'", "not a unit of length"),
    ("no unit", "pitch: in", "pitch: number", 7, "columns.pitch = 'number'", "not a unit of length"),
    ("word in a cell", "0.75", "wide", 9, "rows[0].pitch = 'wide'", "not a plain decimal number"),
    ("unit in a cell", "0.75", "0.75 in", 9, "rows[0].pitch = '0.75 in'", "not a plain decimal number"),
    ("list in a cell", "0.75", "[0.75]", 9, "rows[0].pitch", "one number or word"),
    ("time of day in a cell", "0.75", "1:30", 9, "rows[0].pitch = '1:30'", "not a plain decimal number"),
    ("absurd cell", "[1.0,", "[1e9,", 9, "rows[0].thickness", "outside"),
    ("negative thickness", "[1.0,", "[-1.0,", 9, "rows[0].thickness", "outside"),
    ("missing value", "pitch: in, overlap: mm", "pitch: in, over: mm", 9, "rows[0].overlap", "is missing"),
    ("unknown kind", "kind: spot spacing", "kind: spot spacings", 2, "kind = 'spot spacings'", "mean 'spot spacing'?"),
    ("kind as a list", "kind: spot spacing", "kind: [spot spacing]", 1, "", "does not say its kind"),
    ("no columns", "columns: {thickness: mm, pitch: in, overlap: mm}\n", "", 1, "columns", "is missing"),
    ("no rows", "rows:\n  - [1.0, 0.75, 12]\n  - [1.5, 1e0, 14]\n", "rows: []\n", 8, "rows", "at least 1 value"),
    ("unknown form", "form: points", "form: lines", 6, "form = 'lines'", "allowed: bands, points"),
    ("no table name", "table: t-spacing\n", "", 1, "table", "is missing"),
    ("approval by nobody", "revision: A", "revision: A\napproved: {on: 2026-01-01}", 6, "approved.by", "is missing"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"), [case[1:] for case in BROKEN], ids=[c[0] for c in BROKEN]
)
def test_a_broken_table_is_reported_with_file_line_and_key(  # noqa: PLR0917 - one case is one line
    root: Path, refused: Refused, old: str, new: str, line: int, key: str, words: str
) -> None:
    assert old in CHART
    (root / "tables" / "t_spacing.yaml").write_text(CHART.replace(old, new), encoding="utf-8")
    message = refused(lambda: load_workspace(root))
    assert f"tables/t_spacing.yaml:{line}:{f' {key}' if key else ''}" in message
    assert words in message


def edit(root: Path, name: str, old: str, new: str) -> None:
    path = root / "tables" / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("machines.yaml", "equipment: PS-C1A", "equipment: PS-X", "there is no power source or gun of this name"),
        ("machines.yaml", "robots: [C1A, C1B]", "robots: [C1A, C2B]", "this robot says that it is in cell 'C2'"),
        ("machines.yaml", "robots: [C1A, C1B]", "robots: [C1A, C1X]", "there is no robot of this name"),
        ("machines.yaml", "- id: C1B", "- id: C1A", "this entry is already named in tables/machines.yaml on line"),
        ("spot_uncoated.yaml", "spacing: spot-", "spacing: spat-", "there is no spot spacing table of this name"),
        ("spot_uncoated.yaml", "also: [spot-", "also: [spat-", "there is no spot spacing table of this name"),
        ("spot_uncoated.yaml", "hold from: spot-", "hold from: spat-", "there is no spot chart of this name"),
        ("arc_co2_fillet_1_0.yaml", "gas: CO2", "gas: CO3", "did you mean 'CO2'?"),
        ("wires.yaml", "- id: G3Si1-1.0", "- id: G3Si1-0.8", "this entry is already named"),
        ("wires.yaml", "gases: [CO2, M21]", "gases: [CO2, M22]", "there is no gas of this name"),
    ],
)
def test_a_name_that_leads_nowhere_or_is_twice_is_reported(  # noqa: PLR0917 - one case is one line
    root: Path, refused: Refused, name: str, old: str, new: str, words: str
) -> None:
    edit(root, name, old, new)
    assert words in refused(lambda: load_workspace(root))


def test_a_third_robot_in_a_cell_is_refused(root: Path, refused: Refused) -> None:
    """Every step speaks of both robots: nobody would stop a third one, or see that it is at home."""
    edit(root, "machines.yaml", "    cell: C2\n    side: A", "    cell: C1\n    side: A")
    edit(root, "machines.yaml", "robots: [C2A, C2B]", "robots: [C2B, C2B]")
    message = refused(lambda: load_workspace(root))
    assert "cell 'C1' already has its pair of robots, C1A and C1B" in message


def test_a_robot_that_its_cell_does_not_name_is_one_mistake(root: Path, refused: Refused) -> None:
    edit(root, "machines.yaml", "robots: [C1A, C1B]", "robots: [C1A, C2B]")
    assert "already has its pair" not in refused(lambda: load_workspace(root))


def test_a_missing_kind_of_table_is_reported(root: Path, refused: Refused) -> None:
    (root / "tables" / "faults.yaml").unlink()
    assert "there is no table of kind 'faults'" in refused(lambda: load_workspace(root))


def test_two_tables_of_one_name_are_reported(root: Path, refused: Refused) -> None:
    shutil.copy(root / "tables" / "t_spacing.yaml", root / "tables" / "z.yaml")
    message = refused(lambda: load_workspace(root))
    assert "tables/z.yaml:1: table = 't-spacing'" in message
    assert "tables/t_spacing.yaml is already a table of this name" in message


def test_two_tables_of_a_kind_that_is_alone_are_reported(root: Path, refused: Refused) -> None:
    shutil.copy(root / "tables" / "gases.yaml", root / "tables" / "more_gases.yaml")
    edit(root, "more_gases.yaml", "table: gases", "table: more-gases")
    assert "tables/gases.yaml is already the table of this kind" in refused(lambda: load_workspace(root))


def test_the_faults_of_all_tables_are_reported_at_once(root: Path, refused: Refused) -> None:
    edit(root, "gases.yaml", "revision:", "revison:")
    edit(root, "caps.yaml", "title:", "titel:")
    message = refused(lambda: load_workspace(root))
    assert "tables/gases.yaml" in message
    assert "tables/caps.yaml" in message


def test_a_table_with_another_ending_is_not_passed_over_in_silence(root: Path, refused: Refused) -> None:
    (root / "tables" / "extra.yml").write_text("x", encoding="utf-8")
    assert "tables/extra.yml:" in refused(lambda: load_workspace(root))
    (root / "tables" / "extra.yml").rename(root / "tables" / "extra.YAML")
    assert "tables/extra.YAML:" in refused(lambda: load_workspace(root))


def test_a_hidden_file_is_no_table_as_a_build_does_not_see_it(root: Path) -> None:
    (root / "tables" / "t_spacing.yaml").rename(root / "tables" / ".t_spacing.yaml")
    (root / "tables" / "._plant.yaml").write_bytes(b"\x00\x05\x16\x07")
    assert "t-spacing" not in load_workspace(root).approved.spot_spacings


def test_a_folder_without_tables_is_reported(tmp_path: Path, refused: Refused) -> None:
    assert "there is no such folder" in refused(lambda: load_workspace(tmp_path))


def test_a_later_refusal_finds_its_line_from_its_key(root: Path) -> None:
    workspace: Workspace = load_workspace(root)
    problem = refusal("gap", "close it", key="rows[1].pitch").problems[0]
    placed = workspace.placed("t-spacing", problem)
    assert (placed.file, placed.line) == ("tables/t_spacing.yaml", 10)
