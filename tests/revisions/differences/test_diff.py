from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import LegendLine, SettingGroup
from weld_packets.packet.records.steps import Action
from weld_packets.revisions.differences.changes import Change, SettingChanged
from weld_packets.revisions.differences.diff import diff
from weld_packets.units import Amount

FieldPath = tuple[str | int, ...]
Leaf = Callable[[Packet, FieldPath, Any], Packet]
CURRENT: FieldPath = ("operations", 0, "groups", 0, "dialled", 0)
HEAT: FieldPath = ("operations", 0, "groups", 0, "derived", 0)
WINDOW = "operation 2, 1.2 + 1.0 mm, weld current, window"
CURRENT_PATH = ("operations", "operation-2", "groups", "lc-a", "dialled", "weld_current")
LOOKUP: FieldPath = (*CURRENT, "trace", 1)
ONLY_IN = {
    "given": {"form", "label", "result", "origin", "symbol"},
    "lookup": {
        "form",
        "label",
        "result",
        "table",
        "revision",
        "source",
        "column",
        "at",
        "operations",
        "values",
        "fraction",
    },
    "formula": {
        "form",
        "label",
        "result",
        "symbol",
        "source",
        "clause",
        "standing",
        "validity",
        "expression",
        "numbers",
    },
    "rounded": {"form", "label", "result", "symbol", "at", "origin"},
}


def raw(packet: Packet) -> dict[str, Any]:
    return dict(json.loads(packet.model_dump_json()))


def at(data: Any, path: FieldPath) -> Any:
    for step in path:
        data = data[step]
    return data


def leaves(value: Any, path: FieldPath = ()) -> Iterator[FieldPath]:
    """Yield the path of every text, number and yes/no that a page can print."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if "trace" not in path or not isinstance(path[-1], int) or key in ONLY_IN.get(value.get("form", ""), {key}):
                yield from leaves(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from leaves(inner, (*path, number))
    elif value is not None and path != ("format",):
        yield path


def lists(value: Any, path: FieldPath = ()) -> Iterator[FieldPath]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from lists(inner, (*path, key))
    elif isinstance(value, list):
        yield path
        for number, inner in enumerate(value):
            yield from lists(inner, (*path, number))


_WITH_STAGES = ("warnings", "remarks", "checks")
"""Lists whose items say at which of four stages something is done."""


def another(value: Any, path: FieldPath) -> Any:
    """Return another value that the field allows."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    stages = ("coupon", "first-off")
    elsewhere = {("form", "trace"): ("formula", "given"), **{("stage", inside): stages for inside in _WITH_STAGES}}
    for (name, inside), choices in elsewhere.items():
        if path[-1] == name and inside in path:
            return next(choice for choice in choices if choice != value)
    if path[-1] == "weight" and "warnings" in path:
        return "warning" if value == "not checked" else "not checked"
    allowed = {
        "word": ("WARNING", "DANGER"), "side": ("A", "B"), "form": ("spot", "seam"), "weight": ("note", "warning"),
        "outcome": ("passed", "not checked"), "reader": ("setter", "auditor"),
        "when": ("after", "during"),
        "standing": ("read", "from memory"),
    }  # fmt: skip
    if path[-1] in allowed:
        return next(choice for choice in allowed[str(path[-1])] if choice != value)
    return f"{value}9"


def said(old: Packet, new: Packet) -> list[str]:
    return [str(change) for change in diff(old, new)]


def test_a_packet_does_not_differ_from_itself(packet: Packet) -> None:
    assert diff(packet, Packet.model_validate_json(packet.model_dump_json())) == ()


def test_no_leaf_differs_without_a_line_that_shows_it(packet: Packet, leaf: Leaf) -> None:
    data, count = raw(packet), 0
    for path in leaves(data):
        changes = diff(packet, leaf(packet, path, another(at(data, path), path)))
        assert changes, path
        assert all(before != after for before, after in shown_pairs(changes)), path
        count += 1
    assert count > 250


def shown_pairs(changes: tuple[Change, ...]) -> Iterator[tuple[str, str]]:
    return ((c.before, c.after) for c in changes if hasattr(c, "before") and hasattr(c, "after"))


def test_no_item_of_a_list_goes_comes_or_moves_without_a_line(packet: Packet) -> None:
    count = 0
    for path in (path for path in lists(raw(packet)) if path[-1] != "robots" and "points" not in path[:-1]):
        for change in (remove_last, repeat_first, turn_round):
            data = raw(packet)
            inner = at(data, path)
            before = list(inner)
            change(inner)
            if inner != before:
                assert diff(packet, Packet.model_validate_json(json.dumps(data))), path
                count += 1
    assert count > 100


def remove_last(items: list[Any]) -> None:
    del items[-1:]


def repeat_first(items: list[Any]) -> None:
    items += items[:1]


def turn_round(items: list[Any]) -> None:
    items.reverse()


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(choice=st.data())
def test_several_leaves_together_differ_too_and_both_ways(packet: Packet, choice: st.DataObject) -> None:
    data = raw(packet)
    paths = choice.draw(st.lists(st.sampled_from(list(leaves(data))), min_size=1, max_size=6, unique=True))
    for path in paths:
        at(data, path[:-1])[path[-1]] = another(at(data, path), path)
    changed = Packet.model_validate_json(json.dumps(data))
    assert diff(packet, changed)
    assert diff(changed, packet)


def test_a_setting_says_value_and_cause_in_the_words_of_the_trade(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*CURRENT, "amount", "value"), "8.8")
    new = leaf(new, (*LOOKUP, "revision"), "4")
    new = leaf(new, (*LOOKUP, "rows"), ["1.2 mm"])
    new = leaf(leaf(new, (*LOOKUP, "values"), ["8.80"]), (*LOOKUP, "result", "value"), "8.80")
    (change,) = diff(packet, new)
    assert str(change) == (
        "operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA, because table spot-lc rev 3 -> 4, "
        "row 1.0 mm to 1.2 mm -> 1.2 mm, values 8.0 to 8.41 -> 8.80"
    )
    assert change.paths == (CURRENT_PATH,)


def test_a_value_that_the_order_gives_is_no_cause_of_itself(packet: Packet, leaf: Leaf) -> None:
    given = {"form": "given", "label": "weld current", "result": {"value": "8.4", "unit": "kA"}, "origin": "order"}
    old = leaf(packet, (*CURRENT, "trace"), [given])
    new = leaf(leaf(old, (*CURRENT, "amount", "value"), "8.8"), (*CURRENT, "trace", 0, "result", "value"), "8.8")
    assert said(old, new) == ["operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA"]


def test_a_setting_in_another_unit_shows_both_units(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*CURRENT, "amount"), {"value": "8400", "unit": "A"})
    assert said(packet, new) == ["operation 2, 1.2 + 1.0 mm: weld current 8.4 kA -> 8400 A"]


def test_a_figure_that_leaves_its_method_says_so(packet: Packet, leaf: Leaf) -> None:
    new = leaf(leaf(packet, (*CURRENT, "amount"), None), (*CURRENT, "outside"), "outside the chart")
    assert said(packet, new) == ["operation 2, 1.2 + 1.0 mm: weld current 8.4 kA -> outside the chart"]
    empty = leaf(packet, (*HEAT, "outside"), "")
    assert said(packet, empty) == ["operation 2, 1.2 + 1.0 mm: heat input outside the method -> (nothing)"]


def test_figures_that_keep_their_values_are_stated_together(packet: Packet, leaf: Leaf) -> None:
    (group,) = packet.operations[0].groups
    force = group.dialled[0].model_copy(update={"key": "force", "label": "electrode force"})
    old = leaf(packet, ("operations", 0, "groups", 0, "dialled"), [raw_value(v) for v in (*group.dialled, force)])
    new = old
    for number in range(2):
        new = leaf(new, ("operations", 0, "groups", 0, "dialled", number, "trace", 1, "revision"), "4")
    (change,) = diff(old, new)
    assert str(change) == (
        "operation 2, 1.2 + 1.0 mm: same value, calculated differently: weld current, electrode force "
        "(table spot-lc rev 3 -> 4, row 1.0 mm to 1.2 mm)"
    )
    assert [path[-1] for path in change.paths] == ["weld_current", "force"]


def test_look_ups_that_only_name_another_revision_of_a_table_are_one_line(packet: Packet, leaf: Leaf) -> None:
    new = leaf(leaf(packet, (*LOOKUP, "revision"), "4"), ("tables", 0, "revision"), "4")
    first, recited = diff(packet, new)
    assert str(first) == "table spot-lc: revision 3 -> 4"
    assert str(recited) == "table spot-lc revision 3 -> 4: named so in 1 places that are otherwise the same"
    assert CURRENT_PATH in recited.paths
    more = leaf(new, (*CURRENT, "amount", "value"), "8.8")
    assert said(packet, more) == [
        "operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA, because table spot-lc rev 3 -> 4, row 1.0 mm to 1.2 mm",
        "table spot-lc: revision 3 -> 4",
    ]


def test_a_text_with_the_letters_of_a_revision_is_a_text(packet: Packet, leaf: Leaf) -> None:
    old = leaf(packet, ("cautions", 0), "as in table spot-lc revision 3")
    new = leaf(leaf(old, ("cautions", 0), "as in table spot-lc revision 4"), ("tables", 0, "revision"), "4")
    assert any("as in table spot-lc revision 3" in line for line in said(old, new))


def raw_value(value: Any) -> Any:
    return json.loads(value.model_dump_json())


def test_an_allowed_range_shows_both_ends(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*CURRENT, "window"), {"low": "8.2", "high": "", "origin": "table spot-lc"})
    assert said(packet, new) == ["operation 2, 1.2 + 1.0 mm, weld current: allowed range 8.0 to 9.2 -> 8.2 to open"]


@pytest.mark.parametrize(("field", "brief"), [("window", "allowed range 8.0 to 9.2"), ("step", "machine step 0.1 kA")])
def test_an_allowed_range_or_step_that_goes_or_comes_is_said_with_its_value(
    packet: Packet, leaf: Leaf, field: str, brief: str
) -> None:
    without = leaf(packet, (*CURRENT, field), None)
    assert said(packet, without) == [f"operation 2, 1.2 + 1.0 mm, weld current: {brief} removed"]
    assert said(without, packet) == [f"operation 2, 1.2 + 1.0 mm, weld current: {brief} added"]


def test_a_changeover_that_comes_is_said(packet: Packet, leaf: Leaf) -> None:
    without = leaf(packet, ("changeover",), None)
    assert said(without, packet) == ["changeover added"]
    assert said(packet, without) == ["changeover removed"]


def test_steps_are_recognised_by_what_is_done(packet: Packet, leaf: Leaf) -> None:
    steps = [raw_value(step) for step in packet.operations[0].set_up]
    extra = raw_value(Action(do="Check the cooling water", see="4 l/min"))
    added = leaf(packet, ("operations", 0, "set_up"), [steps[0], extra, *steps[1:]])
    assert said(packet, added) == ["operation 2, set-up: step 2 “Check the cooling water” added"]
    assert said(added, packet) == ["operation 2, set-up: step 2 “Check the cooling water” removed"]
    changed = leaf(packet, ("operations", 0, "set_up", 1, "value"), "8.8 kA")
    assert said(packet, changed) == ["operation 2, set-up, step 2: value 8.4 kA -> 8.8 kA"]


def test_callouts_appear_and_go(packet: Packet, leaf: Leaf) -> None:
    callout = raw_value(packet.callouts[0]) | {"key": "zinc", "word": "CAUTION", "hazard": "Zinc fume"}
    new = leaf(packet, ("callouts",), [raw_value(packet.callouts[0]), callout])
    assert said(packet, new) == ["callout CAUTION: Zinc fume added"]
    assert said(new, packet) == ["callout CAUTION: Zinc fume removed"]


def test_a_thing_of_the_same_name_under_another_key_is_replaced(packet: Packet, leaf: Leaf) -> None:
    """Who reads that it went and came looks for a difference in the words, and there is none."""
    callout = raw_value(packet.callouts[0])
    new = leaf(packet, ("callouts",), [callout | {"key": "one"}, callout | {"key": "two"}])
    name = said(packet, leaf(packet, ("callouts",), []))[0].removesuffix(" removed")
    assert said(packet, new) == [f"{name} replaced"]
    assert [change.paths for change in diff(packet, new)] == [(("callouts", "one"), ("callouts", "two"))]


def test_a_table_a_part_a_program_and_an_inspection_are_named(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, ("tables", 0, "revision"), "4")
    new = leaf(new, ("operations", 0, "components", 1, "thickness"), raw_value(Amount(value="0.8", unit="mm")))
    new = leaf(new, ("operations", 0, "programs", 0, "number"), "221")
    new = leaf(new, ("inspections", 0, "accept"), "4.8 mm")
    assert said(packet, new) == [
        "operation 2, component P2: thickness 1.0 -> 0.8 mm",
        "operation 2, program of R3: number 211 -> 221",
        "inspection Door panel: peel test: accepted when 4.4 mm -> 4.8 mm",
        "table spot-lc: revision 3 -> 4",
    ]


def test_the_head_of_the_order_is_compared(packet: Packet, leaf: Leaf) -> None:
    assert said(packet, leaf(packet, ("head", "quantity"), 600)) == ["quantity 500 -> 600"]


def test_a_legend_is_compared_by_its_words_and_its_signs_are_not_printed(packet: Packet, leaf: Leaf) -> None:
    place: FieldPath = ("operations", 0, "pictures", 0, "legend")
    lines = [LegendLine(sign=f"<svg>{text}</svg>", text=text).model_dump() for text in ("Robot A", "Robot B")]
    before, after = leaf(packet, place, lines[:1]), leaf(packet, place, lines)
    assert said(before, after) == ["operation 2, diagram Spot map: line of the legend “Robot B” added"]
    redrawn = leaf(before, (*place, 0, "sign"), "<svg>other</svg>")
    assert said(before, redrawn) == ["operation 2, diagram Spot map: line of the legend “Robot A” redrawn"]


def test_a_diagram_is_redrawn_and_its_drawing_not_printed(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, ("operations", 0, "pictures", 0, "svg"), "<svg><path/></svg>")
    assert said(packet, new) == ["operation 2: diagram Spot map redrawn"]


def test_an_outline_is_stated_point_by_point(packet: Packet, leaf: Leaf) -> None:
    points = [list(point) for point in packet.operations[0].outlines[0].points]
    new = leaf(packet, ("operations", 0, "outlines", 0, "points"), [*points, ["0", "60", "0"]])
    assert said(packet, new) == ["operation 2, outline of P1, points: “0/60/0” added"]
    assert said(packet, leaf(packet, ("operations", 0, "outlines", 0, "points", 1, 0), "95")) == [
        "operation 2, outline of P1: points 90 -> 95"
    ]


def test_an_operation_put_in_front_leaves_the_others_what_they_are(packet: Packet, leaf: Leaf) -> None:
    operation = raw_value(packet.operations[0])
    first = operation | {"key": "operation-1", "number": 1, "name": "Frame"}
    old = leaf(packet, ("operations",), [first, operation])
    new = leaf(packet, ("operations",), [first | {"name": "New"}, first | {"key": "operation-2", "number": 2}, operation | {  # noqa: E501
        "key": "operation-3", "number": 3}])  # fmt: skip
    assert said(old, new) == [
        "operation 1 added",
        "operation 2: address operation-1 -> operation-2",
        "operation 2: number 1 -> 2",
        "operation 3: address operation-2 -> operation-3",
        "operation 3: number 2 -> 3",
    ]


def test_a_renamed_operation_is_still_the_operation_in_its_place(packet: Packet, leaf: Leaf) -> None:
    assert said(packet, leaf(packet, ("operations", 0, "name"), "Doors")) == ["operation 2: name Door panel -> Doors"]


def test_a_group_under_another_key_is_recognised_by_its_welds(packet: Packet, leaf: Leaf) -> None:
    new = leaf(leaf(packet, ("operations", 0, "groups", 0, "key"), "lc-b"), (*CURRENT, "amount", "value"), "8.8")
    assert "operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA" in said(packet, new)
    other = leaf(new, ("operations", 0, "groups", 0, "welds"), ["s8"])
    assert said(packet, other) == ["operation 2: 1.2 + 1.0 mm replaced"]


def test_groups_in_another_order_are_said(packet: Packet, leaf: Leaf) -> None:
    group = raw_value(packet.operations[0].groups[0])
    other = raw_value(SettingGroup.model_validate(group | {"key": "lc-b", "title": "1.0 + 1.0 mm", "welds": ["s4"]}))
    old = leaf(packet, ("operations", 0, "groups"), [group, other])
    new = leaf(packet, ("operations", 0, "groups"), [other, group])
    assert said(old, new) == ["operation 2: groups in another order"]


def test_things_of_one_name_are_compared_one_by_one(packet: Packet, leaf: Leaf) -> None:
    check = raw_value(packet.operations[0].checks[0])
    old = leaf(packet, ("operations", 0, "checks"), [check, check])
    new = leaf(packet, ("operations", 0, "checks"), [check, check | {"text": "1.4 m"}])
    (change,) = diff(old, new)
    assert change.paths == (("operations", "operation-2", "checks", "reach#2", "text"),)


def test_the_cause_is_apart_for_a_page(packet: Packet, leaf: Leaf) -> None:
    new = leaf(leaf(packet, (*CURRENT, "amount", "value"), "8.8"), (*CURRENT, "trace", 2, "origin"), "step 0.2 kA")
    (change,) = diff(packet, new)
    assert isinstance(change, SettingChanged)
    assert change.because == ("from step 0.1 kA -> step 0.2 kA",)


def test_a_base_change_says_nothing_by_itself() -> None:
    with pytest.raises(NotImplementedError):
        str(Change("operation 2", ()))


def test_the_code_of_a_program_says_its_number_once_more_and_is_no_second_change(packet: Packet, leaf: Leaf) -> None:
    place = ("operations", 0, "programs", 0)
    old = leaf(packet, (*place, "code"), packet.operations[0].programs[0].number)
    new = leaf(leaf(old, (*place, "number"), "221"), (*place, "code"), "221")
    (change,) = diff(old, new)
    assert [path[-1] for path in change.paths] == ["number", "code"]
    other = leaf(new, (*place, "code"), "222")  # a code that says something else is a change of its own
    assert len(diff(old, other)) == 2
