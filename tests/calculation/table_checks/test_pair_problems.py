"""What the tables say about pairs: every figure with its source, every waiting place within reach."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.number_problems import pair_problems
from weld_packets.model.table import Table
from weld_packets.model.tables.machines import WaitingPlace
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def tables() -> dict[str, Table]:
    return dict(load_workspace(ROOT).approved.tables)


def first(table: Any, name: str, **changes: Any) -> Any:
    entries = getattr(table, name)
    return table.model_copy(update={name: (entries[0].model_copy(update=changes), *entries[1:])})


def test_the_shipped_tables_name_every_source(tables: dict[str, Table]) -> None:
    assert not [problem for table in tables.values() for problem in pair_problems(table)]


@pytest.mark.parametrize(
    ("name", "entries", "source", "keys"),
    [
        ("machines", "cells", "margin_source", ["cells[0].margin"]),
        ("machines", "robots", "keep_out_source", ["robots[0].keep out radius"]),
        ("machines", "robots", "waiting_place_source", ["robots[0].waiting place"]),
        ("machines", "guns", "change_times_source", ["guns[0].dressing time", "guns[0].cap change time"]),
    ],
)
def test_a_figure_without_its_source_is_reported(
    tables: dict[str, Table], name: str, entries: str, source: str, keys: list[str]
) -> None:
    found = list(pair_problems(first(tables[name], entries, **{source: None})))
    assert [problem.key for problem in found] == keys
    assert all(f"add '{source.replace('_', ' ')}'" in problem.remedy for problem in found)


def test_change_times_of_the_plant_and_of_inspections_need_a_source_too(tables: dict[str, Table]) -> None:
    plant = tables["plant"].model_copy(update={"change_times_source": None})
    assert [problem.key for problem in pair_problems(plant)] == [
        "wire change time", "contact tip change time", "cylinder change time"
    ]  # fmt: skip
    inspections: Any = tables["inspections"]
    bare = tuple(entry.model_copy(update={"stops_cell_source": None}) for entry in inspections.entries)
    assert len(list(pair_problems(inspections.model_copy(update={"entries": bare})))) == 2


def test_nothing_stated_needs_no_source(tables: dict[str, Table]) -> None:
    silent = first(tables["machines"], "robots", keep_out_radius=None, keep_out_source=None, waiting_place=None)
    assert not list(pair_problems(silent))


@pytest.mark.parametrize(("height", "refused"), [(1350, False), (1351, True)])
def test_a_waiting_place_is_within_the_reach_of_its_robot(
    tables: dict[str, Table], height: int, *, refused: bool
) -> None:
    place = WaitingPlace.model_validate({"unit": "mm", "at": ["450", "-850", str(height)]})  # base at -300, reach 1650
    machines: Any = tables["machines"]
    assert [str(each) for each in machines.robots[0].base] == ["450", "-850", "-300"]
    found = list(pair_problems(first(machines, "robots", waiting_place=place)))
    assert [problem.key for problem in found] == (["robots[0].waiting place"] if refused else [])
    if refused:
        assert "1651" in found[0].message
        assert "reaches 1650" in found[0].message
