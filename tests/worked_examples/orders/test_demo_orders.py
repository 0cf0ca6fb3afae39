"""The demo orders as shipped: real-sized, computed without a refusal, and showing what they are there to show."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from weld_packets.calculation.results import OperationResult
from weld_packets.model.order import Order
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.operation import spot_operation, spot_point
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def workspace() -> Workspace:
    return load_workspace(ROOT)


@pytest.fixture(scope="module")
def orders(workspace: Workspace) -> list[Order]:
    return [load_order(workspace, name).order for name in order_names(ROOT)]


@pytest.fixture(scope="module")
def results(workspace: Workspace, orders: list[Order]) -> list[OperationResult]:
    return list(computed(workspace, orders))


def computed(workspace: Workspace, orders: list[Order]) -> Iterator[OperationResult]:
    for operation in (operation for order in orders for operation in order.operations):
        yield (
            FAMILY.compute(operation, workspace.approved)
            if isinstance(operation, ArcOperation)
            else spot_operation(operation, workspace.approved)
        )


def test_patterns_are_of_real_size(orders: list[Order]) -> None:
    operations = [operation for order in orders for operation in order.operations]
    assert all(6 <= len(operation.seams) <= 20 for operation in operations if isinstance(operation, ArcOperation))
    assert all(12 <= len(operation.spots) <= 80 for operation in operations if not isinstance(operation, ArcOperation))


def test_every_operation_is_computed_and_every_check_passes_or_says_why_not(results: list[OperationResult]) -> None:
    verdicts = [verdict for result in results for group in result.settings for verdict in group.verdicts]
    verdicts += [verdict for result in results for verdict in result.verdicts]
    assert verdicts
    assert [verdict for verdict in verdicts if verdict.passed is False] == []
    assert {verdict.key for verdict in verdicts if verdict.passed is None} == {
        "chart_standing",
        "three_sheets",
        "lap_edge",
        "cap_height",
        "duty_cycle",  # LK-2055, operation 5, at the longest weld time
    }


def test_each_order_but_the_first_follows_the_one_before(orders: list[Order]) -> None:
    names = order_names(ROOT)
    assert [order.previous_order for order in orders] == [None, *names[:-1]]


def test_the_second_order_keeps_one_program_and_changes_another(orders: list[Order]) -> None:
    first, second = ({operation.name: operation for operation in order.operations} for order in orders[:2])
    assert first["Service door"].programs == second["Service door"].programs
    assert first["Base frame"].programs != second["Base frame"].programs
    assert "Back panel" not in first


def test_the_first_order_has_spots_on_an_upright_flange_and_seams_that_run_downwards(orders: list[Order]) -> None:
    operations = {operation.name: operation for operation in orders[0].operations}
    door, strips = operations["Service door"], operations["Foot strips"]
    assert not isinstance(door, ArcOperation)
    assert isinstance(strips, ArcOperation)
    assert len({spot_point(spot)[2] for spot in door.spots}) > 1
    falls = [seam for seam in strips.seams if seam.path.pieces[-1].to[2] < seam.path.start[2]]
    assert {seam.position for seam in falls} == {"PG"}


def test_the_door_stays_the_same_from_the_first_order_to_the_second(orders: list[Order]) -> None:
    first, second = (
        {operation.name: operation for operation in order.operations}["Service door"] for order in orders[:2]
    )
    assert first == second


def test_the_third_order_brings_three_sheets_zinc_stainless_two_runs_and_inches(
    workspace: Workspace, orders: list[Order], results: list[OperationResult]
) -> None:
    third = orders[2]
    assert third.show_first == "US customary"
    shown = [result for result in results if result.operation in third.operations]
    assert {group.pass_count for result in shown for group in result.settings} == {1, 2}
    materials = {part.material for operation in third.operations for part in operation.components}
    assert {"DX51D-Z275", "X5CrNi18-10"} <= materials <= set(workspace.approved.materials)
    sheets = {
        len(stack.sheets)
        for operation in third.operations
        if not isinstance(operation, ArcOperation)
        for stack in operation.stacks
    }
    assert sheets == {2, 3}
