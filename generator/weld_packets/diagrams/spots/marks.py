"""Spots of one view on the sheet: marks, numbers in or beside them, and the path of each robot."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from weld_packets.diagrams.layout import TEXT
from weld_packets.diagrams.robots import COLOUR, NUMBER_COLOUR, PATH, draw_mark
from weld_packets.diagrams.scene import Side, SpotPoint
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import GREY
from weld_packets.drawing.placement import UPWARDS, Form, Placed, Wanted, level_form, place, upwards_form
from weld_packets.drawing.routing import Course, Head, courses, heads, noted
from weld_packets.drawing.shapes import polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.geometry.nearest import smallest_distance

NUMBER = TEXT
_INSIDE, _MINIMUM, _MAXIMUM = 11.0, 3.5, 6.0
_AIR = 12.0
"""Pixels between two marks in which an arrowhead has room."""
_CLEAR = 3.0
_BESIDE, _LEVEL_COST = 4.0, 6.0
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
    return Look(min(_MAXIMUM, max(_MINIMUM, (gap - _AIR) / 2)), inside=False)


def draw_marks(sheet: Sheet, seen: Iterable[Seen], look: Look, crowd: Crowd) -> None:
    """Draw the marks, and the numbers that are inside them."""
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
    """Write the numbers beside their marks and return where they are; None for one without a place."""
    if look.inside:
        return []
    wanted = [
        Wanted(
            one.spot.label,
            one.at,
            _reach(one, look),
            NUMBER,
            bold=True,
            outward=outward,
            forms=_forms(one, close=close),
        )
        for one, outward, close in zip(seen, _sides_of_numbers(seen), in_close_rows(seen), strict=True)
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
    angle = 90.0 if label.form == UPWARDS else 0.0
    sheet.write(label.baseline, label.text, label.size, anchor="center", bold=label.bold, angle=angle)


def _forms(one: Seen, *, close: bool) -> tuple[Form, ...]:
    """Return how a number may be written: upwards first in a close row, so that all of the row are read as one."""
    text = one.spot.label
    if not close:
        return (level_form(text, NUMBER, bold=True),)
    return upwards_form(text, NUMBER, bold=True), level_form(text, NUMBER, bold=True, cost=_LEVEL_COST)


def in_close_rows(seen: Sequence[Seen]) -> list[bool]:
    """Return for each spot whether a neighbour level with it leaves its number no room to lie between them."""
    room = [text_width(one.spot.label, NUMBER, bold=True) + _BESIDE for one in seen]
    return [
        any(other is not one and _is_beside(one.at, other.at, width) for other in seen)
        for one, width in zip(seen, room, strict=True)
    ]


def _is_beside(one: Spot2, other: Spot2, width: float) -> bool:
    return abs(other[0] - one[0]) < width and abs(other[1] - one[1]) < NUMBER


def _sides_of_numbers(seen: Sequence[Seen]) -> list[Spot2 | None]:
    """Return for each spot the side for its number: off the pattern, level rows above or below."""
    if not seen:
        return []
    middle = sum(one.at[1] for one in seen) / len(seen)
    return [
        (0.0, 1.0 if one.at[1] > middle + 1 else -1.0) if close else outward
        for one, outward, close in zip(seen, _outwards(seen), in_close_rows(seen), strict=True)
    ]


def _reach(one: Seen, look: Look) -> float:
    """Return the radius of a mark with its second edge, if it is the first."""
    return look.radius + (4.5 if one.spot.sequence == 1 else 0.0)


def _outwards(seen: Sequence[Seen]) -> list[Spot2 | None]:
    """Return for each spot the side of its line of spots that faces away from the middle of the pattern."""
    if not seen:
        return []
    middle = (
        sum(one.at[0] for one in seen) / len(seen),
        sum(one.at[1] for one in seen) / len(seen),
    )
    return [_outward(seen, index, middle) for index in range(len(seen))]


def _outward(seen: Sequence[Seen], index: int, middle: Spot2) -> Spot2 | None:
    here = seen[index].at
    near = sorted(seen[max(0, index - 1) : index + 2], key=lambda other: math.dist(here, other.at))[1:2]
    if not near:
        return None
    ux, uy = unit(here, near[0].at)
    across = (middle[0] - here[0]) * -uy + (middle[1] - here[1]) * ux
    if abs(across) < 1:
        across = ux - uy  # a straight line: above it, or to its right
    return (uy, -ux) if across >= 0 else (-uy, ux)


Moves = Sequence[tuple[Seen, Seen]]


class Move(NamedTuple):
    """A move as it is drawn."""

    line: Course
    head: Head


def draw_moves(
    sheet: Sheet, seen: Sequence[Seen], moves: Moves, crowd: Crowd, *, radius: float, bounds: Box
) -> list[Move]:
    """Draw moves of robots from spot to spot, each with a head, and return them.

    A move that would lie on spots of those ``seen``, or on another move, is bowed.
    """
    marks = [one.at for one in seen]
    lines = courses([(one.at, other.at) for one, other in moves], marks, radius + _CLEAR, bounds)
    drawn = [Move(line, head) for line, head in zip(lines, heads(lines, marks, radius, crowd), strict=True)]
    for (one, _), move in zip(moves, drawn, strict=True):
        sheet.draw(move.line.shape(), PATH[one.spot.side], Layer.PATH)
        sheet.draw(move.head.shape, Style(None, 0, COLOUR[one.spot.side]), Layer.PATH)
    noted(lines, crowd)
    return drawn


def cut_off(moves: Moves, box: Box) -> list[tuple[Seen, Seen]]:
    """Return the pieces of moves inside a box."""
    pieces = ((one, other, box.inside_part(one.at, other.at)) for one, other in moves)
    return [(Seen(one.spot, piece[0]), Seen(other.spot, piece[1])) for one, other, piece in pieces if piece]


def pairs_in_sequence(seen: Sequence[Seen]) -> list[tuple[Seen, Seen]]:
    """Return the spots that a robot welds one after the other."""
    return [
        (one, other)
        for side in _sides(seen)
        for one, other in pairwise(
            sorted((one for one in seen if one.spot.side == side), key=lambda one: one.spot.sequence)
        )
        if other.spot.sequence == one.spot.sequence + 1
    ]


def _sides(seen: Sequence[Seen]) -> list[Side]:
    return sorted({one.spot.side for one in seen})
