"""A tolerance of the contact distance leaves at least one mark of the gauge on either side of its target."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.number_problems import number_problems
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import kinds
from weld_packets.units.grammar import parse

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def plant() -> Any:
    return load_workspace(ROOT).approved.plant


def with_tolerance(plant: Any, first: str, tolerance: str | None) -> Any:
    length = None if tolerance is None else parse(tolerance, kinds.SIZE)
    return plant.model_copy(update={"show_first": first, "contact_distance_tolerance": length})


@pytest.mark.parametrize(
    ("first", "tolerance", "step"),
    [("metric", "0.99 mm", "1 mm"), ("US customary", "0.06 in", "0.0625 in"), ("US customary", "1.5 mm", "0.0625 in")],
)
def test_a_tolerance_below_a_mark_of_the_gauge_is_refused_by_its_key(
    plant: Any, first: str, tolerance: str, step: str
) -> None:
    (problem,) = number_problems(with_tolerance(plant, first, tolerance))
    assert (problem.key, problem.value) == ("contact distance tolerance", tolerance)
    assert f"marks every {step}:" in problem.message.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("first", "tolerance"),
    [("metric", "1 mm"), ("US customary", "1/16 in"), ("US customary", "0.0625 in"), ("metric", None)],
)
def test_a_mark_or_more_on_either_side_is_good(plant: Any, first: str, tolerance: str | None) -> None:
    assert not list(number_problems(with_tolerance(plant, first, tolerance)))
