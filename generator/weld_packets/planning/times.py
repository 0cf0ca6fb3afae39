"""Times of one part, what each robot welds and travels, and of the run: its parts, and what stops its cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import pairwise
from math import dist, floor, hypot

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import beside, moved, ordered, result, share_of, value_of
from weld_packets.calculation.results import OperationResult, of_robot, total
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Step, Verdict, Weight
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Operation
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import Inspection
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.plant import Plant
from weld_packets.planning.formulas import (
    arc_share,
    move_time,
    operation_run,
    operation_time,
    robot_time,
    robot_time_with_waits,
    stop_time,
)
from weld_packets.planning.pair.courses import pair_of
from weld_packets.planning.pair.records import NotChecked, PairPlan
from weld_packets.planning.pair.verdicts import pair_verdicts, wait_remark
from weld_packets.planning.records import OperationPlan, RobotPlan, Use
from weld_packets.processes.family import family_of
from weld_packets.units import Quantity, as_written, exact, kinds, known_to, magnitude, plain, quantity, with_unit
from weld_packets.units.digits import WHOLE

WELD = Name("weld_time", "Welding time on one part", "t_w", kinds.DURATION)
MOVE = Name("move_time", "Moving time on one part", "t_m", kinds.DURATION)
WAIT = Name("wait_time", "Waiting for the other robot on one part", "t_q", kinds.DURATION)
ROBOT = Name("robot_time", "Cycle time of this robot", "t_robot", kinds.DURATION)
SHARE = Name("arc_share", "Arc-on share of the operation's time", "X_arc", kinds.SHARE)
LOAD = Name("load_time", "Time to change the part", "t_l", kinds.DURATION)
CYCLE = Name("operation_time", "Cycle time of this operation", "t_cycle", kinds.DURATION)

_UNCOUNTED = Remark(Weight.NOTE, "moves from and to the waiting place are not counted; each weld has its approach")
_COUNTED = Remark(Weight.NOTE, "moves from and to the waiting place are counted; each weld has its approach")
ESTIMATED = 0.1
"""Share of itself to which times of loading, moving and starting are known: they are estimates of the trade."""
_Pass = tuple[Point, Point]
"""Where one pass or spot starts and ends, in mm."""
STOPS = Name("stops_time", "Stops of this operation over the run", "t_s", kinds.DURATION)
RUN = Name("operation_run", "Duration of this operation over the run", "t_op", kinds.DURATION)
NOT_COUNTED = 0.1
"""Share of a run that set-up, faults and breaks come to: an estimate of the plan, no source."""


def operation_plan(found: OperationResult, approved: ApprovedTables) -> OperationPlan:
    """Return the cycle times of one operation; both robots begin and end at their waiting places, if these are known.

    Raises OutOfRangeError where no order of going first keeps both tools apart.
    """
    operation, cell = found.operation, approved.cells[found.operation.cell]
    pair = pair_of(found, approved)
    figures = {name: _robot_figures(approved.robots[name], found, pair) for name in operation.robots}
    first, second = (figures[name][-1] for name in operation.robots)
    worked = operation_time.work(first_robot=value_of(first), second_robot=value_of(second), load_time=cell.load_time)
    shares = {"first_robot": share_of(first), "second_robot": share_of(second), "load_time": ESTIMATED}
    whole = result(CYCLE, worked, shares=shares)
    robots = tuple(_robot_plan(name, figures[name], found, whole, approved.plant) for name in operation.robots)
    times = ordered(LOAD, cell.load_time, cell.load_time_source), whole
    return OperationPlan(operation.name, operation.cell, robots, times, pair, pair_verdicts(pair, found))


def _robot_figures(robot: Robot, found: OperationResult, pair: PairPlan | NotChecked) -> tuple[Figure, ...]:
    """Return welding, moving, and where it is known waiting of a robot, then the whole."""
    welding = _weld_figure(robot, found)
    if isinstance(pair, NotChecked):
        moving = _move_figure(robot, list(_passes(found, robot.id)))
        whole = robot_time.work(weld_time=value_of(welding), moving_time=value_of(moving))
        shares = {"weld_time": share_of(welding), "moving_time": share_of(moving)}
        return welding, moving, result(ROBOT, whole, shares=shares)
    index = pair.names.index(robot.id)
    moving, waiting = _planned_moves(robot, pair, index), _wait_figure(pair, index)
    times = {"weld_time": welding, "moving_time": moving, "waiting_time": waiting}
    whole = robot_time_with_waits.work(**{name: value_of(figure) for name, figure in times.items()})
    return welding, moving, waiting, result(ROBOT, whole, shares={name: share_of(each) for name, each in times.items()})


def _planned_moves(robot: Robot, pair: PairPlan, index: int) -> Figure:
    """Return the moving time of a plan: every straight move of the robot, also those to and from its waiting place."""
    blocks = [started.block for started in pair.timed[index]]
    moves = (block.pieces[0] for block in blocks if block.pieces[0].ends <= block.welds_from)
    path = sum(dist(move.start, move.end) for move in moves) / 1000
    welds = sum(1 for block in blocks if block.weld)
    return _moving(robot, path, welds, _COUNTED)


def _wait_figure(pair: PairPlan, robot: int) -> Figure:
    """Return for how long a robot waits for the other one."""
    seconds = quantity(pair.waited(robot) / 1000, "s")
    waits = [wait for wait in pair.waits if wait.robot == robot]
    before = (pair.started(robot, wait.before).block.weld or "the waiting place" for wait in waits)
    trace: tuple[Step, ...] = tuple(
        Given(f"wait before {name}", quantity(wait.lasts / 1000, "s"), "s", "this plan, under its interlocks")
        for name, wait in zip(before, waits, strict=True)
    ) or (Given("waits", quantity(0.0, "s"), "s", "this plan, under its interlocks"),)
    spread = ESTIMATED * magnitude(seconds, "s")
    text = known_to(exact(seconds, "s"), Decimal(spread)) if pair.waited(robot) else Decimal(0)
    return WAIT.figure("s", seconds, text, trace=trace, spread=spread, remarks=wait_remark(pair))


def _robot_plan(
    name: str, figures: tuple[Figure, ...], found: OperationResult, operation: Figure, plant: Plant
) -> RobotPlan:
    loaded = family_of(found.operation.process).loaded_key
    if not loaded:
        return RobotPlan(name, figures)
    burning = total(of_robot(found, name), loaded, "s")
    share = arc_share.work(arc_time=burning, time_of_operation=value_of(operation))
    planned = plant.duty_planning_share
    burnt = with_unit(plain(beside(share.result, planned, "%", WHOLE)[0]), "%")
    most = f"at most {as_written(planned)}, the share for which the plant plans its power sources"
    text = f"arc on {burnt} of the operation's time; {most}"
    passed = magnitude(share.result, "%") <= magnitude(planned, "%")
    verdict = Verdict("arc_share", name, text, passed, "table of plant, duty planning share")
    return RobotPlan(
        name, (*figures, result(SHARE, share, shares={"time_of_operation": share_of(operation)})), (verdict,)
    )


def _weld_figure(robot: Robot, found: OperationResult) -> Figure:
    """Return the welding time of a robot: the sum over its settings."""
    family = family_of(found.operation.process)
    works = [family.weld_time(robot, group) for group in of_robot(found, robot.id)]
    seconds = quantity(sum(magnitude(work.result, "s") for work in works), "s")
    overhead = Given("time of each weld besides", robot.weld_overhead, "s", robot.times_source)
    spread = hypot(*(moved(work, {"overhead": ESTIMATED}, "s") for work in works))
    text = known_to(exact(seconds, "s"), Decimal(spread))
    groups = "1 group" if len(works) == 1 else f"{len(works)} groups"
    remark = Remark(Weight.NOTE, f"sum over {groups} of welds with equal settings")
    trace: tuple[Step, ...] = (overhead, *works)
    return WELD.figure("s", seconds, text, trace=trace, spread=spread, remarks=(remark,))


def _move_figure(robot: Robot, passes: list[_Pass]) -> Figure:
    """Return the moving time: straight moves from the end of each weld to the start of the next, and approaches."""
    path = sum(dist(before[1], after[0]) for before, after in pairwise(passes))
    return _moving(robot, path, len(passes), _UNCOUNTED)


def _moving(robot: Robot, path: float, moves: int, remark: Remark) -> Figure:
    worked = move_time.work(
        air_distance=quantity(path, "mm"),
        air_speed=robot.air_speed,
        moves=quantity(moves, "1"),
        approach=robot.approach,
    )
    speed = Given("air speed", robot.air_speed, "mm/s", robot.times_source)
    shares = {"air_speed": ESTIMATED, "approach": ESTIMATED}
    return result(MOVE, worked, before=(speed,), shares=shares, remarks=(remark,))


def _passes(found: OperationResult, robot: str) -> Iterator[_Pass]:
    """Yield start and end of each pass or point of a robot, in sequence; passes of a seam follow each other."""
    passes = {weld: group.pass_count for group in found.settings for weld in group.welds}
    for weld in family_of(found.operation.process).welds(found.operation):
        if weld.robot == robot:
            yield from [weld.ends] * passes[weld.id]


# ---------------------------------------------------------------- the run


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
    return replace(operation, figures=(*operation.figures, stopping, running), not_counted=_not_counted(stops))


def known(figure: Figure) -> Figure:
    """Return a duration with the digits that are left by what the plan does not count."""
    number = exact(value_of(figure), figure.unit)
    spread = NOT_COUNTED * float(number)
    return replace(figure, text=known_to(number, Decimal(spread)), spread=spread)


def _not_counted(stops: Sequence[Stop]) -> tuple[str, ...]:
    return tuple(stop.what for stop in stops if stop.each is None and stop.times)


def _seconds(stops: Sequence[Stop]) -> float:
    return sum(stop.times * magnitude(stop.each, "s") for stop in stops if stop.each is not None)


def _stops_figure(stops: Sequence[Stop]) -> Figure:
    counted = [stop for stop in stops if stop.each is not None and stop.times]
    works = [_worked(stop) for stop in counted]
    trace: list[Step] = []
    for stop, (each, worked) in zip(counted, works, strict=True):
        trace += [each, Given(f"times: {stop.what}", quantity(stop.times, "1"), "1", "this plan"), worked]
    seconds = quantity(_seconds(stops), "s")
    texts = [
        f"not counted, because no table says for how long it stops the cell: {what}" for what in _not_counted(stops)
    ]
    texts += [] if counted else ["nothing that the tables give a time for stops this cell during the run"]
    remarks = tuple(Remark(Weight.NOTE, text, reader="auditor") for text in texts)
    origin = Given("stops without a time in the tables", quantity(0, "s"), "s", "this plan")
    return known(STOPS.figure("min", seconds, None, trace=tuple(trace) or (origin,), remarks=remarks))


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
    for each in inspections_for(found.operation, approved):
        if each.stage == "in process":
            times = _times(each, parts, running)
            yield Stop(f"inspection, {each.what.lower()}", times, each.stops_cell_for, each.stops_cell_source or "")


def _times(inspection: Inspection, parts: int, running: float) -> int:
    if inspection.after_parts:
        return parts // inspection.after_parts
    if inspection.interval is not None:
        return floor(running / magnitude(inspection.interval, "s"))
    return 1


def inspections_for(operation: Operation, approved: ApprovedTables) -> Iterator[Inspection]:
    """Yield the inspections of an operation: of its process, its level and one of its joints."""
    family = family_of(operation.process)
    level, joints = family.quality(operation), {weld.joint for weld in family.welds(operation)}
    for each in approved.inspections:
        of_level = not each.levels or level in each.levels
        if operation.process in each.processes and of_level and not (each.joints and joints.isdisjoint(each.joints)):
            yield each
