"""Gauges of sheet that a plant states in a table of its own: read, cited, approved; refused where they cannot be."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.commands.writing.init import starter_files

SLUG = "sr-1-seed-tray-rack"
ORDER, MATERIALS = f"instructions/{SLUG}/order.yaml", "tables/materials.yaml"
GAUGES = "tables/gauges.yaml"
TABLE = """\
table: gauges-a1008
kind: sheet gauges
title: Cold rolled sheet by gauge
source: List of a supplier
revision: A
materials: [A1008-CS]
columns: {gauge: number, thickness: in}
rows:
  - [11, 0.12]
  - [20, 0.04]
"""
Change = tuple[str, str, str]
BY_GAUGE = ((ORDER, "thickness: 0.04 in", "thickness: 20 ga"), (ORDER, "thickness: 0.04 in", "thickness: 20 gauge"))
Answer = Callable[..., str]


@pytest.fixture
def answer(started: Callable[..., Path], capsys: Any) -> Answer:
    """Starts a plant with the table of gauges, changes some of its files, and returns what a command prints."""

    def answered(*words: str, changes: tuple[Change, ...] = (), status: int = 0) -> str:
        plant = started(changes, {GAUGES: TABLE})
        capsys.readouterr()
        assert main(["--root", str(plant), *words]) == status
        out, err = capsys.readouterr()
        return f"{out}{err}".replace("\N{NO-BREAK SPACE}", " ")

    return answered


def page(plant: Path, name: str) -> str:
    text = (plant / "site" / SLUG / f"{name}.html").read_text("utf-8")
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_a_gauge_is_the_thickness_that_the_table_says(answer: Answer) -> None:
    by_gauge = json.loads(answer("settings", SLUG, "--json", changes=BY_GAUGE))
    assert by_gauge == json.loads(answer("settings", SLUG, "--json"))


def test_the_pages_say_the_gauge_and_cite_its_row(answer: Answer, tmp_path: Path) -> None:
    answer("build", changes=(*BY_GAUGE, (ORDER, "thickness: 0.12 in", "thickness: 11 ga")))
    assert ", 20 ga; clean, dry" in page(tmp_path, "operation-2-prove-out")
    assert "0.12 in (3.05 mm), 11 ga of table gauges-a1008" in page(tmp_path, "operation-1-wps")
    cited = page(tmp_path, "sources").partition("gauges-a1008")[2].partition("</details>")[0]
    assert "11 ga" in cited
    assert "20 ga" in cited


def test_without_a_table_the_standard_gauge_is_named(answer: Answer, tmp_path: Path) -> None:
    other = (GAUGES, "materials: [A1008-CS]", "materials: [A653-G60]")
    second = (MATERIALS, "entries:", f"entries:\n{_entry('A653-G60')}")
    changes = (other, second, (ORDER, "thickness: 0.12 in", "thickness: 11 ga"))
    answer("build", changes=changes)
    text = page(tmp_path, "operation-1-wps")
    assert "0.1196 in" in text
    assert "11 ga of the manufacturers&#39; standard gauge" in text
    assert "gauges-a1008" not in page(tmp_path, "sources")


def test_a_table_of_gauges_is_to_be_approved_where_an_order_reads_it(answer: Answer) -> None:
    assert "gauges-a1008" in answer("check", changes=BY_GAUGE)
    assert "gauges-a1008" not in answer("check")


def test_a_gauge_of_coated_sheet_is_read_from_a_table_that_names_the_material(answer: Answer) -> None:
    coated = (MATERIALS, "base: low-carbon steel", "base: low-carbon steel\n    coating: hot-dip zinc")
    elsewhere = (GAUGES, "materials: [A1008-CS]", "materials: [A653-G60]")
    second = (MATERIALS, "entries:", f"entries:\n{_entry('A653-G60')}")
    refused = "thickness = '20 ga'"
    assert refused not in answer("check", changes=(coated, *BY_GAUGE), status=1), "the starter has no chart for zinc"
    assert refused in answer("check", changes=(coated, second, *BY_GAUGE, elsewhere), status=1)


def _entry(mark: str) -> str:
    text = starter_files("US customary", "both", "60")[MATERIALS].partition("entries:\n")[2]
    return text.replace("A1008-CS", mark, 1).rstrip("\n")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            (ORDER, "thickness: 0.04 in", "thickness: 16 ga"),
            ("components[0].thickness = '16 ga'", "the table 'gauges-a1008' has the numbers 11, 20"),
        ),
        (
            (ORDER, "thickness: 0.04 in", "thickness: 0.04 in\n        gauge: 20"),
            ("components[0].gauge", "a gauge is written as the thickness", "write 'thickness: 16 ga'"),
        ),
        ((GAUGES, "[A1008-CS]", "[A1008]"), ("materials[0] = 'A1008'", "there is no material of this name")),
        (
            (GAUGES, "[A1008-CS]", "[A1008-CS, A1008-CS]"),
            ("materials[1] = 'A1008-CS'", "this material is already named"),
        ),
        (
            ("tables/more.yaml", "", TABLE.replace("gauges-a1008", "more-gauges")),
            ("materials[0] = 'A1008-CS'", "the table 'gauges-a1008' already gives the gauges of this material"),
        ),
        ((GAUGES, "[20, 0.04]", "[11, 0.11]"), ("rows[1].gauge = '11'", "is in the table twice")),
        (
            (GAUGES, "[20, 0.04]", "[12, 0.12]"),
            ("rows[1].thickness = '0.12 in'", "is not thinner than gauge 11, 0.12 in"),
        ),
        (
            (GAUGES, "[20, 0.04]", "[20, 0.0503]"),
            ("rows[1].thickness = '0.0503 in'", "0.8 to 1.4 times the manufacturers' standard gauge, 0.0359 in"),
        ),
        (
            (GAUGES, "[20, 0.04]", "[20, 0.0287]"),
            ("rows[1].thickness = '0.0287 in'", "0.8 to 1.4 times the manufacturers' standard gauge, 0.0359 in"),
        ),
        ((GAUGES, "[20, 0.04]", "[31, 0.01]"), ("rows[1].gauge = '31'", "gauges of sheet are 3 to 30")),
    ],
)
def test_a_gauge_that_cannot_be_is_one_message(answer: Answer, change: Change, words: tuple[str, ...]) -> None:
    message = answer("check", changes=(change,), status=1)
    for each in words:
        assert each in message
    assert "1 problem" in message


@pytest.mark.parametrize("thickness", ["0.0502", "0.0288", "0.02872"])
def test_gauges_at_the_ends_of_what_is_believed_are_read(answer: Answer, thickness: str) -> None:
    answer("check", changes=((GAUGES, "[20, 0.04]", f"[20, {thickness}]"),))
