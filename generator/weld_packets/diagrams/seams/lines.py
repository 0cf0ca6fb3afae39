"""Seams on the sheet: their line by robot, where they start and stop, which way they run, and their numbers."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from weld_packets.diagrams.layout import SMALL
from weld_packets.diagrams.robots import NUMBER_COLOUR, draw_mark
from weld_packets.diagrams.scene import SeamLine, Side
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around, hull
from weld_packets.drawing.lettering import clean, text_width
from weld_packets.drawing.palette import BLUE, GREY, INK, PAPER, VERMILLION
from weld_packets.drawing.placement import Placed, Wanted, place
from weld_packets.drawing.shapes import Shape, arrowhead, circle, polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style

BADGE = 11.5
_HALO = Style(PAPER, 8.5, cap="round")
_LINE: dict[Side, Style] = {"A": Style(BLUE, 5.0), "B": Style(VERMILLION, 6.0)}
_CORE = Style(PAPER, 2.4)
_THIN: dict[Side, Style] = {"A": Style(BLUE, 1.6), "B": Style(VERMILLION, 1.6, dash=(6, 3))}
_START = Style(PAPER, 1.2, INK)
_STOP_EDGE, _STOP = Style(PAPER, 6.0), Style(INK, 3.4)
_HEAD = Style(PAPER, 1.0, INK)
_LEADER = Style(GREY, 1.0)
_BAR, _DOT = 8.0, 5.0
_LONG_ENOUGH = 26.0
_HEAD_AT = 0.58
_HEAD_LONG, _HEAD_HALF = 14.0, 6.5
_AROUND, _AROUND_LONG, _AROUND_STEPS = 11.0, 60.0, 8
"""How far outside a bend its arrow runs, and how long it is at most."""
_STRAIGHT, _CORNER = 0.05, 1.0
"""How far apart the directions at both ends of an arrowhead are: on a straight line less, at a corner more."""
_SEEN_PX = 4.0


def draw_seam(sheet: Sheet, side: Side, points: Sequence[Spot2]) -> None:
    """Draw a seam with its start (dot), stop (bar) and heading (arrow); A is a full line, B a hollow one."""
    line = polyline(points)
    sheet.draw(line, _HALO, Layer.PATH)
    sheet.draw(line, _LINE[side], Layer.SEAM)
    if side == "B":
        sheet.draw(line, _CORE, Layer.MARK)
    _draw_ends(sheet, points)
    _draw_heading(sheet, points)


def draw_thin(sheet: Sheet, side: Side, points: Sequence[Spot2]) -> None:
    """Draw a seam that is numbered in another view."""
    if _length(points) > _SEEN_PX:
        sheet.draw(polyline(points), _THIN[side], Layer.PATH)


def _draw_ends(sheet: Sheet, points: Sequence[Spot2]) -> None:
    sheet.draw(circle(points[0], _DOT), _START, Layer.NOTE)
    way = unit(points[-2], points[-1])
    x, y = points[-1]
    for style, half in ((_STOP_EDGE, _BAR + 1), (_STOP, _BAR)):
        bar = polyline([(x - way[1] * half, y + way[0] * half), (x + way[1] * half, y - way[0] * half)])
        sheet.draw(bar, style, Layer.COVER)


def _draw_heading(sheet: Sheet, points: Sequence[Spot2]) -> None:
    if _length(points) >= _LONG_ENOUGH:
        around_bend = _arrow_around(points)
        if around_bend:
            way = unit(around_bend[-2], around_bend[-1])
            sheet.draw(polyline(around_bend), Style(INK, 1.8), Layer.COVER)
            sheet.draw(arrowhead(_ahead(around_bend[-1], way, 6), way, 13, 5), _HEAD, Layer.COVER)
        else:
            sheet.draw(_head(points), _HEAD, Layer.COVER)
        return
    tail, tip = _arrow_beside(points)
    way = unit(tail, tip)
    sheet.draw(polyline([tail, (tip[0] - way[0] * 10, tip[1] - way[1] * 10)]), Style(INK, 1.6), Layer.COVER)
    sheet.draw(arrowhead(tip, way, 12, 4.5), _HEAD, Layer.COVER)


def _head(points: Sequence[Spot2]) -> Shape:
    (x, y), way = on_line(points, _HEAD_AT)
    return arrowhead((x + way[0] * _HEAD_LONG / 2, y + way[1] * _HEAD_LONG / 2), way, _HEAD_LONG, _HEAD_HALF)


def _arrow_around(points: Sequence[Spot2]) -> list[Spot2]:
    """Return the arrow that runs outside a bend: a head on a tight one does not say where it goes. None elsewhere."""
    half = _HEAD_LONG / 2 / _length(points)
    if half >= _HEAD_AT / 2:
        return []
    (_, before), (_, after) = on_line_at(points, (_HEAD_AT - half, _HEAD_AT + half))
    turn = before[0] * after[1] - before[1] * after[0]
    if not _STRAIGHT < math.dist(before, after) < _CORNER:
        return []
    out = _AROUND if turn > 0 else -_AROUND
    span = min(0.2, _AROUND_LONG / _length(points))
    shares = (_HEAD_AT + span * (step / _AROUND_STEPS - 0.5) for step in range(_AROUND_STEPS + 1))
    return [(x + way[1] * out, y - way[0] * out) for (x, y), way in on_line_at(points, shares)]


def _ahead(at: Spot2, way: Spot2, by: float) -> Spot2:
    return at[0] + way[0] * by, at[1] + way[1] * by


def _arrow_beside(points: Sequence[Spot2]) -> tuple[Spot2, Spot2]:
    """Return tail and tip of the arrow that runs beside a seam too short to carry one."""
    way = unit(points[0], points[-1])
    x = (points[0][0] + points[-1][0]) / 2 - way[1] * 14
    y = (points[0][1] + points[-1][1]) / 2 + way[0] * 14
    return (x - way[0] * 12, y - way[1] * 12), (x + way[0] * 12, y + way[1] * 12)


def on_line(points: Sequence[Spot2], share: float) -> tuple[Spot2, Spot2]:
    """Return the point at ``share`` of the length of a line, and the unit direction there."""
    return on_line_at(points, (share,))[0]


def on_line_at(points: Sequence[Spot2], shares: Iterable[float]) -> list[tuple[Spot2, Spot2]]:
    """Return for each of ``shares`` of the length of a line the point there, and the unit direction."""
    spans = _spans(points)
    length = sum(spans)
    return [_at(points, spans, share * length) for share in shares]


def _at(points: Sequence[Spot2], spans: Sequence[float], left: float) -> tuple[Spot2, Spot2]:
    for index, span in enumerate(spans):
        if left <= span and span > 0:
            start = points[index]
            way = unit(start, points[index + 1])
            return (start[0] + way[0] * left, start[1] + way[1] * left), way
        left -= span
    return points[-1], unit(points[-2], points[-1])


def _spans(points: Sequence[Spot2]) -> list[float]:
    return [math.dist(one, other) for one, other in pairwise(points)]


def _length(points: Sequence[Spot2]) -> float:
    return sum(_spans(points))


def note_seam(crowd: Crowd, points: Sequence[Spot2]) -> None:
    """Keep labels off a seam, its ends and its arrow."""
    length = _length(points)
    beside = () if length >= _LONG_ENOUGH else _arrow_beside(points)
    for point in (points[0], points[-1], on_line(points, _HEAD_AT)[0]):
        crowd.block(around(point, 8.5))
    if beside:
        crowd.block(hull(beside).grown(5))
    for point in _arrow_around(points) if length >= _LONG_ENOUGH else ():
        crowd.block(around(point, 5))
    steps = max(2, round(length / 9))
    for point, _ in on_line_at(points, (step / steps for step in range(1, steps))):
        crowd.block(around(point, 4.5))


def place_numbers(
    sheet: Sheet,
    seams: Sequence[SeamLine],
    lines: Sequence[Sequence[Spot2]],
    crowd: Crowd,
    bounds: Box,
) -> list[Placed | None]:
    """Write each seam's number in its robot's badge with the size beside it, near the seam; None without a place."""
    wanted = [_wanted(seam, points) for seam, points in zip(seams, lines, strict=True)]
    placed = place(wanted, crowd, bounds)
    for seam, label, found in zip(seams, wanted, placed, strict=True):
        if found is not None:
            _write_number(sheet, seam, found, label.at)
    return placed


def _wanted(seam: SeamLine, points: Sequence[Spot2]) -> Wanted:
    at, way = on_line(points, 0.3)
    radius = _badge(seam)
    width = 2 * radius + 2 + (text_width(seam.size, SMALL) + 4 if seam.size else 0)
    return Wanted(clean(seam.size), at, 7.0, SMALL, outward=(-way[1], way[0]), room=(width, 2 * radius + 2))


def _badge(seam: SeamLine) -> float:
    return max(BADGE, text_width(seam.label, SMALL, bold=True) / 2 + 1)


def _write_number(sheet: Sheet, seam: SeamLine, placed: Placed, at: Spot2) -> None:
    """Write the badge at the end of the label that is nearer to the seam, the size at the other."""
    box, radius = placed.box, _badge(seam)
    badge_last = box.centre[0] < at[0] - 2 * radius
    centre = (box.right - 1 - radius if badge_last else box.left + 1 + radius), box.centre[1]
    if placed.leader:
        sheet.draw(polyline(placed.leader), _LEADER, Layer.DIMENSION)
    draw_mark(sheet, seam.side, centre, radius)
    sheet.write_in(centre, seam.label, SMALL, bold=True, colour=NUMBER_COLOUR[seam.side])
    beside = centre[0] + (-radius - 4 if badge_last else radius + 4), centre[1] + 0.36 * SMALL
    sheet.write(beside, placed.text, SMALL, anchor="right" if badge_last else "left")


APART_PX = 15.0
_SHARES = (0.2, 0.5, 0.8)


def apart(lines: Sequence[Sequence[Spot2]]) -> list[list[Spot2]]:
    """Return ``lines`` with each pair that runs together moved apart, across its way, to 15 pixels."""
    moved = [list(line) for line in lines]
    for one in range(len(lines)):
        for other in range(one + 1, len(lines)):
            across = _gap(moved[one], moved[other])
            if across is not None:
                moved[one] = [(x - across[0] / 2, y - across[1] / 2) for x, y in moved[one]]
                moved[other] = [(x + across[0] / 2, y + across[1] / 2) for x, y in moved[other]]
    return moved


def _gap(one: Sequence[Spot2], other: Sequence[Spot2]) -> Spot2 | None:
    """Return how much the other line is to be moved away, relative to the first; None when they are clear."""
    if math.dist(one[0], other[0]) > APART_PX and math.dist(one[0], other[-1]) > APART_PX:
        return None
    back = math.dist(one[0], other[0]) > math.dist(one[0], other[-1])
    along = on_line_at(one, _SHARES)
    beside = on_line_at(other, [1 - share for share in _SHARES] if back else _SHARES)
    if any(math.dist(here, there) >= APART_PX for (here, _), (there, _) in zip(along, beside, strict=True)):
        return None
    ((x, y), way), ((a, b), _) = along[1], beside[1]
    across = (-way[1], way[0])
    distance = (a - x) * across[0] + (b - y) * across[1]
    side = 1.0 if distance >= 0 else -1.0
    missing = APART_PX - abs(distance)
    return (across[0] * side * missing, across[1] * side * missing) if missing > 0 else None
