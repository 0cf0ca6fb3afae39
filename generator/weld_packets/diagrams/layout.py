"""Where each view is on the sheet and how millimetres become pixels, in third-angle order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from weld_packets.diagrams.views import PICTORIAL, View
from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.geometry.vectors import Point

WIDTH = 640.0
"""Width of every sheet in pixels; an upright tablet shows it 1.23 times larger."""
TEXT = 15.0
"""Lettering in pixels of the sheet: capitals and digits are 13 px high on an upright tablet, 2.5 mm at 5.2 px/mm.

2.5 mm is 20 minutes of arc at 430 mm (MIL-STD-1472: 16 at least, 20 to 22 preferred)."""
EDGE = 14.0
TOP = 4.0
"""Where the views begin; what is above one is part of it."""
PAD = 40.0
"""Air beside and below a view, for sizes and labels."""
HEAD = 52.0
"""Height above a view at which its title is written, where there are several."""
_HEAD_SINGLE, _TITLE_WIDTH = 30.0, 176.0
ORIGIN: Point = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Block:
    """The upright block in space that a picture covers: its lower and upper corner."""

    low: Point
    high: Point

    @property
    def size(self) -> Point:
        """Extents along X, Y and Z."""
        (x, y, z), (right, far, top) = self.low, self.high
        return right - x, far - y, top - z

    def corners(self) -> list[Point]:
        """Return the eight corners."""
        xs, ys, zs = zip(self.low, self.high, strict=True)
        return [(x, y, z) for x in xs for y in ys for z in zs]


def block_around(points: Iterable[Point], *, datum_within: float = 0.35) -> Block:
    """Return the block around ``points``, taking in the datum unless it is further off than that share of the size."""
    known = list(points)
    xs, ys, zs = zip(*known, strict=True)
    near: Point = (min(xs), min(ys), min(zs))
    far: Point = (max(xs), max(ys), max(zs))
    limit = datum_within * max(1.0, *(b - a for a, b in zip(near, far, strict=True)))
    if all(a - limit <= 0 <= b + limit for a, b in zip(near, far, strict=True)):
        near = min(near[0], 0.0), min(near[1], 0.0), min(near[2], 0.0)
        far = max(far[0], 0.0), max(far[1], 0.0), max(far[2], 0.0)
    return Block(near, far)


@dataclass(frozen=True, slots=True)
class Frame:
    """One view on the sheet: its box, its scale in pixels per mm, and where its flat origin falls."""

    view: View
    box: Box
    scale: float
    origin: Spot2

    def to_sheet(self, point: Point) -> Spot2:
        """Return where ``point`` falls on the sheet, in pixels."""
        u, v = self.view.flat(point)
        return self.origin[0] + u * self.scale, self.origin[1] - v * self.scale


@dataclass(frozen=True, slots=True)
class Extent:
    """A view's flat rectangle in mm."""

    left: float
    bottom: float
    width: float
    height: float


def extent_of(view: View, points: Sequence[Point]) -> Extent:
    """Return the flat rectangle that ``points`` cover in ``view``."""
    us, vs = zip(*(view.flat(point) for point in points), strict=True)
    return Extent(min(us), min(vs), max(us) - min(us), max(vs) - min(vs))


@dataclass(frozen=True, slots=True)
class Room:
    """What is kept free for sizes and labels: ``pad`` at both sides of each view, ``air`` above and below it besides.

    ``growth`` is how much larger than usual the sheet is; its lettering is then smaller on the page.
    """

    growth: float = 1.0
    pad: float = PAD
    air: float = 0.0


def arrange(views: Sequence[View], block: Block, area: Box, room: Room | None = None) -> list[Frame]:
    """Return a frame for each view inside ``area`` at one common scale, with room around each for sizes and labels.

    The views are in third-angle order: the view from above is above, that from the right to the right.
    """
    room = room or Room()
    extents = {view: extent_of(view, block.corners()) for view in views}
    columns, rows = sorted({view.column for view in views}), sorted({view.row for view in views})
    wide = [max(extents[view].width for view in views if view.column == column) for column in columns]
    high = [max(extents[view].height for view in views if view.row == row) for row in rows]
    several = len(views) > 1
    head, minimum = (HEAD + 20.0 + room.air, _TITLE_WIDTH) if several else (_HEAD_SINGLE + room.air, 0.0)
    scale = _maximum_scale(wide, high, area, (head + room.air, minimum, room.pad))
    lefts = _offsets([max(width * scale + 2 * room.pad, minimum) for width in wide], area.left, area.right)
    tops = _offsets([height * scale + head + PAD + room.air for height in high], area.top, None)
    return [
        _frame(
            view,
            extents[view],
            scale,
            lefts[columns.index(view.column)] + room.pad,
            tops[rows.index(view.row)] + head,
        )
        for view in views
    ]


def _frame(view: View, extent: Extent, scale: float, left: float, top: float) -> Frame:
    box = Box(left, top, left + extent.width * scale, top + extent.height * scale)
    return Frame(view, box, scale, (left - extent.left * scale, box.bottom + extent.bottom * scale))


def _maximum_scale(
    wide: Sequence[float], high: Sequence[float], area: Box, around: tuple[float, float, float]
) -> float:
    """Return the largest scale at which all columns and rows fit (found by halving).

    ``around`` is the height above a view, the minimum width of a column, and what is kept free at both sides.
    """
    head, minimum, pad = around
    free_y = area.height - len(high) * (head + PAD)
    low, top = 0.0, min(area.width / max(*wide, 1.0), free_y / max(sum(high), 1.0))
    for _ in range(24):
        scale = (low + top) / 2
        fits = sum(max(width * scale + 2 * pad, minimum) for width in wide) <= area.width
        low, top = (scale, top) if fits else (low, scale)
    return low


def _offsets(sizes: Sequence[float], start: float, end: float | None) -> list[float]:
    """Return where each of ``sizes`` begins, the whole centred up to ``end`` when that is given."""
    whole = sum(sizes)
    at = start + (max(0.0, end - start - whole) / 2 if end is not None else 0.0)
    offsets = []
    for size in sizes:
        offsets.append(at)
        at += size
    return offsets


def pictorial_frame(points: Sequence[Point], area: Box) -> Frame:
    """Return the frame of the pictorial view of ``points`` inside ``area``, starting at its top."""
    extent = extent_of(PICTORIAL, points)
    free_x, free_y = area.width - 2 * PAD, area.height - 2 * PAD
    scale = min(free_x / max(extent.width, 1.0), free_y / max(extent.height, 1.0))
    return _frame(PICTORIAL, extent, scale, area.left + (area.width - extent.width * scale) / 2, area.top + PAD)
