"""The best timing of two given sequences of welds, with waits at welds and retreats: a best-first search."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import accumulate
from typing import Literal

from generator.plan.pair.blocks import Block, Course, Place
from generator.plan.pair.rules import Rule

MOST_STATES = 20_000
"""States that a search looks at before it gives up; four times what any order of the demo takes."""
_AHEAD = 3
"""Blocks of the other robot that a start is set against before they have begun."""
_Kind = Literal["onward", "off", "again"]


@dataclass(frozen=True, slots=True)
class Started:
    """A block of a robot and when it starts, in ms from the start of both."""

    block: Block
    start: int

    @property
    def end(self) -> int:
        """When it ends."""
        return self.start + self.block.lasts


Timed = tuple[tuple[Started, ...], tuple[Started, ...]]
"""The blocks of both robots, each in its order."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: ``timed`` is None where there is no way, or, not ``complete``, where it gave up."""

    timed: Timed | None
    complete: bool = True
    blocked: tuple[tuple[int, int], ...] = ()

    @property
    def ends(self) -> int:
        """When the later robot is back at its waiting place."""
        return 0 if self.timed is None else max((block.end for one in self.timed for block in one), default=0)


@dataclass(frozen=True, slots=True, order=True)
class _At:
    """Where one robot is: it has made ``done`` blocks of its sequence, and stands there or, ``away``, at its place."""

    done: int = 0
    away: bool = False


@dataclass(frozen=True, slots=True)
class _State:
    """Both robots; ``runner`` makes the block ``kind`` from where it is, since ``elapsed`` ms; None when both stand."""

    at: tuple[_At, _At]
    runner: int | None = None
    kind: _Kind = "onward"
    elapsed: int = 0


@dataclass(frozen=True, slots=True)
class _Label:
    state: _State
    time: int
    before: _Label | None = None
    started: tuple[int, Started] | None = None


@dataclass
class _Search:
    """One search; ``retreats`` says whether a robot may go to its waiting place between two welds."""

    courses: tuple[Course, Course]
    rule: Rule
    retreats: bool
    below: int | None
    left: tuple[list[int], list[int]] = field(init=False)

    def __post_init__(self) -> None:
        first, second = (self._left(each) for each in self.courses)
        self.left = first, second

    @staticmethod
    def _left(each: Course) -> list[int]:
        sums = list(accumulate((block.lasts for block in reversed(each.onward)), initial=0))
        return sums[::-1]

    def block(self, robot: int, at: _At, kind: _Kind) -> Block | None:
        """Return a block that a robot can begin, None where it has no such block."""
        course = self.courses[robot]
        if kind == "onward":
            return course.onward[at.done] if not at.away and at.done < len(course.onward) else None
        if kind == "off":
            return course.off[at.done] if self.retreats and not at.away else None
        return course.again[at.done] if at.away else None

    def after(self, at: _At, kind: _Kind) -> _At:
        """Return where a robot is after a block."""
        return _At(at.done, away=True) if kind == "off" else _At(at.done + 1)

    def place(self, robot: int, at: _At) -> Place:
        """Return where a robot stands."""
        course = self.courses[robot]
        return course.waiting if at.away or not at.done else course.onward[at.done - 1].end

    def still(self, robot: int, at: _At) -> int:
        """Return the ms that a robot needs at least from where it stands to the end."""
        again = self.courses[robot].again[at.done] if at.away else None
        return self.left[robot][at.done] if again is None else again.lasts + self.left[robot][at.done + 1]

    def bound(self, state: _State) -> int:
        """Return the ms that it takes at least from a state to the end."""
        still = [self.still(robot, at) for robot, at in enumerate(state.at)]
        if state.runner is not None:
            robot = state.runner
            running = self._running(state)
            still[robot] = running.lasts - state.elapsed + self.still(robot, self.after(state.at[robot], state.kind))
        return max(still)

    def _running(self, state: _State) -> Block:
        robot = state.runner or 0
        block = self.block(robot, state.at[robot], state.kind)
        if block is None:
            raise ValueError(state)
        return block

    def following(self, label: _Label) -> Iterator[_Label]:
        """Yield what can come next."""
        state = label.state
        if state.runner is None:
            for robot in (0, 1):
                yield from self._begun(label, robot)
        else:
            yield from self._joined(label, state.runner)
            yield from self._waited(label, state.runner)

    def _kinds(self, robot: int, at: _At) -> Iterator[tuple[_Kind, Block]]:
        kinds: tuple[_Kind, ...] = ("onward", "again", "off")
        for kind in kinds:
            block = self.block(robot, at, kind)
            if block is not None:
                yield kind, block

    def _begun(self, label: _Label, robot: int) -> Iterator[_Label]:
        """Yield starts of one robot while both stand."""
        for kind, block in self._kinds(robot, label.state.at[robot]):
            if kind == "off" and not self._makes_way(label.state, robot):
                continue
            state = _State(label.state.at, robot, kind)
            yield _Label(state, label.time, label, (robot, Started(block, label.time)))

    def _joined(self, label: _Label, runner: int) -> Iterator[_Label]:
        """Yield starts of the free robot while the other one runs."""
        state, free = label.state, 1 - runner
        running = self._running(state)
        at, rest = state.at[free], running.lasts - state.elapsed
        for kind, block in self._kinds(free, at):
            if (at.away and state.elapsed) or (kind == "off" and not self._makes_way(state, free)):
                continue
            spans = self._spans(running, block, runner)
            for wait in (0,) if self.rule.by_blocks else self._waits(state, block, spans):
                since = state.elapsed + wait
                if wait > rest or any(low < since < high for low, high in spans):
                    continue
                if wait and not self._may_stand(free, at, running, state.elapsed, since):
                    continue
                yield self._overlapped(label, (free, kind, block), wait)

    def _makes_way(self, state: _State, robot: int) -> bool:
        """Return whether the next block of the other robot comes near where this one stands."""
        other, at = 1 - robot, state.at[1 - robot]
        at = at if state.runner is None else self.after(at, state.kind)
        coming = self.block(other, at, "again" if at.away else "onward")
        return coming is not None and bool(self.rule.stands(self.place(robot, state.at[robot]), coming))

    def _waits(self, state: _State, block: Block, spans: tuple[tuple[int, int], ...]) -> list[int]:
        """Return for how long a start may have to be put off: till a span of this or of a later block ends."""
        runner = state.runner or 0
        waits = {0, *(high - state.elapsed for _, high in spans if high > state.elapsed)}
        later = self._running(state).lasts - state.elapsed
        at = self.after(state.at[runner], state.kind)
        for _ in range(_AHEAD):
            coming = self.block(runner, at, "again" if at.away else "onward")
            if coming is None:
                break
            waits |= {later + high for _, high in self._spans(coming, block, runner) if later + high > 0}
            later += coming.lasts
            at = _At(at.done + 1)
        return sorted(waits)

    def _spans(self, running: Block, block: Block, runner: int) -> tuple[tuple[int, int], ...]:
        """Return when ``block`` must not start, in ms of the clock of ``running``."""
        if runner == 0:
            return self.rule.starts(running, block)
        return tuple((-high, -low) for low, high in self.rule.starts(block, running))

    def _may_stand(self, robot: int, at: _At, running: Block, begins: int, ends: int) -> bool:
        spans = self.rule.stands(self.place(robot, at), running)
        return not any(begins < high and low < ends for low, high in spans)

    def _overlapped(self, label: _Label, free: tuple[int, _Kind, Block], wait: int) -> _Label:
        """Return the state in which the first of two running blocks ends; the free robot begins after a wait."""
        state, (robot, kind, block) = label.state, free
        runner = 1 - robot
        rest = self._running(state).lasts - state.elapsed - wait
        begins = label.time + wait
        ended = {runner: self.after(state.at[runner], state.kind), robot: self.after(state.at[robot], kind)}
        if rest == block.lasts:
            after = _State((ended[0], ended[1]))
        elif rest < block.lasts:
            after = _State(_pair(runner, ended[runner], state.at[robot]), robot, kind, rest)
        else:
            elapsed = state.elapsed + wait + block.lasts
            after = _State(_pair(robot, ended[robot], state.at[runner]), runner, state.kind, elapsed)
        return _Label(after, begins + min(rest, block.lasts), label, (robot, Started(block, begins)))

    def _waited(self, label: _Label, runner: int) -> Iterator[_Label]:
        """Yield the state in which the running block has ended while the free robot stood."""
        state, free = label.state, 1 - runner
        running = self._running(state)
        if self._may_stand(free, state.at[free], running, state.elapsed, running.lasts):
            after = _State(_pair(runner, self.after(state.at[runner], state.kind), state.at[free]))
            yield _Label(after, label.time + running.lasts - state.elapsed, label)


def _pair(robot: int, of_robot: _At, of_other: _At) -> tuple[_At, _At]:
    return (of_robot, of_other) if robot == 0 else (of_other, of_robot)


def best_timing(courses: tuple[Course, Course], rule: Rule, *, retreats: bool, below: int | None = None) -> Found:
    """Return the timing after which both robots are back at their waiting places soonest.

    A robot goes to its waiting place between two welds where it stands in the way of the next block of the other one,
    and stays there until that one ends a block. With ``below`` only what
    ends sooner than that many ms is looked for. Of equal timings always the same one is found.
    """
    search = _Search(courses, rule, retreats, below)
    goal = tuple(_At(len(course.onward)) for course in courses)
    first = _Label(_State((_At(), _At())), 0)
    waiting: list[tuple[int, int, int, _Label]] = [(search.bound(first.state), 0, 0, first)]
    reached: dict[_State, int] = {first.state: 0}
    count, looked = 0, 0
    stuck: set[tuple[int, int]] = set()
    while waiting:
        _, _, _, label = heappop(waiting)
        if label.state.runner is None and label.state.at == goal:
            return Found(_timed(label))
        if reached[label.state] < label.time:
            continue
        looked += 1
        if looked > MOST_STATES:
            return Found(None, complete=False)
        went_on = False
        for coming in search.following(label):
            ends = coming.time + search.bound(coming.state)
            went_on = True
            if (below is None or ends < below) and coming.time < reached.get(coming.state, coming.time + 1):
                reached[coming.state] = coming.time
                count += 1
                heappush(waiting, (ends, -coming.time, count, coming))
        if not went_on:
            stuck.add((label.state.at[0].done, label.state.at[1].done))
    return Found(None, blocked=tuple(sorted(stuck)))


def _timed(label: _Label | None) -> Timed:
    found: tuple[list[Started], list[Started]] = ([], [])
    while label is not None:
        if label.started is not None:
            robot, started = label.started
            found[robot].append(started)
        label = label.before
    return tuple(reversed(found[0])), tuple(reversed(found[1]))
