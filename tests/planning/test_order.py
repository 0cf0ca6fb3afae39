"""The plan of an order: pace of the line, consumables over the run, and what falls due when."""

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.inspection import Inspection
from weld_packets.planning.order import MAXIMUM_PARTS, plan_order
from weld_packets.units import magnitude, quantity


def amount(use: Any, key: str) -> float:
    return float(use.figure(key).value.magnitude)


def test_cells_run_beside_each_other_and_the_slowest_ends_the_run(line: Any) -> None:
    plan = plan_order(line.order(101), (line.frames(), line.doors()), line.approved())
    operations = [float(operation.figure("operation_time").value.magnitude) for operation in plan.operations]
    assert plan.bottleneck == "frames"
    assert operations[0] > operations[1]
    assert amount(plan, "run_duration") == pytest.approx(101 * operations[0])
    assert [figure.key for figure in plan.figures] == ["run_duration"]
    assert plan.figure("run_duration").unit == "h"
    assert "its own component of every part in its own cell, and all cells run beside each other" in plan.model


def test_operations_in_one_cell_follow_each_other(line: Any) -> None:
    plan = plan_order(line.order(10), (line.frames(), line.frames(), line.doors()), line.approved())
    of_one = amount(plan.operations[0], "operation_run")
    assert amount(plan, "run_duration") == pytest.approx(2 * of_one)
    assert "their sum counts" in plan.figure("run_duration").trace[0].origin
    assert "those of one cell follow each other there, each with all its parts, and all cells run" in plan.model
    assert "own cell" not in plan.model


def test_an_order_of_one_part_takes_one_pass_and_changes_nothing(line: Any) -> None:
    plan = plan_order(line.order(1), (line.frames(), line.doors(welds=2)), line.approved())
    assert amount(plan, "run_duration") == pytest.approx(amount(plan.operations[0], "operation_time"))
    assert not plan.events
    assert plan.operations[0].not_counted == ()


def test_changes_and_dressings_stop_the_cell_for_as_long_as_the_tables_say(line: Any) -> None:
    approved = line.approved()
    plant = approved.plant.model_copy(
        update={"wire_change_time": quantity(10, "min"), "change_times_source": "stopwatch"}
    )
    gun = approved.guns["G"].model_copy(update={"dressing_time": quantity(30, "s")})
    timed = replace(approved, plant=plant, guns={"G": gun})
    plan = plan_order(line.order(10), (line.frames(), line.doors(welds=5)), timed)
    frames, doors = plan.operations
    assert amount(frames, "stops_time") == pytest.approx(3 * 600)
    assert frames.not_counted == ("change of gas, C1",)
    assert amount(frames, "operation_run") == pytest.approx(10 * amount(frames, "operation_time") + 1800)
    dressings = {use.robot: amount(use, "dressings") for use in plan.uses if use.cell == "C2"}
    assert amount(doors, "stops_time") == pytest.approx(30 * sum(dressings.values()))
    assert sum(dressings.values()) > 0


def test_a_stop_that_no_table_gives_a_time_for_is_named_as_not_counted(line: Any) -> None:
    plan = plan_order(line.order(9), (line.frames(),), line.approved())
    assert amount(plan.operations[0], "stops_time") == 0
    assert plan.operations[0].not_counted == ("change of wire, A",)
    assert "Not counted: waits for the other robot (frames); change of wire, A (frames); set-up" in plan.model


@pytest.mark.parametrize(
    ("often", "times"),
    [({"after_parts": 20}, 5), ({"interval": quantity(1, "h")}, 2), ({}, 1), ({"after_parts": 101}, 0)],
)
def test_in_process_inspection_stops_the_cell_as_often_as_it_is_due(
    line: Any, often: dict[str, Any], times: int
) -> None:
    check = Inspection.model_construct(
        processes=("135",), stage="in process", what="Look", stops_cell_for=quantity(2, "min"), **often
    )
    other = check.model_copy(update={"processes": ("21",)})
    at_coupon = check.model_copy(update={"stage": "coupon"})
    approved = replace(line.approved(), inspections=(check, other, at_coupon))
    plan = plan_order(line.order(100), (line.frames(),), approved)
    assert amount(plan.operations[0], "stops_time") == pytest.approx(times * 120)


def test_wire_gas_and_tips_are_summed_over_the_run_and_changed_between_parts(line: Any) -> None:
    plan = plan_order(line.order(10), (line.frames(),), line.approved())
    wire, tip, gas = plan.uses
    assert (wire.what, tip.what, gas.what) == ("Wire", "Contact tip", "Gas")
    assert (amount(wire, "per_part"), amount(wire, "over_run")) == (pytest.approx(0.3), pytest.approx(3.3))
    assert (amount(wire, "parts_between"), amount(wire, "changes")) == (3, 3)
    assert amount(tip, "over_run") == pytest.approx(11 * 30 / 3600)
    assert (gas.robot, amount(gas, "over_run"), amount(gas, "changes")) == ("", 110, 1)
    assert [amount(use, "in_prove_out") for use in plan.uses] == [pytest.approx(0.3), 30, 10]
    assert [(event.part_number, event.supply) for event in plan.events] == [
        (2, "Wire"), (5, "Wire"), (8, "Wire"), (9, "Gas"),
    ]  # fmt: skip
    assert plan.events[0].basis.replace("\N{NO-BREAK SPACE}", " ") == (
        "0.300 kg a part; one spool 1 kg (table of wires: G3Si1); the prove-out takes one first-off part; new"
    )


def _with_spool(line: Any, kilograms: int) -> Any:
    approved = line.approved()
    approved.wires["W10"] = approved.wires["W10"].model_copy(update={"spool": quantity(kilograms, "kg")})
    return approved


def test_a_new_spool_brings_a_new_contact_tip(line: Any) -> None:
    """130 parts of 30 s are 65 min of arc time; a contact tip lasts an hour, but a spool of 1 kg only three parts."""
    plan = plan_order(line.order(130), (line.frames(),), line.approved())
    wire, tip, gas = plan.uses
    assert (amount(wire, "changes"), amount(tip, "changes")) == (43, 0)
    assert not [event for event in plan.events if event.supply == "Contact tip"]
    said = "besides, a change of wire brings a new one, 43 times in this run"
    assert [[remark.text for remark in use.figure("changes").remarks] for use in (wire, tip, gas)] == [[], [said], []]
    # changed after part 128 for the last time: two parts of 120 to which a contact tip lasts
    assert amount(tip, "used_at_end") == pytest.approx(2 / 120)


def test_a_contact_tip_is_changed_between_spools_that_outlast_it_and_not_with_one(line: Any) -> None:
    """A spool of 42 kg lasts 140 parts, a contact tip 120, the first of each also the first-off part."""
    plan = plan_order(line.order(400), (line.frames(),), _with_spool(line, 42))
    due = [(event.supply, event.part_number) for event in plan.events if event.supply in {"Wire", "Contact tip"}]
    assert due == [("Contact tip", 119), ("Wire", 139), ("Contact tip", 259), ("Wire", 279), ("Contact tip", 399)]
    change = next(event for event in plan.events if event.supply == "Contact tip")
    assert change.basis.endswith("; besides, a change of wire brings a new one, 2 times in this run")
    # 36 kg are 120 parts: both are due at once, and one change does both
    plan = plan_order(line.order(300), (line.frames(),), _with_spool(line, 36))
    due = [(event.supply, event.part_number) for event in plan.events if event.supply in {"Wire", "Contact tip"}]
    assert due == [("Wire", 119), ("Wire", 239)]


def test_a_robot_without_welds_uses_nothing(line: Any) -> None:
    plan = plan_order(line.order(10), (line.frames(),), line.approved())
    assert {use.robot for use in plan.uses} == {"A", ""}


def test_caps_are_dressed_and_at_the_end_of_their_dressings_changed(line: Any) -> None:
    plan = plan_order(line.order(9), (line.doors(welds=5),), line.approved(with_cap=line.cap(dressings=2)))
    caps = next(use for use in plan.uses if use.robot == "E")
    assert (amount(caps, "parts_between"), amount(caps, "dressings"), amount(caps, "changes")) == (2, 3, 1)
    due = [(event.part_number, event.what.split(" (")[0]) for event in plan.events if event.robot == "E"]
    assert due == [(1, "Dress both caps"), (3, "Dress both caps"), (5, "Change both caps"), (7, "Dress both caps")]


def test_welds_on_different_coatings_wear_a_cap_by_the_life_of_each(line: Any) -> None:
    plan = plan_order(line.order(9), (line.doors(),), line.approved())
    caps = next(use for use in plan.uses if use.robot == "F")
    assert amount(caps, "parts_between") == 1 // (1 / 10 + 1 / 4)
    basis = next(event.basis for event in plan.events if event.robot == "F")
    assert basis.replace("\N{NO-BREAK SPACE}", " ") == (
        "2 welds a part; welds between dressings, coating none 10 (from memory); "
        "welds between dressings, coating hot-dip zinc 4 (from memory); "
        "the prove-out takes one first-off part; new"
    )


def test_a_dressing_that_does_not_last_a_part_falls_due_within_it(line: Any) -> None:
    plan = plan_order(line.order(3), (line.doors(welds=15),), line.approved())
    found = [(event.part_number, event.when) for event in plan.events if event.robot == "E"]
    assert found == [(0, "during"), (1, "during"), (1, "after"), (2, "during"), (3, "during")]


def test_a_cap_that_cannot_be_dressed_is_changed_each_time(line: Any) -> None:
    plan = plan_order(line.order(9), (line.doors(welds=5),), line.approved(with_cap=line.cap(dressings=0)))
    assert all(event.what.startswith("Change both caps") for event in plan.events)


def test_events_stand_by_part_number_then_by_operation(line: Any) -> None:
    plan = plan_order(line.order(12), (line.frames(), line.doors()), line.approved())
    order = [(event.part_number, ["frames", "doors"].index(event.operation), event.robot) for event in plan.events]
    assert order == sorted(order)
    assert {event.operation for event in plan.events} == {"frames", "doors"}


def test_a_cap_without_a_life_on_a_coating_is_refused(line: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        plan_order(line.order(9), (line.doors(),), line.approved(with_cap=line.cap(life={"none": 10})))
    (problem,) = refused.value.problems
    assert problem.key == "operations[0]"
    assert "on coating hot-dip zinc" in problem.message


@pytest.mark.parametrize("parts", [0, 1_000_001])
def test_a_quantity_beyond_reason_is_refused(line: Any, parts: int) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        plan_order(line.order(parts), (line.frames(),), line.approved())
    assert refused.value.problems[0].key == "quantity"


def test_a_run_may_have_as_many_parts_as_the_plan_takes_and_no_more(line: Any) -> None:
    lasting = line.approved(with_cap=line.cap(life={"none": 10**8, "hot-dip zinc": 10**8}))
    assert MAXIMUM_PARTS == 1_000_000
    assert plan_order(line.order(MAXIMUM_PARTS), (line.doors(),), lasting).figures
    for parts in (0, MAXIMUM_PARTS + 1):
        with pytest.raises(OutOfRangeError, match="a run is of 1 to 1000000 parts"):
            plan_order(line.order(parts), (line.doors(),), lasting)


def test_more_changes_than_anybody_reads_are_refused_for_every_consumable(line: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        plan_order(line.order(500_000), (line.frames(),), line.approved())
    assert [problem.message.split(" would")[0] for problem in refused.value.problems] == ["gas of C1", "wire of A"]


def test_as_many_changes_as_anybody_reads_are_planned(line: Any) -> None:
    plan = plan_order(line.order(20_000), (line.doors(welds=10),), line.approved())
    assert len([event for event in plan.events if event.robot == "E"]) == 20_000
    with pytest.raises(OutOfRangeError):
        plan_order(line.order(20_001), (line.doors(welds=10),), line.approved())


def test_durations_of_a_run_are_known_to_a_tenth_since_set_up_and_breaks_are_not_counted(line: Any) -> None:
    plan = plan_order(line.order(10), (line.frames(), line.doors()), line.approved())
    for figure in (plan.operations[0].figure("operation_run"), *plan.figures):
        assert figure.spread == pytest.approx(0.1 * magnitude(figure.value, figure.unit))


def test_every_sum_can_be_traced(line: Any) -> None:
    plan = plan_order(line.order(10), (line.frames(), line.doors()), line.approved())
    figures = [*plan.figures, *(figure for use in plan.uses for figure in use.figures)]
    figures += [figure for operation in plan.operations for robot in operation.robots for figure in robot.figures]
    assert all(figure.trace for figure in figures)
    assert not any("E" in str(figure.text) for figure in figures)


def test_a_robot_that_welds_more_of_the_time_than_is_planned_is_refused_at_its_name(line: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        plan_order(line.order(10), (line.doors(), line.frames()), line.approved(share="41 %"))
    (problem,) = refused.value.problems
    assert (problem.key, problem.value) == ("operations[1].robots[0]", "A")
    assert "arc on 42\N{NO-BREAK SPACE}%" in problem.message
