from __future__ import annotations

from dataclasses import replace
from typing import Any

from generator.packet.callouts import messages
from generator.packet.changeover import Previous, changeover
from generator.packet.records import ChangeLine, Changeover


def _sheet(make: Any, before: tuple[Any, ...], after: tuple[Any, ...], **more: Any) -> Changeover:
    earlier = make.views(*before, order="WO-0", title="Doors")
    views = make.views(*after, **more)
    return changeover(views, Previous(earlier[0].order, earlier), messages(views))


def _line(sheet: Changeover, what: str) -> ChangeLine:
    return next(line for line in sheet.lines if line.what == what)


def test_equal_orders_change_nothing(make: Any) -> None:
    sheet = _sheet(make, (make.spot_row(),), (make.spot_row(),))
    assert all(line.stays and not line.do for line in sheet.lines)
    assert sheet.previous_order == "WO-0"
    assert "Check what stays at cell C5." in [step.do for step in sheet.steps]


def test_changed_setting_tells_before_after_and_what_to_do(make: Any) -> None:
    sheet = _sheet(
        make,
        (make.spot_row(),),
        (make.spot_row(),),
        change=lambda each: make.result(each.row, current="8.8"),
    )
    line = _line(sheet, "Weld current, C5A and C5B")
    assert (line.before, line.after, line.stays) == ("8.4\N{NO-BREAK SPACE}kA", "8.8\N{NO-BREAK SPACE}kA", False)
    assert line.do == "Set weld current on C5A and C5B."
    assert _line(sheet, "Electrode force, C5A and C5B").stays
    step = next(each for each in sheet.steps if each.do == line.do)
    assert (step.value, step.see) == ("8.8\N{NO-BREAK SPACE}kA", "Before: 8.4\N{NO-BREAK SPACE}kA")


def test_fixture_and_program_change_and_process_wire_and_gas_stay(make: Any) -> None:
    after = make.arc_row(fixture="F-9", programs={"C1A": "77", "C1B": "1204"})
    sheet = _sheet(make, (make.arc_row(),), (after,))
    changed = {line.what: line.do for line in sheet.lines if not line.stays}
    assert changed == {"Fixture": "Change the fixture.", "Program, C1A": "Load the program on C1A."}
    assert {"Process", "Wire", "Gas"} <= {line.what for line in sheet.lines if line.stays}


def test_cell_that_was_not_used_is_set_up_from_nothing(make: Any) -> None:
    sheet = _sheet(make, (make.spot_row(),), (make.spot_row(), make.arc_row()))
    line = next(each for each in sheet.lines if each.cell == "C1" and each.what == "Fixture")
    assert (line.before, line.after, line.do) == ("not used", "F-C1", "Fit the fixture.")


def test_cell_that_falls_out_of_use_is_cleared_and_locked(make: Any) -> None:
    sheet = _sheet(make, (make.spot_row(), make.arc_row()), (make.spot_row(),))
    line = next(each for each in sheet.lines if each.cell == "C1")
    assert (line.before, line.after, line.do) == (
        "Row at C1", "not used", "Clear the cell and leave it locked out."
    )  # fmt: skip
    does = [step.do for step in sheet.steps]
    assert does.index("Clear the cell and leave it locked out.") == does.index("Lock out cell C1 before you go in.") + 1


def test_changeover_ends_with_proving_and_holds(make: Any) -> None:
    last = _sheet(make, (make.spot_row(),), (make.spot_row(),)).steps[-1]
    assert last.hold
    assert last.do.startswith("Prove")
    assert last.see == "Nothing changed at any cell."


def test_only_cells_where_something_changes_are_named_for_proving(make: Any) -> None:
    after = make.arc_row(fixture="F-9")
    last = _sheet(make, (make.spot_row(), make.arc_row()), (make.spot_row(), after)).steps[-1]
    assert last.see == "Prove-out done at C1."


def test_two_stacks_set_alike_count_as_one_value_whatever_they_are_called(make: Any) -> None:
    def two(result: Any) -> Any:
        settings = tuple(make.spot_settings("C5A", (f"A{key}",), key=f"k{key}") for key in (1, 2))
        return replace(result, settings=settings)

    earlier = make.views(make.spot_row())
    views = make.views(make.spot_row(), change=two)
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    line = _line(sheet, "Weld current, C5A")
    assert (line.before, line.after, line.stays) == ("8.4\N{NO-BREAK SPACE}kA", "8.4\N{NO-BREAK SPACE}kA", True)


def test_stacks_set_differently_name_the_welds_of_each_value(make: Any) -> None:
    def two(result: Any) -> Any:
        hotter = make.spot_settings("C5A", ("A2",), current="9.0", key="k2")
        return replace(result, settings=(make.spot_settings("C5A", ("A1",)), hotter))

    earlier = make.views(make.spot_row())
    views = make.views(make.spot_row(), change=two)
    line = _line(changeover(views, Previous(earlier[0].order, earlier), messages(views)), "Weld current, C5A")
    assert line.after == "8.4\N{NO-BREAK SPACE}kA (stack k1); 9.0\N{NO-BREAK SPACE}kA (stack k2)"


def test_messages_stand_at_the_cells_of_their_own_rows(make: Any) -> None:
    earlier = make.views(make.spot_row(), make.arc_row(), order="WO-0")
    views = make.views(make.spot_row(fixture="F-8"))
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    locked = {step.do: step.callouts for step in sheet.steps if step.do.startswith("Lock out")}
    assert locked == {
        "Lock out cell C5 before you go in.": ("lockout",),
        "Lock out cell C1 before you go in.": ("lockout",),
    }


def test_another_set_is_opened_at_the_changeover(make: Any) -> None:
    def under(number: int) -> Any:
        return lambda result: replace(
            result, settings=tuple(replace(each, set_number=number) for each in result.settings)
        )

    earlier = make.views(make.spot_row(), change=under(4))
    views = make.views(make.spot_row(), change=under(5))
    line = _line(changeover(views, Previous(earlier[0].order, earlier), messages(views)), "Set, C5A and C5B")
    assert (line.before, line.after, line.do) == ("4", "5", "Open the set on C5A and C5B.")


def test_the_other_system_of_units_is_no_change(make: Any) -> None:
    earlier = make.views(make.arc_row())
    views = make.views(make.arc_row(), show_first="US customary")
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    assert [line.what for line in sheet.lines if not line.stays] == []
    assert _line(sheet, "Wire").before != _line(sheet, "Wire").after


def _basis(make: Any, released: Any, **fixture: str) -> str:
    views = make.views(make.spot_row(**fixture))
    return changeover(views, Previous(views[0].order, views, released), messages(views)).basis


def test_the_sheet_names_the_revision_of_the_previous_order_that_it_was_compared_with(make: Any) -> None:
    packet = make.packet(make.spot_row())
    assert _basis(make, ("B", packet)) == "Compared with WO-1 revision B."


def test_the_sheet_warns_where_the_previous_order_has_moved_on_from_its_release(make: Any) -> None:
    packet = make.packet(make.spot_row())
    assert "have changed since its revision B" in _basis(make, ("B", packet), fixture="F-9")


def test_the_sheet_warns_where_the_previous_order_was_never_released(make: Any) -> None:
    assert "has no released revision" in _basis(make, None)
