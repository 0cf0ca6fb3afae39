"""Lines between marks, each bowed as far as it takes to lie on no mark and on no other line, and their arrowheads."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from weld_packets.drawing.boxes import Box, Crowd, Spot2, around, hull
from weld_packets.drawing.shapes import CURVE, MOVE, Shape, arrowhead, polyline, unit

_BOWS = (9.0, 14.0, 20.0, 28.0, 38.0, 50.0, 66.0, 86.0)
"""How far a line may bow, in pixels: the smallest that is clear is taken."""
_SHOULDER = 0.1
"""How far along the line its control points lie: a small share leaves the marks steeply, so that lanes part soon."""
_PIECES = 10
_APART = 5.0
"""Lines nearer than this cannot be distinguished."""
_SAMPLE = 12.0
_CROSSING = 0.15
"""The share of a line that may lie on others where it only crosses them."""
_MARK_COST, _SHARED_COST, _OUTSIDE_COST, _BOW_COST, _LEFT_COST = 60.0, 100.0, 100.0, 0.3, 4.0
_LONGEST_HEAD, _SHORTEST_HEAD, _HEAD_AIR = 10.0, 5.5, 1.0
_SMALL_HEAD, _HEAD_BESIDE = 7.0, 5.5
_SLIM = 0.42
_SHARES = (0.5, 0.46, 0.54, 0.42, 0.58, 0.38, 0.62, 0.34, 0.66, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85)
_AWAY_COST, _TAKEN_COST, _CROSSED_COST, _BESIDE_COST, _OVER_COST = 10.0, 200.0, 6.0, 5.0, 2.5
_LEVEL, _NEXT_TO = 13.0, 60.0
"""How straight beside, above or below a mark, and how near, a head takes the place of its label."""


@dataclass(frozen=True, slots=True)
class Course:
    """A line from one mark to another; ``bow`` is how far its middle lies to the right of travel, in pixels."""

    start: Spot2
    end: Spot2
    bow: float = 0.0

    @property
    def length(self) -> float:
        """The straight distance between its ends."""
        return math.dist(self.start, self.end)

    def shape(self) -> Shape:
        """Return the line as it is drawn."""
        if not self.bow:
            return polyline((self.start, self.end))
        return Shape((self.start, *self._controls(), self.end), (MOVE, CURVE, CURVE, CURVE))

    def points(self) -> list[Spot2]:
        """Return points along the line, close enough to be joined by straight pieces."""
        if not self.bow:
            return [self.start, self.end]
        return [self.at(step / _PIECES) for step in range(_PIECES + 1)]

    def at(self, share: float) -> Spot2:
        """Return the point at a share of the line."""
        rest = 1 - share
        if not self.bow:
            (x, y), (a, b) = self.start, self.end
            return x * rest + a * share, y * rest + b * share
        (cx, cy), (dx, dy) = self._controls()
        first, second, third, fourth = rest**3, 3 * rest * rest * share, 3 * rest * share * share, share**3
        return (
            first * self.start[0] + second * cx + third * dx + fourth * self.end[0],
            first * self.start[1] + second * cy + third * dy + fourth * self.end[1],
        )

    def heading(self, share: float) -> Spot2:
        """Return the unit direction of travel at a share of the line."""
        if not self.bow:
            return unit(self.start, self.end)
        return unit(self.at(share - 0.02), self.at(share + 0.02))

    def _controls(self) -> tuple[Spot2, Spot2]:
        (x, y), (a, b) = self.start, self.end
        ux, uy = unit(self.start, self.end)
        out = self.bow * 4 / 3
        dx, dy = (a - x) * _SHOULDER, (b - y) * _SHOULDER
        return (x + dx - uy * out, y + dy + ux * out), (a - dx - uy * out, b - dy + ux * out)


def courses(pairs: Sequence[tuple[Spot2, Spot2]], marks: Sequence[Spot2], reach: float, bounds: Box) -> list[Course]:
    """Return a line for each pair, straight where that runs within ``reach`` of no mark between its ends.

    All others are bowed, short ones first, to the right of travel where that is as clear: lines there and back part.
    """
    found: dict[int, Course] = {}
    known: list[_Known] = []
    order = sorted(range(len(pairs)), key=lambda index: (math.dist(*pairs[index]), index))
    bowed = []
    for index in order:
        straight = Course(*pairs[index])
        if _hits(straight.points(), marks, reach) or _shared(straight, known, reach) > _CROSSING:
            bowed.append(index)
        else:
            found[index] = straight
            known.append(_known(straight))
    for index in bowed:
        found[index] = _best(pairs[index], marks, reach, bounds, known)
        known.append(_known(found[index]))
    return [found[index] for index in range(len(pairs))]


@dataclass(frozen=True, slots=True)
class _Known:
    """A line that is drawn, with the box that it needs."""

    box: Box
    points: list[Spot2]


def _known(course: Course) -> _Known:
    points = course.points()
    return _Known(hull(points).grown(_APART), points)


def _best(
    pair: tuple[Spot2, Spot2], marks: Sequence[Spot2], reach: float, bounds: Box, known: Sequence[_Known]
) -> Course:
    best, minimum = Course(*pair), math.inf
    for bow in (0.0, *(sign * bow for bow in _BOWS for sign in (1.0, -1.0))):
        course = Course(*pair, bow)
        cost = _BOW_COST * abs(bow) + _LEFT_COST * (bow < 0)
        if cost >= minimum:
            continue
        points = course.points()
        cost += _MARK_COST * _hits(points, marks, reach) + _OUTSIDE_COST * (not bounds.holds(hull(points)))
        if cost < minimum:
            cost += _SHARED_COST * max(0.0, _shared(course, known, reach) - _CROSSING)
        if cost < minimum:
            best, minimum = course, cost
    return best


def _hits(points: Sequence[Spot2], marks: Sequence[Spot2], reach: float) -> int:
    """Count the marks that a line runs over, but for those at its ends."""
    left, top, right, bottom = hull(points).grown(reach)
    (x, y), (a, b) = points[0], points[-1]
    return sum(
        left < mark[0] < right
        and top < mark[1] < bottom
        and abs(mark[0] - x) + abs(mark[1] - y) > 1
        and abs(mark[0] - a) + abs(mark[1] - b) > 1
        and any(distance_to(mark, one, other) < reach for one, other in pairwise(points))
        for mark in marks
    )


def _shared(course: Course, known: Sequence[_Known], reach: float) -> float:
    """Return the share of a line's length, off its ends, that lies on lines that are drawn."""
    box = hull(course.points()).grown(0.5)
    near = [line for line in known if line.box.overlaps(box)]
    if not near:
        return 0.0
    clear = min(0.4, 2 * reach / max(course.length, 1.0))
    steps = max(2, int(course.length / _SAMPLE))
    samples = [course.at(clear + (1 - 2 * clear) * step / steps) for step in range(steps + 1)]
    return sum(any(_on(point, line) for line in near) for point in samples) / len(samples)


def _on(point: Spot2, line: _Known) -> bool:
    left, top, right, bottom = line.box
    return (
        left < point[0] < right
        and top < point[1] < bottom
        and any(distance_to(point, one, other) < _APART for one, other in pairwise(line.points))
    )


def distance_to(point: Spot2, start: Spot2, end: Spot2) -> float:
    """Return how far a point is from a straight piece."""
    x, y = start
    dx, dy = end[0] - x, end[1] - y
    px, py = point[0] - x, point[1] - y
    span = dx * dx + dy * dy
    along = px * dx + py * dy
    if along <= 0 or not span:
        return math.hypot(px, py)
    if along >= span:
        return math.hypot(px - dx, py - dy)
    return abs(px * dy - py * dx) / math.sqrt(span)


@dataclass(frozen=True, slots=True)
class Head:
    """An arrowhead with the box that it takes."""

    shape: Shape
    box: Box


def heads(lines: Sequence[Course], marks: Sequence[Spot2], radius: float, crowd: Crowd) -> list[Head]:
    """Return an arrowhead for each line between marks of ``radius``, where it hides nothing; each place is blocked.

    Short straight lines, which have one place only, come first.
    Beside a mark, where its label would be, there is none if there is another place. Where two marks leave no room
    for one between them, it is beside.
    """
    known = [_known(line) for line in lines]
    found: dict[int, Head] = {}
    for index in sorted(range(len(lines)), key=lambda at: (lines[at].bow != 0, lines[at].length, at)):
        line = lines[index]
        others = [other for at, other in enumerate(known) if at != index and other.box.overlaps(known[index].box)]
        found[index] = _head(line, radius, crowd, (marks, others))
        crowd.block(found[index].box)
    return [found[index] for index in range(len(lines))]


_Around = tuple[Sequence[Spot2], Sequence[_Known]]
"""The marks, and the other lines near a line."""


def _head(line: Course, radius: float, crowd: Crowd, near: _Around) -> Head:
    room = line.length - 2 * radius - 2 * _HEAD_AIR
    if not line.bow and room < _SHORTEST_HEAD:
        return _beside(line, radius)
    long = min(_LONGEST_HEAD, room) if not line.bow else _LONGEST_HEAD
    shares = _SHARES if line.bow or room > 3 * _LONGEST_HEAD else _SHARES[:1]
    costs = ((_cost(line.at(share), share, long, crowd, near), rank, share) for rank, share in enumerate(shares))
    share = min(costs)[2]
    return _head_at(line.at(share), line.heading(share), long)


def _cost(at: Spot2, share: float, long: float, crowd: Crowd, near: _Around) -> float:
    marks, others = near
    cost = _AWAY_COST * abs(share - 0.5) + _TAKEN_COST * crowd.taken(around(at, long / 2))
    cost += _BESIDE_COST * any(abs(y - at[1]) < _LEVEL and abs(x - at[0]) < _NEXT_TO for x, y in marks)
    cost += _OVER_COST * any(abs(x - at[0]) < _LEVEL and abs(y - at[1]) < _NEXT_TO for x, y in marks)
    return cost + _CROSSED_COST * sum(_on(at, other) for other in others)


def _beside(line: Course, radius: float) -> Head:
    ux, uy = line.heading(0.5)
    x, y = line.at(0.5)
    out = radius + _HEAD_BESIDE
    return _head_at((x - uy * out, y + ux * out), (ux, uy), _SMALL_HEAD)


def _head_at(centre: Spot2, direction: Spot2, long: float) -> Head:
    tip = centre[0] + direction[0] * long / 2, centre[1] + direction[1] * long / 2
    return Head(arrowhead(tip, direction, long, _SLIM * long), around(centre, long / 2))


def noted(lines: Sequence[Course], crowd: Crowd) -> None:
    """Note lines in the crowd, so that labels prefer to stay off them."""
    for line in lines:
        crowd.polyline(line.points())
