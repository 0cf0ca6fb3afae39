from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from weld_packets.packet.records.order import ConsumableLine
from weld_packets.packet.run.run import _consumables, consumable_lines
from weld_packets.planning.records import Event, OrderPlan, Origin, Start, Use
from weld_packets.units import kinds


def _lines(make: Any, uses: tuple[Use, ...], events: tuple[Event, ...] = ()) -> tuple[ConsumableLine, ...]:
    (view,) = make.views(make.spot_operation())
    plan = make.plan((view.result,))
    whole = OrderPlan(plan.operations, plan.bottleneck, plan.model, plan.figures, uses, events)
    return consumable_lines(whole, {(view.operation.name, view.cell.id): view})


def _caps(make: Any, robot: str, welds: str) -> Use:
    figures = (
        make.figure("per_part", welds, "1", kinds.NUMBER),
        make.figure("in_prove_out", welds, "1", kinds.NUMBER),
        make.figure("over_run", "5280", "1", kinds.NUMBER),
    )
    return Use("Operation at C5", "C5", robot, "Electrode caps", figures)


def _dressing(part: int, robot: str) -> Event:
    return Event(part, "Operation at C5", robot, "Dress both caps", "after", "C5", "basis", "Electrode caps")


def test_line_says_use_how_often_something_falls_due_and_first_when(make: Any) -> None:
    (line,) = _lines(make, (_caps(make, "C5A", "22"),), (_dressing(18, "C5A"), _dressing(36, "C5A")))
    assert (line.per_part.value, line.per_part.unit, line.over_run.value) == ("22", "welds", "5280")
    assert line.due == ("Dress both caps: 2 times, first after 18 parts",)


def test_a_line_says_what_the_prove_out_takes_and_what_of_it_is_not_counted(make: Any) -> None:
    caps = replace(_caps(make, "C5A", "22"), not_counted=("coupons: the plant states no 'coupon spots'",))
    (line,) = _lines(make, (caps,))
    assert line.in_prove_out is not None
    assert (line.in_prove_out.value, line.in_prove_out.unit, line.starts_at) == ("22", "welds", "Before the prove-out")
    assert line.not_counted == ("coupons: the plant states no 'coupon spots'",)
    assert line.model_copy(update={"in_prove_out": None}).starts_at == "Before the first part"


def test_robots_that_take_the_same_share_a_line_and_others_do_not(make: Any) -> None:
    lines = _lines(make, (_caps(make, "C5A", "22"), _caps(make, "C5B", "22")))
    apart = _lines(make, (_caps(make, "C5A", "22"), _caps(make, "C5B", "30")))
    assert [line.robots for line in lines] == [("C5A", "C5B")]
    assert [line.robots for line in apart] == [("C5A",), ("C5B",)]


def test_every_line_leads_to_the_figures_of_its_robot(make: Any) -> None:
    """Robots that take the same share their figures, unless something else is not counted of each."""
    (view,) = make.views(make.spot_operation())
    views = {(view.operation.name, view.cell.id): view}
    uses = tuple(replace(_caps(make, robot, "22"), not_counted=(f"coupons of {robot}",)) for robot in ("C5A", "C5B"))
    places = {value.anchor for value in _consumables(uses, views)}
    lines = _lines(make, uses)
    assert [line.robots for line in lines] == [("C5A",), ("C5B",)]
    assert {line.anchor for line in lines} <= places


def test_events_of_another_robot_or_consumable_are_not_counted(make: Any) -> None:
    other = Event(9, "Operation at C5", "C5A", "Change the hose", "after", "C5", "basis", "Hose")
    (line,) = _lines(make, (_caps(make, "C5A", "22"),), (_dressing(18, "C5B"), other))
    assert line.due == ()


def _started(make: Any, use: Use, **more: Any) -> str:
    (line,) = _lines(make, (replace(use, **more),))
    return line.start.replace("\N{NO-BREAK SPACE}", " ")


def test_a_line_says_how_far_caps_are_worn_before_the_first_part_and_who_left_them_so(make: Any) -> None:
    caps = _caps(make, "C5A", "22")
    share = make.figure("used_at_start", "18", "%", kinds.SHARE)
    start = Start(Fraction(18, 100), 27, Origin.CARRIED, "LK-1", "D")
    more = {"start": start, "origin": "at the end of LK-1 revision D", "turns": 30, "lesser_noun": "dressing"}
    assert _started(make, caps, figures=(*caps.figures, share), **more) == (
        "27 of 30 dressings done, 18 % of the welds to the next one used at the end of LK-1 revision D"
    )


def test_a_line_says_how_much_of_a_spool_or_tip_is_used(make: Any) -> None:
    wire = (
        make.figure("per_part", "0.02", "kg", kinds.MASS),
        make.figure("in_prove_out", "0.03", "kg", kinds.MASS),
        make.figure("over_run", "11", "kg", kinds.MASS),
    )
    use = Use("Operation at C5", "C5", "C5A", "Wire", (*wire, make.figure("used_at_start", "11.7", "kg", kinds.MASS)))
    recorded = {"start": Start(Fraction(78, 100), 0, Origin.RECORDED), "origin": "as recorded in this order"}
    assert _started(make, use, holds=make.figure("holds", "15", "kg", kinds.MASS), **recorded) == (
        "11.7 kg (25.8 lb) of 15 kg (33 lb) used as recorded in this order"
    )
    tip = (
        make.figure("per_part", "40", "s", kinds.DURATION),
        make.figure("in_prove_out", "60", "s", kinds.DURATION),
        make.figure("over_run", "2", "h", kinds.DURATION),
    )
    use = Use(
        "Operation at C5", "C5", "C5A", "Contact tip", (*tip, make.figure("used_at_start", "7.3", "h", kinds.DURATION))
    )
    assert _started(make, use, holds=make.figure("holds", "8", "h", kinds.DURATION), **recorded) == (
        "7.3 h of 8 h arc-on time used as recorded in this order"
    )


def test_a_line_of_something_new_says_why_it_is_new(make: Any) -> None:
    new = {"start": Start(origin=Origin.UNUSED), "origin": "new: no earlier order used this robot"}
    assert _started(make, _caps(make, "C5A", "22"), **new) == "new: no earlier order used this robot"


def test_robots_that_start_otherwise_do_not_share_a_line(make: Any) -> None:
    caps = _caps(make, "C5A", "22")
    lines = _lines(make, (caps, replace(caps, robot="C5B", origin="new: the caps change at the changeover")))
    assert [line.robots for line in lines] == [("C5A",), ("C5B",)]
