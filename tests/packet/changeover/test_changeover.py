from __future__ import annotations

from dataclasses import replace
from typing import Any

from weld_packets.calculation.trace import Remark, Weight
from weld_packets.packet.changeover.sheet import Previous, changeover
from weld_packets.packet.operation.card import setters_card
from weld_packets.packet.records.order import ChangeLine, Changeover
from weld_packets.packet.records.steps import Lead
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import SET_UP, prove_drafts
from weld_packets.units import kinds


def _sheet(make: Any, before: tuple[Any, ...], after: tuple[Any, ...], **more: Any) -> Changeover:
    earlier = make.views(*before, order="WO-0", title="Doors")
    views = make.views(*after, **more)
    return changeover(views, Previous(earlier[0].order, earlier), messages(views))


def _line(sheet: Changeover, what: str) -> ChangeLine:
    return next(line for line in sheet.lines if line.what == what)


def test_where_nothing_changes_the_cell_is_stopped_and_emptied_and_its_first_part_proved(make: Any) -> None:
    sheet = _sheet(make, (make.spot_operation(),), (make.spot_operation(),))
    assert all(line.stays for line in sheet.lines)
    assert sheet.previous_order == "WO-0"
    does = [step.do for step in sheet.steps]
    order = ["Stop cell C5 with cycle stop.", "Select dry run (welding inhibited) on both robots.",
             "Take out any part that is still in the fixture.", "Leave the cell with your tools.",
             "Check what stays at cell C5.", "Prove cell C5: prove-out of Operation at C5.",
             "Start no cell before its first-off part is accepted."]  # fmt: skip
    assert [does.index(do) for do in order] == sorted(does.index(do) for do in order)
    assert not any(do.startswith(("Shut down", "Set ", "Select weld", "Fit ")) for do in does)


def _hotter(make: Any) -> Any:
    return lambda each: make.result(each.operation, current="8.8")


def test_changed_setting_says_before_and_after_and_is_set_with_the_gate_open_and_no_lock(make: Any) -> None:
    sheet = _sheet(make, (make.spot_operation(),), (make.spot_operation(),), change=_hotter(make))
    line = _line(sheet, "Weld current, C5A and C5B")
    assert (line.before, line.after, line.stays) == ("8.4\N{NO-BREAK SPACE}kA", "8.8\N{NO-BREAK SPACE}kA", False)
    assert _line(sheet, "Electrode force, C5A and C5B").stays
    step = next(each for each in sheet.steps if each.do == "Set weld current on C5A and C5B.")
    assert (step.value, step.stage) == ("8.8\N{NO-BREAK SPACE}kA", "Gate open, cell in manual, key with you")
    does = [each.do for each in sheet.steps]
    assert not any(do.startswith(("Shut down, isolate", "Set electrode force", "Measure the force")) for do in does)


def test_only_what_changed_is_fitted_and_set(make: Any) -> None:
    after = make.arc_operation(fixture="F-9", programs={"C1A": "77", "C1B": "1204"})
    sheet = _sheet(make, (make.arc_operation(),), (after,))
    assert {line.what for line in sheet.lines if not line.stays} == {"Fixture", "Program, C1A"}
    assert {"Process", "Wire", "Gas"} <= {line.what for line in sheet.lines if line.stays}
    staged = {step.do: step.stage for step in sheet.steps}
    assert staged["Fit the fixture, clamp it down and connect its air and plugs."] == "Cell locked out"
    assert not any(do.startswith(("Fit the wire", "Connect the gas", "Set ", "Select weld")) for do in staged)


def test_a_cell_that_was_not_used_sends_its_reader_to_the_whole_set_up(make: Any) -> None:
    sheet = _sheet(make, (make.spot_operation(),), (make.spot_operation(), make.arc_operation()))
    (line,) = (each for each in sheet.lines if each.cell == "C1")
    assert (line.what, line.before, line.after) == ("Cell", "not used", "Operation at C1")
    (step,) = (each for each in sheet.steps if each.do == "Set up cell C1 in full, then prove it out.")
    assert step.lead == Lead(page="operation-2-set-up", anchor="operation-2-setup", words="Set-up")


def test_a_cell_that_falls_out_of_use_is_cleared_first_and_no_lock_is_left_on_it(make: Any) -> None:
    sheet = _sheet(make, (make.spot_operation(), make.arc_operation()), (make.spot_operation(fixture="F-8"),))
    line = next(each for each in sheet.lines if each.cell == "C1")
    assert (line.before, line.after, line.stays) == ("Operation at C1", "not used", False)
    does = [step.do for step in sheet.steps]
    order = ["Take out any part that is still in the fixture, then leave the cell.",
             "Shut down, isolate and lock out cell C1 with your own lock.",
             "Clear cell C1: tools, loose parts, and the fixture if it is needed elsewhere.",
             "Close the cylinder valve and bleed the regulator.",
             "Take off your lock and restore energy.", "Leave the cell and close the gate until it is used again.",
             "Shut down, isolate and lock out cell C5 with your own lock."]  # fmt: skip
    assert [does.index(do) for do in order] == sorted(does.index(do) for do in order)


def test_steps_are_headed_by_the_cell_and_what_it_makes(make: Any) -> None:
    sheet = _sheet(make, (make.spot_operation(), make.arc_operation()), (make.spot_operation(fixture="F-8"),))
    places = [place for place in dict.fromkeys(step.place for step in sheet.steps) if place]
    assert places == ["Cell C1: no longer used", "Cell C5: Operation at C5"]
    for place, cell in zip(places, ("C1", "C5"), strict=True):
        first, then = [step for step in sheet.steps if step.place == place][:2]
        assert (first.do, first.hold) == (f"Check that order WO-0 is complete at cell {cell}.", True)
        assert first.see.endswith("Other cells may still run it.")
        assert then.do == f"Stop cell {cell} with cycle stop."


def test_coupon_programs_and_the_current_to_read_are_compared(make: Any) -> None:
    before = make.arc_operation(**{"coupon programs": {"C1A": "T1", "C1B": "T2"}})
    after = make.arc_operation(**{"coupon programs": {"C1A": "T3", "C1B": "T2"}})
    sheet = _sheet(make, (before,), (after,), change=lambda each: make.result(each.operation, current="187"))
    lines = {line.what: (line.before, line.after) for line in sheet.lines if not line.stays}
    assert lines["Coupon programs, C1A"] == ("T1", "T3")
    assert lines["Welding current, C1A and C1B"] == ("150\N{NO-BREAK SPACE}A", "187\N{NO-BREAK SPACE}A")
    assert _line(sheet, "Coupon programs, C1B").stays


def test_a_changeover_ends_where_every_cell_of_the_order_is_proved(make: Any) -> None:
    last = _sheet(
        make, (make.spot_operation(), make.arc_operation()), (make.spot_operation(), make.arc_operation(fixture="F-9"))
    ).steps[-1]
    assert last.hold
    assert last.do == "Start no cell before its first-off part is accepted."
    assert last.see == "Prove-out signed at C5 and C1."


def test_the_steps_say_that_they_replace_the_set_up_and_lead_to_the_prove_out(make: Any) -> None:
    sheet = _sheet(make, (make.arc_operation(),), (make.arc_operation(fixture="F-9"),))
    (step,) = (each for each in sheet.steps if each.do.startswith("Prove cell C1"))
    assert step.see == "The steps above replace its set-up: nothing of it is repeated."
    assert step.lead == Lead(page="operation-1-prove-out", anchor="operation-1-prove", words="Prove-out")


def _turned(make: Any, side: str) -> Any:
    """Return what gives every weld a travel angle of 10° to one side."""
    note = Remark(Weight.NOTE, side)

    def change(result: Any) -> Any:
        angle = make.figure("travel_angle", "10", "°", kinds.ANGLE, remarks=(note,))
        return replace(
            result, settings=tuple(replace(each, dialled=(*each.dialled, angle)) for each in result.settings)
        )

    return change


def test_an_angle_to_the_other_side_is_a_change(make: Any) -> None:
    earlier = make.views(make.arc_operation(), change=_turned(make, "Drag"))
    views = make.views(make.arc_operation(), change=_turned(make, "Push"))
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    line = _line(sheet, "Travel angle, C1A and C1B")
    assert (line.before, line.after, line.stays) == ("10° drag", "10° push", False)
    held = [
        step.value
        for step in printed_steps(prove_drafts(views[0]), (), SET_UP)
        if step.do.startswith("Check distance and angles")
    ]
    assert held == ["contact distance 12\N{NO-BREAK SPACE}mm (0.472\N{NO-BREAK SPACE}in), travel angle 10° push"] * 2


def test_components_weld_counts_lengths_and_coupon_limits_are_compared(make: Any) -> None:
    longer = {
        "id": "sA", "robot": "C1A", "joint": "T fillet", "position": "PB", "components": ["p1", "p2"], "throat": "3 mm",
        "path": {"unit": "cm", "start": ["1", "2", "0"], "pieces": [{"to": ["21", "2", "0"]}]},
    }  # fmt: skip
    other = {**longer, "id": "sB", "robot": "C1B"}
    more = {**longer, "id": "sC"}
    sheet = _sheet(make, (make.arc_operation(),), (make.arc_operation(seams=[longer, other, more]),))
    lines = {line.what: (line.before, line.after) for line in sheet.lines if not line.stays}
    assert lines["Welds, C1A"] == ("1 seam", "2 seams")
    assert lines["Weld length, C1A"] == (
        "100\N{NO-BREAK SPACE}mm (3.94\N{NO-BREAK SPACE}in)", "400\N{NO-BREAK SPACE}mm (15.75\N{NO-BREAK SPACE}in)"
    )  # fmt: skip
    assert _line(sheet, "Coupon limit, C1A and C1B").stays
    assert _line(sheet, "Components").after.startswith("Part 1, 3\N{NO-BREAK SPACE}mm")


def test_two_stacks_set_the_same_count_as_one_value_whatever_they_are_called(make: Any) -> None:
    def two(result: Any) -> Any:
        settings = tuple(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}") for key in (1, 2))
        return replace(result, settings=settings)

    earlier = make.views(make.spot_operation())
    views = make.views(make.spot_operation(), change=two)
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    line = _line(sheet, "Weld current, C5A")
    assert (line.before, line.after, line.stays) == ("8.4\N{NO-BREAK SPACE}kA", "8.4\N{NO-BREAK SPACE}kA", True)


def test_stacks_set_differently_name_the_welds_of_each_value(make: Any) -> None:
    def two(result: Any) -> Any:
        hotter = make.spot_settings("C5A", ("A2",), current="9.0", key="k2")
        return replace(result, settings=(make.spot_settings("C5A", ("A1",)), hotter))

    earlier = make.views(make.spot_operation())
    views = make.views(make.spot_operation(), change=two)
    line = _line(changeover(views, Previous(earlier[0].order, earlier), messages(views)), "Weld current, C5A")
    assert line.after == "8.4\N{NO-BREAK SPACE}kA (stack k1); 9.0\N{NO-BREAK SPACE}kA (stack k2)"


def test_messages_stand_at_the_cells_of_their_own_operations(make: Any) -> None:
    earlier = make.views(make.spot_operation(), make.arc_operation(), order="WO-0")
    views = make.views(make.spot_operation(fixture="F-8"))
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    locked = {step.do: step.callouts for step in sheet.steps if step.do.startswith("Shut down, isolate")}
    assert locked == {
        "Shut down, isolate and lock out cell C5 with your own lock.": ("lockout",),
        "Shut down, isolate and lock out cell C1 with your own lock.": ("lockout",),
    }


def test_a_cell_that_falls_out_of_use_gets_the_messages_of_its_process(make: Any) -> None:
    """The order welds by arc in another cell: what is said there of gas holds for the cylinder that is shut here."""
    approved = make.approved
    other = approved.cells["C1"].model_copy(update={"id": "C2", "robots": ("C2A", "C2B")})
    robots = {
        f"C2{side}": approved.robots[f"C1{side}"].model_copy(update={"id": f"C2{side}", "cell": "C2"}) for side in "AB"
    }
    hazards = tuple(each.model_copy(update={"stages": ("changeover",)}) for each in approved.hazards)
    build = type(make)(
        replace(approved, cells={**approved.cells, "C2": other}, robots={**approved.robots, **robots}, hazards=hazards)
    )
    earlier = build.views(build.arc_operation(), order="WO-0")
    operation = build.arc_operation()
    seams = tuple(seam.model_copy(update={"robot": f"C2{seam.robot[-1]}"}) for seam in operation.seams)
    moved = operation.model_copy(
        update={"cell": "C2", "robots": ("C2A", "C2B"), "programs": {"C2A": "1", "C2B": "2"}, "seams": seams}
    )

    def at_other_robots(result: Any) -> Any:
        found = (replace(each, robot=each.robot.replace("C1", "C2")) for each in result.settings)
        return replace(result, settings=tuple(found))

    views = build.views(build.spot_operation(), moved, change=at_other_robots)
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    lines = {step.do: step.callouts for step in sheet.steps if step.place == "Cell C1: no longer used"}
    assert lines["Close the cylinder valve and bleed the regulator."] == ("gas",)
    assert not {"crush", "implants"} & {key for keys in lines.values() for key in keys}


def test_another_weld_schedule_is_selected_and_set_whole(make: Any) -> None:
    def under(number: int) -> Any:
        return lambda result: replace(
            result, settings=tuple(replace(each, weld_schedule=number) for each in result.settings)
        )

    earlier = make.views(make.spot_operation(), change=under(4))
    views = make.views(make.spot_operation(), change=under(5))
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    line = _line(sheet, "Weld schedule, C5A and C5B")
    assert (line.before, line.after) == ("4", "5")
    does = [step.do for step in sheet.steps]
    assert "Select weld schedule 5 on C5A and C5B." in does
    assert [do for do in does if do.startswith("Set ")] == [
        f"Set {label} on C5A and C5B." for label in ("electrode force", "weld current", "weld time", "hold time")
    ]


def test_the_other_system_of_units_is_no_change(make: Any) -> None:
    earlier = make.views(make.arc_operation())
    views = make.views(make.arc_operation(), show_first="US customary")
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    assert [line.what for line in sheet.lines if not line.stays] == []
    assert _line(sheet, "Wire").before != _line(sheet, "Wire").after


def _basis(make: Any, released: Any, **fixture: str) -> str:
    views = make.views(make.spot_operation(**fixture))
    return changeover(views, Previous(views[0].order, views, released), messages(views)).basis


def test_the_sheet_names_the_revision_of_the_previous_order_that_it_was_compared_with(make: Any) -> None:
    packet = make.packet(make.spot_operation())
    assert _basis(make, ("B", packet)) == "Compared with WO-1 revision B."


def test_the_sheet_warns_where_the_previous_order_has_moved_on_from_its_release(make: Any) -> None:
    packet = make.packet(make.spot_operation())
    assert "have changed since its revision B" in _basis(make, ("B", packet), fixture="F-9")


def test_the_sheet_warns_where_the_previous_order_was_never_released(make: Any) -> None:
    assert "has no released revision" in _basis(make, None)


def test_a_further_operation_of_a_cell_is_set_up_after_the_last_part_of_the_one_before(make: Any) -> None:
    before = make.arc_operation()
    after = (make.arc_operation(name="Foot"), make.arc_operation(name="Head", fixture="F-9"))
    for was in ((before,), (make.spot_operation(),)):
        sheet = _sheet(make, was, after)
        does = [step.do for step in sheet.steps]
        further = does.index("After the last part of Foot, set up cell C1 for Head, then prove it out.")
        first = next(at for at, do in enumerate(does) if do.startswith(("Prove cell C1", "Set up cell C1 in full")))
        assert first < further
        assert not any("et up cell C1" in do for at, do in enumerate(does) if at > further)


def test_what_the_last_operation_of_a_cell_left_is_what_a_changeover_finds(make: Any) -> None:
    """The order before ended with Head on its own fixture; the next one begins with Foot, as that order did."""
    foot, head = make.arc_operation(name="Foot"), make.arc_operation(name="Head", fixture="F-9")
    sheet = _sheet(make, (foot, head), (foot, head))
    fixture = _line(sheet, "Fixture")
    assert (fixture.before, fixture.after, fixture.stays) == ("F-9", foot.fixture, False)
    staged = {step.do: (step.stage, step.value) for step in sheet.steps}
    fit = "Fit the fixture, clamp it down and connect its air and plugs."
    assert staged[fit] == ("Cell locked out", foot.fixture)
    assert _line(_sheet(make, (head, foot), (foot,)), "Fixture").stays


def test_a_setting_that_an_earlier_operation_of_the_cell_used_is_set_again(make: Any) -> None:
    """A weld schedule may hold it yet; without a number what is dialled is that of the last operation."""
    foot, head = make.spot_operation(name="Foot"), make.spot_operation(name="Head")

    def hotter_head(each: Any) -> Any:
        return make.result(each.operation, current="8.8" if each.operation.name == "Head" else "8.4")

    earlier = make.views(foot, head, change=hotter_head)
    views = make.views(foot)
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    line = _line(sheet, "Weld current, C5A and C5B")
    assert (line.before, line.after) == ("8.8\N{NO-BREAK SPACE}kA", "8.4\N{NO-BREAK SPACE}kA")
    assert "Set weld current on C5A and C5B." in [step.do for step in sheet.steps]


def test_a_cell_that_falls_out_of_use_is_cleared_of_the_fixture_that_is_in_it(make: Any) -> None:
    foot, head = make.arc_operation(name="Foot"), make.arc_operation(name="Head", fixture="F-9")
    sheet = _sheet(make, (foot, head), (make.spot_operation(),))
    assert next(step.value for step in sheet.steps if step.do.startswith("Clear cell C1")) == "F-9"


def test_a_name_with_braces_is_a_name_on_changeover_and_card(make: Any) -> None:
    name = "Rail {0.__class__} {} {left"
    gas = make.approved.gases["M21"].model_copy(update={"content": name})
    make.approved = replace(make.approved, gases={"M21": gas})
    operation = make.arc_operation()
    named = [each.model_copy(update={"name": name}) for each in operation.components]
    sheet = _sheet(make, (operation,), (operation.model_copy(update={"components": named}),))
    assert name in _line(sheet, "Components").after
    assert _line(sheet, "Gas").after.endswith(name)
    (view,) = make.views(operation)
    assert next(fact.value for fact in setters_card(view, ()).fitted if fact.name == "Gas").endswith(name)
