"""From orders and tables to blocks: the demo's own operations, and small ones with round numbers."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import WaitingPlace
from weld_packets.planning.order import plan_order
from weld_packets.planning.pair.courses import pair_of
from weld_packets.planning.pair.records import NotChecked, PairPlan
from weld_packets.planning.times import operation_plan
from weld_packets.plant.orders import Orders
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import quantity

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def orders() -> Orders:
    return Orders(load_workspace(ROOT))


def equipped(approved: ApprovedTables, *, margin: float = 20, radius: float = 40) -> ApprovedTables:
    """Return a shop whose robots have a radius and a waiting place 500 mm to the front and to the back."""
    robots = {
        mark: robot.model_copy(
            update={
                "keep_out_radius": quantity(radius, "mm"),
                "waiting_place": WaitingPlace.model_validate(
                    {"unit": "mm", "at": ["0", "-500" if mark in "AE" else "500", "0"]}
                ),
            }
        )
        for mark, robot in approved.robots.items()
    }
    cells = {mark: cell.model_copy(update={"margin": quantity(margin, "mm")}) for mark, cell in approved.cells.items()}
    return replace(approved, robots=robots, cells=cells)


def value(plan: Any, key: str) -> float:
    return float(plan.figure(key).value.magnitude)


def test_a_robot_leaves_its_waiting_place_welds_and_goes_back(line: Any) -> None:
    plan = operation_plan(line.frames(), equipped(line.approved()))
    assert isinstance(plan.pair, PairPlan)
    blocks = [started.block for started in plan.pair.timed[0]]
    assert [(block.weld, block.pass_number) for block in blocks] == [("S1", 1), ("S1", 2), ("S2", 1), ("", 0)]
    # 100 mm/s: 500 mm to S1, back 100 mm for its second pass, on 200 mm to S2, and hypot(400, 500) mm home
    moves = 5.0 + 1.0 + 2.0 + 6.403124
    assert value(plan.robots[0], "move_time") == pytest.approx(moves + 3 * 1, abs=1e-6)
    assert value(plan.robots[0], "weld_time") == pytest.approx(20 + 10 + 3 * 2)
    assert value(plan.robots[0], "robot_time") == pytest.approx(moves + 3 + 36, abs=1e-6)
    assert plan.pair.ends == pytest.approx(1000 * (moves + 39), abs=4)
    assert value(plan, "operation_time") == pytest.approx(moves + 39 + 30, abs=1e-6)


def test_half_of_what_a_weld_takes_besides_is_spent_before_it(line: Any) -> None:
    plan = operation_plan(line.frames(), equipped(line.approved()))
    assert isinstance(plan.pair, PairPlan)
    to_it, start, along, crater = plan.pair.timed[0][0].block.pieces
    assert (to_it.begins, to_it.ends) == (0, 5000)
    assert (start.start, start.end, start.ends - start.begins) == ((0, 0, 0), (0, 0, 0), 1000 + 1000)
    assert (along.start, along.end, along.ends - along.begins) == ((0, 0, 0), (100_000, 0, 0), 10_000)
    assert (crater.start, crater.ends - crater.begins) == ((100_000, 0, 0), 1000)


def test_spots_of_both_robots_that_lie_too_near_are_welded_one_after_the_other(line: Any) -> None:
    plan = operation_plan(line.doors(), equipped(line.approved(), radius=90))
    assert isinstance(plan.pair, PairPlan)
    assert plan.pair.interlocks
    assert plan.pair.nearest.apart >= 200_000
    waited = [value(robot, "wait_time") for robot in plan.robots]
    assert max(waited) > 0
    for index, robot in enumerate(plan.robots):
        assert value(robot, "wait_time") == pytest.approx(plan.pair.waited(index) / 1000)
        whole = sum(value(robot, key) for key in ("weld_time", "move_time", "wait_time"))
        assert value(robot, "robot_time") == pytest.approx(whole)
    assert value(plan, "operation_time") == pytest.approx(plan.pair.ends / 1000 + 30, abs=0.02)


@pytest.mark.parametrize(
    ("cell", "robot", "missing"),
    [
        ({"margin": None}, {}, ("margin of cell C1",)),
        ({}, {"keep_out_radius": None}, ("keep out radius of A",)),
        ({}, {"waiting_place": None}, ("waiting place of A",)),
        ({"margin": None}, {"keep_out_radius": None}, ("keep out radius of A", "margin of cell C1")),
    ],
)
def test_what_the_tables_lack_is_named_and_nothing_is_invented(
    line: Any, cell: dict[str, Any], robot: dict[str, Any], missing: tuple[str, ...]
) -> None:
    approved = equipped(line.approved())
    lacking = replace(
        approved,
        cells={**approved.cells, "C1": approved.cells["C1"].model_copy(update=cell)},
        robots={**approved.robots, "A": approved.robots["A"].model_copy(update=robot)},
    )
    plan = operation_plan(line.frames(), lacking)
    assert plan.pair == NotChecked(missing)
    verdict = plan.verdicts[0]
    assert verdict.passed is None
    assert verdict.text.endswith(f"the table of machines gives no {', no '.join(missing)}")
    with pytest.raises(KeyError):
        plan.robots[0].figure("wait_time")


def test_all_welds_on_one_robot_is_a_warning_with_who_idles(line: Any) -> None:
    frames, doors = (operation_plan(found, line.approved()) for found in (line.frames(), line.doors()))
    (idle,) = [verdict for verdict in frames.verdicts if verdict.key == "idle_robot"]
    assert (idle.text, idle.warns, idle.passed) == ("all welds are on A; B has none and idles", True, None)
    assert not [verdict for verdict in doors.verdicts if verdict.key == "idle_robot"]


def test_both_robots_never_weld_one_seam_at_once(line: Any) -> None:
    frames = line.frames()
    shared = frames.operation.seams[0].model_copy(update={"id": "S3", "robot": "B"})
    operation = frames.operation.model_copy(update={"seams": (*frames.operation.seams, shared)})
    group = replace(frames.settings[0], key="s3", robot="B", welds=("S3",))
    pair = pair_of(
        replace(frames, operation=operation, settings=(*frames.settings, group)), equipped(line.approved(), radius=20)
    )
    assert isinstance(pair, PairPlan)
    first = [each for each in pair.timed[0] if each.block.weld == "S1"]
    second = [each for each in pair.timed[1] if each.block.weld == "S3"]
    assert all(one.end <= other.start or other.end <= one.start for one in first for other in second)
    assert pair.nearest.apart >= 60_000


def test_a_pair_that_nothing_resolves_is_refused_at_its_operation(line: Any) -> None:
    approved = equipped(line.approved())
    near = WaitingPlace.model_validate({"unit": "mm", "at": ["350", "60", "0"]})
    blocked = replace(
        approved, robots={**approved.robots, "B": approved.robots["B"].model_copy(update={"waiting_place": near})}
    )
    with pytest.raises(OutOfRangeError) as refused:
        plan_order(line.order(5), (line.doors(), line.frames()), blocked)
    assert {problem.key for problem in refused.value.problems} == {"operations[1].robots"}
    assert "A comes within 60\N{NO-BREAK SPACE}mm of B at its waiting place" in refused.value.problems[0].message


def test_a_circle_is_welded_in_chords_and_what_they_miss_is_added_to_the_distance(orders: Orders) -> None:
    strips = orders.computed("lk-2041-service-module").results[1]
    pair = pair_of(strips, orders.approved)
    assert isinstance(pair, PairPlan)
    missed = 2 * 15_000 * (1 - cos(pi / 24))  # sleeves of 30 mm diameter on both robots, chords of 15 degrees
    assert pair.clearance.required == 140_000
    assert 0 <= pair.clearance.slack - missed - 2 < 1
    sleeve = next(each.block for each in pair.timed[0] if each.block.weld == "R1")
    chords = [piece for piece in sleeve.pieces if piece.start != piece.end][1:]
    assert len(chords) == 20  # from one side of the gusset round to the other, 300 degrees
    along = sum(piece.ends - piece.begins for piece in chords)
    group = next(group for group in strips.settings if "R1" in group.welds)
    speed = group.figure("travel_speed").value
    assert speed is not None
    length = 2 * pi * 15 * 300 / 360
    assert along == pytest.approx(1000 * length / speed.to("mm/s").magnitude, abs=2)


@pytest.mark.parametrize("slug", order_names(ROOT))
def test_the_demo_keeps_its_tools_apart_and_hardly_waits(orders: Orders, slug: str) -> None:
    for found in orders.computed(slug).results:
        pair = pair_of(found, orders.approved)
        assert isinstance(pair, PairPlan)
        assert pair.nearest.apart >= pair.clearance.kept >= 140_000
        assert pair.is_best
        alone = max(pair.busy(0), pair.busy(1))
        assert pair.ends <= 1.05 * alone


def test_the_tool_points_of_the_demo_as_it_was_met_at_the_tab(orders: Orders) -> None:
    """Both sides of one tab, 4 mm apart, were welded at the same time: now never together, by interlock."""
    frame = orders.computed("lk-2041-service-module").results[0]
    was = {"U2": "C1B", "U3": "C1A"}
    seams = tuple(seam.model_copy(update={"robot": was.get(seam.id, seam.robot)}) for seam in frame.operation.seams)  # type: ignore[union-attr]
    pair = pair_of(replace(frame, operation=frame.operation.model_copy(update={"seams": seams})), orders.approved)
    assert isinstance(pair, PairPlan)
    assert pair.interlocks
    assert pair.nearest.apart >= 150_000
    assert pair.ends > 1.05 * max(pair.busy(0), pair.busy(1))
