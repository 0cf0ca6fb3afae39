"""The pair of an operation in words: what each robot waits for, the table of interlocks, and how each is proved."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import InterlockLine, PairSheet
from weld_packets.packet.settings.values import check_of
from weld_packets.planning.pair.interlocks import Interlock
from weld_packets.planning.pair.records import PairPlan, Wait
from weld_packets.planning.pair.verdicts import TOOL_POINTS, seconds
from weld_packets.planning.records import OrderPlan
from weld_packets.wording.english import listed


def pair_sheet(plan: OrderPlan, view: OperationView) -> PairSheet:
    """Return what the page of an operation says about its two robots."""
    operation = plan.operations[view.number - 1]
    verdict = next(each for each in operation.verdicts if each.key == "pair_distance")
    distance = check_of(verdict, view.showing).text
    if not isinstance(operation.pair, PairPlan):
        return PairSheet(is_checked=False, distance=distance, limits=TOOL_POINTS)
    return PairSheet(
        is_checked=True,
        distance=distance,
        waits=tuple(wait_lines(operation.pair)),
        interlocks=tuple(interlock_lines(operation.pair)),
        limits=TOOL_POINTS,
    )


def interlock_lines(pair: PairPlan) -> Iterator[InterlockLine]:
    """Yield the interlocks by number."""
    waits = {(wait.robot, wait.before): wait for wait in pair.waits}
    for number, lock in enumerate(pair.interlocks, 1):
        first, second = pair.names[lock.first], pair.names[1 - lock.first]
        after, before = _done(pair, lock.first, lock.leaves), _next(pair, 1 - lock.first, lock.enters)
        wait = waits.get((1 - lock.first, lock.enters))
        yield InterlockLine(
            number=number,
            first=first,
            release_after=after,
            second=second,
            request_before=before,
            proof=f"hold {first} before that: {second} stops before {before}",
            wait="" if wait is None else seconds(wait.lasts),
        )


def turn_words(lock: InterlockLine) -> str:
    """Return who goes first at a place that both robots need, for the legend of the map."""
    return f"{lock.first} goes first: {lock.second} waits before {lock.request_before} until {lock.release_after}."


def wait_lines(pair: PairPlan) -> Iterator[str]:
    """Yield what each robot waits for in a cycle as planned, then what the other interlocks are there for."""
    for wait in pair.waits:
        lock = _lock_of(pair, wait)
        robot, before = pair.names[wait.robot], _next(pair, wait.robot, wait.before)
        yield (
            f"{robot} waits {seconds(wait.lasts)} {_where(pair, wait)}, before {before}, until "
            f"{pair.names[1 - wait.robot]} has {_finished(pair, 1 - wait.robot, lock.leaves)}."
        )
    late = len(pair.interlocks) - len(pair.waits)
    if not pair.interlocks:
        yield "The robots never come near each other: no interlock is needed, and neither waits."
    elif late:
        nobody = "" if pair.waits else "In a cycle as planned neither robot waits. "
        which = "The other" if pair.waits else "The"
        held = "interlock holds" if late == 1 else f"{late} interlocks hold"
        yield f"{nobody}{which} {held} a robot only where the other one is late."
    off = [
        f"{pair.names[robot]} goes to its waiting place after {_last_weld(pair, robot, place)}"
        for robot, blocks in enumerate(pair.timed)
        for place, each in enumerate(blocks[:-1])
        if not each.block.weld
    ]
    if off:
        yield f"Off the part in between: {listed(off)}. The programs need these moves."


def _lock_of(pair: PairPlan, wait: Wait) -> Interlock:
    return next(lock for lock in pair.interlocks if (1 - lock.first, lock.enters) == (wait.robot, wait.before))


def _where(pair: PairPlan, wait: Wait) -> str:
    if wait.place == "waiting place" or not wait.before:
        return "at its waiting place"
    return f"at {_weld(pair, wait.robot, wait.before - 1)}"


def _done(pair: PairPlan, robot: int, place: int) -> str:
    """Return what a robot has done when it releases."""
    block = pair.started(robot, place).block
    if block.weld:
        return f"{_weld(pair, robot, place)} is done"
    return f"it is at its waiting place after {_last_weld(pair, robot, place)}"


def _finished(pair: PairPlan, robot: int, place: int) -> str:
    block = pair.started(robot, place).block
    if block.weld:
        return f"finished {_weld(pair, robot, place)}"
    return f"reached its waiting place after {_last_weld(pair, robot, place)}"


def _next(pair: PairPlan, robot: int, place: int) -> str:
    """Return what a robot goes on to."""
    block = pair.started(robot, place).block
    return _weld(pair, robot, place) if block.weld else f"its waiting place, from {_last_weld(pair, robot, place)}"


def _last_weld(pair: PairPlan, robot: int, place: int) -> str:
    return next(_weld(pair, robot, each) for each in range(place - 1, -1, -1) if pair.started(robot, each).block.weld)


def _weld(pair: PairPlan, robot: int, place: int) -> str:
    block = pair.started(robot, place).block
    passes = sum(1 for each in pair.timed[robot] if each.block.weld == block.weld)
    return f"{block.weld}, pass {block.pass_number}" if passes > 1 else block.weld
