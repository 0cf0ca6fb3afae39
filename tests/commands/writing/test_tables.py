import shutil
from pathlib import Path

import pytest
from weld_packets.errors import SourceError
from weld_packets.plant.orders import open_workspace

ROOT = Path(__file__).parents[3]


def test_the_shipped_tables_are_free_of_faults() -> None:
    assert open_workspace(ROOT).approved.spot_charts


def test_faults_of_charts_and_limits_are_reported_together_with_their_lines(tmp_path: Path) -> None:
    tables = shutil.copytree(ROOT / "tables", tmp_path / "tables")
    spoil(
        tables / "spot_uncoated.yaml",
        "[1.0, 1.2, 5, 1.6, 1.8, 11, 15,  7,  9]",
        "[1.1, 1.2, 5, 1.6, 1.8, 11, 15, 9, 7]",
    )
    spoil(tables / "limits.yaml", "lowest: 0.29 kN", "lowest: 9 kN")
    with pytest.raises(SourceError) as caught:
        open_workspace(tmp_path)
    placed = [(problem.file, problem.line > 1, problem.message) for problem in caught.value.problems]
    assert placed == [
        ("tables/limits.yaml", True, "the bound ends below its beginning"),
        ("tables/spot_uncoated.yaml", True, "the range ends below its beginning 9\N{NO-BREAK SPACE}kA"),
        (
            "tables/spot_uncoated.yaml",
            True,
            "a gap between this band and the one before it (over 0.8\N{NO-BREAK SPACE}mm up to 1\N{NO-BREAK SPACE}mm)",
        ),
    ]


def spoil(path: Path, good: str, bad: str) -> None:
    text = path.read_text("utf-8")
    assert good in text
    path.write_text(text.replace(good, bad), "utf-8")
