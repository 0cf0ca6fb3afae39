"""What a set-up of an operation must record."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.judgement import Linked, judge_together
from weld_packets.packet.forms import run_form, set_up_form, step_digest
from weld_packets.packet.operation.results import required_results
from weld_packets.packet.records.forms import RequiredResult, SetUpForm
from weld_packets.packet.records.operation import NOT_STATED, MachineLine, OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import WeldDetail, WeldLimit
from weld_packets.units import Amount


@pytest.fixture(scope="module")
def sheets(demo_packets: dict[str, Packet]) -> dict[str, OperationSheet]:
    return {f"{name} {each.key}": each for name, packet in demo_packets.items() for each in packet.operations}


@pytest.fixture(scope="module")
def forms(sheets: dict[str, OperationSheet]) -> dict[str, SetUpForm]:
    return {name: set_up_form(sheet) for name, sheet in sheets.items()}


def _step_keys(sheet: OperationSheet) -> Iterator[list[str]]:
    yield [step.key for step in sheet.set_up]
    yield [step.key for step in sheet.prove]


def test_every_step_of_the_demo_has_a_key_of_its_own_in_its_list(sheets: dict[str, OperationSheet]) -> None:
    for name, sheet in sheets.items():
        for keys in _step_keys(sheet):
            assert [key for key, times in Counter(keys).items() if times > 1] == [], name
            assert all(keys), name
            assert not any(key.endswith("/") for key in keys), name


def test_a_step_that_moves_in_its_list_keeps_its_key(make: Any) -> None:
    one, clamped = (make.packet(make.arc_operation(clamps=clamps)) for clamps in ([], ["toggle at the pin", "toggle"]))
    before, after = ({step.do: step.key for step in packet.operations[0].prove} for packet in (one, clamped))
    assert after["Close clamp 2 of 2, hands out."] == "first-part-dry/clamp-2"
    shared = before.keys() & after.keys()
    assert len(shared) == len(before) - 1
    assert {do: before[do] for do in shared} == {do: after[do] for do in shared}


def test_the_digest_of_a_step_follows_its_text_and_not_its_place(sheets: dict[str, OperationSheet]) -> None:
    step = next(iter(sheets.values())).set_up[0]
    assert step_digest(step) == step_digest(step.model_copy(update={"stage": "elsewhere", "callouts": ("a",)}))
    assert step_digest(step) != step_digest(step.model_copy(update={"value": "9 mm"}))
    assert step_digest(step) != step_digest(step.model_copy(update={"see": ""}))


def test_keys_of_values_and_results_are_unique_in_an_operation(forms: dict[str, SetUpForm]) -> None:
    for each in forms.values():
        assert len({value.key for value in each.values}) == len(each.values)
        assert len({result.key for result in each.results}) == len(each.results)


def test_every_setting_lies_in_the_range_that_is_required(forms: dict[str, SetUpForm]) -> None:
    for value in (value for each in forms.values() for value in each.values):
        setting = Decimal(value.setting)
        assert not value.low or Decimal(value.low) <= setting, value.key
        assert not value.high or setting <= Decimal(value.high), value.key
        assert value.exact == (value.low == value.high == value.setting), value.key


def test_every_dialled_value_is_in_the_form_with_the_digits_of_its_page(
    sheets: dict[str, OperationSheet], forms: dict[str, SetUpForm]
) -> None:
    for name, sheet in sheets.items():
        found = {value.key: value for value in forms[name].values}
        for group in sheet.groups:
            for value in group.dialled:
                one = found[f"{group.key}/{value.key}"]
                assert value.amount is not None
                assert (one.setting, one.unit, one.robots) == (value.amount.value, value.amount.unit, group.robots)
                assert len(one.setting.partition(".")[2]) <= one.decimals


def test_a_displayed_current_and_a_worn_cap_face_are_readings(forms: dict[str, SetUpForm]) -> None:
    first = forms["lk-2041-service-module operation-1"].values
    third = forms["lk-2041-service-module operation-3"].values
    assert [value.key for value in first if value.kind == "reading"] == [
        "c1a-t1/welding_current", "c1a-l1/welding_current",
    ]  # fmt: skip
    assert [value.key for value in third if value.kind == "reading"] == ["left-c5a/cap_face"]


def test_programs_schedules_and_coupon_programs_are_in_the_form_for_each_robot(forms: dict[str, SetUpForm]) -> None:
    numbers = forms["lk-2041-service-module operation-1"].numbers
    assert [(each.what, each.number) for each in numbers if each.robot == "C1A"] == [
        ("program", "P410A"), ("coupon program", "T111A"), ("coupon program", "T112A"),
        ("weld schedule", "11"), ("weld schedule", "12"),
    ]  # fmt: skip


def test_a_coupon_of_each_robot_has_its_throat_between_required_and_largest(forms: dict[str, SetUpForm]) -> None:
    results = {each.key: each for each in forms["lk-2041-service-module operation-1"].results}
    throat = results["coupon/c1a-t1/throat/c1b"]
    # a 2.5 mm; level C allows 1 mm + 0.2 of the throat above it: 2.5 + 1.5
    assert (throat.robot, throat.unit, throat.minimum, throat.maximum) == ("C1B", "mm", "2.5", "4.0")
    assert results["first-off/c1a-t1/throat/c1b"].maximum == "4.0"


def test_the_largest_throat_is_not_that_above_a_required_one_that_was_rounded_up(forms: dict[str, SetUpForm]) -> None:
    """A leg of 0.105 in is a throat of 0.07425 in, printed 0.075; with 1 mm + 0.2 a of level C it is 0.1285 in."""
    results = [each for each in forms["lk-2063-coastal-column operation-4"].results if each.what == "Throat"]
    assert {(each.unit, each.minimum, each.maximum) for each in results} == {("in", "0.075", "0.128")}


def test_imperfections_are_judged_by_eye_at_the_quality_level(forms: dict[str, SetUpForm]) -> None:
    results = {each.key: each for each in forms["lk-2041-service-module operation-1"].results}
    crack = results["first-off/arc-visual/crack"]
    assert (crack.unit, crack.minimum, crack.accept) == ("", "", "level C: not permitted")
    assert crack.source == "ISO 5817:2014 table 1, rows 1.1 and 1.2: 100 and 104"


def test_the_largest_imperfection_may_be_measured_where_the_level_allows_a_size(forms: dict[str, SetUpForm]) -> None:
    results = {each.key: each for each in forms["lk-2041-service-module operation-1"].results}
    crack = results["first-off/arc-visual/crack"]
    assert (crack.found_unit, crack.found_maximum) == ("", "")
    # level C: 0.1 of the thickness, 3 mm and 4 mm, each by itself
    sizes = {key: (each.found_unit, each.found_maximum) for key, each in results.items() if "/undercut" in key}
    assert sizes == {
        "first-off/arc-visual/undercut/1": ("mm", "0.3"),
        "first-off/arc-visual/undercut/2": ("mm", "0.4"),
    }
    assert not any(results[key].unit for key in sizes)


def test_welds_with_another_limit_of_an_imperfection_have_a_result_of_their_own(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    size = Amount(value="0.2", unit="mm")
    first = WeldLimit(key="undercut", numbers=("5011",), name="undercut", level="C", text="t", size=size, of="thin")
    second = first.model_copy(update={"size": Amount(value="0.3", unit="mm"), "of": "thick"})
    unknown = second.model_copy(update={"size": None})
    look = view.approved.inspections[0].model_copy(
        update={"id": "eye", "stage": "first-off", "limits": ("undercut",), "processes": ("135",)}
    )
    approved = replace(view.approved, inspections=(look,))

    def found(*limits: WeldLimit) -> list[tuple[str, str, str]]:
        seen = replace(view, approved=approved)
        seen.__dict__["limits"] = limits
        return [(each.key, each.welds, each.found_maximum) for each in required_results(seen) if "undercut" in each.key]

    assert found(first, second) == [
        ("first-off/eye/undercut/1", "thin", "0.2"),
        ("first-off/eye/undercut/2", "thick", "0.3"),
    ]
    assert found(first, unknown) == [("first-off/eye/undercut", "thin; thick", "")]


def test_the_failure_type_of_each_coupon_is_chosen_where_the_plan_requires_it(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    peel = view.approved.inspections[0].model_copy(
        update={"id": "peel", "stage": "coupon", "processes": ("21",), "failure_types": True}
    )
    found = [
        each
        for each in required_results(replace(view, approved=replace(view.approved, inspections=(peel,))))
        if each.what == "Failure type"
    ]
    assert {each.robot for each in found} == {"C5A", "C5B"}
    assert len({each.key for each in found}) == len(found)
    assert [choice.text for choice in found[0].choices if not choice.accepted] == ["interface"]
    assert found[0].source == "ISO 10447:2015 and ISO 14329 from memory"
    plain = peel.model_copy(update={"failure_types": False})
    views = replace(view, approved=replace(view.approved, inspections=(plain,)))
    assert not [each for each in required_results(views) if each.choices]


def test_spot_coupons_are_held_to_the_minimum_at_set_up(forms: dict[str, SetUpForm]) -> None:
    results = {each.key: each for each in forms["lk-2041-service-module operation-3"].results}
    assert results["coupon/left-c5a/set_up_weld_diameter/c5a"].minimum == "4.5"


def test_a_first_off_has_a_diameter_only_where_the_plan_measures_one(forms: dict[str, SetUpForm], make: Any) -> None:
    demo = forms["lk-2041-service-module operation-3"].results
    assert not [each for each in demo if each.stage == "first-off" and each.unit]
    look = next(each for each in make.approved.inspections if each.id == "look")
    teardown = look.model_copy(update={"id": "teardown", "weld_diameter": "production"})
    approved = replace(make.approved, inspections=(*make.approved.inspections, teardown))
    (view,) = make.views(make.spot_operation())
    found = [
        each for each in required_results(replace(view, approved=approved)) if each.stage == "first-off" and each.unit
    ]
    assert {(each.robot, each.minimum) for each in found} == {("C5A", "3.83"), ("C5B", "3.83")}


def test_coupons_and_first_off_are_each_accepted_with_one_hold_point(forms: dict[str, SetUpForm]) -> None:
    for name, each in forms.items():
        accepting = [step for step in each.steps if step.accepts]
        assert [step.accepts for step in accepting] == ["coupons", "first-off"], name
        assert all(step.hold for step in accepting), name


def test_settings_that_limit_each_other_are_in_the_form_as_numbers_and_hold_themselves(
    forms: dict[str, SetUpForm],
) -> None:
    """The setting itself, and each end of a printed range beside the other setting, must not be called wrong."""
    powers = set()
    for name, each in forms.items():
        values = {value.key: value for value in each.values}
        for limit in each.limits:
            value, other = values[limit.value], values[limit.other]
            assert value.robots == other.robots
            known = Linked(limit.power, *(Decimal(end) if end else None for end in (limit.minimum, limit.maximum)))
            for number, beside in (
                (value.setting, other.setting),
                (value.low, other.setting),
                (value.high, other.setting),
                (value.setting, other.low),
                (value.setting, other.high),
            ):
                assert judge_together(Decimal(number), Decimal(beside), known) == "in range", (name, limit)
            powers.add(limit.power)
    assert powers == {1, -2}


def test_the_ends_of_two_ranges_together_make_too_small_a_weld(forms: dict[str, SetUpForm]) -> None:
    each = forms["lk-2055-outdoor-column operation-2"]
    (limit,) = each.limits
    known = Linked(limit.power, None, Decimal(limit.maximum))
    assert limit.minimum == ""
    assert judge_together(Decimal("9.3"), Decimal("3.8"), known) == "high"
    assert judge_together(Decimal("8.8"), Decimal("3.8"), known) == "in range"


def test_a_sheet_from_before_there_were_such_numbers_has_none_in_its_form(sheets: dict[str, OperationSheet]) -> None:
    sheet = sheets["lk-2055-outdoor-column operation-2"]
    older = sheet.model_copy(
        update={"groups": tuple(group.model_copy(update={"linked": ()}) for group in sheet.groups)}
    )
    assert set_up_form(sheet).limits
    assert set_up_form(older).limits == ()


def test_a_result_says_in_a_line_what_may_be_measured() -> None:
    def limits(**ends: str) -> str:
        return RequiredResult(key="1", stage="coupon", what="Throat", **ends).limits.replace("\N{NO-BREAK SPACE}", " ")

    assert limits(unit="mm", minimum="2.5", maximum="4.0") == "2.5 to 4.0 mm"
    assert limits(unit="mm", minimum="2.5") == "at least 2.5 mm"
    assert limits(unit="mm", maximum="4.0") == "at most 4.0 mm"
    assert limits() == ""


def test_what_no_table_states_is_named_once(sheets: dict[str, OperationSheet]) -> None:
    sheet = next(iter(sheets.values()))
    line = MachineLine(name="Drive", values=(NOT_STATED, "servo"))
    detail = WeldDetail(key="tacks", label="Tacks", text="not stated", stated=False)
    stated = (MachineLine(name="Stepper", values=("off", "off")), WeldDetail(key="gap", label="Gap", text="none"))
    bare = sheet.model_copy(update={"machines": (line, stated[0]), "details": (detail, stated[1], detail)})
    assert bare.unstated == ("Drive", "Tacks")


def test_operations_that_follow_each_other_in_a_cell_keep_their_part_counts_apart(make: Any) -> None:
    foot, head = make.arc_operation(name="Foot"), make.arc_operation(name="Head")
    packet: Packet = make.packet(foot, make.spot_operation(), head)
    assert [start.cell for start in run_form(packet).starts] == ["C1, operation 1", "C5", "C1, operation 3"]
    alone = make.packet(foot, make.spot_operation())
    assert list(alone.part_counters.values()) == ["C1", "C5"]
