"""The plan of an order: operations beside each other, the longest sets the run; what falls due in the run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.trace import Figure, Given, Name
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.grouping import grouped
from weld_packets.model.order import Order
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.planning.consumables import events, use
from weld_packets.planning.fitted import fitted
from weld_packets.planning.pair.records import PairPlan
from weld_packets.planning.records import Event, Left, OperationPlan, OrderPlan, Start
from weld_packets.planning.times import known, operation_plan, with_run
from weld_packets.planning.weld_schedules import check_coupon_programs, check_weld_schedules
from weld_packets.processes.family import family_of
from weld_packets.processes.supplies import Supply
from weld_packets.units import kinds, magnitude, quantity

MAXIMUM_PARTS = 1_000_000
RUN = Name("run_duration", "Duration of the run", "t_run", kinds.DURATION)
MODEL = (
    "Each operation makes its own component of every part{place}, and all cells run beside each other; the run is over "
    "when the slowest cell has made its last part. What is due with the last part is left to the next order. Counted "
    "for each operation: every part with the change of the part"
)
OWN_CELL = " in its own cell"
SHARED_CELL = "; those of one cell follow each other there, each with all its parts"


def plan_order(
    order: Order, results: Sequence[OperationResult], approved: ApprovedTables, left: Sequence[Left] | None = None
) -> OrderPlan:
    """Return times, consumables and events of an order; ``results`` in the order's sequence.

    ``left`` is what the order before it leaves fitted; None where the order names none.

    Raises OutOfRangeError with every quantity beyond reason, every cap without a life on a coating, every robot that
    welds for a greater share of the time than the plant plans, every weld schedule that would hold two settings, and
    every robot or cell that would need two wires or gases at once.
    """
    _check_quantity(order.quantity)
    operations = _operations(results, approved)
    stock = _stock(results, approved)
    begun, after = fitted(stock, order, left)
    gathering = Gathering()
    for number, operation in enumerate(operations):
        with gathering.step(key=f"operations[{number}]"):
            _check_share(operation)
    check_weld_schedules(results, gathering)
    check_coupon_programs(results, gathering)
    uses = []
    taken = [(supply, start) for supply, start in zip(stock, begun, strict=True) if supply.wear]
    for supply, start in taken:
        with gathering.step():
            uses.append(use(supply, start, order.quantity))
    gathering.finish(OutOfRangeError)
    operations = tuple(
        with_run(operation, found, uses, approved, order.quantity)
        for operation, found in zip(operations, results, strict=True)
    )
    cell, run = _longest(operations)
    slowest = max((operation for operation in operations if operation.cell == cell), key=_seconds)
    return OrderPlan(
        operations=operations,
        bottleneck=slowest.operation,
        model=_model(operations),
        figures=(run,),
        uses=tuple(uses),
        events=_events(taken, operations, order.quantity),
        left=after,
        stock=stock,
    )


def left_by(
    order: Order, results: Sequence[OperationResult], approved: ApprovedTables, left: Sequence[Left] | None
) -> tuple[Left, ...]:
    """Return only what an order leaves fitted; see ``plan_order``, which raises more."""
    return fitted(_stock(results, approved), order, left)[1]


def _check_share(operation: OperationPlan) -> None:
    gathering = Gathering()
    for place, robot in enumerate(operation.robots):
        for verdict in robot.verdicts:
            if verdict.passed is False:
                remedy = "give some of its welds to the other robot, or have the plant's duty planning share changed"
                gathering.add(refusal(verdict.text, remedy, key=f"robots[{place}]", value=robot.robot).problems[0])
    gathering.finish(OutOfRangeError)


def _check_quantity(parts: int) -> None:
    if not 1 <= parts <= MAXIMUM_PARTS:
        raise refusal(
            f"a run is of 1 to {MAXIMUM_PARTS} parts",
            "correct the quantity, or split the order",
            key="quantity",
            value=parts,
        )


def _stock(results: Sequence[OperationResult], approved: ApprovedTables) -> tuple[Supply, ...]:
    gathering = Gathering()
    stock: list[Supply] = []
    for index, found in enumerate(results):
        with gathering.step(key=f"operations[{index}]"):
            needed = supplies(found, approved)
            _check_one_each(stock, needed)
            stock += needed
    gathering.finish(OutOfRangeError)
    return tuple(stock)


def _check_one_each(stock: Sequence[Supply], needed: Sequence[Supply]) -> None:
    """Raise OutOfRangeError where an operation needs another wire or gas than an earlier one at the same place."""
    earlier = {(supply.place, supply.word): supply for supply in stock}
    gathering = Gathering()
    for word in dict.fromkeys(each.word for each in needed if each.one_each):
        supply = next((each for each in needed if each.word == word and (each.place, word) in earlier), None)
        other = earlier[supply.place, word] if supply else None
        if supply and other and other.item != supply.item:
            message = (
                f"{supply.place} would need {other.item} for operation {other.operation} and {supply.item} for this one"
            )
            remedy = f"weld both operations with one {word}, or make two orders of them"
            gathering.add(refusal(message, remedy, key=word, value=supply.item).problems[0])
    gathering.finish(OutOfRangeError)


def _operations(results: Sequence[OperationResult], approved: ApprovedTables) -> tuple[OperationPlan, ...]:
    """Return the times of all operations; raise OutOfRangeError with every pair of robots that cannot be kept apart."""
    gathering = Gathering()
    operations: list[OperationPlan] = []
    for number, found in enumerate(results):
        with gathering.step(key=f"operations[{number}]"):
            operations.append(operation_plan(found, approved))
    gathering.finish(OutOfRangeError)
    return tuple(operations)


def _seconds(operation: OperationPlan) -> float:
    return magnitude(value_of(operation.figure("operation_run")), "s")


def _longest(operations: tuple[OperationPlan, ...]) -> tuple[str, Figure]:
    """Return the cell that runs longest and the duration of the run; operations in one cell follow each other."""
    cells: dict[str, float] = {}
    for operation in operations:
        cells[operation.cell] = cells.get(operation.cell, 0.0) + _seconds(operation)
    cell = max(cells, key=lambda each: cells[each])
    together = (
        "the operations of one cell follow each other: their sum counts; " if len(cells) < len(operations) else ""
    )
    origin = f"this plan; {together}the cells run beside each other, and the longest counts"
    trace = tuple(
        Given(
            f"operation {operation.operation}, cell {operation.cell}",
            value_of(operation.figure("operation_run")),
            "h",
            origin,
        )
        for operation in operations
    )
    return cell, known(RUN.figure("h", quantity(cells[cell], "s"), None, trace=trace))


def _model(operations: tuple[OperationPlan, ...]) -> str:
    """Return what the duration of the run counts, and what it does not."""
    waits = all(isinstance(operation.pair, PairPlan) for operation in operations)
    stops = any(value_of(operation.figure("stops_time")).magnitude for operation in operations)
    counted = [
        *(["the waits of the robots for each other and their paths to and from the waiting place"] if waits else []),
        *(["the dressings, changes and inspections to which the tables give a time"] if stops else []),
    ]
    is_shared = len({operation.cell for operation in operations}) < len(operations)
    model = MODEL.format(place=SHARED_CELL if is_shared else OWN_CELL)
    left_out = "; ".join([*_left_out(operations), "set-up and prove-out", "faults", "breaks"])
    return f"{', '.join([model, *counted])}. Not counted: {left_out}."


_BLIND = ("waits for the other robot",)
"""What the time of an operation leaves out where the distance of its robots is not checked."""


def _left_out(operations: Sequence[OperationPlan]) -> Iterator[str]:
    """Yield what has no time in the tables, each once with the operations that it concerns."""
    found = grouped(
        (what, each.operation)
        for each in operations
        for what in (*(() if isinstance(each.pair, PairPlan) else _BLIND), *each.not_counted)
    )
    for what, names in found.items():
        yield f"{what} ({', '.join(dict.fromkeys(names))})"


def _events(
    taken: Sequence[tuple[Supply, Start]], operations: tuple[OperationPlan, ...], parts: int
) -> tuple[Event, ...]:
    place = {operation.operation: number for number, operation in enumerate(operations)}
    found = [event for supply, start in taken for event in events(supply, start, parts)]
    return tuple(sorted(found, key=lambda event: _moment(event, place)))


def _moment(event: Event, place: Mapping[str, int]) -> tuple[int, int, str, bool, str]:
    return event.part_number, place[event.operation], event.robot, event.when == "after", event.what


def supplies(found: OperationResult, approved: ApprovedTables) -> tuple[Supply, ...]:
    """Return every consumable that is fitted for an operation, also where its parts take none of it.

    Raises OutOfRangeError where one has no known life.
    """
    return tuple(family_of(found.operation.process).supplies(found, approved))
