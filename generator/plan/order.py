"""The plan of an order: rows in series, the slowest sets the pace; what falls due in the run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from generator.errors import Gathering, OutOfRangeError, refusal
from generator.model.order import Order
from generator.model.shop import Shop
from generator.plan.consumables import events, use
from generator.plan.fitted import leaves, starts
from generator.plan.formulas import run_duration
from generator.plan.records import Event, Left, OrderPlan, RowPlan, Start
from generator.plan.set_numbers import check_coupon_programs, check_set_numbers
from generator.plan.supplies import Supply, pooled, supplies
from generator.plan.times import row_plan
from generator.process.readings import result, value_of
from generator.process.results import RowResult
from generator.process.trace import Figure, Given, Name
from generator.units import exact, kinds, known_to, magnitude, quantity

MOST_PARTS = 1_000_000
FIRST = Name("first_part_time", "Time of the first part through all rows", "t_1", kinds.DURATION)
RUN = Name("run_duration", "Duration of the run", "t_run", kinds.DURATION)
NOT_COUNTED = 0.1
"""Share of a run that changes, dressing, inspection, faults and breaks come to: an estimate of the plan, no source."""
MODEL = (
    "Rows are stations in series: the first part passes them one after another, and each later part follows the one "
    "before it by the time of the slowest row. Changes of consumables, faults and breaks are not counted."
)


def plan_order(order: Order, results: Sequence[RowResult], shop: Shop, left: Sequence[Left] | None = None) -> OrderPlan:
    """Return times, consumables and events of an order whose rows are computed; ``results`` in the order's sequence.

    ``left`` is what the order before it leaves fitted; None where the order names none.

    Raises OutOfRangeError with every quantity beyond reason, every cap without a life on a coating, every robot that
    welds for a greater share of the time than the plant plans, every set number that would hold two settings, and
    every robot or cell that would need two wires or gases at once.
    """
    _check_quantity(order.quantity)
    rows = tuple(row_plan(found, shop) for found in results)
    stock = _stock(results, shop)
    begun = starts(stock, order, shop, left)
    gathering = Gathering()
    for number, row in enumerate(rows):
        with gathering.step(key=f"rows[{number}]"):
            _check_share(row)
    check_set_numbers(results, gathering)
    check_coupon_programs(results, gathering)
    uses = []
    taken = [(supply, start) for supply, start in zip(stock, begun, strict=True) if supply.wear]
    for supply, start in taken:
        with gathering.step():
            uses.append(use(supply, start, order.quantity))
    gathering.finish(OutOfRangeError)
    slowest = max(rows, key=_seconds)
    return OrderPlan(
        quantity=order.quantity,
        rows=rows,
        bottleneck=slowest.row,
        model=MODEL,
        figures=_durations(rows, slowest, order.quantity),
        uses=tuple(uses),
        events=_events(taken, rows, order.quantity),
        left=leaves(stock, begun, order, left),
    )


def left_by(order: Order, results: Sequence[RowResult], shop: Shop, left: Sequence[Left] | None) -> tuple[Left, ...]:
    """Return only what an order leaves fitted; see ``plan_order``, which raises more."""
    stock = _stock(results, shop)
    return leaves(stock, starts(stock, order, shop, left), order, left)


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


def _stock(results: Sequence[RowResult], shop: Shop) -> tuple[Supply, ...]:
    gathering = Gathering()
    stock: list[Supply] = []
    for index, found in enumerate(results):
        with gathering.step(key=f"rows[{index}]"):
            fitted = supplies(found, shop)
            _check_one_each(stock, fitted)
            stock += fitted
    gathering.finish(OutOfRangeError)
    return pooled(stock)


def _check_one_each(stock: Sequence[Supply], fitted: Sequence[Supply]) -> None:
    """Raise OutOfRangeError where a row needs another wire or gas than an earlier row at the same place."""
    earlier = {(supply.place, supply.word): supply for supply in stock}
    gathering = Gathering()
    for word in ("wire", "gas"):
        supply = next((each for each in fitted if each.word == word and (each.place, word) in earlier), None)
        other = earlier[supply.place, word] if supply else None
        if supply and other and other.item != supply.item:
            message = f"{supply.place} would need {other.item} for row {other.row} and {supply.item} for this one"
            remedy = f"weld both rows with one {word}, or make two orders of them"
            gathering.add(refusal(message, remedy, key=word, value=supply.item).problems[0])
    gathering.finish(OutOfRangeError)


def _seconds(row: RowPlan) -> float:
    return magnitude(value_of(row.figure("row_time")), "s")


def _durations(rows: tuple[RowPlan, ...], slowest: RowPlan, parts: int) -> tuple[Figure, Figure]:
    first = quantity(sum(_seconds(row) for row in rows), "s")
    each = tuple(Given(f"row {row.row}", value_of(row.figure("row_time")), "s", "this plan") for row in rows)
    opening = _known(Figure(FIRST.key, FIRST.label, FIRST.symbol, FIRST.kind, "s", first, None, trace=each))
    pace = value_of(slowest.figure("row_time"))
    worked = run_duration.work(first_part=first, parts=quantity(parts, "1"), slowest_row=pace)
    return opening, _known(replace(result(RUN, worked), unit="h"))


def _known(figure: Figure) -> Figure:
    """Return a duration with the digits that are left by what the plan does not count."""
    number = exact(value_of(figure), figure.unit)
    spread = NOT_COUNTED * float(number)
    return replace(figure, text=known_to(number, Decimal(spread)), spread=spread)


def _events(taken: Sequence[tuple[Supply, Start]], rows: tuple[RowPlan, ...], parts: int) -> tuple[Event, ...]:
    place = {row.row: number for number, row in enumerate(rows)}
    found = [event for supply, start in taken for event in events(supply, start, parts)]
    return tuple(sorted(found, key=lambda event: _moment(event, place)))


def _moment(event: Event, place: Mapping[str, int]) -> tuple[int, int, str, bool, str]:
    return event.part_number, place[event.row], event.arm, event.when == "after", event.what
