"""The demo orders as shipped: real-sized, computed without a refusal, and showing what they are there to show."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from weld_packets.calculation.reach import spot_point
from weld_packets.calculation.results import RowResult
from weld_packets.model.order import ArcRow, Order
from weld_packets.processes.arc.operation import arc_row
from weld_packets.processes.spot.operation import spot_row
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def workspace() -> Workspace:
    return load_workspace(ROOT)


@pytest.fixture(scope="module")
def orders(workspace: Workspace) -> list[Order]:
    return [load_order(workspace, name).order for name in order_names(ROOT)]


@pytest.fixture(scope="module")
def results(workspace: Workspace, orders: list[Order]) -> list[RowResult]:
    return list(computed(workspace, orders))


def computed(workspace: Workspace, orders: list[Order]) -> Iterator[RowResult]:
    for row in (row for order in orders for row in order.rows):
        yield arc_row(row, workspace.shop) if isinstance(row, ArcRow) else spot_row(row, workspace.shop)


def test_patterns_are_of_real_size(orders: list[Order]) -> None:
    rows = [row for order in orders for row in order.rows]
    assert all(6 <= len(row.seams) <= 20 for row in rows if isinstance(row, ArcRow))
    assert all(12 <= len(row.spots) <= 80 for row in rows if not isinstance(row, ArcRow))


def test_every_row_is_computed_and_every_check_passes_or_says_why_not(results: list[RowResult]) -> None:
    verdicts = [verdict for result in results for group in result.settings for verdict in group.verdicts]
    verdicts += [verdict for result in results for verdict in result.verdicts]
    assert verdicts
    assert [verdict for verdict in verdicts if verdict.passed is False] == []
    assert {verdict.key for verdict in verdicts if verdict.passed is None} == {
        "schedule_standing",
        "three_sheets",
        "lap_edge",
        "cap_height",
    }


def test_each_order_but_the_first_follows_the_one_before(orders: list[Order]) -> None:
    names = order_names(ROOT)
    assert [order.previous_order for order in orders] == [None, *names[:-1]]


def test_the_second_order_keeps_one_program_and_changes_another(orders: list[Order]) -> None:
    first, second = ({row.name: row for row in order.rows} for order in orders[:2])
    assert first["Service door"].programs == second["Service door"].programs
    assert first["Base frame"].programs != second["Base frame"].programs
    assert "Back panel" not in first


def test_the_first_order_has_spots_on_an_upright_flange_and_seams_that_run_downwards(orders: list[Order]) -> None:
    rows = {row.name: row for row in orders[0].rows}
    door, strips = rows["Service door"], rows["Foot strips"]
    assert not isinstance(door, ArcRow)
    assert isinstance(strips, ArcRow)
    assert len({spot_point(spot)[2] for spot in door.spots}) > 1
    falls = [seam for seam in strips.seams if seam.path.pieces[-1].to[2] < seam.path.start[2]]
    assert {seam.position for seam in falls} == {"PG"}


def test_the_door_stays_the_same_from_the_first_order_to_the_second(orders: list[Order]) -> None:
    first, second = ({row.name: row for row in order.rows}["Service door"] for order in orders[:2])
    assert first == second


def test_the_third_order_brings_three_sheets_zinc_stainless_two_runs_and_inches(
    workspace: Workspace, orders: list[Order], results: list[RowResult]
) -> None:
    third = orders[2]
    assert third.show_first == "US customary"
    shown = [result for result in results if result.row in third.rows]
    assert {group.runs for result in shown for group in result.settings} == {1, 2}
    materials = {part.material for row in third.rows for part in row.parts}
    assert {"DX51D-Z275", "X5CrNi18-10"} <= materials <= set(workspace.shop.materials)
    sheets = {len(stack.sheets) for row in third.rows if not isinstance(row, ArcRow) for stack in row.stacks}
    assert sheets == {2, 3}
