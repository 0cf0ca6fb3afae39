"""How long an operation runs for the whole quantity: its parts, and what stops its cell between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import floor

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import result, value_of
from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Step, Weight
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import Operation
from weld_packets.model.tables import Inspection
from weld_packets.planning.formulas import operation_run, stop_time
from weld_packets.planning.records import OperationPlan, Use
from weld_packets.processes.family import family_of
from weld_packets.units import Quantity, exact, kinds, known_to, magnitude, quantity

STOPS = Name("stops_time", "Stops of this operation over the run", "t_s", kinds.DURATION)
RUN = Name("operation_run", "Duration of this operation over the run", "t_op", kinds.DURATION)
NOT_COUNTED = 0.1
"""Share of a run that set-up, faults and breaks come to: an estimate of the plan, no source."""


@dataclass(frozen=True)
class Stop:
    """What stops a cell ``times`` in the run for ``each``; ``each`` is None where no table says for how long."""

    what: str
    times: int
    each: Quantity | None
    source: str = ""


def with_run(
    operation: OperationPlan, found: OperationResult, uses: Sequence[Use], approved: ApprovedTables, parts: int
) -> OperationPlan:
    """Return the plan of an operation with its stops and its duration over the run."""
    whole = operation.figure("operation_time")
    changing = list(_changes(operation, uses))
    welding = parts * magnitude(value_of(whole), "s")
    stops = [*changing, *_inspections(found, approved, parts, welding + _seconds(changing))]
    stopping = _stops_figure(stops)
    worked = operation_run.work(parts=quantity(parts, "1"), operation_time=value_of(whole), stops=value_of(stopping))
    running = known(replace(result(RUN, worked), unit="h"))
    missing = tuple(stop.what for stop in stops if stop.each is None and stop.times)
    return replace(operation, figures=(*operation.figures, stopping, running), not_counted=missing)


def known(figure: Figure) -> Figure:
    """Return a duration with the digits that are left by what the plan does not count."""
    number = exact(value_of(figure), figure.unit)
    spread = NOT_COUNTED * float(number)
    return replace(figure, text=known_to(number, Decimal(spread)), spread=spread)


def _seconds(stops: Sequence[Stop]) -> float:
    return sum(stop.times * magnitude(stop.each, "s") for stop in stops if stop.each is not None)


def _stops_figure(stops: Sequence[Stop]) -> Figure:
    counted = [stop for stop in stops if stop.each is not None and stop.times]
    works = [_worked(stop) for stop in counted]
    trace: list[Step] = []
    for stop, (each, worked) in zip(counted, works, strict=True):
        trace += [each, Given(f"times: {stop.what}", quantity(stop.times, "1"), "1", "this plan"), worked]
    seconds = quantity(_seconds(stops), "s")
    missing = [stop.what for stop in stops if stop.each is None and stop.times]
    texts = [f"not counted, because no table says for how long it stops the cell: {what}" for what in missing]
    texts += [] if counted else ["nothing that the tables give a time for stops this cell during the run"]
    remarks = tuple(Remark(Weight.NOTE, text, reader="auditor") for text in texts)
    origin = Given("stops without a time in the tables", quantity(0, "s"), "s", "this plan")
    name = STOPS
    figure = Figure(name.key, name.label, name.symbol, name.kind, "min", seconds, None, trace=tuple(trace) or (origin,))
    return replace(known(figure), remarks=remarks)


def _worked(stop: Stop) -> tuple[Given, Worked]:
    each = stop.each or quantity(0, "s")
    given = Given(f"one stop: {stop.what}", each, "s", stop.source)
    return given, stop_time.work(times=quantity(stop.times, "1"), each=each)


def _changes(operation: OperationPlan, uses: Sequence[Use]) -> Iterator[Stop]:
    """Yield dressings and changes of the robots of an operation, one after another."""
    for use in uses:
        if (use.operation, use.cell) != (operation.operation, operation.cell):
            continue
        place, what = use.robot or use.cell, use.what.lower()
        changes = int(magnitude(value_of(use.figure("changes")), "1"))
        if use.turns:
            dressings = int(magnitude(value_of(use.figure("dressings")), "1"))
            yield Stop(f"{use.lesser_noun} of {what}, {place}", dressings, use.lesser_time, use.times_source)
        yield Stop(f"change of {what}, {place}", changes, use.change_time, use.times_source)


def _inspections(found: OperationResult, approved: ApprovedTables, parts: int, running: float) -> Iterator[Stop]:
    """Yield in-process inspections: after so many parts, or each time that the cell has run for so long."""
    for each in approved.inspections:
        if each.stage == "in process" and applies(each, found.operation):
            times = _times(each, parts, running)
            yield Stop(f"inspection, {each.what.lower()}", times, each.stops_cell_for, each.stops_cell_source or "")


def _times(inspection: Inspection, parts: int, running: float) -> int:
    if inspection.after_parts:
        return parts // inspection.after_parts
    if inspection.interval is not None:
        return floor(running / magnitude(inspection.interval, "s"))
    return 1


def applies(inspection: Inspection, operation: Operation) -> bool:
    """Return whether an inspection is one of an operation: of its process, its level and one of its joints."""
    if operation.process not in inspection.processes:
        return False
    family = family_of(operation.process)
    if inspection.levels and family.quality(operation) not in inspection.levels:
        return False
    return not inspection.joints or any(weld.joint in inspection.joints for weld in family.welds(operation))
