"""What is fitted before an order, and what it leaves: carried over, recorded, or new."""

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.errors import OutOfRangeError
from weld_packets.model.order import FittedAtStart
from weld_packets.planning.due import NEW
from weld_packets.planning.fitted import Done, _worn, counted_from, recorded_from
from weld_packets.planning.order import left_by, plan_order
from weld_packets.planning.records import Left, OrderPlan, Origin
from weld_packets.units import kinds, quantity

CAPS, WIRE, TIP, GAS = "Electrode caps", "Wire", "Contact tip", "Gas"


def fitted(plan: OrderPlan, place: str, what: str) -> Left:
    return next(left for left in plan.left if (left.place, left.what) == (place, what))


def due(plan: OrderPlan, robot: str, what: str) -> list[tuple[int, str, str]]:
    """Return part, moment and the first words of what falls due of one consumable at a robot."""
    found = (event for event in plan.events if (event.robot, event.supply) == (robot, what))
    return [(event.part_number, event.when, event.what.split(" (")[0]) for event in found]


def run(line: Any, parts: int, left: tuple[Left, ...] | None = None, **more: Any) -> OrderPlan:
    operations = more.pop("operations", None) or (line.frames(), line.doors(welds=5))
    approved = more.pop("approved", None) or line.approved()
    return plan_order(line.order(parts, **more), operations, approved, left)


def test_without_a_previous_order_everything_starts_new(line: Any) -> None:
    plan = run(line, 9)
    assert {use.start.origin for use in plan.uses} == {Origin.NONE_NAMED}
    assert {use.origin for use in plan.uses} == {"new"}
    assert all(use.start.used == 0 for use in plan.uses)


def test_an_order_leaves_what_its_last_part_leaves(line: Any) -> None:
    plan = run(line, 5, number="WO-1")
    # 0.3 kg a part, a spool of 1 kg lasts the first-off and two parts: changed after part 2, then three parts
    assert fitted(plan, "A", WIRE) == Left("A", WIRE, "W10", Fraction(9, 10), 0, "WO-1")
    # 30 s a part of 3600 s, three parts since the spool brought a new one
    assert fitted(plan, "A", TIP) == Left("A", TIP, "W10", Fraction(90, 3600), 0, "WO-1")
    # 10 l a part of 100 l
    assert fitted(plan, "C1", GAS) == Left("C1", GAS, "M21", Fraction(6, 10), 0, "WO-1")
    # 5 welds a part, dressed after 10: after parts 1 and 3, then two parts
    assert fitted(plan, "E", CAPS) == Left("E", CAPS, "cap-6", Fraction(1), 2, "WO-1")


def test_a_robot_that_welds_nothing_keeps_what_is_fitted(line: Any) -> None:
    used = (Left("B", WIRE, "W10", Fraction(1, 3), 0, "WO-1", "C"),)
    after = fitted(run(line, 5, used), "B", WIRE)
    assert (after.used, after.item) == (Fraction(1, 3), "W10")


def test_what_an_order_does_not_use_stays_as_earlier_orders_left_it(line: Any) -> None:
    elsewhere = Left("Z", WIRE, "W12", Fraction(1, 7), 0, "WO-0", "B")
    assert elsewhere in run(line, 5, (elsewhere,)).left


def test_caps_that_stay_are_dressed_and_changed_as_if_the_order_before_had_gone_on(line: Any) -> None:
    first = run(line, 5, number="WO-1")
    second = run(line, 6, first.left)
    caps = next(use for use in second.uses if use.robot == "E")
    assert (caps.start.origin, caps.start.used, caps.start.dressings) == (Origin.CARRIED, Fraction(1), 2)
    assert caps.origin == "at the end of WO-1, calculated from its sources"
    # worn, two dressings are done: changed before the prove-out; the first-off is one part, dressed after 1 and 3
    assert due(second, "E", CAPS) == [
        (0, "after", "Change both caps"), (1, "after", "Dress both caps"), (3, "after", "Dress both caps"),
        (5, "after", "Change both caps"),
    ]  # fmt: skip
    assert (fitted(second, "E", CAPS).used, fitted(second, "E", CAPS).dressings) == (Fraction(1, 2), 0)


def test_a_dressing_that_the_last_part_left_is_due_before_the_prove_out(line: Any) -> None:
    second = run(line, 3, run(line, 3).left)
    assert due(second, "E", CAPS) == [(0, "after", "Dress both caps"), (1, "after", "Change both caps")]
    assert second.events[0].part_number == 0


def test_a_released_revision_is_named_as_what_left_it(line: Any) -> None:
    left = tuple(replace(each, revision="D") for each in run(line, 5, number="WO-1").left)
    assert {use.origin for use in run(line, 5, left).uses} == {"at the end of WO-1 revision D"}


def test_another_wire_brings_a_new_spool_and_a_new_contact_tip(line: Any) -> None:
    left = tuple(replace(each, item="W12" if each.item == "W10" else each.item) for each in run(line, 5).left)
    plan = run(line, 5, left)
    origins = {use.what: (use.start.origin, use.start.used) for use in plan.uses if use.robot in ("A", "")}
    assert origins == {
        WIRE: (Origin.CHANGED, 0), TIP: (Origin.CHANGED, 0), GAS: (Origin.CARRIED, Fraction(6, 10)),
    }  # fmt: skip
    words = {use.what: use.origin for use in plan.uses}
    assert words[WIRE] == "new: the wire changes at the changeover"
    assert words[TIP] == "new: it changes with the wire at the changeover"


def test_another_gas_and_other_caps_are_new(line: Any) -> None:
    left = tuple(replace(each, item="other") for each in run(line, 5).left if each.what in (GAS, CAPS))
    words = {use.what: use.origin for use in run(line, 5, left).uses if use.what in (GAS, CAPS)}
    assert words == {
        GAS: "new: the gas changes at the changeover", CAPS: "new: the caps change at the changeover",
    }  # fmt: skip


def test_what_no_earlier_order_used_is_new(line: Any) -> None:
    plan = run(line, 5, ())
    assert {(use.start.origin, use.origin) for use in plan.uses if use.robot} == {
        (Origin.UNUSED, "new: no earlier order used this robot")
    }
    assert next(use.origin for use in plan.uses if not use.robot) == "new: no earlier order used this cell"


def test_caps_that_were_dressed_more_often_than_the_table_now_allows_are_changed_at_once(line: Any) -> None:
    worn = (Left("E", CAPS, "cap-6", Fraction(1, 2), 3, "WO-1"),)
    plan = run(line, 4, worn, approved=line.approved(with_cap=line.cap(dressings=2)))
    assert due(plan, "E", CAPS) == [
        (0, "after", "Change both caps"), (1, "after", "Dress both caps"), (3, "after", "Dress both caps"),
    ]  # fmt: skip


def test_caps_at_their_last_dressing_are_not_changed_before_they_are_worn(line: Any) -> None:
    worn = (Left("E", CAPS, "cap-6", NEW, 2, "WO-1"),)
    plan = run(line, 4, worn, approved=line.approved(with_cap=line.cap(dressings=2)))
    assert due(plan, "E", CAPS) == [(1, "after", "Change both caps"), (3, "after", "Dress both caps")]


RECORDED = [
    ("wire", {"robot": "A", "wire left": "0.7 kg"}, ("A", WIRE), Fraction(3, 10), 0),
    ("wire in pounds", {"robot": "A", "wire left": "1 lb"}, ("A", WIRE), 1 - Fraction("0.453592370000"), 0),
    ("full spool", {"robot": "A", "wire left": "1 kg"}, ("A", WIRE), Fraction(0), 0),
    ("empty spool", {"robot": "A", "wire left": "0 kg"}, ("A", WIRE), Fraction(1), 0),
    ("contact tip", {"robot": "A", "contact tip used": "30 min"}, ("A", TIP), Fraction(1, 2), 0),
    ("gas", {"cell": "C1", "gas left": "80 l"}, ("C1", GAS), Fraction(2, 10), 0),
    ("caps", {"robot": "E", "dressings": "2", "welds since dressing": "7", "coating": "none"}, ("E", CAPS),
     Fraction(7, 10), 2),
    ("caps on zinc", {"robot": "E", "dressings": "1", "welds since dressing": "3", "coating": "hot-dip zinc"},
     ("E", CAPS), Fraction(3, 4), 1),
    ("caps just dressed", {"robot": "E", "dressings": "1", "welds since dressing": "0"}, ("E", CAPS), Fraction(0), 1),
]  # fmt: skip


@pytest.mark.parametrize(
    ("entry", "place", "used", "dressings"), [case[1:] for case in RECORDED], ids=[case[0] for case in RECORDED]
)
def test_what_an_order_records_beats_what_the_order_before_leaves(
    line: Any, entry: dict[str, str], place: tuple[str, str], used: Fraction, dressings: int
) -> None:
    plan = run(line, 5, run(line, 5).left, fitted=(entry,))
    use = next(use for use in plan.uses if (use.robot or use.cell, use.what) == place)
    assert (use.start.origin, use.start.used, use.start.dressings) == (Origin.RECORDED, used, dressings)
    assert use.origin == "as recorded in this order"
    others = {other.start.origin for other in plan.uses if other is not use}
    assert others == {Origin.CARRIED}


@pytest.mark.parametrize(
    ("word", "place"),
    [("wire", ("A", WIRE)), ("contact tip", ("A", TIP)), ("gas", ("C1", GAS)), ("caps", ("E", CAPS))],
)
def test_what_an_order_records_as_new_is_new(line: Any, word: str, place: tuple[str, str]) -> None:
    at = "cell" if word == "gas" else "robot"
    plan = run(line, 5, run(line, 5).left, fitted=({at: place[0], "new": (word,)},))
    use = next(use for use in plan.uses if (use.robot or use.cell, use.what) == place)
    assert (use.start.origin, use.start.used, use.start.dressings) == (Origin.RENEWED, 0, 0)
    assert use.origin == "new, as recorded in this order"


@pytest.mark.parametrize(
    ("left", "when"),
    [
        ("0 kg", [(0, "after"), (2, "after")]),
        ("0.59 kg", [(0, "after"), (2, "after")]),  # the first-off and part 1 take 0.6 kg
        ("0.6 kg", [(1, "after")]),
        ("0.9 kg", [(2, "after")]),
        ("1 kg", [(2, "after")]),
    ],
)
def test_what_does_not_last_the_first_off_and_a_part_is_changed_before_the_prove_out(
    line: Any, left: str, when: list[tuple[int, str]]
) -> None:
    plan = run(line, 3, fitted=({"robot": "A", "wire left": left},))
    assert due(plan, "A", WIRE) == [(*moment, "Change the wire spool") for moment in when]


def _twice(line: Any, second: str = "more frames") -> tuple[Any, Any]:
    operation = line.frames()
    return operation, replace(operation, operation=operation.operation.model_copy(update={"name": second}))


def test_a_further_operation_of_a_cell_goes_on_with_what_the_one_before_leaves(line: Any) -> None:
    """Each has all its parts: ten of the first, then ten of the second, counted from 0 again."""
    plan = run(line, 10, operations=_twice(line), number="WO-1")
    first, second = (next(use for use in plan.uses if (use.operation, use.what) == (name, WIRE))
                     for name in ("frames", "more frames"))  # fmt: skip
    assert [use.origin for use in (first, second)] == ["new", "after the last part of frames"]
    # the first ends with two parts on its spool of three and a third: the second changes before its first-off
    assert (second.start.origin, second.start.used) == (Origin.WITHIN, Fraction(6, 10))
    of_wire = [(each.operation, each.part_number) for each in plan.events if each.supply == WIRE]
    assert sorted(of_wire) == [
        *(("frames", at) for at in (2, 5, 8)), *(("more frames", at) for at in (0, 2, 5, 8)),
    ]  # fmt: skip
    assert float(second.figure("per_part").value.magnitude) == pytest.approx(0.3)
    # a cylinder lasts ten parts: the first-off and nine; then part 10, the next first-off and eight
    assert sorted((each.operation, each.part_number) for each in plan.events if each.supply == GAS) == [
        ("frames", 9), ("more frames", 8),
    ]  # fmt: skip


def test_what_both_operations_of_a_cell_took_is_left_after_the_second(line: Any) -> None:
    plan = run(line, 10, operations=_twice(line), number="WO-1")
    # 10 l a part of 100 l: 22 parts, cylinders changed after the ninth and again after the eighth of the second
    assert fitted(plan, "C1", GAS) == Left("C1", GAS, "M21", Fraction(2, 10), 0, "WO-1")
    alone = run(line, 10, run(line, 10, operations=(line.frames(),)).left, operations=(line.frames(),), number="WO-1")
    assert fitted(plan, "A", WIRE) == fitted(alone, "A", WIRE)


def test_what_an_order_records_is_that_of_the_first_operation_in_a_cell(line: Any) -> None:
    plan = run(line, 10, operations=_twice(line), fitted=({"robot": "A", "wire left": "0.7 kg"},))
    origins = [use.start.origin for use in plan.uses if use.what == WIRE]
    assert origins == [Origin.RECORDED, Origin.WITHIN]


def test_two_wires_on_one_robot_are_refused_at_the_later_operation(line: Any) -> None:
    operation, approved = line.frames(), line.approved()
    thick = approved.wires["W10"].model_copy(update={"id": "W12"})
    approved.wires["W12"] = thick
    other = replace(operation, operation=operation.operation.model_copy(update={"name": "thick", "wire": "W12"}))
    with pytest.raises(OutOfRangeError) as refused:
        run(line, 10, operations=(operation, other), approved=approved)
    assert [(problem.key, problem.value) for problem in refused.value.problems] == [("operations[1].wire", "W12")]
    assert "A would need W10 for operation frames and W12 for this one" in refused.value.problems[0].message


def test_two_gases_in_one_cell_are_refused(line: Any) -> None:
    operation, approved = line.frames(), line.approved()
    approved.gases["CO2"] = approved.gases["M21"].model_copy(update={"id": "CO2"})
    other = replace(operation, operation=operation.operation.model_copy(update={"name": "other", "gas": "CO2"}))
    with pytest.raises(OutOfRangeError, match="C1 would need M21 for operation frames and CO2"):
        run(line, 10, operations=(operation, other), approved=approved)


def test_what_an_order_leaves_is_the_same_computed_alone(line: Any) -> None:
    left = run(line, 5).left
    operations = (line.frames(), line.doors(welds=5))
    assert left_by(line.order(7), operations, line.approved(), left) == run(line, 7, left).left


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.integers(1, 40), st.integers(1, 40), st.integers(1, 4), st.integers(0, 3))
def test_two_orders_that_keep_all_consumables_wear_them_as_one_that_welds_a_part_more(
    line: Any, first: int, second: int, welds: int, dressings: int
) -> None:
    """The second order begins with its first-off, as the first one would go on with its next part.

    So it is where a new one lasts two parts, and where the second order renews nothing before its prove-out.
    """
    operations = (line.frames(), line.doors(welds=welds))
    approved = line.approved(with_cap=line.cap(dressings=dressings))
    one = plan_order(line.order(first, "WO-1"), operations, approved)
    two = plan_order(line.order(second, "WO-2"), operations, approved, one.left)
    both = plan_order(line.order(first + 1 + second, "WO-2"), operations, approved)
    for supply in two.stock:
        events = [each for each in two.events if (each.robot or each.cell, each.supply) == (supply.place, supply.what)]
        if supply.renewed_with:  # a spool that is changed in the prove-out is not counted as bringing a contact tip
            continue
        if not events or events[0].part_number:
            later = [(first + 1 + each.part_number, each.what) for each in events]
            before, all_of_it = ([(each.part_number, each.what) for each in plan.events
                                  if (each.robot or each.cell, each.supply) == (supply.place, supply.what)]
                                 for plan in (one, both))  # fmt: skip
            assert before + later == all_of_it
            assert fitted(two, supply.place, supply.what) == fitted(both, supply.place, supply.what)


def test_a_start_that_is_carried_over_is_traced_to_its_order(line: Any) -> None:
    plan = run(line, 5, run(line, 3, number="WO-1").left)
    wire = next(use for use in plan.uses if (use.robot, use.what) == ("A", WIRE))
    (given_start,) = wire.figure("used_at_start").trace
    assert (given_start.value.magnitude, given_start.origin) == (0.3, "at the end of WO-1, calculated from its sources")
    first = wire.figure("parts_to_first")
    assert [step.label for step in first.trace[:-1]] == [
        "Wire: used before the prove-out", "Wire: use for one part", "one spool",
        "share of the life of one for one part",
    ]  # fmt: skip
    worked = first.trace[-1]
    assert (worked.formula.expression, worked.result) == ("floor((100 - u) / w)", quantity(1, "1"))
    assert [round(worked.given[name].magnitude, 9) for name in ("used", "taken_by_a_part")] == [60, 30]
    assert first.value == quantity(1, "1")
    (proved,) = wire.figure("used_at_first").trace
    assert proved.formula.expression == "u + q - 100 * k"
    taken = [round(proved.given[name].magnitude, 9) for name in ("used", "taken_in_prove_out", "renewed")]
    assert (taken, str(wire.figure("used_at_first").text)) == ([30, 30, 0], "0.6")
    assert str(wire.figure("used_at_end").text) == "0.3"


def test_records_of_a_state_are_read_by_the_words_of_a_source() -> None:
    entry = FittedAtStart.model_validate({"robot": "A", "wire left": "3.3 kg", "new": ("contact tip",)})
    assert (entry.robot, entry.new) == ("A", ("contact tip",))


def test_wear_of_caps_is_a_share_and_that_of_a_spool_an_amount(line: Any) -> None:
    uses = {(use.robot, use.what): use.figure("used_at_end") for use in run(line, 5).uses}
    assert (uses["E", CAPS].kind, uses["E", CAPS].unit, str(uses["E", CAPS].text)) == (kinds.SHARE, "%", "100")
    assert (uses["A", WIRE].kind, uses["A", WIRE].unit, str(uses["A", WIRE].text)) == (kinds.MASS, "kg", "0.9")


def left_after(used: Fraction = NEW, dressings: int = 0, turns: int = 3) -> Left:
    """Return what an order leaves of caps that last ten parts between dressings."""
    return Left("E", CAPS, "cap-6", used, dressings, "WO-1", wear=Fraction(1, 10), turns=turns)


@pytest.mark.parametrize(
    ("begun", "done", "parts", "after"),
    [
        ((Fraction(1, 2), 1), [], 4, (Fraction(9, 10), 1)),
        ((Fraction(1, 2), 1), [], 6, (Fraction(1), 1)),  # overdue: due before the next part, and no more than that
        ((Fraction(1, 2), 1), [Done(5, dressing=True)], 7, (Fraction(2, 10), 2)),
        ((Fraction(1, 2), 1), [Done(8, dressing=True), Done(5, dressing=False)], 9, (Fraction(1, 10), 1)),
        ((Fraction(1, 2), 1), [Done(5, dressing=True), Done(5, dressing=False)], 6, (Fraction(1, 10), 0)),
        ((Fraction(1), 2), [], 4, (Fraction(4, 10), 3)),  # due before the first part: dressed in the prove-out
        ((Fraction(1), 3), [], 4, (Fraction(4, 10), 0)),  # or changed
        ((Fraction(1, 2), 4), [], 4, (Fraction(4, 10), 0)),  # dressed more often than is allowed now: changed
        ((Fraction(9, 10), 2), [], 1, (Fraction(1), 2)),  # lasts one part yet
    ],
)
def test_a_recorded_run_leaves_what_was_done_in_it(
    begun: tuple[Fraction, int], done: list[Done], parts: int, after: tuple[Fraction, int]
) -> None:
    left = recorded_from(left_after(), begun, done, parts)
    assert (left.used, left.dressings) == after


@settings(max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(parts=st.integers(1, 60), used=st.fractions(0, 1, max_denominator=20), dressings=st.integers(0, 4))
def test_a_run_in_which_all_was_done_as_planned_leaves_what_was_planned(
    parts: int, used: Fraction, dressings: int, line: Any
) -> None:
    before = Left("E", CAPS, "cap-6", used, dressings, "WO-0")
    plan = run(line, parts, (before,), number="WO-1")
    planned = fitted(plan, "E", CAPS)
    happened = [each for each in plan.events if (each.robot, each.supply) == ("E", CAPS) and each.part_number]
    done = [Done(each.part_number, dressing=each.dressing) for each in happened]
    assert planned.begun is not None
    recorded = recorded_from(planned, (planned.begun, planned.dressings_begun), done, parts)
    assert (recorded.used, recorded.dressings) == (planned.used, planned.dressings)


@pytest.mark.parametrize(
    ("begun", "parts", "after"),
    [
        ((Fraction(1, 2), 1), 3, (Fraction(9, 10), 1)),  # the first-off is a part too
        ((Fraction(9, 10), 1), 3, (Fraction(4, 10), 2)),  # does not last first-off and part 1: dressed before both
        ((Fraction(7, 10), 1), 2, (Fraction(1), 1)),
    ],
)
def test_a_recorded_run_counts_the_prove_out_before_it(
    begun: tuple[Fraction, int], parts: int, after: tuple[Fraction, int]
) -> None:
    left = replace(left_after(), proof=Fraction(1, 10))
    recorded = recorded_from(left, begun, [], parts)
    assert (recorded.used, recorded.dressings) == after
    assert counted_from(left, *begun, left.turns, parts).used == after[0]


@pytest.mark.parametrize(
    ("coating", "worn"), [(None, Fraction(1, 2)), ("hot-dip zinc", Fraction(1, 2)), ("none", Fraction(1, 4))]
)
def test_welds_on_a_coating_that_nobody_recorded_wear_caps_as_on_the_worst(coating: str | None, worn: Fraction) -> None:
    entry: Any = SimpleNamespace(welds_since_dressing=50, coating=coating)
    assert _worn(entry, {"none": 200, "hot-dip zinc": 100}) == worn
