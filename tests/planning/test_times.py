"""Times of one part: welds, moves, both robots at once, then the change of the part."""

from dataclasses import replace
from math import hypot
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.planning.times import _wait_figure, operation_plan
from weld_packets.units import quantity


def seconds(plan: Any, key: str) -> float:
    return float(plan.figure(key).value.magnitude)


def test_an_arc_robot_welds_its_runs_with_their_overhead(line: Any) -> None:
    robot = operation_plan(line.frames(), line.approved()).robots[0]
    assert seconds(robot, "weld_time") == pytest.approx((20 + 2 * 2) + (10 + 1 * 2))


def test_moves_run_back_between_runs_and_on_to_the_next_seam(line: Any) -> None:
    robot = operation_plan(line.frames(), line.approved()).robots[0]
    assert seconds(robot, "move_time") == pytest.approx((100 + 200) / 100 + 3 * 1)


def test_times_of_moves_and_loading_are_known_to_a_tenth_as_estimates(line: Any) -> None:
    """Of 3 s of travel and 3 s of approaches each to a tenth; six starts of 2 s; loading for 30 s."""
    plan = operation_plan(line.frames(), line.approved())
    robot = plan.robots[0]
    assert robot.figure("move_time").spread == pytest.approx(hypot(3 / 1.1 - 3, 0.3), rel=1e-9)
    assert robot.figure("weld_time").spread == pytest.approx(hypot(0.4, 0.2))
    assert plan.figure("operation_time").spread == pytest.approx(hypot(0.1 * 30, robot.figure("robot_time").spread))


def test_an_operation_takes_as_long_as_its_slower_robot_and_the_change_of_the_part(line: Any) -> None:
    plan = operation_plan(line.frames(), line.approved())
    assert seconds(plan.robots[1], "robot_time") == 0
    assert seconds(plan, "operation_time") == pytest.approx(36 + 6 + 30)


def test_spots_take_their_sequence_and_the_gun_its_stroke(line: Any) -> None:
    first, second = operation_plan(line.doors(), line.approved()).robots
    assert seconds(first, "weld_time") == pytest.approx(6 * (0.5 + 2))
    assert seconds(first, "move_time") == pytest.approx(5 * 50 / 100 + 6)
    assert seconds(second, "weld_time") == pytest.approx((0.5 + 2) + (0.8 + 2))


def test_arc_on_is_held_against_the_planned_share(line: Any) -> None:
    for share, passed in (("60 %", True), ("41 %", False)):
        robot = operation_plan(line.frames(), line.approved(share=share)).robots[0]
        assert seconds(robot, "arc_share") == pytest.approx(100 * 30 / 72)
        assert [verdict.passed for verdict in robot.verdicts] == [passed]


def test_an_arc_that_burns_for_exactly_the_planned_share_passes(line: Any) -> None:
    """The arc burns for 30 s of 36 s of welding, 6 s of moves and 18 s for the change of the part."""
    approved = line.approved(share="50 %")
    quick = approved.cells["C1"].model_copy(update={"load_time": quantity(18, "s")})
    robot = operation_plan(line.frames(), replace(approved, cells={**approved.cells, "C1": quick})).robots[0]
    assert seconds(robot, "arc_share") == 50
    assert [verdict.passed for verdict in robot.verdicts] == [True]


def test_spot_robots_have_no_arc(line: Any) -> None:
    robot = operation_plan(line.doors(), line.approved()).robots[0]
    assert not robot.verdicts
    with pytest.raises(KeyError):
        robot.figure("arc_share")


@pytest.mark.parametrize(("waited", "text"), [(12345, "12"), (40, "0.040"), (0, "0")])
def test_a_wait_is_known_to_a_tenth_of_itself(waited: int, text: str) -> None:
    pair: Any = SimpleNamespace(waited=lambda _: waited, waits=(), is_best=True)
    wait = _wait_figure(pair, 0)
    assert (str(wait.text), wait.spread) == (text, pytest.approx(waited / 10_000))
