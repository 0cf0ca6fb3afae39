"""From which sides an operation's welds are shown: the fewest views that show each weld in true size and apart.

A spot is seen where no flat face of a part is in front of it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

from weld_packets.diagrams.scene import Outline
from weld_packets.geometry.outlines import Surface, surface_of
from weld_packets.geometry.vectors import Point, along, dot, length_of, minus

_TRUE = 0.9
"""A weld counts as shown when at least this share of its length is seen."""
_DEEP_SHARE, _DEEP_MM = 0.08, 5.0
"""Welds spread along an axis when they differ by more than both."""
_APART_SHARE = 0.004
_FAR_SHARE = 0.1
REACH_MM = 10.0
"""A point counts as on a face up to this far off it: sheets are drawn by one of their faces."""
_ON_EDGE_MM = 0.5
"""A point this close to an edge lies on another face that begins there, such as a flange."""
_FACING = 0.9


@dataclass(frozen=True, slots=True)
class Face:
    """A face that a point lies on: its unit normal, and the nearest point on its edge, level with the point."""

    normal: Point
    foot: Point


def surfaces_of(outlines: Iterable[Outline]) -> list[Surface]:
    """Return the outlines as surfaces, without those that enclose no area."""
    found = (surface_of(outline.points) for outline in outlines)
    return [surface for surface in found if surface is not None]


def faces_of(point: Point, surfaces: Sequence[Surface]) -> list[Face]:
    """Return the faces among ``surfaces`` that ``point`` lies on, well inside their edges."""
    found = (_face(point, surface) for surface in surfaces)
    return [face for face in found if face is not None and math.dist(point, face.foot) > _ON_EDGE_MM]


def _face(point: Point, surface: Surface) -> Face | None:
    height = surface.height(point)
    if abs(height) > REACH_MM:
        return None
    flat = along(point, surface.normal, -height)
    return Face(surface.normal, along(surface.foot(flat), surface.normal, height)) if surface.holds(flat) else None


def hidden(point: Point, eye: Point, surfaces: Sequence[Surface]) -> bool:
    """Return whether a surface facing ``eye`` (a unit direction) hides ``point``, clear of its own component."""
    return any(_before(point, eye, surface) for surface in surfaces)


def _before(point: Point, eye: Point, surface: Surface) -> bool:
    facing = dot(surface.normal, eye)
    if abs(facing) < _FACING:
        return False
    distance = -surface.height(point) / facing
    return distance > REACH_MM and surface.holds(along(point, eye, distance))


@dataclass(frozen=True, slots=True)
class View:
    """A direction of sight: which direction on the sheet is right and which is up, and where the eye is."""

    name: str
    right: Point
    up: Point
    eye: Point
    column: int
    row: int

    def flat(self, point: Point) -> tuple[float, float]:
        """Return where ``point`` is seen: mm to the right and mm up."""
        return dot(point, self.right), dot(point, self.up)

    def nearness(self, point: Point) -> float:
        """Return how far ``point`` lies towards the eye, in mm."""
        return dot(point, self.eye)


ABOVE = View("View from above", (1, 0, 0), (0, 1, 0), (0, 0, 1), 1, 0)
FRONT = View("View from the front", (1, 0, 0), (0, 0, 1), (0, -1, 0), 1, 1)
RIGHT = View("View from the right", (0, 1, 0), (0, 0, 1), (1, 0, 0), 2, 1)
LEFT = View("View from the left", (0, -1, 0), (0, 0, 1), (-1, 0, 0), 0, 1)
REAR = View("View from the rear", (-1, 0, 0), (0, 0, 1), (0, 1, 0), 1, 2)
BELOW = View("View from below", (1, 0, 0), (0, -1, 0), (0, 0, -1), 1, 3)
_RIGHT_BESIDE = View("View from the right", (0, 0, -1), (0, 1, 0), (1, 0, 0), 2, 0)
_LEFT_BESIDE = View("View from the left", (0, 0, 1), (0, 1, 0), (-1, 0, 0), 0, 0)
_BASE = (ABOVE, FRONT, RIGHT)
_OPPOSITE = {ABOVE: BELOW, FRONT: REAR, RIGHT: LEFT}
_BESIDE = {RIGHT: _RIGHT_BESIDE, LEFT: _LEFT_BESIDE}
"""The side views of a low part are beside the view from above, turned with it."""
_SETS = ((ABOVE,), (FRONT,), (RIGHT,), (ABOVE, FRONT), (ABOVE, RIGHT), (FRONT, RIGHT), _BASE)
_TURN, _TILT = math.radians(30), math.radians(27)
PICTORIAL = View(
    "Pictorial view",
    (math.cos(_TURN), math.sin(_TURN), 0),
    (-math.sin(_TURN) * math.sin(_TILT), math.cos(_TURN) * math.sin(_TILT), math.cos(_TILT)),
    (math.sin(_TURN) * math.cos(_TILT), -math.cos(_TURN) * math.cos(_TILT), math.sin(_TILT)),
    0,
    0,
)
"""Seen from the front, the right and above; depth is drawn shortened."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The views to draw, and for each weld the one in which it is numbered."""

    views: tuple[View, ...]
    homes: tuple[View, ...]


def choose(
    welds: Sequence[Sequence[Point]],
    size: Point,
    normals: Sequence[Sequence[Point]],
    surfaces: Sequence[Surface] = (),
) -> Choice:
    """Return the views for ``welds`` (each the points along it) on a part of the extents ``size`` in mm.

    ``normals`` are those of the faces that each weld lies on, empty where unknown: a weld on a face is shown square
    to it; otherwise its length decides, or for a spot the pitch to its neighbour. Where two welds cover each other,
    the one that is further from the eye is shown from the opposite side, and so is a weld on a face that one of
    ``surfaces`` hides or that is at the back of them.
    """
    seen = [
        _facing(own) if own else {view: _seen(line, view) for view in _BASE}
        for line, own in zip(_with_neighbours(welds), normals, strict=True)
    ]
    spread = [] if all(normals) else _spread([point for weld in welds for point in weld])
    fitting = [
        views
        for views in _SETS
        if _shows(views, spread) and all(any(weld[view] >= _TRUE for view in views) for weld in seen)
    ]
    chosen = ((views, _in_sight(welds, _homes(seen, views), normals, surfaces)) for views in fitting or [_BASE])
    first = next(chosen)
    views, homes = next((pair for pair in chain([first], chosen) if not _covered(welds, pair[1], max(size))), first)
    _from_behind(welds, homes, max(size))
    needed = views if spread else ()
    return _placed(Choice(tuple(dict.fromkeys((*needed, *homes))), tuple(homes)), size)


def _facing(normals: Sequence[Point]) -> dict[View, float]:
    return {view: max(abs(dot(normal, view.eye)) for normal in normals) for view in _BASE}


def _shows(views: Sequence[View], axes: Sequence[Point]) -> bool:
    return all(any(not dot(axis, view.eye) for view in views) for axis in axes)


def _homes(seen: Sequence[dict[View, float]], views: Sequence[View]) -> list[View]:
    return [max(views, key=weld.__getitem__) for weld in seen]


def _in_sight(
    welds: Sequence[Sequence[Point]],
    homes: Sequence[View],
    normals: Sequence[Sequence[Point]],
    surfaces: Sequence[Surface],
) -> list[View]:
    """Send welds on faces behind another component, or on the far side of all, to the view from the opposite side."""
    return [
        _OPPOSITE.get(home, home)
        if own and (hidden(weld[0], home.eye, surfaces) or _on_far_side(weld[0], home, surfaces))
        else home
        for weld, home, own in zip(welds, homes, normals, strict=True)
    ]


def _on_far_side(point: Point, view: View, surfaces: Sequence[Surface]) -> bool:
    """Return whether a point is at the back of components seen from the side; from above all is in reach."""
    if view == ABOVE:
        return False
    depths = [view.nearness(corner) for surface in surfaces for corner in surface.points]
    return bool(depths) and view.nearness(point) - min(depths) < _FAR_SHARE * (max(depths) - min(depths))


def _placed(choice: Choice, size: Point) -> Choice:
    """Move the side views of a low part beside the view from above."""
    if ABOVE not in choice.views or size[2] > size[1]:
        return choice
    return Choice(
        tuple(_BESIDE.get(view, view) for view in choice.views),
        tuple(_BESIDE.get(view, view) for view in choice.homes),
    )


def _spread(points: Sequence[Point]) -> list[Point]:
    """Return the axes along which the welds differ enough to be worth a view that shows it."""
    ranges = [max(values) - min(values) for values in zip(*points, strict=True)]
    minimum = max(_DEEP_MM, _DEEP_SHARE * max(ranges))
    axes: tuple[Point, ...] = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    return [axis for axis, extent in zip(axes, ranges, strict=True) if extent > minimum]


def _seen(points: Sequence[Point], view: View) -> float:
    whole = length_of(points)
    flat = [view.flat(point) for point in points]
    shown = sum(math.dist(one, other) for one, other in pairwise(flat))
    return round(shown / whole, 3) if whole else 1.0


def _with_neighbours(welds: Sequence[Sequence[Point]]) -> list[Sequence[Point]]:
    """Return each weld's points; a spot is joined to its nearer neighbour in sequence, a pitch that is to be seen."""
    known = list(welds)
    return [
        _joined(weld[0], [other[0] for other in (*known[max(at - 1, 0) : at], *known[at + 1 : at + 2])])
        if len(weld) == 1
        else weld
        for at, weld in enumerate(known)
    ]


def _joined(point: Point, others: Sequence[Point]) -> list[Point]:
    return [point, min(others, key=lambda other: math.dist(point, other))] if others else [point]


def _covered(welds: Sequence[Sequence[Point]], homes: Sequence[View], extent: float) -> list[tuple[int, int]]:
    """Return pairs of welds that lie over each other in the view that both are numbered in."""
    places: dict[tuple[View, int, int], list[int]] = defaultdict(list)
    cell = max(extent * _APART_SHARE, 0.5)
    for index, (weld, home) in enumerate(zip(welds, homes, strict=True)):
        u, v = home.flat(_middle(weld))
        places[home, round(u / cell), round(v / cell)].append(index)
    return [(group[0], other) for group in places.values() for other in group[1:]]


def _middle(weld: Sequence[Point]) -> Point:
    if len(weld) == 1:
        return weld[0]
    low, high = (tuple(edge(values) for values in zip(*weld, strict=True)) for edge in (min, max))
    return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2


def _from_behind(welds: Sequence[Sequence[Point]], homes: list[View], extent: float) -> None:
    """Send welds that others cover to the view from the opposite side."""
    for one, other in _covered(welds, homes, extent):
        depth = dot(minus(_middle(welds[one]), _middle(welds[other])), homes[one].eye)
        if abs(depth) > _DEEP_MM:
            behind = other if depth > 0 else one
            homes[behind] = _OPPOSITE.get(homes[behind], homes[behind])
