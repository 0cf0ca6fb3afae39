"""Spots of one view on the sheet: marks, numbers in or beside them, and the way of each robot."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from weld_packets.diagrams.layout import SMALL
from weld_packets.diagrams.robots import NUMBER_COLOUR, PATH, draw_heading, draw_mark
from weld_packets.diagrams.scene import Side, SpotPoint
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import GREY
from weld_packets.drawing.placement import Placed, Wanted, place
from weld_packets.drawing.shapes import polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.geometry.nearest import smallest_distance

NUMBER = SMALL
_INSIDE, _MINIMUM, _MAXIMUM = 11.0, 4.0, 6.0
_AIR = 3.0
LEADER = Style(GREY, 0.9)


@dataclass(frozen=True, slots=True)
class Seen:
    """A spot with its place on the sheet."""

    spot: SpotPoint
    at: Spot2


@dataclass(frozen=True, slots=True)
class Look:
    """How the spots of one view are drawn: the radius of their marks, and whether numbers fit inside."""

    radius: float
    inside: bool


def look_of(seen: Sequence[Seen]) -> Look:
    """Return marks as large as the closest two spots allow, up to a size that is easy to read.

    Marks that carry the sign of a setting have no room for a number.
    """
    gap = smallest_distance([one.at for one in seen])
    widest = max((text_width(one.spot.label, NUMBER, bold=True) for one in seen), default=0.0)
    inside = max(_INSIDE, widest / 2 + 1)
    if gap >= 2 * inside + _AIR and not any(one.spot.setting for one in seen):
        return Look(inside, inside=True)
    return Look(min(_MAXIMUM, max(_MINIMUM, 0.42 * gap)), inside=False)


def draw_marks(sheet: Sheet, seen: Iterable[Seen], look: Look, crowd: Crowd) -> None:
    """Draw the marks, and the numbers where they stand inside."""
    for one in seen:
        first = one.spot.sequence == 1
        draw_mark(sheet, one.spot.side, one.at, look.radius, first=first, setting=one.spot.setting)
        crowd.block(around(one.at, look.radius + (5 if first else 1)))
        if look.inside:
            sheet.write_in(one.at, one.spot.label, NUMBER, bold=True, colour=NUMBER_COLOUR[one.spot.side])


def number_beside(
    sheet: Sheet,
    seen: Sequence[Seen],
    look: Look,
    crowd: Crowd,
    bounds: Box,
) -> list[Placed | None]:
    """Write the numbers beside their marks and return where they stand; None for one without a place."""
    if look.inside:
        return []
    inwards = _inwards(seen)
    wanted = [
        Wanted(one.spot.label, one.at, _reach(one, look), NUMBER, bold=True, outward=way)
        for one, way in zip(seen, inwards, strict=True)
    ]
    placed = place(wanted, crowd, bounds)
    for label in placed:
        if label is not None:
            write_label(sheet, label)
    return placed


def write_label(sheet: Sheet, label: Placed) -> None:
    """Write a placed label with its leader."""
    if label.leader:
        sheet.draw(polyline(label.leader), LEADER, Layer.DIMENSION)
    sheet.write(label.baseline, label.text, label.size, anchor="center", bold=label.bold)


def _reach(one: Seen, look: Look) -> float:
    """Return the radius of a mark with its second edge, if it is the first."""
    return look.radius + (4.5 if one.spot.sequence == 1 else 0.0)


def _inwards(seen: Sequence[Seen]) -> list[Spot2 | None]:
    """Return for each spot the side of its line of spots that faces the middle of the pattern."""
    if not seen:
        return []
    middle = (
        sum(one.at[0] for one in seen) / len(seen),
        sum(one.at[1] for one in seen) / len(seen),
    )
    return [_inward(seen, index, middle) for index in range(len(seen))]


def _inward(seen: Sequence[Seen], index: int, middle: Spot2) -> Spot2 | None:
    here = seen[index].at
    near = sorted(seen[max(0, index - 1) : index + 2], key=lambda other: math.dist(here, other.at))[1:2]
    if not near:
        return None
    ux, uy = unit(here, near[0].at)
    across = (middle[0] - here[0]) * -uy + (middle[1] - here[1]) * ux
    if abs(across) < 1:
        across = uy - ux  # a straight line: above it, or to its right
    return (-uy, ux) if across >= 0 else (uy, -ux)


def draw_ways(
    sheet: Sheet,
    seen: Sequence[Seen],
    radius: float,
    crowd: Crowd,
    *,
    clip: Box | None = None,
    hidden: Collection[SpotPoint] = (),
) -> None:
    """Draw each robot's way from spot to spot in sequence: only inside ``clip``, and not between ``hidden`` spots."""
    for side in _sides(seen):
        stops = sorted((one for one in seen if one.spot.side == side), key=lambda one: one.spot.sequence)
        for one, other in pairwise(stops):
            drawn_elsewhere = one.spot in hidden and other.spot in hidden
            if other.spot.sequence == one.spot.sequence + 1 and not drawn_elsewhere:
                piece = clip.inside_part(one.at, other.at) if clip else (one.at, other.at)
                if piece is not None:
                    sheet.draw(polyline(piece), PATH[side], Layer.PATH)
                    draw_heading(sheet, side, *piece, radius)
                    crowd.line(*piece)


def _sides(seen: Sequence[Seen]) -> list[Side]:
    return sorted({one.spot.side for one in seen})
