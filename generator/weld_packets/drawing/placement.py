"""Places for labels beside their marks: near if free, else further out with a leader line."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.lettering import ASCENT_EM, DESCENT_EM, text_width
from weld_packets.drawing.shapes import unit

_LINE_COST, _LEADER_COST, _HIT_COST, _CUT_COST = 4.0, 18.0, 200.0, 2.0
_NEAR = tuple((math.cos(math.radians(a)), -math.sin(math.radians(a))) for a in (0, 180, 90, 270, 45, 135, 315, 225))
_FAR_ANGLES = (0, 15, 37, 60, 90, 120, 143, 165, 180, 195, 217, 240, 270, 300, 323, 345)
_FAR = tuple((math.cos(math.radians(a)), -math.sin(math.radians(a))) for a in _FAR_ANGLES)
_NEAR_GAPS = (2.0, 7.0, 12.0, 17.0)
_NEAR_GAP_COST = 1.2
_END_COST = 2.0
_STEEP = 0.9
"""What is written upwards is above or below its mark, not beside it."""
_OWN, _WELL_BESIDE = 5.0, 9.0
_FAR_STEPS = (16.0, 26.0, 38.0, 52.0, 70.0, 92.0, 118.0, 150.0, 190.0, 240.0)
_NEARER, _NEARER_BY = 1.2, 2.0
"""A label without a leader is nearer to its own mark than to any other by this factor, and this many pixels more."""
_CELL = 1 / 32


class Form(NamedTuple):
    """One manner of writing a label: its name, the width and height that it takes, and what it costs to choose it."""

    name: str
    width: float
    height: float
    cost: float = 0.0


LEVEL, UPWARDS = "level", "upwards"
"""The manners of a single line of text; ``upwards`` is turned by 90 degrees, for marks in a close level row."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label asked for: its text, the middle of its mark, and the mark's radius.

    ``along`` are further points of a long mark, beside each of which the label may be; ``whole`` is all of it, from
    whose ends a leader may start, too.
    """

    text: str
    at: Spot2
    radius: float
    size: float
    bold: bool = False
    outward: Spot2 | None = None
    """A unit direction: the preferred side for the label."""
    forms: tuple[Form, ...] = ()
    """How it may be written, where not as a level line."""
    along: tuple[Spot2, ...] = ()
    whole: tuple[Spot2, ...] = ()
    either: bool = False
    """Whether the direction opposite to ``outward`` is as good."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its box; ``leader`` runs from the mark to the label when they are apart."""

    text: str
    box: Box
    size: float
    bold: bool
    leader: tuple[Spot2, Spot2] | None
    form: str = LEVEL
    crossed: int = 0
    """The weight of the noted lines that run through it."""

    @property
    def baseline(self) -> Spot2:
        """Where centred text is anchored."""
        if self.form == UPWARDS:
            return self.box.right - DESCENT_EM * self.size, (self.box.top + self.box.bottom) / 2
        return (self.box.left + self.box.right) / 2, self.box.bottom - DESCENT_EM * self.size


def gap(box: Box, point: Spot2) -> float:
    """Return how far a point lies outside a box, 0 inside."""
    return math.hypot(
        max(box.left - point[0], 0.0, point[0] - box.right), max(box.top - point[1], 0.0, point[1] - box.bottom)
    )


def place(wanted: Sequence[Wanted], crowd: Crowd, bounds: Box) -> list[Placed | None]:
    """Return a place for each label, None where there is none; each place is blocked in ``crowd`` for the next.

    No place covers a blocked box or leaves ``bounds``, and none without a leader is nearer to another mark than to its
    own. Lines are crossed only when every other place is worse. Labels that fit well beside their marks are placed
    before those that must look further.
    """
    field = _Field(crowd, bounds)
    for index, label in enumerate(wanted):
        for point in label.whole or (label.at,):
            field.add(index, point)
    found = [field.settle(label, index, _WELL_BESIDE) for index, label in enumerate(wanted)]
    return [
        known or field.settle(label, index, math.inf)
        for index, (known, label) in enumerate(zip(found, wanted, strict=True))
    ]


class _Field:
    """Where labels may be: what is taken, and whose mark is where, so that none is taken for another's name."""

    def __init__(self, crowd: Crowd, bounds: Box) -> None:
        self._crowd, self._bounds = crowd, bounds
        self._marks: dict[tuple[int, int], list[tuple[int, Spot2]]] = defaultdict(list)

    def add(self, owner: int, point: Spot2) -> None:
        """Note a point of a mark."""
        self._marks[int(point[0] * _CELL), int(point[1] * _CELL)].append((owner, point))

    def settle(self, label: Wanted, owner: int, minimum: float) -> Placed | None:
        """Return the place of the lowest cost and block it, None when each costs ``minimum`` or more."""
        best: Placed | None = None
        for lowest, candidates in _tiers(label):
            if lowest >= minimum:
                break
            for base, box, start, form in candidates:
                if base >= minimum or not self._bounds.holds(box) or self._crowd.taken(box):
                    continue
                crossed = self._crowd.crossings(box)
                cost = base + _LINE_COST * crossed
                leader = None if start is None else (start, _nearest(box, start))
                if cost < minimum and (cost := cost + self._doubt(label, owner, box, leader)) < minimum:
                    best, minimum = Placed(label.text, box, label.size, label.bold, leader, form, crossed), cost
        if best is not None:
            self._block(best)
        return best

    def _block(self, placed: Placed) -> None:
        self._crowd.block(placed.box)
        if placed.leader:
            self._crowd.bar(*placed.leader)

    def _doubt(self, label: Wanted, owner: int, box: Box, leader: tuple[Spot2, Spot2] | None) -> float:
        """Return what it costs that a label may be taken for another's; without a leader it may not be nearer to it."""
        if leader is None:
            own = min(gap(box, point) for point in label.whole or (label.at,))
            return math.inf if self._has_nearer(box, owner, _NEARER * own + _NEARER_BY) else 0.0
        start, end = leader
        away = unit(start, end)
        if self._crowd.hits((start[0] + _OWN * away[0], start[1] + _OWN * away[1]), end):
            return _HIT_COST
        return _CUT_COST * self._crowd.cuts(start, end)

    def _has_nearer(self, box: Box, owner: int, distance: float) -> bool:
        left, top, right, bottom = box.grown(distance)
        return any(
            other != owner and gap(box, point) < distance
            for column in range(int(left * _CELL), int(right * _CELL) + 1)
            for row in range(int(top * _CELL), int(bottom * _CELL) + 1)
            for other, point in self._marks.get((column, row), ())
        )


_Candidate = tuple[float, Box, Spot2 | None, str]
"""What a place costs at lowest, its box, where the leader of a far one starts, and the manner of writing."""


def level_form(text: str, size: float, *, bold: bool, cost: float = 0.0) -> Form:
    """Return a line of text as it is read."""
    return Form(LEVEL, text_width(text, size, bold=bold), (ASCENT_EM + DESCENT_EM) * size, cost)


def upwards_form(text: str, size: float, *, bold: bool) -> Form:
    """Return a line of text that runs upwards."""
    return Form(UPWARDS, (ASCENT_EM + DESCENT_EM) * size, text_width(text, size, bold=bold), 0.0)


def _tiers(label: Wanted) -> Iterator[tuple[float, Iterator[_Candidate]]]:
    """Yield places for a label, beside its mark and then ring by ring, each time with what the next cost at least."""
    forms = label.forms or (level_form(label.text, label.size, bold=label.bold),)
    for form in forms:
        yield form.cost, _near(label, form)
    for ring, step in enumerate(_FAR_STEPS):
        lowest = _LEADER_COST + 4.0 * ring
        for form in forms:
            yield lowest, _far(label, form, step, lowest)


def _near(label: Wanted, form: Form) -> Iterator[_Candidate]:
    for rank, at in enumerate((label.at, *label.along)):
        for step, air in enumerate(_NEAR_GAPS):
            base = form.cost + _NEAR_GAP_COST * step + 0.5 * rank
            for cost, (_, rise), corner in _round(label.outward, form, label.radius + air, either=label.either):
                if form.name != UPWARDS or abs(rise) >= _STEEP:
                    yield base + cost, _box(at, corner, form), None, form.name


def _far(label: Wanted, form: Form, step: float, lowest: float) -> Iterator[_Candidate]:
    for rank, at in enumerate((label.at, *label.whole[:1], *label.whole[-1:])):
        for cost, direction, corner in _round(label.outward, form, label.radius + step, either=label.either, far=True):
            start = (at[0] + direction[0] * label.radius, at[1] + direction[1] * label.radius)
            yield lowest + form.cost + cost / 4 + _END_COST * (rank > 0), _box(at, corner, form), start, form.name


def _box(at: Spot2, corner: Spot2, form: Form) -> Box:
    left, top = at[0] + corner[0], at[1] + corner[1]
    return Box(left, top, left + form.width, top + form.height)


@lru_cache(maxsize=4096)
def _round(
    outward: Spot2 | None, form: Form, reach: float, *, either: bool, far: bool = False
) -> list[tuple[float, Spot2, Spot2]]:
    """Return where a label may be round its mark, the cheapest first: cost, direction, left upper corner."""
    ranked = _ranked(_FAR if far else _NEAR, outward, either=either)
    return [(cost, each, _beside(each, form.width, form.height, reach)) for cost, each in ranked]


def _ranked(directions: tuple[Spot2, ...], outward: Spot2 | None, *, either: bool) -> list[tuple[float, Spot2]]:
    """Return the directions with a cost each, the cheapest first."""
    if outward is None:
        return [(0.4 * rank, direction) for rank, direction in enumerate(directions)]
    along = ((d[0] * outward[0] + d[1] * outward[1], d) for d in directions)
    ranked = ((4.0 * (1 - (abs(share) if either else share)), d) for share, d in along)
    return sorted(ranked, key=lambda pair: pair[0])


def _beside(direction: Spot2, width: float, height: float, reach: float) -> Spot2:
    """Return where a label's left upper corner lies from the middle of its mark.

    The box touches the circle of radius ``reach`` with its near edge or corner.
    """
    ux, uy = direction
    return ux * reach + (_lean(ux) - 1) * width / 2, uy * reach + (_lean(uy) - 1) * height / 2


def _lean(share: float) -> float:
    """Return -1, 0 or 1, smoothed, for how far a box is pushed off its anchor along one axis."""
    return max(-1.0, min(1.0, 1.6 * share))


def _nearest(box: Box, point: Spot2) -> Spot2:
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)
