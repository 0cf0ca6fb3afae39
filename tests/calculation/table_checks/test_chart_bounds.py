"""Charts against physics, reported at the cell."""

from pathlib import Path

import pytest
from weld_packets.calculation.table_checks.chart_problems import bound_problems
from weld_packets.model.tables.charts import ArcChart, SpotChart
from weld_packets.sources.tables.tables import Workspace, load_workspace
from weld_packets.units import quantity

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def approved() -> Workspace:
    return load_workspace(ROOT)


def changed(workspace: Workspace, mark: str, **cells: tuple[float, str]) -> tuple[str, ...]:
    """Return the keys reported when the first row of a shipped chart says something else."""
    table = workspace.approved.tables[mark]
    assert isinstance(table, SpotChart | ArcChart)
    row = table.rows[0].model_copy(update={name: quantity(*value) for name, value in cells.items()})
    broken = table.model_copy(update={"rows": (row, *table.rows[1:])})
    return tuple(problem.key for problem in bound_problems(broken, workspace.approved.limits))


def test_the_shipped_charts_lie_within_physics(approved: Workspace) -> None:
    for table in approved.approved.tables.values():
        if isinstance(table, SpotChart | ArcChart):
            assert bound_problems(table, approved.approved.limits) == ()


@pytest.mark.parametrize(
    ("mark", "cell", "value", "key"),
    [
        ("spot-uncoated", "current_from", (4, "A"), "rows[0].current from"),
        ("spot-uncoated", "current_to", (200, "A"), "rows[0].current to"),
        ("spot-uncoated", "weld_time_to", (7, "s"), "rows[0].weld time to"),
        ("spot-uncoated", "force_from", (0.09, "kN"), "rows[0].force from"),
        ("arc-co2-fillet-1.2", "current_from", (3000, "A"), "rows[0].current from"),
        ("arc-co2-fillet-1.2", "travel_speed_to", (2, "m/s"), "rows[0].travel speed to"),
    ],
)
def test_a_cell_beyond_physics_is_reported_at_its_place(
    approved: Workspace, *, mark: str, cell: str, value: tuple[float, str], key: str
) -> None:
    assert changed(approved, mark, **{cell: value}) == (key,)


def test_the_source_of_the_bound_is_in_the_message(approved: Workspace) -> None:
    table = approved.approved.tables["spot-uncoated"]
    assert isinstance(table, SpotChart)
    low = table.rows[0].current_from
    assert low is not None
    row = table.rows[0].model_copy(update={"current_from": low / 1000})
    (problem,) = bound_problems(table.model_copy(update={"rows": (row,)}), approved.approved.limits)
    assert "RWMA" in problem.message
