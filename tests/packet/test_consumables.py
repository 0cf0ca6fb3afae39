from __future__ import annotations

from typing import Any

from generator.packet.consumables import consumable_lines
from generator.packet.records import ConsumableLine
from generator.plan import Event, OrderPlan, Use
from generator.units import kinds


def _lines(make: Any, uses: tuple[Use, ...], events: tuple[Event, ...] = ()) -> tuple[ConsumableLine, ...]:
    (view,) = make.views(make.spot_row())
    order = make.order(make.spot_row())
    plan = make.plan(order, (view.result,))
    whole = OrderPlan(plan.quantity, plan.rows, plan.bottleneck, plan.model, plan.figures, uses, events)
    return consumable_lines(whole, {(view.row.name, view.cell.id): view})


def _caps(make: Any, arm: str, welds: str) -> Use:
    figures = (make.figure("per_part", welds, "1", kinds.NUMBER), make.figure("over_run", "5280", "1", kinds.NUMBER))
    return Use("Row at C5", "C5", arm, "Electrode caps", figures)


def _dressing(part: int, arm: str) -> Event:
    return Event(part, "Row at C5", arm, "Dress both caps", "after", "C5", "basis", "Electrode caps")


def test_line_says_use_how_often_something_falls_due_and_first_when(make: Any) -> None:
    (line,) = _lines(make, (_caps(make, "C5A", "22"),), (_dressing(18, "C5A"), _dressing(36, "C5A")))
    assert (line.per_part.value, line.per_part.unit, line.over_run.value) == ("22", "welds", "5280")
    assert line.due == ("Dress both caps: 2 times, first after part 18",)


def test_arms_that_take_the_same_share_a_line_and_others_do_not(make: Any) -> None:
    alike = _lines(make, (_caps(make, "C5A", "22"), _caps(make, "C5B", "22")))
    apart = _lines(make, (_caps(make, "C5A", "22"), _caps(make, "C5B", "30")))
    assert [line.arms for line in alike] == [("C5A", "C5B")]
    assert [line.arms for line in apart] == [("C5A",), ("C5B",)]


def test_events_of_another_arm_or_consumable_are_not_counted(make: Any) -> None:
    other = Event(9, "Row at C5", "C5A", "Change the hose", "after", "C5", "basis", "Hose")
    (line,) = _lines(make, (_caps(make, "C5A", "22"),), (_dressing(18, "C5B"), other))
    assert line.due == ()
