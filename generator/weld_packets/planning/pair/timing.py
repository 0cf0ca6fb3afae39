"""The best timing of two given sequences of blocks under any rule of distance: a best-first search."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import accumulate

from weld_packets.planning.pair.blocks import Block, Course, Place
from weld_packets.planning.pair.distance import Span
from weld_packets.planning.pair.rules import Rule

MAXIMUM_STATES = 5_000
"""States that a search looks at before it gives up."""
_AHEAD = 3
"""Blocks of the other robot that a start is set against before they have begun."""


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


def ends_of(timed: Timed) -> int:
    """Return when the later robot has ended its last block, in ms; 0 where neither has any."""
    return max((block.end for one in timed for block in one), default=0)


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: ``timed`` is None where there is no timing, or, not ``complete``, where it gave up."""

    timed: Timed | None
    complete: bool = True

    @property
    def ends(self) -> int:
        """When the later robot is back at its waiting place."""
        return 0 if self.timed is None else ends_of(self.timed)


@dataclass(frozen=True, slots=True)
class _State:
    """Blocks that both robots have made; ``runner`` makes its next one since ``elapsed`` ms; None when both stand."""

    done: tuple[int, int]
    runner: int | None = None
    elapsed: int = 0


@dataclass(frozen=True, slots=True)
class _Label:
    state: _State
    time: int
    before: _Label | None = None
    started: tuple[int, Started] | None = None


class _Search:
    """Both courses and a rule, and what can come after a state."""

    def __init__(self, courses: tuple[Course, Course], rule: Rule) -> None:
        self.courses, self.rule = courses, rule
        self.left = [
            list(accumulate((block.lasts for block in reversed(each.onward)), initial=0))[::-1] for each in courses
        ]

    def bound(self, state: _State) -> int:
        """Return the ms that it takes at least from a state to the end."""
        still = [self.left[robot][done] for robot, done in enumerate(state.done)]
        if state.runner is not None:
            still[state.runner] -= state.elapsed
        return max(still)

    def following(self, label: _Label) -> Iterator[_Label]:
        """Yield what can come next."""
        state = label.state
        if state.runner is not None:
            yield from self._joined(label, state.runner)
            yield from self._waited(label, state.runner)
            return
        for robot in (0, 1):
            block = self._next(robot, state.done[robot])
            if block is not None:
                started = robot, Started(block, label.time)
                yield _Label(_State(state.done, robot), label.time, label, started)

    def _next(self, robot: int, done: int) -> Block | None:
        onward = self.courses[robot].onward
        return onward[done] if done < len(onward) else None

    def _joined(self, label: _Label, runner: int) -> Iterator[_Label]:
        """Yield starts of the free robot while the other one runs."""
        state, free = label.state, 1 - runner
        running = self.courses[runner].onward[state.done[runner]]
        block = self._next(free, state.done[free])
        if block is None:
            return
        rest = running.lasts - state.elapsed
        spans = self._spans(running, block, runner)
        for wait in self._waits(state, runner, block, spans):
            since = state.elapsed + wait
            refused = wait > rest or any(low < since < high for low, high in spans)
            if not refused and (not wait or self._may_wait(free, state, running, since)):
                yield self._overlapped(label, free, block, wait)

    def _waits(self, state: _State, runner: int, block: Block, spans: Sequence[Span]) -> list[int]:
        """Return for how long a start may have to be put off: till a span of this or of a later block ends."""
        waits = {0, *(high - state.elapsed for _, high in spans if high > state.elapsed)}
        onward, done = self.courses[runner].onward, state.done[runner]
        later = onward[done].lasts - state.elapsed
        for coming in onward[done + 1 : done + 1 + _AHEAD]:
            waits |= {later + high for _, high in self._spans(coming, block, runner) if later + high > 0}
            later += coming.lasts
        return sorted(waits)

    def _spans(self, running: Block, block: Block, runner: int) -> tuple[Span, ...]:
        """Return when ``block`` must not start, in ms of the clock of ``running``."""
        if runner == 0:
            return self.rule.starts(running, block)
        return tuple((-high, -low) for low, high in self.rule.starts(block, running))

    def _may_wait(self, robot: int, state: _State, running: Block, ends: int) -> bool:
        spans = self.rule.standing(self._place(robot, state.done[robot]), running)
        return not any(state.elapsed < high and low < ends for low, high in spans)

    def _place(self, robot: int, done: int) -> Place:
        return self.courses[robot].onward[done - 1].end if done else self.courses[robot].waiting

    def _overlapped(self, label: _Label, robot: int, block: Block, wait: int) -> _Label:
        """Return the state in which the first of two running blocks ends; that of ``robot`` begins after a wait."""
        state, runner = label.state, 1 - robot
        rest = self.courses[runner].onward[state.done[runner]].lasts - state.elapsed - wait
        begins = label.time + wait
        if rest == block.lasts:
            after = _State((state.done[0] + 1, state.done[1] + 1))
        elif rest < block.lasts:
            after = _State(_one_more(state.done, runner), robot, rest)
        else:
            after = _State(_one_more(state.done, robot), runner, state.elapsed + wait + block.lasts)
        return _Label(after, begins + min(rest, block.lasts), label, (robot, Started(block, begins)))

    def _waited(self, label: _Label, runner: int) -> Iterator[_Label]:
        """Yield the state in which the running block has ended while the free robot stood."""
        state = label.state
        running = self.courses[runner].onward[state.done[runner]]
        if self._may_wait(1 - runner, state, running, running.lasts):
            yield _Label(_State(_one_more(state.done, runner)), label.time + running.lasts - state.elapsed, label)


def _one_more(done: tuple[int, int], robot: int) -> tuple[int, int]:
    return (done[0] + 1, done[1]) if robot == 0 else (done[0], done[1] + 1)


def best_timing(courses: tuple[Course, Course], rule: Rule, *, below: int | None = None) -> Found:
    """Return the timing after which both robots are back at their waiting places soonest; they wait at welds only.

    With ``below`` only what ends sooner than that many ms is looked for. Of equal timings always the same is found.
    """
    search = _Search(courses, rule)
    goal = len(courses[0].onward), len(courses[1].onward)
    first = _Label(_State((0, 0)), 0)
    waiting: list[tuple[int, int, int, _Label]] = [(search.bound(first.state), 0, 0, first)]
    reached: dict[_State, int] = {first.state: 0}
    count = 0
    while waiting:
        _, _, _, label = heappop(waiting)
        if label.state.runner is None and label.state.done == goal:
            return Found(_timed(label))
        if reached[label.state] < label.time:
            continue
        for coming in search.following(label):
            ends = coming.time + search.bound(coming.state)
            if (below is None or ends < below) and coming.time < reached.get(coming.state, coming.time + 1):
                reached[coming.state] = coming.time
                count += 1
                heappush(waiting, (ends, -coming.time, count, coming))
        if len(reached) > MAXIMUM_STATES:
            return Found(None, complete=False)
    return Found(None)


def _timed(label: _Label | None) -> Timed:
    found: tuple[list[Started], list[Started]] = ([], [])
    while label is not None:
        if label.started is not None:
            robot, started = label.started
            found[robot].append(started)
        label = label.before
    return tuple(reversed(found[0])), tuple(reversed(found[1]))
