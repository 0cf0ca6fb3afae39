"""What keeps people from harm in the words of the lists: who is called, what runs first, from where one looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any

import pytest
from weld_packets.calculation.countermeasures import MEASURE_TACKS, gap_kept
from weld_packets.calculation.sentences import length
from weld_packets.calculation.trace import Countermeasure
from weld_packets.packet.changeover.sheet import Previous, changeover
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.records.steps import Action, Callout, Procedure
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import PROVED, SET_UP, Before, prove_drafts
from weld_packets.packet.steps.run.failures import after_stop
from weld_packets.packet.steps.run.run import run_lists
from weld_packets.packet.steps.run.start import start_drafts
from weld_packets.packet.steps.set_up import confirm_drafts, operation_set_up, set_up_steps
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.state import AS_FOUND, UnsafeSequenceError, done, walk
from weld_packets.units.digits import HUNDREDTH

CALL = "the foreman (extension 7)"


@pytest.fixture
def views(make: Any) -> tuple[OperationView, ...]:
    return make.views(make.arc_operation(), make.spot_operation())


def _lists(views: Any) -> dict[str, Procedure]:
    return {each.key: each for each in run_lists(views, "", ())[1]}


def _does(steps: Any) -> list[str]:
    return [step.do for step in steps]


def _every_step(views: tuple[OperationView, ...]) -> Iterator[Action]:
    for view in views:
        yield from (
            *printed_steps(confirm_drafts(view), (), AS_FOUND),
            *set_up_steps(operation_set_up(view), ()),
            *printed_steps(prove_drafts(view), (), SET_UP),
            *printed_steps(start_drafts(view), (), PROVED),
        )
    watching, lists = run_lists(views, "", ())
    yield from chain(watching, *(each.steps for each in lists))


def _with_occasions(view: OperationView, **occasions: str) -> OperationView:
    """Return the operation with a plan of inspections in which some checks have an occasion."""
    plan = tuple(
        check.model_copy(update={"occasions": (occasions[check.id],)}) if check.id in occasions else check
        for check in view.approved.inspections
    )
    return replace(view, approved=replace(view.approved, inspections=plan))


# ---------------------------------------------------------------- the return path of the arc


def test_a_new_fixture_gets_work_lead_and_work_clamp_fitted_and_checked_under_lock(make: Any) -> None:
    (now,) = make.views(make.arc_operation())
    before = make.views(make.arc_operation(fixture="F-old"), order="WO-0")
    steps = changeover((now,), Previous(before[0].order, before), messages((now,))).steps
    does = _does(steps)
    assert "Take the old fixture out of the cell, its air, plugs and work clamps first." in does
    fitted = does.index("Fit work lead and work clamp of C1A and C1B to the fixture and check them.")
    assert does.index("Fit the fixture, clamp it down and connect its air and plugs.") < fitted
    assert steps[fitted].stage == "Cell locked out"
    assert not any("wire spool" in do for do in does)


def test_the_fixture_of_a_spot_cell_has_no_work_clamp(make: Any) -> None:
    does = _does(set_up_steps(operation_set_up(make.views(make.spot_operation())[0]), ()))
    assert "Take the old fixture out of the cell, its air and plugs first." in does
    assert not any("work clamp" in do for do in does)


# ---------------------------------------------------------------- what runs before a weld


def test_every_restart_opens_the_water_and_switches_the_extraction_on_before_the_count(views: Any) -> None:
    steps = _lists(views)["run-again"].steps
    does = _does(steps)
    water = does.index("At a spot cell, open the cooling water and read the flow at each gun.")
    fume = does.index("Switch the fume extraction on at C1, its inlet close to the welds.")
    assert max(water, fume) < does.index("Stand at the gate and count everybody out.")
    assert "l/min" in steps[water].value or steps[water].value == "flow not stated"


def test_a_shift_starts_with_gas_water_extraction_and_its_coupon_before_the_part(views: Any) -> None:
    arc, spot = views
    steps = _lists((arc, _with_occasions(spot, chisel="shift start")))["start-again"].steps
    does = _does(steps)
    wanted = ["Read the part counter", "Go in alone, key in hand.", "At a spot cell, open the cooling water",
              "At an arc cell, open the cylinder", "Switch the fume extraction on at C1",
              "Weld and test the coupons of the shift at C5.", "Open the gate and load the fixture",
              "Come out by the list"]  # fmt: skip
    order = [next(place for place, do in enumerate(does) if do.startswith(each)) for each in wanted]
    assert order == sorted(order)
    coupon = steps[order[5]]
    assert coupon.hold
    assert "Accept: None parts;" in coupon.see


def test_a_shift_starts_without_a_coupon_where_no_check_asks_for_one(views: Any) -> None:
    does = _does(_lists(views)["start-again"].steps)
    assert not any("coupon" in do for do in does)
    assert "Load the fixture for the next part." in does


def test_an_order_without_fume_switches_nothing_on(make: Any) -> None:
    lists = _lists(make.views(make.spot_operation()))
    assert not any("extraction" in do for key in ("run-again", "start-again") for do in _does(lists[key].steps))


# ---------------------------------------------------------------- what follows a change


def test_after_a_dressing_the_next_part_is_checked_as_the_plan_says(views: Any) -> None:
    arc, spot = views
    lists = _lists((arc, _with_occasions(spot, chisel="tip dress")))
    (check,) = (step for step in lists["dress-power-cap-16"].steps if step.do.startswith("Check the next part"))
    assert check.do == "Check the next part before the run goes on: chisel check."
    assert check.see == "Wedge. Accept: None parts."
    assert not any(do.startswith("Check the next part") for do in _does(lists["caps-cap-16"].steps))


def test_a_changed_setting_is_proved_with_coupons_before_the_next_part(views: Any) -> None:
    coupon = _lists(views)["coupon"]
    assert coupon.when.startswith("After any change of a setting, before the next part")
    does = _does(coupon.steps)
    proved = next(place for place, do in enumerate(does) if do.startswith("Weld and test coupons: prove-out from"))
    assert coupon.steps[proved].hold
    assert does[proved + 1 :][:2] == [
        "Open the gate and load the fixture.", "Come out by the list “Come out and run again”.",
    ]  # fmt: skip


def test_the_coupons_of_a_prove_out_begin_where_the_lists_say(views: Any) -> None:
    for view in views:
        assert printed_steps(prove_drafts(view), (), SET_UP)[0].do.startswith("Read mode and dry run")


# ---------------------------------------------------------------- words


def test_whoever_is_called_is_named_with_the_number(views: Any) -> None:
    calls = [step.see for step in _every_step(views) if " call " in f" {step.see}"]
    assert len(calls) > len(views)
    assert [see for see in calls if CALL not in see and "emergency call" not in see] == []
    assert not any("supervisor" in f"{step.do} {step.see}" for step in _every_step(views))


def test_everything_is_confirmed_from_outside_the_fence(views: Any) -> None:
    for view in views:
        assert {step.stage.split(",")[0] for step in printed_steps(confirm_drafts(view), (), AS_FOUND)} == {
            "Outside the fence"
        }


def test_first_off_part_and_first_part_of_the_run_are_two_things(views: Any) -> None:
    proving = " ".join(f"{step.do} {step.see}" for step in printed_steps(prove_drafts(views[0]), (), SET_UP))
    assert "first part" not in proving
    assert "first-off part" in proving
    starting = " ".join(_does(printed_steps(start_drafts(views[0]), (), PROVED)))
    assert starting.count("first part") == starting.count("first part of the run") > 1


def test_the_part_counter_counts_neither_coupons_nor_the_first_off_part(views: Any) -> None:
    counted = [step for step in _every_step(views) if "part counter" in step.do and step.value]
    assert len(counted) > len(views)
    assert all("no coupon, no first-off part" in step.see for step in counted)


def test_signals_are_those_of_components_and_clamps(views: Any) -> None:
    assert "Read the component and clamp signals at the panel." in _does(
        printed_steps(prove_drafts(views[0]), (), SET_UP)
    )


def test_lists_are_called_for_by_the_change_and_dress_schedule(views: Any) -> None:
    called = [each.when for each in _lists(views).values() if "schedule" in each.when]
    assert called
    assert all(when.startswith("When the change and dress schedule says so") for when in called)
    assert not any("job card" in f"{step.do} {step.see}" for step in _every_step(views))


# ---------------------------------------------------------------- hands in the joint, in the gun, in a clamp

HANDS_IN_THE_JOINT = (
    OperationWarning(weight="warning", text="costs throat", about=("Root gap, maximum",), do="Measure the root gap.",
                     stage="loading"),
    OperationWarning(weight="warning", text="short", about=("tacks",), do="Measure the tacks.", stage="loading"),
)  # fmt: skip

HOT = Callout(
    key="hot", word="CAUTION", signs=("W017",), hazard="Hot.", consequence="Burns.", avoid="Gloves.", why="", source="",
    stages=("run",),
)  # fmt: skip


def test_a_loaded_part_is_measured_before_a_robot_gets_its_drives(make: Any) -> None:
    steps = printed_steps(
        prove_drafts(make.views(make.arc_operation())[0], Before(warnings=HANDS_IN_THE_JOINT)), (), SET_UP
    )
    does = _does(steps)
    loaded = next(place for place, do in enumerate(does) if do.startswith("Read the component and clamp signals"))
    assert does[loaded + 1 : loaded + 3] == ["Measure the root gap.", "Measure the tacks."]
    assert does[loaded + 3].startswith("Switch the drives of C1B off")
    assert steps[loaded].task == steps[loaded + 2].task


def test_a_robot_with_its_drives_on_lets_nobody_measure_the_loaded_part() -> None:
    beside = walk((acts.LOAD_PART,), replace(SET_UP, inside="setter"))
    assert done(acts.MEASURE_LOADED, beside) == beside
    with pytest.raises(UnsafeSequenceError, match="needs still True"):
        done(acts.MEASURE_LOADED, walk((acts.ONE_LIVE,), beside))


@pytest.mark.parametrize("warning", [gap_kept(length(0.12, HUNDREDTH)), MEASURE_TACKS])
def test_what_is_measured_by_hand_in_the_joint_is_done_while_it_is_loaded(warning: Countermeasure) -> None:
    assert warning.stage == "loading"


def test_caps_nozzles_and_parts_that_were_just_welded_say_that_they_are_hot(views: Any) -> None:
    lists = _lists(views)
    hot = {
        "caps-cap-16": "Close the cooling water of the robot and take the old caps off.",
        "spool-W10": "Take nozzle and contact tip of the robot off and pull the old wire out.",
    }
    for key, do in hot.items():
        (step,) = (step for step in lists[key].steps if step.do == do)
        assert "may be hot" in step.see
    called = printed_steps(after_stop(views), [HOT])
    (before,) = (step.do for step in called if step.callouts)
    assert before == "Take the part out and set it aside, marked."


def test_a_part_is_taken_out_for_coupons_while_the_clamps_have_air(views: Any) -> None:
    steps = _lists(views)["caps-cap-16"].steps
    does = _does(steps)
    out = does.index("Take the part out of the fixture.")
    assert does.index("Take off your lock and restore energy.") < out
    assert out < does.index("Close the gun of the robot at low force on carbon paper held in a holder.")
    assert steps[out].stage == "Gate open, cell in manual, key with you"


def test_whoever_loads_a_fixture_reads_that_hands_are_out(views: Any) -> None:
    loading = [step for step in _every_step(views) if "oad the fixture" in step.do or "oad the components" in step.do]
    assert len(loading) > len(views)
    for step in loading:
        assert "hands out" in step.do + step.see, step.do


def test_a_trapped_person_is_freed_before_anything_is_switched(views: Any) -> None:
    after = _lists(views)["after-stop"]
    first = after.steps[0]
    assert first.do == "Leave the emergency stop pressed until the cause is found."
    assert (
        "Anybody trapped: prop the arm, which drops when its brake is released, then free them without drive power"
        in first.see
    )
    assert "an alarm has stopped a robot off its home" in after.when


def test_a_wire_that_sticks_is_freed_by_the_list_for_it(views: Any) -> None:
    assert _lists(views)["tip-W10"].when.endswith("If the wire sticks: “After an emergency stop or a collision”.")


def test_the_water_that_a_shift_opens_is_shut_at_the_end_and_where_a_cell_falls_out_of_use(make: Any) -> None:
    views = make.views(make.spot_operation())
    does = _does(_lists(views)["end"].steps)
    assert does.index("At a spot cell, close the cooling water.") < does.index(
        "Leave the cell with your tools, everybody counted out, and close the gate."
    )
    (now,) = make.views(make.arc_operation())
    cleared = changeover((now,), Previous(views[0].order, views), messages((now,))).steps
    (shut,) = (step for step in cleared if step.do == "Close the cooling water of C5A and C5B.")
    assert shut.stage == "Cell locked out"
