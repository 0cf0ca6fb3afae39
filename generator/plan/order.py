"""The plan of an order: rows in series, the slowest sets the pace; what falls due in the run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from generator.errors import Gathering, OutOfRangeError, refusal
from generator.model.order import Order
from generator.model.shop import Shop
from generator.plan.consumables import events, use
from generator.plan.formulas import run_duration
from generator.plan.records import Event, OrderPlan, RowPlan
from generator.plan.set_numbers import check_coupon_programs, check_set_numbers
from generator.plan.supplies import Supply, supplies
from generator.plan.times import row_plan
from generator.process.readings import result, value_of
from generator.process.results import RowResult
from generator.process.trace import Figure, Given, Name
from generator.units import exact, kinds, magnitude, quantity, significant

MOST_PARTS = 1_000_000
FIRST = Name("first_part_time", "Time of the first part through all rows", "t_1", kinds.DURATION)
RUN = Name("run_duration", "Duration of the run", "t_run", kinds.DURATION)
MODEL = (
    "Rows are stations in series: the first part passes them one after another, and each later part follows the one "
    "before it by the time of the slowest row. Changes of consumables, faults and breaks are not counted."
)


def plan_order(order: Order, results: Sequence[RowResult], shop: Shop) -> OrderPlan:
    """Return times, consumables and events of an order whose rows are computed; ``results`` in the order's sequence.

    Raises OutOfRangeError with every quantity beyond reason, every cap without a life on a coating, and every arm
    that welds for a greater share of the time than the plant plans, and every set number that would hold two settings.
    """
    _check_quantity(order.quantity)
    rows = tuple(row_plan(found, shop) for found in results)
    stock = _stock(results, shop)
    gathering = Gathering()
    for number, row in enumerate(rows):
        with gathering.step(key=f"rows[{number}]"):
            _check_share(row)
    check_set_numbers(results, gathering)
    check_coupon_programs(results, gathering)
    uses = []
    for supply in stock:
        with gathering.step():
            uses.append(use(supply, order.quantity))
    gathering.finish(OutOfRangeError)
    slowest = max(rows, key=_seconds)
    return OrderPlan(
        quantity=order.quantity,
        rows=rows,
        bottleneck=slowest.row,
        model=MODEL,
        figures=_durations(rows, slowest, order.quantity),
        uses=tuple(uses),
        events=_events(stock, rows, order.quantity),
    )


def _check_share(row: RowPlan) -> None:
    gathering = Gathering()
    for place, arm in enumerate(row.arms):
        for verdict in arm.verdicts:
            if verdict.passed is False:
                remedy = "give some of its welds to the other arm, or have the plant's duty planning share changed"
                gathering.add(refusal(verdict.text, remedy, key=f"arms[{place}]", value=arm.arm).problems[0])
    gathering.finish(OutOfRangeError)


def _check_quantity(parts: int) -> None:
    if not 1 <= parts <= MOST_PARTS:
        raise refusal(
            f"a run is of 1 to {MOST_PARTS} parts",
            "correct the quantity, or split the order",
            key="quantity",
            value=parts,
        )


def _stock(results: Sequence[RowResult], shop: Shop) -> list[Supply]:
    gathering = Gathering()
    stock: list[Supply] = []
    for index, found in enumerate(results):
        with gathering.step(key=f"rows[{index}]"):
            stock += supplies(found, shop)
    gathering.finish(OutOfRangeError)
    return stock


def _seconds(row: RowPlan) -> float:
    return magnitude(value_of(row.figure("row_time")), "s")


def _durations(rows: tuple[RowPlan, ...], slowest: RowPlan, parts: int) -> tuple[Figure, Figure]:
    first = quantity(sum(_seconds(row) for row in rows), "s")
    each = tuple(Given(f"row {row.row}", value_of(row.figure("row_time")), "s", "this plan") for row in rows)
    text = significant(exact(first, "s"), 3)
    opening = Figure(FIRST.key, FIRST.label, FIRST.symbol, FIRST.kind, "s", first, text, trace=each)
    pace = value_of(slowest.figure("row_time"))
    worked = run_duration.work(first_part=first, parts=quantity(parts, "1"), slowest_row=pace)
    return opening, _in_hours(result(RUN, worked))


def _in_hours(figure: Figure) -> Figure:
    return replace(figure, unit="h", text=significant(exact(value_of(figure), "h"), 3))


def _events(stock: list[Supply], rows: tuple[RowPlan, ...], parts: int) -> tuple[Event, ...]:
    place = {row.row: number for number, row in enumerate(rows)}
    found = [event for supply in stock for event in events(supply, parts)]
    return tuple(sorted(found, key=lambda event: _moment(event, place)))


def _moment(event: Event, place: Mapping[str, int]) -> tuple[int, int, str, bool, str]:
    return event.part_number, place[event.row], event.arm, event.when == "after", event.what
