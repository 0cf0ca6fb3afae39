"""Attitude of the torch: for each kind of seam a section across it with the work angle, a side view with travel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.diagrams import describe
from weld_packets.diagrams.layout import EDGE, TEXT, WIDTH
from weld_packets.diagrams.scene import JointForm, Scene, SeamLine
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.dimensions import dimension, draw_dimension
from weld_packets.drawing.lettering import shortened, tenths
from weld_packets.drawing.palette import BLUE, GREY, INK, PAPER, SHEET, SHEET_SHADE
from weld_packets.drawing.shapes import Shape, arc, arrowhead, at_angle, polygon, polyline, rectangle, unit
from weld_packets.drawing.sheet import Anchor, Layer, Sheet, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.grouping import grouped
from weld_packets.packet.records.settings import Picture
from weld_packets.wording.english import as_sentences, capital

_ROW = 262.0
_LEFT, _RIGHT = 165.0, 480.0
_NEXT_LINE, _VERTICAL_ROOT = 20.0, 146.0
_PLATE, _SIDE = 18.0, 120.0
_CORNER, _WALL = 34.0, 15.0
_FLOOR = 220.0
_TIP, _NOZZLE = 30.0, 22.0
_BODY = Style(INK, 1.4, SHEET)
_OTHER = Style(INK, 1.4, SHEET_SHADE)
_WELD = Style(INK, 1.4, "#5a5a5a")
_METAL = Style(INK, 1.4, PAPER)
_AXIS = Style(GREY, 1.0, dash=(9, 3, 2, 3))
_SQUARE = Style(GREY, 1.0, dash=(4, 3))
_ARC = Style(INK, 1.2)
_FILL = Style(None, 0, INK)
_TRAVEL = Style(BLUE, 3.0)
_TURNS = {"PF": 90.0, "PG": -90.0}
"""By how much a vertical seam is turned counter-clockwise from one that runs to the right, in degrees."""
_TRAVEL_WORDS = {"PF": "travel up", "PG": "travel down"}
_RADIUS, _NARROW, _UPRIGHT = 130.0, 30.0, 90.0
_HALF_LEVEL, _HALF_VERTICAL, _AHEAD_LEVEL, _AHEAD_VERTICAL, _INWARDS = 140.0, 96.0, 62.0, 34.0, 12.0


@dataclass(frozen=True, slots=True)
class Attitude:
    """An attitude of the torch, shared by seams: angles in degrees as in ``SeamLine``."""

    joint: JointForm
    size: str
    position: str
    work_angle: float | None
    travel_angle: float | None
    stick_out: str


def torch_picture(scene: Scene, seams: Sequence[SeamLine]) -> Picture | None:
    """Return the attitude of the torch for each kind of seam; None when no seam states an angle."""
    kinds = attitudes(seams)
    if not kinds:
        return None
    sheet = Sheet(WIDTH, _ROW * len(kinds) + 8)
    for row, (attitude, members) in enumerate(kinds.items()):
        _draw_row(sheet, attitude, members, row * _ROW)
    key, title = Picture.key_of_torch(scene.key), "Torch attitude"
    words = as_sentences(_said(attitude, members) for attitude, members in kinds.items())
    svg = to_svg(sheet, key=key, title=title, description=words)
    caption = _CAPTION + (_VERTICAL if any(attitude.position in _TURNS for attitude in kinds) else "")
    return Picture(key=key, title=title, description=words, caption=caption, svg=svg)


_CAPTION = (
    "Left: across the seam, work angle from the horizontal plate. "
    "Right: along the seam, travel angle from perpendicular. Not to scale."
)
_VERTICAL = " A vertical seam (PF, PG) is seen from above at the left, and runs up or down at the right."


def attitudes(seams: Sequence[SeamLine]) -> dict[Attitude, list[SeamLine]]:
    """Return the attitudes of the torch, each with its seams in order; seams without any angle are left out."""
    angled = (seam for seam in seams if seam.work_angle is not None or seam.travel_angle is not None)
    return grouped(
        (Attitude(seam.joint, seam.size, seam.position, seam.work_angle, seam.travel_angle, seam.stick_out), seam)
        for seam in sorted(angled, key=lambda seam: (seam.side, seam.sequence))
    )


def _draw_row(sheet: Sheet, attitude: Attitude, members: Sequence[SeamLine], top: float) -> None:
    sheet.write((EDGE, top + 20), _name(attitude), TEXT, bold=True)
    numbers = shortened(f"Seams {_numbers(members)}", TEXT, WIDTH - 2 * EDGE)
    sheet.write((EDGE, top + 20 + _NEXT_LINE), numbers, TEXT)
    if top:
        sheet.draw(polyline([(EDGE, top), (WIDTH - EDGE, top)]), Style(GREY, 0.8), Layer.PART)
    if attitude.work_angle is not None:
        _draw_section(sheet, attitude, attitude.work_angle, (_LEFT, top + _FLOOR))
    if attitude.travel_angle is not None:
        turn = _TURNS.get(attitude.position, 0.0)
        root = (_RIGHT + turn / 2, top + (_VERTICAL_ROOT if turn else _FLOOR))
        _draw_side(sheet, attitude, attitude.travel_angle, root)


def _draw_section(sheet: Sheet, attitude: Attitude, angle: float, root: Spot2) -> None:
    for shape, style in _joint(attitude.joint, root):
        sheet.draw(shape, style, Layer.PART)
    x, y = root
    surface = polyline([(x + 20, y), (x + _SIDE + 16, y)])
    sheet.draw(surface, _SQUARE, Layer.DIMENSION)
    _draw_torch(sheet, root, angle)
    _draw_angle(sheet, root, (0.0, angle), f"{_degrees(angle)}")


def _joint(joint: JointForm, root: Spot2) -> list[tuple[Shape, Style]]:
    """Return the section of a joint; the root is the corner, or the middle of a butt on its surface."""
    x, y = root
    lying = rectangle(x - _SIDE, y, 2 * _SIDE, _PLATE)
    fillet = polygon([(x, y), (x, y - 15), (x + 15, y)])
    if joint == "T":
        return [(lying, _BODY), (rectangle(x - _PLATE, y - 92, _PLATE, 92), _OTHER), (fillet, _WELD)]
    if joint == "lap":
        upper = rectangle(x - _SIDE, y - _PLATE, _SIDE, _PLATE)
        return [(lying, _BODY), (upper, _OTHER), (fillet, _WELD)]
    if joint == "flare-bevel":
        return [(lying, _BODY), *_beside_a_corner(root)]
    if joint == "corner":
        flat = rectangle(x - _SIDE, y - _PLATE, _SIDE, _PLATE)
        upright = rectangle(x, y, _PLATE, 30)
        return [(upright, _OTHER), (flat, _BODY), (polygon([(x, y), (x, y - _PLATE), (x + _PLATE, y)]), _WELD)]
    halves = [
        (rectangle(x - _SIDE, y, _SIDE - 3, _PLATE), _BODY),
        (rectangle(x + 3, y, _SIDE - 3, _PLATE), _OTHER),
    ]
    bead = polygon([(x - 9, y), (x - 5, y - 4), (x + 5, y - 4), (x + 9, y), (x + 4, y + _PLATE), (x - 4, y + _PLATE)])
    return [*halves, (bead, _WELD)]


def _beside_a_corner(root: Spot2) -> list[tuple[Shape, Style]]:
    """Return a tube with a round corner on a plate, and the weld between them, flush with the side above the root."""
    x, y = root
    corner = [at_angle((x - _CORNER, y - _CORNER), _CORNER, angle) for angle in range(-90, 1, 10)]
    inside = [at_angle((x - _CORNER, y - _CORNER), _CORNER - _WALL, angle) for angle in range(0, -91, -10)]
    outer, inner = (x, y - 92), (x - _WALL, y - 92)
    tube = polygon([(x - 96, y), *corner, outer, inner, *inside, (x - 96, y - _WALL)])
    filled = [at_angle((x - _CORNER, y - _CORNER), _CORNER, angle) for angle in range(-60, 1, 10)]
    return [(tube, _OTHER), (polygon([*filled, (x + 3, y - _CORNER / 2), (x, y), (x - _CORNER / 2, y)]), _WELD)]


@dataclass(frozen=True, slots=True)
class _Ground:
    """Where a seam is seen from the side: its root, and by how much it is turned from one that runs to the right."""

    root: Spot2
    turn: float

    def at(self, along: float, off: float) -> Spot2:
        """Return the point so far along the seam in the direction of travel, and so far off the plate."""
        x, y = at_angle(self.root, along, self.turn)
        return at_angle((x, y), off, self.turn + _UPRIGHT)


def _draw_side(sheet: Sheet, attitude: Attitude, angle: float, root: Spot2) -> None:
    turn = _TURNS.get(attitude.position, 0.0)
    ground, long = _Ground(root, turn), (_HALF_VERTICAL if turn else _HALF_LEVEL)
    plate = [(-long, 0.0), (long, 0.0), (long, -_PLATE), (-long, -_PLATE)]
    sheet.draw(polygon([ground.at(*each) for each in plate]), _BODY, Layer.PART)
    bead = [(-long, 0.0), (-long, 7.0), (-16.0, 7.0), (-4.0, 3.0), (0.0, 0.0)]
    sheet.draw(polygon([ground.at(*each) for each in bead]), _WELD, Layer.PART)
    sheet.draw(polyline([ground.at(0, 4), ground.at(0, 150)]), _SQUARE, Layer.DIMENSION)
    axis = turn + _UPRIGHT + angle
    _draw_torch(sheet, root, axis)
    if angle:
        _draw_angle(sheet, root, (turn + _UPRIGHT, axis), _travel_words(angle), turn)
    else:
        x, y = ground.at(18 if turn else 26, 118)
        sheet.write((x, y), _travel_words(angle), TEXT, anchor="center" if turn else "left", bold=True)
    _draw_travel(sheet, ground, _TRAVEL_WORDS.get(attitude.position, "travel"))
    if attitude.stick_out:
        _draw_stick_out(sheet, root, axis, attitude.stick_out)


def _draw_travel(sheet: Sheet, ground: _Ground, words: str) -> None:
    """Draw the direction of travel ahead of the torch, with its words above it, or beside it on a vertical seam."""
    start = _AHEAD_VERTICAL if ground.turn else _AHEAD_LEVEL
    line, tip = (ground.at(start, 20), ground.at(start + 40, 20)), ground.at(start + 56, 20)
    sheet.draw(polyline(line), _TRAVEL, Layer.NOTE)
    sheet.draw(arrowhead(tip, unit(*line), 18, 8), Style(None, 0, BLUE), Layer.NOTE)
    at = ground.at(start + 50, 36) if ground.turn else ground.at(start, 30)
    anchor: Anchor = "right" if ground.turn > 0 else "left"
    sheet.write(at, words, TEXT, anchor=anchor)


def _draw_torch(sheet: Sheet, root: Spot2, angle: float) -> None:
    """Draw wire, contact tip, nozzle and neck on an axis at ``angle`` from the surface."""
    along = unit(root, at_angle(root, 1.0, angle))
    sheet.draw(polyline([root, at_angle(root, 150, angle)]), _AXIS, Layer.DIMENSION)
    for shape, style in (
        (_along(root, along, [(44, 13), (92, 16), (102, 8), (118, 8)]), _BODY),
        (_along(root, along, [(_NOZZLE, 13), (74, 13)]), _METAL),
        (_along(root, along, [(_TIP, 4.5), (48, 4.5)]), _OTHER),
    ):
        sheet.draw(shape, style, Layer.SEAM)
    sheet.draw(polyline([_on(root, along, 4, 0), _on(root, along, _TIP, 0)]), Style(INK, 2.4), Layer.SEAM)


def _along(root: Spot2, along: Spot2, stations: Sequence[tuple[float, float]]) -> Shape:
    """Return a symmetric outline about an axis from its half widths at distances from the root."""
    right = [_on(root, along, distance, half) for distance, half in stations]
    left = [_on(root, along, distance, -half) for distance, half in reversed(stations)]
    return polygon([*right, *left])


def _on(root: Spot2, along: Spot2, distance: float, aside: float) -> Spot2:
    return root[0] + along[0] * distance - along[1] * aside, root[1] + along[1] * distance + along[0] * aside


def _draw_angle(sheet: Sheet, root: Spot2, span: tuple[float, float], text: str, vertical: float = 0.0) -> None:
    """Draw an angle as an arc with heads; a narrow one is pointed at from outside."""
    low, high = min(span), max(span)
    narrow = math.radians(high - low) * _RADIUS < _NARROW
    spare = math.degrees(18 / _RADIUS) if narrow else 0.0
    sheet.draw(arc(root, _RADIUS, low - spare, high + spare), _ARC, Layer.NOTE)
    turn = math.degrees(5 / _RADIUS) * (-1 if narrow else 1)
    for end, sign in ((low, -1.0), (high, 1.0)):
        tip, back = at_angle(root, _RADIUS, end), at_angle(root, _RADIUS, end - sign * turn)
        sheet.draw(arrowhead(tip, unit(back, tip), 9, 3), _FILL, Layer.NOTE)
    if vertical:
        _write_beside_vertical(sheet, root, (low - spare, high + spare), text, vertical)
    else:
        _write_angle(sheet, root, (low - spare, high + spare), text)


def _write_beside_vertical(sheet: Sheet, root: Spot2, span: tuple[float, float], text: str, turn: float) -> None:
    """Write above or below the end of an arc that is away from square to a vertical plate, off what is at the plate."""
    low, high = span
    square = turn + _UPRIGHT
    end = high if high - square > square - low else low
    x, y = at_angle(root, _RADIUS, end)
    anchor: Anchor = "right" if turn > 0 else "left"
    outwards = -_INWARDS if turn > 0 else _INWARDS
    sheet.write((x - outwards, y - 7 if y < root[1] else y + 20), text, TEXT + 1, anchor=anchor, bold=True)


def _write_angle(sheet: Sheet, root: Spot2, span: tuple[float, float], text: str) -> None:
    """Write beside the middle of an arc that begins at the surface, else beyond the end that is away from square."""
    low, high = span
    if low == 0:
        x, y = at_angle(root, _RADIUS + 8, high / 2)
        sheet.write((x, y + 4), text, TEXT + 1, bold=True)
    elif high > _UPRIGHT + (_UPRIGHT - low):
        x, y = at_angle(root, _RADIUS, high)
        sheet.write((x - 7, y + 8), text, TEXT + 1, anchor="right", bold=True)
    else:
        x, y = at_angle(root, _RADIUS, low)
        sheet.write((x + 8, y + 8), text, TEXT + 1, bold=True)


def _draw_stick_out(sheet: Sheet, root: Spot2, angle: float, text: str) -> None:
    tip = at_angle(root, _TIP, angle)
    draw_dimension(sheet, dimension(root, tip, offset=-36.0, text=text))


def _travel_words(angle: float) -> str:
    if not angle:
        return "perpendicular, 0°"
    return f"{'push' if angle > 0 else 'drag'} {_degrees(abs(angle))}"


def _name(attitude: Attitude) -> str:
    return ", ".join(filter(None, (f"{capital(attitude.joint)} joint", attitude.size, attitude.position)))


def _degrees(angle: float) -> str:
    return f"{tenths(angle)}°"


def _numbers(members: Sequence[SeamLine]) -> str:
    """Return the seams by their identifiers, those that count on from each other as one: T1 to T6, T9."""
    return describe.spans([seam.label for seam in members], ", ")


def _said(attitude: Attitude, members: Sequence[SeamLine]) -> str:
    components = [f"{_name(attitude)}, seams {_numbers(members)}"]
    if attitude.work_angle is not None:
        components.append(f"work angle {_degrees(attitude.work_angle)} from the horizontal plate")
    if attitude.travel_angle is not None:
        components.append(f"travel angle {_travel_words(attitude.travel_angle)}")
    if attitude.stick_out:
        components.append(f"contact tip to work distance {attitude.stick_out}")
    return ": ".join((components[0], ", ".join(components[1:])))
