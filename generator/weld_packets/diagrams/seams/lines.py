"""Seams on the sheet: their line by robot, where they start and stop, their direction of travel, and their numbers."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

from weld_packets.diagrams.layout import TEXT
from weld_packets.diagrams.robots import NUMBER_COLOUR, draw_badge
from weld_packets.diagrams.scene import SeamLine, Side
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around, hull
from weld_packets.drawing.lettering import clean, text_width
from weld_packets.drawing.palette import BLUE, GREY, INK, PAPER, VERMILLION
from weld_packets.drawing.placement import Form, Placed, Wanted, gap, place
from weld_packets.drawing.shapes import Shape, ahead, arrowhead, circle, polyline, unit
from weld_packets.drawing.sheet import Anchor, Layer, Sheet, Style

BADGE = 12.0
_NEXT = 17.0
_ROW, _STACK = "row", "stack"
_FEW = 3
_BESIDE = (0.3, 0.5, 0.7, 0.15, 0.85)
"""Along a seam, where its number may be beside it."""
_WHOLE_STEP = 9.0
_HALO = Style(PAPER, 8.5, cap="round")
_LINE: dict[Side, Style] = {"A": Style(BLUE, 5.0), "B": Style(VERMILLION, 6.0)}
_CORE = Style(PAPER, 2.4)
_JOINT = Style(INK, 1.0)
_THIN: dict[Side, Style] = {"A": Style(BLUE, 1.6), "B": Style(VERMILLION, 1.6, dash=(6, 3))}
_START = Style(PAPER, 1.2, INK)
_STOP_EDGE, _STOP = Style(PAPER, 6.0), Style(INK, 3.4)
_HEAD = Style(PAPER, 1.0, INK)
_LEADER = Style(GREY, 1.0)
_BAR, _DOT = 8.0, 5.0
_DOT_AND_BAR, _CLOSED_FROM, _NEAR_START = 10.0, 40.0, 0.1
"""How far a bar is from a dot that would hide it, and how long a seam is at least that comes back to its start."""
_LONG_ENOUGH = 26.0
_HEAD_AT = 0.58
_HEAD_LONG, _HEAD_HALF = 14.0, 6.5
_AROUND, _AROUND_LONG, _AROUND_STEPS = 11.0, 60.0, 8
"""How far outside a bend its arrow runs, and how long it is at most."""
_STRAIGHT, _CORNER = 0.05, 1.0
"""How far apart the directions at both ends of an arrowhead are: on a straight line less, at a corner more."""
_SEEN_PX = 4.0


def draw_seam(
    sheet: Sheet, side: Side, points: Sequence[Spot2], *, on_joint: bool = False, courses: bool = True
) -> None:
    """Draw a seam with its start (dot), stop (bar) and heading (arrow); A is a full line, B a hollow one.

    ``on_joint`` draws the joint of a butt, which the seam would hide, as a thin line in it. Without ``courses`` start,
    stop and heading are left out.
    """
    line = polyline(points)
    sheet.draw(line, _HALO, Layer.PATH)
    sheet.draw(line, _LINE[side], Layer.SEAM)
    if side == "B" or on_joint:
        sheet.draw(line, _CORE, Layer.MARK)
    if on_joint:
        sheet.draw(line, _JOINT, Layer.MARK, 1)
    if courses:
        _draw_ends(sheet, points)
        _draw_heading(sheet, points)


def draw_thin(sheet: Sheet, side: Side, points: Sequence[Spot2]) -> None:
    """Draw a seam that is numbered in another view."""
    if _length(points) > _SEEN_PX:
        sheet.draw(polyline(points), _THIN[side], Layer.PATH)


def _draw_ends(sheet: Sheet, points: Sequence[Spot2]) -> None:
    sheet.draw(circle(points[0], _DOT), _START, Layer.NOTE)
    (x, y), along = stop_of(points)
    for style, half in ((_STOP_EDGE, _BAR + 1), (_STOP, _BAR)):
        bar = polyline([(x - along[1] * half, y + along[0] * half), (x + along[1] * half, y - along[0] * half)])
        sheet.draw(bar, style, Layer.COVER)


def stop_of(points: Sequence[Spot2]) -> tuple[Spot2, Spot2]:
    """Return where the stop bar of a seam is, and the direction of travel there.

    A seam that stops on its start has it just before the dot, one that runs on past its start just after.
    """
    length = _length(points)
    if math.dist(points[0], points[-1]) >= _DOT_AND_BAR or length < _CLOSED_FROM:
        return points[-1], unit(points[-2], points[-1])
    past = math.dist(points[-1], on_line(points, _NEAR_START)[0]) < math.dist(
        points[0], on_line(points, _NEAR_START)[0]
    )
    share = _DOT_AND_BAR / length
    return on_line(points, share if past and points[-1] != points[0] else 1 - share)


def _draw_heading(sheet: Sheet, points: Sequence[Spot2]) -> None:
    if _length(points) >= _LONG_ENOUGH:
        around_bend = _arrow_around(points)
        if around_bend:
            along = unit(around_bend[-2], around_bend[-1])
            sheet.draw(polyline(around_bend), Style(INK, 1.8), Layer.COVER)
            sheet.draw(arrowhead(ahead(around_bend[-1], along, 6), along, 13, 5), _HEAD, Layer.COVER)
        else:
            sheet.draw(_head(points), _HEAD, Layer.COVER)
        return
    tail, tip = _arrow_beside(points)
    along = unit(tail, tip)
    sheet.draw(polyline([tail, (tip[0] - along[0] * 10, tip[1] - along[1] * 10)]), Style(INK, 1.6), Layer.COVER)
    sheet.draw(arrowhead(tip, along, 12, 4.5), _HEAD, Layer.COVER)


def _head(points: Sequence[Spot2]) -> Shape:
    (x, y), along = on_line(points, _HEAD_AT)
    return arrowhead((x + along[0] * _HEAD_LONG / 2, y + along[1] * _HEAD_LONG / 2), along, _HEAD_LONG, _HEAD_HALF)


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
    return [(x + along[1] * out, y - along[0] * out) for (x, y), along in on_line_at(points, shares)]


def _arrow_beside(points: Sequence[Spot2]) -> tuple[Spot2, Spot2]:
    """Return tail and tip of the arrow that runs beside a seam too short to carry one."""
    along = unit(points[0], points[-1])
    x = (points[0][0] + points[-1][0]) / 2 - along[1] * 14
    y = (points[0][1] + points[-1][1]) / 2 + along[0] * 14
    return (x - along[0] * 12, y - along[1] * 12), (x + along[0] * 12, y + along[1] * 12)


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
            along = unit(start, points[index + 1])
            return (start[0] + along[0] * left, start[1] + along[1] * left), along
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
    for point in (points[0], stop_of(points)[0], on_line(points, _HEAD_AT)[0]):
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
    """Write each seam's number in its robot's badge near the seam, and beside it what not all seams share.

    None for a number without a place.
    """
    notes = _notes(seams)
    wanted = [_wanted(seam, note, points) for seam, note, points in zip(seams, notes, lines, strict=True)]
    placed = place(wanted, crowd, bounds)
    for seam, note, label, found in zip(seams, notes, wanted, placed, strict=True):
        if found is not None:
            _write_number(sheet, seam, note, found, label)
    return placed


def _notes(seams: Sequence[SeamLine]) -> list[tuple[str, ...]]:
    """Return the lines beside each number: size and passes of the seams that are few of their kind.

    The legend has the kind of every seam; where many have one, to write it at each hides more than it says.
    """
    counts = Counter((seam.size, seam.passes) for seam in seams)
    return [
        (
            *((clean(seam.size),) if seam.size else ()),
            *((f"{seam.passes} passes",) if seam.passes > 1 else ()),
        )
        if _FEW * counts[seam.size, seam.passes] <= len(seams)
        else ()
        for seam in seams
    ]


def _wanted(seam: SeamLine, note: tuple[str, ...], points: Sequence[Spot2]) -> Wanted:
    (at, along), *others = on_line_at(points, _BESIDE)
    beside = max((text_width(line, TEXT) + 4 for line in note), default=0.0)
    badge, high = 2 * _half(seam) + 2, 2 * BADGE + 2
    row = Form(_ROW, badge + beside, max(high, _NEXT * len(note)))
    stack = Form(_STACK, max(badge, beside), high + _NEXT * len(note), 2.0)
    steps = max(2, round(_length(points) / _WHOLE_STEP))
    whole = tuple(point for point, _ in on_line_at(points, (step / steps for step in range(steps + 1))))
    return Wanted(
        seam.label,
        at,
        7.0,
        TEXT,
        outward=(-along[1], along[0]),
        either=True,
        forms=(row, stack) if note else (row,),
        along=tuple(point for point, _ in others),
        whole=whole,
    )


def _half(seam: SeamLine) -> float:
    """Return half the width of a seam's badge."""
    return max(BADGE, text_width(seam.label, TEXT, bold=True) / 2 + 3)


def _write_number(sheet: Sheet, seam: SeamLine, note: Sequence[str], placed: Placed, label: Wanted) -> None:
    """Write the badge and what is said with it: below it, or beside it with the badge at the end nearer to the seam."""
    box, half = placed.box, _half(seam)
    if placed.leader:
        sheet.draw(polyline(placed.leader), _LEADER, Layer.DIMENSION)
    anchor: Anchor = "center"
    if placed.form == _STACK:
        centre = box.centre[0], box.top + 1 + BADGE
        first, x = box.top + 2 * BADGE + 2 + _NEXT / 2, box.centre[0]
    else:
        near = min(label.whole, key=lambda point: gap(box, point))
        badge_last = box.centre[0] < near[0] - half
        centre = (box.right - 1 - half if badge_last else box.left + 1 + half), box.centre[1]
        first = centre[1] - (len(note) - 1) / 2 * _NEXT
        x, anchor = (centre[0] - half - 4, "right") if badge_last else (centre[0] + half + 4, "left")
    draw_badge(sheet, seam.side, centre, (half, BADGE))
    sheet.write_in(centre, seam.label, TEXT, bold=True, colour=NUMBER_COLOUR[seam.side])
    for index, line in enumerate(note):
        sheet.write((x, first + index * _NEXT + 0.36 * TEXT), line, TEXT, anchor=anchor)


APART_PX = 15.0
_SHARES = (0.2, 0.5, 0.8)


def apart(lines: Sequence[Sequence[Spot2]]) -> list[list[Spot2]]:
    """Return ``lines`` with each pair that runs together moved apart, across its direction, to 15 pixels."""
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
    ((x, y), direction), ((a, b), _) = along[1], beside[1]
    across = (-direction[1], direction[0])
    distance = (a - x) * across[0] + (b - y) * across[1]
    side = 1.0 if distance >= 0 else -1.0
    missing = APART_PX - abs(distance)
    return (across[0] * side * missing, across[1] * side * missing) if missing > 0 else None
