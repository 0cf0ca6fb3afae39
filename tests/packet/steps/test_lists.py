"""What the lists of steps say, and in which order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import chain
from typing import Any

import pytest
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.steps import Action, Procedure
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import PROVED, SET_UP, Before, prove_drafts
from weld_packets.packet.steps.prove_out.welding import before_welding
from weld_packets.packet.steps.run.run import run_lists
from weld_packets.packet.steps.run.start import start_drafts
from weld_packets.packet.steps.set_up import confirm_drafts, operation_set_up, set_up_steps
from weld_packets.planning.records import Event
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.units import quantity

STEP_WORDS = 20
"""A step is no longer than this."""
_NBSP = "\N{NO-BREAK SPACE}"


def _all_steps(views: tuple[OperationView, ...]) -> list[Action]:
    callouts = messages(views)
    operations = chain.from_iterable(
        (
            *printed_steps(confirm_drafts(view), callouts.at("confirm", view.key), AS_FOUND),
            *set_up_steps(operation_set_up(view), callouts.at("set up", view.key)),
            *printed_steps(prove_drafts(view), callouts.at("prove", view.key), SET_UP),
            *printed_steps(start_drafts(view), callouts.at("start", view.key), PROVED),
        )
        for view in views
    )
    watching, lists = run_lists(views, "", callouts.at("run"))
    return [*operations, *watching, *(step for each in lists for step in each.steps)]


def _places(steps: Iterable[Action], starts: Iterable[str]) -> list[int]:
    does = [step.do for step in steps]
    return [next(index for index, do in enumerate(does) if do.startswith(start)) for start in starts]


@pytest.fixture
def views(make: Any) -> tuple[OperationView, ...]:
    return make.views(make.arc_operation(), make.spot_operation())


def test_every_step_begins_with_a_verb_and_is_short(views: Any, verbs: frozenset[str]) -> None:
    for step in _all_steps(views):
        assert step.do.split()[0] in verbs, step.do
        assert len(step.do.split()) <= STEP_WORDS, step.do


def test_every_message_of_a_stage_is_before_exactly_one_step(views: Any) -> None:
    callouts = messages(views)
    for view in views:
        for stage, steps in (
            ("confirm", printed_steps(confirm_drafts(view), callouts.at("confirm", view.key), AS_FOUND)),
            ("set up", set_up_steps(operation_set_up(view), callouts.at("set up", view.key))),
            ("prove", printed_steps(prove_drafts(view), callouts.at("prove", view.key), SET_UP)),
            ("start", printed_steps(start_drafts(view), callouts.at("start", view.key), PROVED)),
        ):
            wanted = [each.key for each in callouts.at(stage, view.key)]
            placed = [key for step in steps for key in step.callouts]
            assert sorted(placed) == sorted(wanted)


def test_crushing_is_before_the_caps_and_gas_before_the_gas(views: Any) -> None:
    callouts = messages(views)
    arc = {
        step.do: step.callouts
        for step in set_up_steps(operation_set_up(views[0]), callouts.at("set up", "operation-1"))
    }
    spot = {
        step.do: step.callouts
        for step in set_up_steps(operation_set_up(views[1]), callouts.at("set up", "operation-2"))
    }
    assert arc["Close the cylinder valve and bleed the regulator."] == ("gas",)
    assert spot["Close the gun of C5A and C5B at low force on carbon paper held in a holder."] == ("crush", "clamps")
    assert spot["Shut down, isolate and lock out cell C5 with your own lock."] == ("lockout",)


def test_confirmation_names_order_cell_pair_process_and_programs_and_holds_last(views: Any) -> None:
    steps = printed_steps(confirm_drafts(views[0]), (), AS_FOUND)
    values = " ".join(step.value for step in steps)
    for wanted in ("WO-1", "C1", "A = C1A · B = C1B", "135 MAG welding with solid wire", "C1A = 1203 · C1B = 1204"):
        assert wanted in values
    assert [step.hold for step in steps] == [False] * (len(steps) - 1) + [True]


def test_every_dialled_figure_is_set_with_its_value_window_and_step(views: Any) -> None:
    for view in views:
        steps = set_up_steps(operation_set_up(view), ())
        for group in view.groups:
            for value in group.dialled:
                if value.key == "contact_distance":
                    continue  # the program holds it: it is checked on the coupon
                step = next(each for each in steps if each.do.lower().startswith(f"set {value.label.lower()} on "))
                assert value.amount.value in step.value
                assert value.window is None or f"{value.window.low} to {value.window.high}" in step.see
                assert value.step is None or f"step {value.step.value}" in step.see


def test_setting_shows_window_in_both_systems(views: Any) -> None:
    step = next(
        each for each in set_up_steps(operation_set_up(views[1]), ()) if each.do.startswith("Set electrode force")
    )
    assert step.do == "Set electrode force on C5A and C5B."
    assert step.value == "2.6\N{NO-BREAK SPACE}kN (580\N{NO-BREAK SPACE}lbf)"
    assert step.see == (
        "Allowed 2.4 to 2.8\N{NO-BREAK SPACE}kN (540 to 630\N{NO-BREAK SPACE}lbf); "
        "step 0.1\N{NO-BREAK SPACE}kN (22\N{NO-BREAK SPACE}lbf)"
    )


def test_components_are_measured_where_they_are_loaded_with_material_and_coating(make: Any) -> None:
    (view,) = make.views(make.spot_operation("DX51"))
    step = next(
        each
        for each in printed_steps(prove_drafts(view), (), SET_UP)
        if each.do == "Measure the thickness of part 1, then load it."
    )
    assert step.value == "1.2\N{NO-BREAK SPACE}mm (0.047\N{NO-BREAK SPACE}in) DX51"
    assert "hot-dip zinc coating" in step.see


def test_caps_are_for_spot_operations_and_wire_and_gas_for_arc_operations(views: Any) -> None:
    arc = " ".join(step.do for step in set_up_steps(operation_set_up(views[0]), ()))
    spot = " ".join(step.do for step in set_up_steps(operation_set_up(views[1]), ()))
    assert "wire" in arc
    assert "cylinder" in arc
    assert "caps" not in arc
    assert "caps" in spot
    assert "cylinder" not in spot
    assert "wire" not in spot


def test_each_robot_gets_its_own_part_program_before_it_steps_through_it(views: Any) -> None:
    steps = printed_steps(prove_drafts(views[0]), (), SET_UP)
    chosen = [(step.do, step.value) for step in steps if step.do.startswith("Select the part program")]
    assert chosen == [("Select the part program on C1A.", "1203"), ("Select the part program on C1B.", "1204")]
    for robot in ("C1A", "C1B"):
        first, then = _places(steps, [f"Select the part program on {robot}", f"Step {robot} through its part program"])
        assert first < then


def test_wire_is_fitted_rolls_first_inched_with_energy_and_cut_last(views: Any) -> None:
    order = ["Take nozzle and contact tip", "Fit drive rolls", "Fit a full wire spool", "Take off your lock",
             "Inch the wire",
             "Switch off the power source", "Fit a new contact tip", "Cut the wire end",
             "Unlock the power source", "Open the cylinder valve slowly, purge"]  # fmt: skip
    places = _places(set_up_steps(operation_set_up(views[0]), ()), order)
    assert places == sorted(places)


def test_new_caps_are_aligned_under_force_then_zeroed_then_the_force_is_measured(views: Any) -> None:
    order = ["Close the cooling water", "Fit two new electrode caps", "Take off your lock",
             "Open the cooling water", "Close the gun",
             "Reset the wear zero", "Set electrode force", "Measure the force"]  # fmt: skip
    steps = set_up_steps(operation_set_up(views[1]), ())
    places = _places(steps, order)
    assert places == sorted(places)
    assert not any("ress both caps" in step.do for step in steps)
    assert steps[places[-1]].value == "2.6\N{NO-BREAK SPACE}kN (580\N{NO-BREAK SPACE}lbf)"


def test_proving_goes_coupons_dry_coupons_welded_then_the_part_dry_and_the_part_welded(views: Any) -> None:
    order = ["Read mode and dry run", "Send everyone else out", "Clamp test coupons", "Step C5A through its coupon",
             "Set a low speed",
             "Press cycle start: one dry cycle of the coupon", "Restore full speed", "Press cycle start and weld",
             "Take the coupons out", "Test every coupon", "Compare the coupons", "Hold the cell",
             "Measure the thickness of part 1", "Close every clamp", "Step C5A through its part",
             "Press cycle start: one dry cycle of both", "Press cycle start, weld the first",
             "Inspect the first-off part", "Hold the run"]  # fmt: skip
    places = _places(printed_steps(prove_drafts(views[1]), (), SET_UP), order)
    assert places == sorted(places)


def _due(supply: str, robot: str, *, dressing: bool = False) -> Event:
    word = {"Electrode caps": "caps"}.get(supply, supply.lower())
    return Event(0, "operation", robot, supply, "after", "C", "basis", supply, word, dressing)


def test_power_dressing_due_before_the_first_part_starts_no_part_program_and_ends_at_the_open_gate(views: Any) -> None:
    steps = printed_steps(
        prove_drafts(views[1], Before(due=(_due("Electrode caps", "C5A", dressing=True),))), (), SET_UP
    )
    (place,) = _places(steps, ["Start the dressing program of C5A"])
    assert steps[place].stage == "Outside the fence, cell in automatic"
    (first,) = _places(steps, ["Send everyone else out"])
    assert not any("cycle start" in step.do for step in steps[:first])
    assert place < first
    assert printed_steps(prove_drafts(views[1]), (), SET_UP)[0].do.startswith("Read mode and dry run")


@pytest.mark.parametrize(
    ("operation", "supply", "robot", "wanted"),
    [
        (0, "Wire", "C1A", "Fit a full wire spool on C1A"),
        (0, "Contact tip", "C1B", "Fit a new contact tip on C1B"),
        (0, "Gas", "", "Connect a full cylinder to cell C1"),
        (1, "Electrode caps", "C5B", "Fit two new electrode caps on C5B"),
    ],
)
def test_what_is_due_before_the_first_part_is_changed_under_lock_before_the_coupons(  # noqa: PLR0917 (one case a line)
    views: Any, reader: Any, operation: int, supply: str, robot: str, wanted: str
) -> None:
    steps = printed_steps(prove_drafts(views[operation], Before(due=(_due(supply, robot),))), (), SET_UP)
    (place,) = _places(steps, [wanted])
    assert steps[place].stage == "Cell locked out"
    assert place < _places(steps, ["Clamp test coupons"])[0]
    start = {**reader.RUNNING, "mode": "manual", "gate": "open", "running": False, "welding": False, "reset": False,
             "out": False, "drives": "none"}  # fmt: skip
    assert reader.read(steps, start).wrong == []


def test_a_dressing_and_a_change_before_the_first_part_are_known_by_different_keys(views: Any) -> None:
    keys = {
        dressing: {
            step.key
            for step in printed_steps(
                prove_drafts(views[1], Before(due=(_due("Electrode caps", "C5A", dressing=dressing),))), (), SET_UP
            )
        }
        for dressing in (True, False)
    }
    assert any("between-changes" in key for key in keys[True])
    assert not any("changed" in key for key in keys[True])
    assert any("changed" in key for key in keys[False])


def test_hand_dressing_due_before_the_first_part_is_done_under_lock(views: Any) -> None:
    guns = {key: gun.model_copy(update={"dressing": "hand"}) for key, gun in views[1].approved.guns.items()}
    view = replace(views[1], approved=replace(views[1].approved, guns=guns))
    steps = printed_steps(prove_drafts(view, Before(due=(_due("Electrode caps", "C5A", dressing=True),))), (), SET_UP)
    (place,) = _places(steps, ["Dress both caps of C5A"])
    assert steps[place].stage == "Cell locked out"


def test_the_cylinder_is_opened_before_anything_welds(views: Any) -> None:
    for steps in (printed_steps(prove_drafts(views[0]), (), SET_UP), printed_steps(start_drafts(views[0]), (), PROVED)):
        opened, welded = _places(steps, ["Open the cylinder valve slowly", "Press cycle start"])
        assert opened < welded


def test_each_component_is_loaded_once(views: Any) -> None:
    for view in views:
        loads = [step.do for step in printed_steps(prove_drafts(view), (), SET_UP) if "load it" in step.do]
        assert loads == [
            f"Measure the thickness of {part.name.lower()}, then load it." for part in view.operation.components
        ]
        assert not any("load it" in step.do for step in set_up_steps(operation_set_up(view), ()))


def test_nothing_is_run_with_both_robots_in_manual(views: Any) -> None:
    for view in views:
        for step in printed_steps(prove_drafts(view), (), SET_UP):
            if "both robots" in step.do and "Press cycle start" in step.do:
                assert step.stage == "Outside the fence, cell in automatic", step.do


def test_the_coupon_is_welded_by_its_own_program_where_the_order_names_one(make: Any) -> None:
    own, named = make.views(
        make.spot_operation(), make.spot_operation(**{"coupon programs": {"C5A": "901", "C5B": "902"}})
    )
    assert "own coupon program" in _step(own, "Step C5A through its coupon").see
    assert [_step(named, f"Step C5{side} through its coupon").value for side in "AB"] == ["901", "902"]
    assert _step(named, "Select the coupon programs").value == "C5A = 901 · C5B = 902"


def test_each_coupon_program_is_stepped_through_and_welded_with_the_weld_schedule_that_it_calls(make: Any) -> None:
    def numbered(found: Any) -> Any:
        settings = tuple(
            replace(make.spot_settings(f"C5{side}", (f"{side}{key}",), key=f"k{key}"), weld_schedule=key)
            for side in "AB"
            for key in (1, 2)
        )
        return replace(found, settings=settings)

    programs = {"C5A": {"2": "T2", "1": "T1"}, "C5B": {"1": "T3", "2": "T4"}}
    (view,) = make.views(make.spot_operation(**{"coupon programs": programs}), change=numbered)
    steps = printed_steps(prove_drafts(view), (), SET_UP)
    stepped = [(step.value, step.see.split(";")[0]) for step in steps if "through its coupon program" in step.do]
    assert stepped == [
        ("T1", "T1 calls weld schedule 1"), ("T2", "T2 calls weld schedule 2"),
        ("T3", "T3 calls weld schedule 1"), ("T4", "T4 calls weld schedule 2"),
    ]  # fmt: skip
    welded = [step.value for step in steps if step.do == "Select the coupon programs at the panel."]
    first, second = "C5A = T1 · C5B = T3", "C5A = T2 · C5B = T4"
    assert welded == [first, second, first, second]  # dry, then welded
    does = [
        step.do.split(" of ")[0] for step in steps if step.do.startswith("Press cycle start") and "coupon" in step.do
    ]
    assert does == ["Press cycle start: one dry cycle"] * 2 + ["Press cycle start and weld the coupons"] * 2
    shown = [
        step.do.split(" ", 2)[0] + step.value
        for step in steps
        if "just welded" in step.do or "weld the coup" in step.do
    ]
    assert shown == ["Press", "Read8.4\N{NO-BREAK SPACE}kA"] * 2  # each reading after its own weld


def test_reduced_speed_is_the_plants(views: Any) -> None:
    step = next(each for each in printed_steps(prove_drafts(views[0]), (), SET_UP) if "reduced speed" in each.see)
    assert step.value == "at most 250\N{NO-BREAK SPACE}mm/s (9.8\N{NO-BREAK SPACE}in/s)"


def _step(view: OperationView, start: str) -> Action:
    return next(step for step in printed_steps(prove_drafts(view), (), SET_UP) if step.do.startswith(start))


def test_coupon_of_spots_gives_set_up_and_target_diameter_and_arc_its_throat(views: Any) -> None:
    arc, spot = (_step(view, "Compare the coupons") for view in views)
    assert spot.do == "Compare the coupons of C5A and C5B with this limit."
    assert "set up weld diameter 4.93\N{NO-BREAK SPACE}mm" in spot.value
    assert "minimum" not in spot.value
    assert "target weld diameter 5.48\N{NO-BREAK SPACE}mm" in spot.value
    assert "throat 3\N{NO-BREAK SPACE}mm" in arc.value


def test_coupon_is_tested_as_the_plan_of_inspections_says(views: Any) -> None:
    step = _step(views[1], "Test every coupon")
    assert (step.do, step.see) == ("Test every coupon: weld diameter.", "Peel it. Accept: Not below the minimum.")


def test_stacks_set_the_same_are_set_once_for_all_their_welds(make: Any) -> None:
    def two(result: Any) -> Any:
        settings = tuple(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}") for key in (1, 2))
        return replace(result, settings=settings)

    (view,) = make.views(make.spot_operation(), change=two)
    steps = set_up_steps(operation_set_up(view), ())
    opened = [(step.see, step.value) for step in steps if step.do.startswith("Call up the settings")]
    assert opened == [("Stacks k1, k2", "A1, A2")]
    assert len([step for step in steps if step.do == "Set weld current on C5A."]) == 1


def test_a_weld_schedule_is_selected_by_its_number(make: Any) -> None:
    (view,) = make.views(
        make.spot_operation(),
        change=lambda found: replace(found, settings=(replace(make.spot_settings("C5A", ("A1",)), weld_schedule=12),)),
    )
    (opened,) = (
        step for step in set_up_steps(operation_set_up(view), ()) if step.do.startswith("Select weld schedule")
    )
    assert (opened.do, opened.see, opened.value) == (
        "Select weld schedule 12 on C5A.",
        "Stack k1; A1",
        "weld schedule 12",
    )
    assert view.groups[0].weld_schedule == "12"


def test_welds_set_the_same_under_two_numbers_are_selected_one_after_the_other(make: Any) -> None:
    def two(found: Any) -> Any:
        settings = (
            replace(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}"), weld_schedule=key) for key in (1, 2)
        )
        return replace(found, settings=tuple(settings))

    (view,) = make.views(make.spot_operation(), change=two)
    opened = [
        step.value for step in set_up_steps(operation_set_up(view), ()) if step.do.startswith("Select weld schedule")
    ]
    assert opened == ["weld schedule 1", "weld schedule 2"]


def test_clamps_are_closed_one_by_one_in_their_order(make: Any) -> None:
    (view,) = make.views(make.spot_operation(clamps=["K1 panel", "K2 strip"]))
    closed = [
        (step.do, step.value, step.see)
        for step in printed_steps(prove_drafts(view), (), SET_UP)
        if step.do.startswith("Close clamp")
    ]
    assert closed == [
        ("Close clamp 1 of 2, hands out.", "K1 panel", "It is fully closed."),
        ("Close clamp 2 of 2, hands out.", "K2 strip", "No gap opens between the components."),
    ]


def test_without_an_order_of_clamps_all_are_closed(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    assert "Close every clamp, hands out." in [step.do for step in printed_steps(prove_drafts(view), (), SET_UP)]


def test_coupon_check_of_another_quality_level_is_left_out(views: Any, make: Any) -> None:
    assert "No undercut" not in str(printed_steps(prove_drafts(views[0]), (), SET_UP))
    (strict,) = make.views(make.arc_operation(quality="B"))
    assert "No undercut" in str(printed_steps(prove_drafts(strict), (), SET_UP))


def test_first_part_is_a_hold_point(views: Any) -> None:
    last = printed_steps(prove_drafts(views[0]), (), SET_UP)[-1]
    assert last.hold
    assert last.do == "Hold the run until inspection accepts the first-off part."


def test_a_start_loads_first_takes_tools_out_and_counts_last_at_the_gate(views: Any) -> None:
    order = ["Check that inspection has accepted", "Open the gate", "Load the fixture",
             "Open the cylinder valve slowly", "Switch the fume extraction",
             "Close the curtain", "Take tools", "Stand at the gate and count everybody out", "Close the gate",
             "Turn the mode switch to automatic", "Reset from outside", "Enable welding",
             "Read the part programs back", "Set the part counter", "Press cycle start"]  # fmt: skip
    steps = printed_steps(start_drafts(views[0]), (), PROVED)
    assert _places(steps, order) == list(range(len(steps)))
    values = {step.do: step.value for step in steps}
    assert values["Read the part programs back from both robots."] == "C1A = 1203 · C1B = 1204"
    assert values["Set the part counter and read it back."] == "0 of 240"


def test_fume_is_extracted_before_anything_welds_and_not_where_nothing_makes_fume(make: Any) -> None:
    arc, bare, coated = make.views(make.arc_operation(), make.spot_operation(), make.spot_operation("DX51"))
    for view, wanted in ((arc, True), (bare, False), (coated, True)):
        for steps, weld in (
            (printed_steps(prove_drafts(view), (), SET_UP), "weld the coupons"),
            (printed_steps(start_drafts(view), (), PROVED), "watch the first"),
        ):
            does = [step.do for step in steps]
            place = next((index for index, do in enumerate(does) if do.startswith("Switch the fume")), None)
            assert (place is not None) == wanted
            assert place is None or place < next(index for index, do in enumerate(does) if weld in do)


def test_the_task_before_welding_forbids_it_without_extraction_where_fume_is_made(make: Any) -> None:
    arc, bare = make.views(make.arc_operation(), make.spot_operation())
    said = {}
    for view in (arc, bare):
        task = next(draft.task for draft in before_welding(view) if draft.task is not None)
        said[view.operation.process] = (task.do, task.see)
    assert said["135"][1] == "No extraction, no welding. Close the curtain."
    assert "switch the fume extraction on" in said["135"][0]
    assert said["21"][1] == "Close the curtain."
    assert "extraction" not in said["21"][0]


def test_the_task_of_reading_back_names_the_weld_schedules_where_they_have_numbers(make: Any) -> None:
    def schedules(*numbers: int) -> str:
        settings = (
            replace(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}"), weld_schedule=number)
            for key, number in enumerate(numbers)
        )
        (view,) = make.views(make.spot_operation(), change=lambda found: replace(found, settings=tuple(settings)))
        tasks = (draft.task for draft in operation_set_up(view) if draft.task is not None)
        return next(task.value for task in tasks if task.key == "read-back").split(" · ")[0]

    assert schedules(12) == "weld schedule 12"
    assert schedules(12, 13) == "weld schedules 12 and 13"


def test_what_the_plant_looks_at_before_a_start_is_split_into_doing_and_seeing(views: Any) -> None:
    step = next(
        each for each in printed_steps(start_drafts(views[0]), (), PROVED) if each.do.startswith("Close the curtain")
    )
    assert (step.do, step.see) == ("Close the curtain.", "No gap is left.")


def _lists(views: Any) -> dict[str, Procedure]:
    return {each.key: each for each in run_lists(views, "", ())[1]}


def test_every_thing_that_is_changed_in_a_run_has_its_list(views: Any) -> None:
    lists = _lists(views)
    assert list(lists) == ["go-in", "run-again", "load", "dress-power-cap-16", "caps-cap-16", "spool-W10", "tip-W10",
                           "gas-M21", "coupon", "after-stop", "failure", "power", "end", "hand-over",
                           "start-again"]  # fmt: skip
    assert lists["caps-cap-16"].where == "C5A and C5B"
    assert lists["gas-M21"].where == "C1"


def test_an_order_without_arc_has_no_list_for_wire_and_gas(make: Any) -> None:
    keys = _lists(make.views(make.spot_operation()))
    assert not {key for key in keys if key.startswith(("spool", "tip", "gas"))}


def test_power_dressing_needs_nobody_inside_and_hand_dressing_the_lock(views: Any) -> None:
    power = _lists(views)["dress-power-cap-16"]
    assert {step.stage for step in power.steps} == {"Outside the fence, cell in automatic"}
    approved = views[1].approved
    by_hand = {key: gun.model_copy(update={"dressing": "hand"}) for key, gun in approved.guns.items()}
    hand = _lists([replace(views[1], approved=replace(approved, guns=by_hand))])["dress-hand-cap-16"]
    dressed = next(step for step in hand.steps if step.do.startswith("Dress both caps"))
    assert dressed.stage == "Cell locked out"
    assert dressed.value == "face 6\N{NO-BREAK SPACE}mm"


def test_new_caps_are_proved_with_coupons_before_the_run_goes_on(views: Any) -> None:
    steps = _lists(views)["caps-cap-16"].steps
    places = _places(steps, ["Reset the wear zero", "Weld and test coupons", "Come out by the list"])
    assert places == sorted(places)
    assert steps[places[1]].hold


def test_a_message_of_the_run_is_given_once_in_the_list_that_it_is_about(views: Any) -> None:
    callouts = messages(views)
    watching, lists = run_lists(views, "", callouts.at("run"))
    placed = [key for steps in (watching, *(each.steps for each in lists)) for step in steps for key in step.callouts]
    assert sorted(placed) == sorted(each.key for each in callouts.at("run"))


def test_conditions_to_stop_are_no_steps(make: Any) -> None:
    packet = make.packet(make.arc_operation(), make.spot_operation())
    assert (packet.emergency_if, packet.stop_if) == (("Anybody is inside the fence.",), ("Water leaks.",))
    assert not any("fence" in step.do and step.hold for step in packet.run_steps)


@pytest.mark.parametrize(
    ("flows", "value"),
    [
        ((5.7, 5.7), "at least 5.7\N{NO-BREAK SPACE}l/min (1.5\N{NO-BREAK SPACE}gal/min) through each electrode"),
        ((None, None), "flow not stated"),
        (
            (None, 6.0),
            f"C5A: flow not stated; C5B: at least 6{_NBSP}l/min (1.6{_NBSP}gal/min) through each electrode",
        ),
    ],
)
def test_the_flow_of_cooling_water_is_a_figure_of_its_step(make: Any, flows: Any, value: str) -> None:
    stated = zip(("E-C5A", "E-C5B"), (flow and quantity(flow, "l/min") for flow in flows), strict=True)
    guns = {name: make.approved.guns[name].model_copy(update={"cooling_flow": flow}) for name, flow in stated}
    make.approved = replace(make.approved, guns=guns)
    (step,) = (
        step
        for step in printed_steps(prove_drafts(make.views(make.spot_operation())[0]), (), SET_UP)
        if "cooling water" in step.do
    )
    assert step.value == value


def test_caps_are_changed_as_the_plant_says(make: Any) -> None:
    _, lists = run_lists(make.views(make.spot_operation()), (), ())
    assert [each.when for each in lists if each.title == "Change electrode caps"] == ["After 30 dressings."]


def test_a_further_operation_of_a_cell_keeps_what_is_fitted_and_waits_for_the_last_part_of_the_one_before(
    make: Any,
) -> None:
    foot, head = make.views(make.arc_operation(name="Foot"), make.arc_operation(name="Head", fixture="F-9"))
    drafts = list(operation_set_up(head, last=foot))
    assert (drafts[0].do, drafts[0].hold) == ("Check that Foot is complete at cell C1.", True)
    assert "last-off inspection is signed" in drafts[0].see
    does = [draft.do for draft in drafts]
    assert "Fit the fixture, clamp it down and connect its air and plugs." in does
    assert not any("wire spool" in do or "cylinder" in do or "drive rolls" in do for do in does)
    fresh = [draft.do for draft in operation_set_up(head)]
    assert any("wire spool" in do for do in fresh)
    assert any("full cylinder" in do for do in fresh)
    assert [do for do in fresh if do.startswith(("Set ", "Select ", "Compare "))] == [
        do for do in does if do.startswith(("Set ", "Select ", "Compare "))
    ]


def test_a_further_operation_on_the_same_fixture_is_set_up_without_a_lock(make: Any) -> None:
    foot, head = make.views(make.arc_operation(name="Foot"), make.arc_operation(name="Head"))
    does = [draft.do for draft in operation_set_up(head, last=foot)]
    assert not any(do.startswith(("Shut down", "Fit ")) for do in does)
    assert "Take out any part that is still in the fixture." in does


def test_a_robot_that_welds_nothing_is_proved_all_the_same(make: Any) -> None:
    """Its program is selected and runs beside the other's, so that nobody meets it first at full speed."""
    operation = make.spot_operation()
    alone = operation.model_copy(update={"spots": tuple(each for each in operation.spots if each.robot == "C5A")})
    (view,) = make.views(alone)
    steps = printed_steps(prove_drafts(view, Before()), (), SET_UP)
    part = [step for step in steps if step.do == "Step C5B through its part program."]
    (stepped,) = part
    assert (stepped.value, stepped.see) == (
        operation.programs["C5B"], "It welds nothing, and ends at home; C5A stands still",
    )  # fmt: skip
    assert not any(step.do == "Step C5B through its coupon program." for step in steps)


def test_a_robot_without_a_coupon_in_a_round_runs_no_program_in_it(make: Any) -> None:
    """A cycle start would run what was selected before, and weld its coupon twice."""
    operation = make.spot_operation(coupon_programs={"C5A": {"1": "T1"}})
    (view,) = make.views(operation)
    steps = [
        step
        for step in printed_steps(prove_drafts(view, Before()), (), SET_UP)
        if step.do == "Select the coupon programs at the panel."
    ]
    assert steps
    for step in steps:
        assert step.value == "C5A = T1 · C5B = none"
        assert step.see.endswith("the panel shows them; C5B stays at home")
