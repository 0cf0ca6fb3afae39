"""What falls due during a run as the packet says it, and what it leaves for the next order."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from weld_packets.packet.records.order import FittedAtEnd, RunPlan
from weld_packets.packet.run.events import (
    EVENTS_NOTE,
    NOTHING_DUE,
    due_at_first,
    due_soon,
    events_note,
    first_due,
    run_events,
    run_rules,
)
from weld_packets.packet.run.run import fitted_at_end, left_by_packet
from weld_packets.planning.records import Event, Left, OrderPlan, Origin, Start, Use
from weld_packets.units import kinds
from weld_packets.wording.phrases import at_count

CARRIED_OVER = Start(Fraction(9, 10), origin=Origin.CARRIED)
DRESS, CHANGE = "Dress both caps", "Change both caps"


def _event(part: int, robot: str, *, dressing: bool = True, basis: str = "basis", when: str = "after") -> Event:
    what = DRESS if dressing else CHANGE
    return Event(part, "Operation at C5", robot, what, when, "C5", basis, "Electrode caps", dressing=dressing)  # type: ignore[arg-type]


def _use(make: Any, robot: str, every: int = 20, turns: int = 30, start: Start | None = None) -> Use:
    figures = (
        make.figure("per_part", "20", "1", kinds.NUMBER),
        make.figure("in_prove_out", "20", "1", kinds.NUMBER),
        make.figure("over_run", "4800", "1", kinds.NUMBER),
    )
    return Use("Operation at C5", "C5", robot, "Electrode caps", figures, start or Start(), turns=turns, every=every)


def _plan(make: Any, events: tuple[Event, ...], uses: tuple[Use, ...] = ()) -> tuple[OrderPlan, Any]:
    (view,) = make.views(make.spot_operation())
    plan = make.plan((view.result,))
    whole = OrderPlan(plan.operations, plan.bottleneck, plan.model, plan.figures, uses, events)
    return whole, {(view.operation.name, view.cell.id): view}


@pytest.mark.parametrize(
    ("parts", "when", "words"),
    [(0, "after", "in the prove-out"), (1, "after", "after 1 part"), (11, "after", "after 11 parts"),
     (1, "during", "while part 1 is welded"), (12, "during", "while part 12 is welded")],
)  # fmt: skip
def test_a_part_count_reads_as_a_moment(parts: int, when: Any, words: str) -> None:
    assert at_count(parts, when) == words


def test_dressing_is_said_in_a_rule_and_not_listed(make: Any) -> None:
    events = (_event(3, "C5A"), _event(14, "C5A"), _event(25, "C5A", dressing=False), _event(36, "C5A"))
    plan, views = _plan(make, events, (_use(make, "C5A", every=11),))
    (rule,) = run_rules(plan, views)
    assert rule.text == (
        "C5A: dress both caps every 11 parts, first after 3 parts; where a change is listed, make the change instead"
    )
    assert (rule.operation, rule.operation_name, rule.cell, rule.robots, rule.basis) == (
        "operation-1", "Operation at C5", "C5", ("C5A",), "basis"
    )  # fmt: skip
    assert (rule.what, rule.every, rule.turns) == ("C5A: dress both caps", 11, (3, 14, 36))
    assert [(event.part_number, event.what) for event in run_events(plan, views)] == [(25, CHANGE)]


def test_only_what_is_due_before_the_first_part_is_due_at_it_and_only_at_its_own_cell(make: Any) -> None:
    plan, views = _plan(make, (_event(0, "C5A"), _event(1, "C5B"), _event(20, "C5A", dressing=False)))
    (view,) = views.values()
    assert [(each.what, each.robot) for each in due_at_first(plan, view)] == [(DRESS, "C5A")]
    (elsewhere,) = make.views(make.arc_operation())
    assert due_at_first(plan, elsewhere) == ()


def test_robots_with_one_rule_share_it_and_others_do_not(make: Any) -> None:
    events = (_event(20, "C5A"), _event(20, "C5B"), _event(40, "C5A"), _event(40, "C5B"))
    plan, views = _plan(make, events, (_use(make, "C5A"), _use(make, "C5B")))
    assert [rule.text for rule in run_rules(plan, views)] == [
        "C5A and C5B: dress both caps every 20 parts, first after 20 parts"
    ]
    later = (*events, _event(60, "C5B"))
    plan, views = _plan(make, later, (_use(make, "C5A"), _use(make, "C5B")))
    assert [rule.turns for rule in run_rules(plan, views)] == [(20, 40), (20, 40, 60)]
    plan, views = _plan(make, events, (_use(make, "C5A"), _use(make, "C5B", every=22)))
    assert [rule.robots for rule in run_rules(plan, views)] == [("C5A",), ("C5B",)]


@pytest.mark.parametrize(
    ("parts", "every", "words"),
    [((0, 20), 20, "every 20 parts, the first time in the prove-out"),
     ((1, 2), 1, "after every part, first after 1 part"),
     ((7,), 20, "once, after 7 parts"), ((0,), 20, "once, in the prove-out")],
)  # fmt: skip
def test_a_rule_says_how_often_and_when_first(make: Any, parts: tuple[int, ...], every: int, words: str) -> None:
    plan, views = _plan(make, tuple(_event(part, "C5A") for part in parts), (_use(make, "C5A", every=every),))
    assert [rule.text for rule in run_rules(plan, views)] == [f"C5A: dress both caps {words}"]


def test_what_falls_due_inside_parts_is_listed_and_no_rule(make: Any) -> None:
    plan, views = _plan(make, (_event(1, "C5A", when="during"),), (_use(make, "C5A", every=0),))
    assert run_rules(plan, views) == ()
    assert [(event.what, event.when) for event in run_events(plan, views)] == [(DRESS, "during")]


def test_changes_without_any_dressing_need_no_rule(make: Any) -> None:
    plan, views = _plan(make, (_event(9, "C5A", dressing=False),), (_use(make, "C5A"),))
    assert run_rules(plan, views) == ()
    assert len(run_events(plan, views)) == 1


def test_the_same_change_of_both_robots_is_one_event_unless_it_rests_on_something_else(make: Any) -> None:
    both = (_event(9, "C5A", dressing=False), _event(9, "C5B", dressing=False))
    plan, views = _plan(make, both)
    assert [event.robot for event in run_events(plan, views)] == ["C5A and C5B"]
    plan, views = _plan(make, (both[0], _event(9, "C5B", dressing=False, basis="other")))
    assert [event.robot for event in run_events(plan, views)] == ["C5A", "C5B"]


def test_the_first_of_the_run_is_named_with_its_place_and_moment(make: Any) -> None:
    plan, _ = _plan(make, (_event(0, "C5A"), _event(9, "C5B")))
    assert first_due(plan) == "dress both caps at C5B, after 9 parts"
    assert first_due(_plan(make, (_event(0, "C5A"),))[0]) == ""
    assert first_due(_plan(make, ())[0]) == ""


def test_the_first_of_the_run_is_none_of_an_operation_that_follows_another_in_its_cell(make: Any) -> None:
    """It is counted from the last part of the one before it."""
    follows = _use(make, "C5A", start=Start(Fraction(9, 10), origin=Origin.WITHIN, operation="Foot"))
    events = (replace(_event(2, "C5A"), operation="Head"), _event(9, "C5B"))
    plan, _ = _plan(make, events, (replace(follows, operation="Head"),))
    assert first_due(plan) == "dress both caps at C5B, after 9 parts"
    assert "what the operation before in the same cell leaves" in events_note(plan)
    changed = replace(follows, operation="Head", start=Start(origin=Origin.CHANGED))
    assert first_due(_plan(make, events, (changed,))[0]) == "dress both caps at C5B, after 9 parts"


def test_what_recurs_at_two_operations_of_a_cell_is_a_rule_of_each(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    head = make.views(make.spot_operation(name="Head"))[0]
    events = (_event(9, "C5A"), replace(_event(2, "C5A"), operation="Head"))
    plan, views = _plan(make, events, (_use(make, "C5A"), replace(_use(make, "C5A"), operation="Head")))
    rules = run_rules(plan, {**views, ("Head", view.cell.id): head})
    assert [(rule.operation_name, rule.turns) for rule in rules] == [("Operation at C5", (9,)), ("Head", (2,))]


def test_the_note_says_from_what_the_counts_start(make: Any) -> None:
    def note(*starts: Start) -> str:
        uses = tuple(_use(make, "C5A", start=start) for start in starts)
        return events_note(_plan(make, (_event(9, "C5A"),), uses)[0])

    carried = Start(Fraction(1, 2), 0, Origin.CARRIED, "LK-1", "D")
    assert note(Start()) == f"{EVENTS_NOTE} Counted from new ones, because no previous order is named."
    assert note(carried) == f"{EVENTS_NOTE} Counted from what LK-1 revision D leaves fitted."
    drafted = Start(Fraction(1, 2), 0, Origin.CARRIED, "LK-1")
    assert "what LK-1 (from its sources) leaves fitted." in note(drafted)
    assert note(carried, Start(origin=Origin.RECORDED), Start(origin=Origin.CHANGED), Start(origin=Origin.UNUSED)) == (
        f"{EVENTS_NOTE} Counted from what LK-1 revision D leaves fitted, what this order records as fitted, new ones "
        "where they change at the changeover and new ones where no earlier order used the robot or cell; the list of "
        "consumables says which."
    )
    assert "what this order records as fitted." in note(Start(origin=Origin.RENEWED))
    assert events_note(_plan(make, ())[0]) == NOTHING_DUE


LEFT = (
    Left("C1A", "Wire", "W10", Fraction(7, 9), 0, "WO-1"),
    Left("C5A", "Electrode caps", "cap-16", Fraction(1), 27, "WO-1"),
    Left("C9", "Gas", "M21", Fraction(0), 0, "WO-0", "B"),
)


def _with(packet: Any, number: str, left: tuple[FittedAtEnd, ...]) -> Any:
    run: RunPlan = packet.run.model_copy(update={"fitted_at_end": left})
    head = packet.head.model_copy(update={"number": number})
    return packet.model_copy(update={"run": run, "head": head})


def test_what_an_order_leaves_comes_back_from_its_record_exactly_and_with_the_revision(make: Any) -> None:
    packet = _with(make.packet(make.spot_operation()), "WO-1", fitted_at_end(LEFT))
    again = type(packet).model_validate_json(packet.model_dump_json())
    assert [
        (left.place, left.used, left.dressings, left.order, left.revision) for left in left_by_packet(again, "D")
    ] == [
        ("C1A", Fraction(7, 9), 0, "WO-1", "D"),
        ("C5A", Fraction(1), 27, "WO-1", "D"),
        ("C9", Fraction(0), 0, "WO-0", "B"),
    ]


def test_what_an_earlier_draft_left_is_not_taken_for_the_revision_that_passes_it_on(make: Any) -> None:
    packet = _with(make.packet(make.spot_operation()), "WO-2", fitted_at_end(LEFT))
    assert [left.revision for left in left_by_packet(packet, "D")] == ["", "", "B"]


def test_a_reader_sees_the_share_in_per_cent() -> None:
    assert [left.share.replace("\N{NO-BREAK SPACE}", " ") for left in fitted_at_end(LEFT)] == ["77.8 %", "100 %", "0 %"]


def test_a_record_from_before_holds_nothing_of_it(make: Any) -> None:
    assert left_by_packet(_with(make.packet(make.spot_operation()), "WO-1", ()), "D") == ()


# ---------------------------------------------------------------- better done at set-up


def soon(make: Any, part: int, every: int = 400, start: Start = CARRIED_OVER) -> tuple[str, ...]:
    plan, views = _plan(make, (_event(part, "C5A", dressing=False),), (_use(make, "C5A", every, start=start),))
    (view,) = views.values()
    return due_soon(plan, view)


def test_what_is_due_few_parts_after_the_start_is_advised_at_set_up(make: Any) -> None:
    assert soon(make, 3) == ("Change both caps, C5A, planned after 3 parts",)


@pytest.mark.parametrize(("part", "advised"), [(1, True), (40, True), (41, False)])
def test_few_is_a_tenth_of_what_one_lasts(make: Any, part: int, *, advised: bool) -> None:
    assert bool(soon(make, part)) is advised


def test_what_is_new_or_due_before_the_first_part_is_not_advised(make: Any) -> None:
    assert soon(make, 3, start=Start()) == ()
    assert soon(make, 0) == ()
    assert soon(make, 1, every=0) == ()
