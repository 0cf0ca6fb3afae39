"""The plan of an order: operations beside each other, the longest sets the run; what falls due in the run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import RowResult
from weld_packets.calculation.trace import Figure, Given, Name
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.approved_tables import Shop
from weld_packets.model.order import Order
from weld_packets.planning.consumables import events, use
from weld_packets.planning.fitted import leaves, starts
from weld_packets.planning.pair.records import PairPlan
from weld_packets.planning.records import Event, Left, OrderPlan, RowPlan, Start
from weld_packets.planning.running import known, with_run
from weld_packets.planning.supplies import Supply, pooled, supplies
from weld_packets.planning.times import row_plan
from weld_packets.planning.weld_schedules import check_coupon_programs, check_set_numbers
from weld_packets.units import kinds, magnitude, quantity

MOST_PARTS = 1_000_000
RUN = Name("run_duration", "Duration of the run", "t_run", kinds.DURATION)
MODEL = (
    "Each operation makes its own component of every part in its own cell, and all cells run beside each other; the "
    "run is over when the slowest cell has made its last part. Counted for each operation: every part with the change "
    "of the part"
)


def plan_order(order: Order, results: Sequence[RowResult], shop: Shop, left: Sequence[Left] | None = None) -> OrderPlan:
    """Return times, consumables and events of an order whose rows are computed; ``results`` in the order's sequence.

    ``left`` is what the order before it leaves fitted; None where the order names none.

    Raises OutOfRangeError with every quantity beyond reason, every cap without a life on a coating, every robot that
    welds for a greater share of the time than the plant plans, every set number that would hold two settings, and
    every robot or cell that would need two wires or gases at once.
    """
    _check_quantity(order.quantity)
    rows = _rows(results, shop)
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
    rows = tuple(with_run(row, found, uses, shop, order.quantity) for row, found in zip(rows, results, strict=True))
    cell, run = _longest(rows)
    slowest = max((row for row in rows if row.cell == cell), key=_seconds)
    return OrderPlan(
        quantity=order.quantity,
        rows=rows,
        bottleneck=slowest.row,
        model=_model(rows),
        figures=(run,),
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


def _rows(results: Sequence[RowResult], shop: Shop) -> tuple[RowPlan, ...]:
    """Return the times of all rows; raise OutOfRangeError with every row in which the robots cannot be kept apart."""
    gathering = Gathering()
    rows: list[RowPlan] = []
    for number, found in enumerate(results):
        with gathering.step(key=f"rows[{number}]"):
            rows.append(row_plan(found, shop))
    gathering.finish(OutOfRangeError)
    return tuple(rows)


def _seconds(row: RowPlan) -> float:
    return magnitude(value_of(row.figure("operation_run")), "s")


def _longest(rows: tuple[RowPlan, ...]) -> tuple[str, Figure]:
    """Return the cell that runs longest and the duration of the run; operations in one cell follow each other."""
    cells: dict[str, float] = {}
    for row in rows:
        cells[row.cell] = cells.get(row.cell, 0.0) + _seconds(row)
    cell = max(cells, key=lambda each: cells[each])
    together = "the rows of one cell follow each other: their sum counts; " if len(cells) < len(rows) else ""
    origin = f"this plan; {together}the cells run beside each other, and the longest counts"
    trace = tuple(
        Given(f"row {row.row}, cell {row.cell}", value_of(row.figure("operation_run")), "h", origin) for row in rows
    )
    return cell, known(
        Figure(RUN.key, RUN.label, RUN.symbol, RUN.kind, "h", quantity(cells[cell], "s"), None, trace=trace)
    )


def _model(rows: tuple[RowPlan, ...]) -> str:
    """Return what the duration of the run counts, and what it does not."""
    waits = all(isinstance(row.pair, PairPlan) for row in rows)
    stops = any(value_of(row.figure("stops_time")).magnitude for row in rows)
    counted = [
        *(["the waits of the robots for each other and their ways from and to the waiting place"] if waits else []),
        *(["the dressings, changes and inspections to which the tables give a time"] if stops else []),
    ]
    missing = list(dict.fromkeys(f"{what} ({row.row})" for row in rows for what in row.not_counted))
    blind = [f"waits for the other robot ({row.row})" for row in rows if not isinstance(row.pair, PairPlan)]
    left_out = ", ".join([*blind, *missing, "set-up and prove-out", "faults", "breaks"])
    return f"{', '.join([MODEL, *counted])}. Not counted: {left_out}."


def _events(taken: Sequence[tuple[Supply, Start]], rows: tuple[RowPlan, ...], parts: int) -> tuple[Event, ...]:
    place = {row.row: number for number, row in enumerate(rows)}
    found = [event for supply, start in taken for event in events(supply, start, parts)]
    return tuple(sorted(found, key=lambda event: _moment(event, place)))


def _moment(event: Event, place: Mapping[str, int]) -> tuple[int, int, str, bool, str]:
    return event.part_number, place[event.row], event.arm, event.when == "after", event.what
