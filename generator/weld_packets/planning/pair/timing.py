"""The best timing where blocks that meet never overlap: with waits at welds, and retreats to the waiting places.

Blocks are set one after another in the order of their starts, each as early as it may. To be further is never worse:
of two sequences to the same blocks the one in which both robots are free sooner can do whatever the other one can.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import accumulate
from typing import Literal, NamedTuple

from weld_packets.planning.pair.blocks import Block, Course, Place, Started, Timed, ends_of
from weld_packets.planning.pair.distance import Zones

MAXIMUM_LABELS = 50_000
"""Partial timings that a search looks at before it gives up; the largest operation of the demo takes a fiftieth."""
_Arrival = Literal["onward", "off", "again"]
_KINDS: tuple[_Arrival, ...] = ("onward", "again", "off")


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: ``timed`` is None where there is no timing, or, not ``complete``, where it gave up."""

    timed: Timed | None
    complete: bool = True

    @property
    def ends(self) -> int:
        """When the later robot is back at its waiting place."""
        return 0 if self.timed is None else ends_of(self.timed)


class _Robot(NamedTuple):  # a tuple, as is a label: thousands are made in a search, and of nothing else so many
    """A robot that has set its blocks up to weld ``done``, the last one of a kind, and is free at ``free`` ms."""

    done: int
    arrival: _Arrival
    free: int
    block: Block | None


class _Label(NamedTuple):
    """A partial timing; ``last`` is the robot whose block was set last, and ``start`` when that starts."""

    robots: tuple[_Robot, _Robot]
    last: int
    start: int
    before: _Label | None = None


def best_timing(
    courses: tuple[Course, Course], zones: Zones, *, retreats: bool = True, below: int | None = None
) -> Found:
    """Return the timing after which both robots are back at their waiting places soonest.

    Of equal timings always the same one is found: that with the fewest retreats first. Without ``retreats`` a robot
    waits only where it has welded. With ``below`` only what ends sooner than that many ms is looked for.
    """
    pair = _Pair(courses, zones, _KINDS if retreats else _KINDS[:1])
    left = [_left(course) for course in courses]
    goals = [len(course.onward) for course in courses]
    first = _Label((_Robot(0, "onward", 0, None), _Robot(0, "onward", 0, None)), 0, 0)
    waiting: list[tuple[int, int, int, int, _Label]] = [(max(left[0][0], left[1][0]), 0, 0, 0, first)]
    fronts: dict[tuple[int, str, int, str, int], list[tuple[int, int, int]]] = {}
    count = 0
    while waiting:
        ends, away, _, _, label = heappop(waiting)
        if all(robot.done == goal for robot, goal in zip(label.robots, goals, strict=True)):
            return Found(_timed(label))
        if not _is_new(label, away, fronts):
            continue
        for coming, further in _following(label, pair):
            count += 1
            one, other = coming.robots
            bound = max(one.free + _still(courses[0], one, left[0]), other.free + _still(courses[1], other, left[1]))
            if below is None or bound < below:
                heappush(waiting, (max(ends, bound), away + further, -(one.done + other.done), count, coming))
        if count > MAXIMUM_LABELS:
            return Found(None, complete=False)
    return Found(None)


def _left(course: Course) -> list[int]:
    """Return the ms that a robot needs at least after each weld."""
    return list(accumulate((block.lasts for block in reversed(course.onward)), initial=0))[::-1]


def _still(course: Course, robot: _Robot, left: list[int]) -> int:
    again = course.again[robot.done] if robot.arrival == "off" else None
    return left[robot.done] if again is None else again.lasts + left[robot.done + 1]


def _is_new(label: _Label, away: int, fronts: dict[tuple[int, str, int, str, int], list[tuple[int, int, int]]]) -> bool:
    """Return whether no earlier label did as much as soon, and keep it."""
    one, other = label.robots
    key = (one.done, one.arrival, other.done, other.arrival, label.last)
    front = fronts.setdefault(key, [])
    mine = (one.free, other.free, away)
    if any(kept[0] <= mine[0] and kept[1] <= mine[1] for kept in front):
        return False
    front.append(mine)
    return True


def _following(label: _Label, pair: _Pair) -> Iterator[tuple[_Label, int]]:
    """Yield every block that can be set next, and whether it is a retreat."""
    for robot in (0, 1):
        mine, other = label.robots[robot], label.robots[1 - robot]
        for kind, block in pair.ahead(robot, mine):
            start = _start(label, robot, block, pair)
            if start is None:
                continue
            if start >= other.free and pair.zones.near(_place(pair.courses[1 - robot], other), block):
                continue
            if start > other.free and pair.last_ahead(1 - robot, other) < mine.done:  # it would wait without a reason
                continue
            done = mine.done if kind == "off" else mine.done + 1
            moved = _Robot(done, kind, start + block.lasts, block)
            yield _Label((moved, other) if robot == 0 else (other, moved), robot, start, label), int(kind == "off")


def _start(label: _Label, robot: int, block: Block, pair: _Pair) -> int | None:
    """Return when a block starts, after all that are set; None where it would wait for nothing that it meets."""
    mine, other = label.robots[robot], label.robots[1 - robot]
    start = max(mine.free, label.start)
    if other.block is not None and start < other.free and pair.meet(robot, block, other.block):
        return other.free
    if start > mine.free and label.before is not None:
        before = label.before.robots[1 - robot]
        if before.block is None or before.free != start or not pair.meet(robot, block, before.block):
            return None
    return start


class _Pair:
    """Both courses and which of their blocks meet."""

    def __init__(self, courses: tuple[Course, Course], zones: Zones, kinds: tuple[_Arrival, ...]) -> None:
        self.courses, self.zones, self.kinds = courses, zones, kinds
        self._ahead: dict[tuple[int, int, bool], tuple[tuple[_Arrival, Block], ...]] = {}
        self._last: dict[int, int] = {}
        self._last_ahead: dict[tuple[int, int, bool], int] = {}

    def ahead(self, robot: int, mine: _Robot) -> tuple[tuple[_Arrival, Block], ...]:
        """Return the blocks that a robot can make next, each with its kind."""
        key = (robot, mine.done, mine.arrival == "off")
        if key not in self._ahead:
            blocks = ((kind, _block(self.courses[robot], mine, kind)) for kind in self.kinds)
            self._ahead[key] = tuple((kind, block) for kind, block in blocks if block is not None)
        return self._ahead[key]

    def meet(self, robot: int, block: Block, other: Block) -> bool:
        """Return whether a block of ``robot`` meets one of the other robot."""
        return self.zones.meet(block, other) if robot == 0 else self.zones.meet(other, block)

    def last_ahead(self, robot: int, mine: _Robot) -> int:
        """Return the last weld of the other robot that a robot meets with a block that it can make next.

        Where nothing is ahead of it, the other robot may wait as long as it likes.
        """
        key = (robot, mine.done, mine.arrival == "off")
        if key not in self._last_ahead:
            found = (self._last_met(robot, block) for _, block in self.ahead(robot, mine))
            self._last_ahead[key] = max(found, default=len(self.courses[1 - robot].onward))
        return self._last_ahead[key]

    def _last_met(self, robot: int, block: Block) -> int:
        """Return the number of the last weld of the other robot on whose moves, direct or not, it meets a block."""
        if id(block) not in self._last:
            course = self.courses[1 - robot]
            lines = [getattr(course, kind) for kind in self.kinds]
            self._last[id(block)] = next(
                (
                    number
                    for number in range(len(course.onward) - 1, -1, -1)
                    if any(each[number] is not None and self.meet(robot, block, each[number]) for each in lines)
                ),
                -1,
            )
        return self._last[id(block)]


def _block(course: Course, robot: _Robot, kind: _Arrival) -> Block | None:
    if kind == "onward":
        return course.onward[robot.done] if robot.arrival != "off" and robot.done < len(course.onward) else None
    if kind == "off":
        return course.off[robot.done] if robot.arrival != "off" else None
    return course.again[robot.done] if robot.arrival == "off" else None


def _place(course: Course, robot: _Robot) -> Place:
    return course.waiting if robot.block is None else robot.block.end


def _timed(label: _Label) -> Timed:
    found: tuple[list[Started], list[Started]] = ([], [])
    here: _Label | None = label
    while here is not None and here.before is not None:
        block = here.robots[here.last].block
        if block is not None:
            found[here.last].append(Started(block, here.start))
        here = here.before
    return tuple(reversed(found[0])), tuple(reversed(found[1]))
