"""What of an operation must be looked at before it runs, in one list."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.calculation import countermeasures as acts
from weld_packets.calculation.trace import Countermeasure, Verdict, Weight
from weld_packets.calculation.trace import Remark as ProcessRemark
from weld_packets.packet.plain_text import warning_lines
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import Check, OperationWarning, SettingGroup
from weld_packets.packet.records.values import Remark, Value
from weld_packets.packet.settings.checks import warnings_among, warnings_of

STEP_WORDS = 20
"""A step is no longer than this."""
MEMORY = Remark(weight="warning", text="from memory", source="notes", do="Prove it.", stage="coupon")


def _value(label: str, *remarks: Remark) -> Value:
    return Value(key=label, figure=label, label=label, symbol="x", anchor=label, amount=None, remarks=remarks)


def _group(key: str, *values: Value, checks: tuple[Check, ...] = ()) -> SettingGroup:
    return SettingGroup(
        key=key, title=f"Stack {key}", name=f"stack {key}", robots=("R1",), welds=(f"{key}1", f"{key}2"), pass_count=1,
        dialled=values[:1], derived=values[1:], checks=checks,
    )  # fmt: skip


def _check(outcome: Any, text: str = "no outline") -> Check:
    return Check(subject="part P", text=text, outcome=outcome, source="order", do="Measure it.", stage="first-off")


def test_a_warning_on_a_set_value_and_on_one_that_follows_is_stated_once_with_both() -> None:
    group = _group("a", _value("Hold time", MEMORY), _value("Weld diameter", MEMORY))
    assert warnings_among((group,), (), ()) == (
        OperationWarning(
            weight="warning", text="from memory", about=("Hold time", "Weld diameter"), source="notes", do="Prove it.",
            stage="coupon",
        ),
    )  # fmt: skip


def test_a_warning_of_one_group_among_several_names_the_group_and_its_welds() -> None:
    groups = (_group("a", _value("Hold time", MEMORY)), _group("b", _value("Hold time")))
    (warning,) = warnings_among(groups, (), ())
    assert (warning.groups, warning.welds) == (("stack a",), ("a1", "a2"))
    assert warning.line == "Hold time: from memory. (stack a: a1, a2) Prove it."


def test_a_warning_of_all_groups_concerns_the_whole_operation() -> None:
    groups = (_group("a", _value("Hold time", MEMORY)), _group("b", _value("Hold time", MEMORY)))
    (warning,) = warnings_among(groups, (), ())
    assert (warning.groups, warning.welds) == ((), ())
    assert warning.line == "Hold time: from memory. Prove it."


def test_a_warning_of_a_group_and_of_the_whole_operation_concerns_the_whole() -> None:
    groups = (_group("a", checks=(_check("not checked"),)), _group("b"))
    (warning,) = warnings_among(groups, (), (_check("not checked"),))
    assert warning.groups == ()


def test_warnings_that_differ_in_source_or_act_are_distinguished() -> None:
    others = (MEMORY.model_copy(update={"source": "other"}), MEMORY.model_copy(update={"do": "Ask."}))
    warning = warnings_among((), (_value("Time", MEMORY, *others),), ())
    assert [(each.source, each.do) for each in warning] == [
        ("notes", "Prove it."),
        ("other", "Prove it."),
        ("notes", "Ask."),
    ]


def test_notes_and_passed_checks_are_left_where_they_are() -> None:
    note = MEMORY.model_copy(update={"weight": "note"})
    assert warnings_among((_group("a", _value("Time", note), checks=(_check("passed"),)),), (), ()) == ()


@pytest.mark.parametrize("outcome", ["not checked", "warning"])
def test_a_check_that_did_not_pass_keeps_its_outcome_and_its_act(outcome: Any) -> None:
    (warning,) = warnings_among((), (), (_check(outcome),))
    assert (warning.weight, warning.about, warning.do, warning.stage) == (
        outcome,
        ("part P",),
        "Measure it.",
        "first-off",
    )


def _memory(view: Any) -> Any:
    remark = ProcessRemark(Weight.WARNING, "from memory", countermeasure=acts.SECTION)
    first, *rest = view.settings
    derived = (replace(first.derived[0], remarks=(remark,)), *first.derived[1:])
    verdict = Verdict("coating", "part P", "coated", None, "practice", warns=True, countermeasure=acts.BARE_OR_SECTION)
    return replace(view, settings=(replace(first, derived=derived), *rest), verdicts=(verdict,))


def test_a_computed_warning_keeps_its_act_up_to_the_list(make: Any) -> None:
    (view,) = make.views(make.arc_operation(), change=_memory)
    assert {
        (remark.do, remark.stage) for group in view.groups for value in group.derived for remark in value.remarks
    } == {(acts.SECTION.do, "coupon")}


def test_an_operation_made_before_operations_carried_a_list_is_read_through_for_it(make: Any) -> None:
    operation = make.packet(make.spot_operation()).operations[0]
    group = operation.groups[0].model_copy(update={"checks": (_check("not checked"),)})
    old = operation.model_copy(update={"groups": (group, *operation.groups[1:]), "warnings": (), "checks": ()})
    assert [each.text for each in warnings_of(old)] == ["no outline"]
    kept = old.model_copy(update={"warnings": (OperationWarning(weight="warning", text="own", about=("x",)),)})
    assert [each.text for each in warnings_of(kept)] == ["own"]


def test_a_warning_of_the_run_itself_is_with_the_run(make: Any) -> None:
    packet = make.packet(make.spot_operation())
    warned = packet.run.model_copy(
        update={"warnings": warnings_among((), (_value("Duration of the run", MEMORY),), ())}
    )
    *_, last = warning_lines(packet.model_copy(update={"run": warned}))
    assert last == "run: check: Duration of the run: from memory. Prove it."


ALL_ACTS = [act for act in vars(acts).values() if isinstance(act, Countermeasure)]


@pytest.mark.parametrize("act", ALL_ACTS, ids=lambda act: act.do)
def test_what_is_done_about_a_warning_can_stand_as_a_step(act: Countermeasure, verbs: frozenset[str]) -> None:
    assert act.do.split()[0] in verbs
    assert len(act.do.split()) <= STEP_WORDS
    assert act.do.endswith(".")


def test_a_current_at_the_end_of_its_range_and_a_gap_that_costs_throat_are_warnings_of_the_operation(
    demo_packets: dict[str, Packet],
) -> None:
    """LK-2055 operation 2: 125 A of 115 to 125 A; at a gap of 0.5 mm 1.8 mm are left of the throat 2.2 mm."""
    warnings = demo_packets["lk-2055-outdoor-column"].operations[1].warnings
    (current,) = (each for each in warnings if each.do == acts.LOWER_FEED.do)
    (gap,) = (each for each in warnings if each.do.startswith("Measure the root gap"))
    assert (current.weight, current.stage, gap.weight, gap.stage) == ("warning", "coupon", "warning", "loading")
    assert gap.text.replace("\N{NO-BREAK SPACE}", " ").endswith("leaves 1.8 mm of the required throat 2.2 mm")
    assert len(gap.do.split()) <= STEP_WORDS
