from __future__ import annotations

from dataclasses import replace
from itertools import chain
from typing import Any

import pytest

from generator.packet.callouts import messages
from generator.packet.confirm import confirm_steps
from generator.packet.prove import prove_steps
from generator.packet.records import Action
from generator.packet.rowview import RowView
from generator.packet.set_up import set_up_steps
from generator.packet.start_run import run_steps, start_steps
from generator.packet.wording import STEP_WORDS


def _all_steps(views: tuple[RowView, ...]) -> list[Action]:
    told = messages(views)
    rows = chain.from_iterable(
        (
            *confirm_steps(view, told.at("confirm", view.key)),
            *set_up_steps(view, told.at("set up", view.key)),
            *prove_steps(view, told.at("prove", view.key)),
        )
        for view in views
    )
    plant = views[0].shop.plant
    return [*rows, *start_steps(plant, told.at("start")), *run_steps(views, (), told.at("run"))]


@pytest.fixture
def views(make: Any) -> tuple[RowView, ...]:
    return make.views(make.arc_row(), make.spot_row())


def test_every_step_begins_with_a_verb_and_is_short(views: Any, verbs: frozenset[str]) -> None:
    for step in _all_steps(views):
        assert step.do.split()[0] in verbs, step.do
        assert len(step.do.split()) <= STEP_WORDS, step.do


def test_every_message_of_a_stage_stands_before_exactly_one_step(views: Any) -> None:
    told = messages(views)
    for view in views:
        for stage, steps in (("confirm", confirm_steps), ("set up", set_up_steps), ("prove", prove_steps)):
            wanted = [each.key for each in told.at(stage, view.key)]
            placed = [key for step in steps(view, told.at(stage, view.key)) for key in step.callouts]
            assert sorted(placed) == sorted(wanted)


def test_crushing_stands_before_the_caps_and_gas_before_the_gas(views: Any) -> None:
    told = messages(views)
    arc = {step.do: step.callouts for step in set_up_steps(views[0], told.at("set up", "row-1"))}
    spot = {step.do: step.callouts for step in set_up_steps(views[1], told.at("set up", "row-2"))}
    assert arc["Connect the gas to C1A and C1B."] == ("gas",)
    assert spot["Fit two caps on C5A."] == ("crush",)
    assert spot["Lock out cell C5 before you go in."] == ("lockout",)


def test_confirmation_names_order_cell_pair_process_and_programs_and_holds_last(views: Any) -> None:
    steps = confirm_steps(views[0], ())
    told = " ".join(step.value for step in steps)
    for wanted in ("WO-1", "C1", "A = C1A · B = C1B", "135 MAG welding with solid wire", "C1A = 1203 · C1B = 1204"):
        assert wanted in told
    assert [step.hold for step in steps] == [False] * (len(steps) - 1) + [True]


def test_every_dialled_figure_is_set_with_its_value_window_and_step(views: Any) -> None:
    for view in views:
        steps = set_up_steps(view, ())
        for group in view.groups:
            for value in group.dialled:
                step = next(each for each in steps if each.do.lower().startswith(f"set {value.label.lower()} on "))
                assert value.amount.value in step.value
                assert value.window is None or f"{value.window.low} to {value.window.high}" in step.see
                assert value.step is None or f"step {value.step.value}" in step.see


def test_setting_shows_window_in_both_systems(views: Any) -> None:
    step = next(each for each in set_up_steps(views[1], ()) if each.do.startswith("Set electrode force"))
    assert step.do == "Set electrode force on C5A and C5B."
    assert step.value == "2.6\N{NO-BREAK SPACE}kN (580\N{NO-BREAK SPACE}lbf)"
    assert step.see == (
        "Allowed 2.4 to 2.8\N{NO-BREAK SPACE}kN (530 to 640\N{NO-BREAK SPACE}lbf); "
        "step 0.1\N{NO-BREAK SPACE}kN (22\N{NO-BREAK SPACE}lbf)"
    )


def test_parts_come_with_material_thickness_and_coating(make: Any) -> None:
    (view,) = make.views(make.spot_row("DX51"))
    step = next(each for each in set_up_steps(view, ()) if each.do.startswith("Measure part p1"))
    assert step.value == "1.2\N{NO-BREAK SPACE}mm (0.047\N{NO-BREAK SPACE}in) DX51"
    assert "hot-dip zinc coating" in step.see


def test_caps_are_for_spot_rows_and_wire_and_gas_for_arc_rows(views: Any) -> None:
    arc = " ".join(step.do for step in set_up_steps(views[0], ()))
    spot = " ".join(step.do for step in set_up_steps(views[1], ()))
    assert "wire" in arc
    assert "gas" in arc
    assert "caps" not in arc
    assert "caps" in spot
    assert "gas" not in spot
    assert "wire" not in spot


def test_each_arm_loads_its_own_program(views: Any) -> None:
    loads = [(step.do, step.value) for step in set_up_steps(views[0], ()) if step.do.startswith("Load the program")]
    assert loads == [("Load the program on C1A.", "1203"), ("Load the program on C1B.", "1204")]


def test_proving_goes_slow_then_dry_then_coupon_then_first_part(views: Any) -> None:
    does = [step.do for step in prove_steps(views[1], ())]
    order = ["Turn the mode", "Switch weld off", "Step C5A", "Leave the cell", "Restore weld on",
             "Count everybody out", "Turn the mode switch to automatic",
             "Weld the coupons", "Turn the mode switch to manual and take",
             "Test every coupon", "Compare the coupons", "Restore production", "Weld the first part",
             "Hold the run"]  # fmt: skip
    places = [next(index for index, do in enumerate(does) if do.startswith(start)) for start in order]
    assert places == sorted(places)


def test_weld_stays_off_until_everybody_has_left(views: Any) -> None:
    for view in views:
        does = [step.do for step in prove_steps(view, ())]
        for start in ("Weld the coupons", "Weld the first part"):
            welded = next(index for index, do in enumerate(does) if do.startswith(start))
            assert does[welded - 2 : welded] == [
                "Count everybody out, close the gate and reset from outside.",
                "Turn the mode switch to automatic.",
            ]
            assert does[welded + 1] == "Turn the mode switch to manual and take the key before you go in."


def test_the_lock_comes_off_before_anything_takes_energy(views: Any) -> None:
    for view in views:
        does = [step.do for step in set_up_steps(view, ())]
        freed = does.index("Leave the cell, take off your lock and restore energy.")
        fitted = ("Lock out", "Fit", "Dress", "Connect")
        assert all(does.index(do) < freed for do in does if do.startswith(fitted))
        powered = ("Check the cooling water", "Purge", "Close", "Set", "Load")
        assert all(does.index(do) > freed for do in does if do.startswith(powered))


def test_the_coupon_is_welded_by_its_own_program_where_the_order_names_one(make: Any) -> None:
    own, named = make.views(make.spot_row(), make.spot_row(**{"coupon programs": {"C5A": "901", "C5B": "902"}}))
    assert _step(own, "Load the works' own coupon program").value == ""
    assert [_step(named, f"Load the coupon program on C5{arm}").value for arm in "AB"] == ["901", "902"]


def test_reduced_speed_is_the_plants(views: Any) -> None:
    step = next(each for each in prove_steps(views[0], ()) if "reduced speed" in each.do)
    assert step.value == "at most 250\N{NO-BREAK SPACE}mm/s"


def _step(view: RowView, start: str) -> Action:
    return next(step for step in prove_steps(view, ()) if step.do.startswith(start))


def test_coupon_of_spots_gives_least_and_aimed_diameter_and_arc_its_throat(views: Any) -> None:
    arc, spot = (_step(view, "Compare the coupons") for view in views)
    assert spot.do == "Compare the coupons of C5A and C5B with this limit."
    assert "least weld diameter 3.83\N{NO-BREAK SPACE}mm" in spot.value
    assert "aimed weld diameter 5.48\N{NO-BREAK SPACE}mm" in spot.value
    assert "throat 3\N{NO-BREAK SPACE}mm" in arc.value


def test_coupon_is_tested_as_the_plan_of_inspections_says(views: Any) -> None:
    step = _step(views[1], "Test every coupon")
    assert (step.do, step.see) == ("Test every coupon: weld diameter.", "Peel it. Accept: Not below the least.")


def test_stacks_set_alike_are_set_once_for_all_their_welds(make: Any) -> None:
    def two(result: Any) -> Any:
        settings = tuple(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}") for key in (1, 2))
        return replace(result, settings=settings)

    (view,) = make.views(make.spot_row(), change=two)
    steps = set_up_steps(view, ())
    opened = [(step.see, step.value) for step in steps if step.do.startswith("Open the settings")]
    assert opened == [("Stacks k1, k2", "A1, A2")]
    assert len([step for step in steps if step.do == "Set weld current on C5A."]) == 1


def test_a_numbered_set_is_opened_by_its_number(make: Any) -> None:
    (view,) = make.views(
        make.spot_row(),
        change=lambda found: replace(found, settings=(replace(make.spot_settings("C5A", ("A1",)), set_number=12),)),
    )
    (opened,) = (step for step in set_up_steps(view, ()) if step.do.startswith("Open the set"))
    assert (opened.do, opened.see, opened.value) == ("Open the set of these welds on C5A.", "Stack k1; A1", "set 12")
    assert view.groups[0].set_number == "12"


def test_welds_set_alike_under_two_numbers_are_opened_one_after_the_other(make: Any) -> None:
    def two(found: Any) -> Any:
        settings = (replace(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}"), set_number=key) for key in (1, 2))
        return replace(found, settings=tuple(settings))

    (view,) = make.views(make.spot_row(), change=two)
    opened = [step.value for step in set_up_steps(view, ()) if step.do.startswith("Open the set")]
    assert opened == ["set 1", "set 2"]


def test_clamps_are_closed_one_by_one_in_their_order(make: Any) -> None:
    (view,) = make.views(make.spot_row(clamps=["K1 panel", "K2 strip"]))
    closed = [(step.do, step.value, step.see) for step in set_up_steps(view, ()) if step.do.startswith("Close")]
    assert closed == [
        ("Close clamp 1 of 2.", "K1 panel", "It is fully home."),
        ("Close clamp 2 of 2.", "K2 strip", "No gap opens between the parts."),
    ]


def test_without_an_order_of_clamps_all_are_closed(make: Any) -> None:
    (view,) = make.views(make.spot_row())
    assert "Close every clamp." in [step.do for step in set_up_steps(view, ())]


def test_coupon_check_of_another_quality_level_is_left_out(views: Any, make: Any) -> None:
    assert "No undercut" not in str(prove_steps(views[0], ()))
    (strict,) = make.views(make.arc_row(quality="B"))
    assert "No undercut" in str(prove_steps(strict, ()))


def test_first_part_is_a_hold_point(views: Any) -> None:
    last = prove_steps(views[0], ())[-1]
    assert last.hold
    assert last.do == "Hold the run until inspection accepts the first part."


def test_starting_steps_are_the_plants_own_split_into_doing_and_seeing(views: Any) -> None:
    steps = start_steps(views[0].shop.plant, ())
    assert [(step.do, step.see) for step in steps] == [
        ("Count everybody out.", "Look behind the fixture."),
        ("Close the gate.", ""),
    ]


def test_running_says_when_to_stop_and_call(views: Any) -> None:
    stops = [step for step in run_steps(views, (), ()) if step.hold]
    assert [step.do for step in stops] == ["Stop and call if anybody is inside the fence."]
