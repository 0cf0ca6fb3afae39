"""A joint in section for its procedure specification: components with thicknesses, the weld, its size, its passes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, assert_never

from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.dimensions import NOTE_SIZE, dimension, draw_dimension
from weld_packets.drawing.lettering import clean
from weld_packets.drawing.palette import INK, INK_INSIDE, PAPER, SHEET, SHEET_SHADE
from weld_packets.drawing.shapes import circle, polygon, rectangle
from weld_packets.drawing.sheet import Layer, Sheet, Style, TextLine
from weld_packets.drawing.svg import to_svg
from weld_packets.model.trade import Joint
from weld_packets.packet.records.settings import Picture
from weld_packets.wording.english import capital

_WIDTH, _HEIGHT = 372.0, 210.0
_THICKEST, _THINNEST = 44.0, 10.0
"""Pixels: the thickest component is drawn so, and no other one thinner than that."""
_TEXT, _SMALL = 14.0, 12.0
_BODY = Style(INK, 1.4, SHEET)
_OTHER = Style(INK, 1.4, SHEET_SHADE)
_WELD = Style(INK, 1.4, "#8d8d8d")
_MARK = Style(INK, 1.0, PAPER)
_CAPTION = "Section, not to scale. Of two components the one that the order names first is drawn upright or above."
_X, _Y = 180.0, 150.0
_ARM = 90.0
_INSIDE_RADIUS = 16.0
"""Pixels, inside the corner of a tube."""
_AWAY = 16.0
"""Pixels from an end of a component to the line of its dimension."""


@dataclass(frozen=True)
class JointSection:
    """A joint as it is drawn.

    ``joint`` is None for sheets between two caps. ``thicknesses`` are in mm, ``named`` the same as written; the first
    is that of the upper or upright component. ``sizes`` say the sizes of the weld, ``leg`` is its leg in mm, if known.
    """

    joint: Joint | None
    thicknesses: tuple[float, ...]
    named: tuple[str, ...]
    sizes: tuple[str, ...]
    leg: float | None
    passes: int


def joint_picture(key: str, title: str, section: JointSection) -> Picture:
    """Return the section of a joint."""
    sheet = Sheet(_WIDTH, _HEIGHT)
    if section.joint is None:
        _draw_stack(sheet, section)
    else:
        _draw_joint(sheet, section, section.joint)
    words = _said(section)
    svg = to_svg(sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=_CAPTION, svg=svg)


def _said(section: JointSection) -> str:
    sheets = " and ".join(section.named)
    what = section.joint or "sheets between two electrode caps"
    passes = f", {section.passes} passes" if section.passes > 1 else ""
    return f"{capital(what)}, {', '.join((sheets, *section.sizes))}{passes}"


def _drawn(section: JointSection) -> list[float]:
    """Return the thicknesses in pixels."""
    scale = _THICKEST / max(section.thicknesses)
    return [max(_THINNEST, each * scale) for each in section.thicknesses]


def _draw_joint(sheet: Sheet, section: JointSection, joint: Joint) -> None:
    upper, lower = _drawn(section)
    leg = _leg(section)
    bodies, bead = _parts(joint, upper, lower, leg)
    for body, named in zip(bodies, section.named, strict=True):
        shape = polygon(body.outline) if body.outline else rectangle(*body.corner, *body.size)
        sheet.draw(shape, body.style, Layer.PART)
        _write_thickness(sheet, named, body)
    sheet.draw(polygon(bead), _WELD, Layer.SEAM)
    if section.sizes:
        x, y = max(bead, key=lambda point: point[0])
        for line, size in enumerate(reversed(section.sizes)):
            sheet.write((x + 14, y - 16 - line * 1.25 * _TEXT), size, _TEXT, bold=True)
    for number, at in enumerate(_beads(bead, section.passes), 1):
        sheet.draw(circle(at, 8), _MARK, Layer.MARK)
        sheet.write_in(at, str(number), _SMALL, bold=True, colour=INK_INSIDE)


@dataclass(frozen=True)
class _Body:
    """A component as a rectangle: its left top corner, width and height, and on which side its thickness is said.

    A tube has an ``outline``; corner and size are then those of its upright wall.
    """

    corner: Spot2
    size: Spot2
    style: Style
    said: Literal["left", "right", "above", "below"]
    outline: Sequence[Spot2] = ()


def _parts(joint: Joint, upper: float, lower: float, leg: float) -> tuple[list[_Body], list[Spot2]]:
    """Return both components, the upper or upright one first, and the outline of the weld."""
    lying = _Body((_X - _ARM, _Y), (2 * _ARM, lower), _BODY, "left")
    if joint == "square butt":
        left = _Body((_X - _ARM, _Y), (_ARM - 4, upper), _OTHER, "left")
        right = _Body((_X + 4, _Y), (_ARM - 4, lower), _BODY, "right")
        depth = min(upper, lower)
        face = [(_X - 14, _Y), (_X - 7, _Y - 5), (_X + 7, _Y - 5), (_X + 14, _Y)]
        bead = [*face, (_X + 5, _Y + depth), (_X - 5, _Y + depth)]
        return [left, right], bead
    if joint == "lap fillet":
        leg = min(leg, upper)
        above = _Body((_X - _ARM, _Y - upper), (_ARM, upper), _OTHER, "left")
        return [above, replace(lying, said="right")], _triangle(leg)
    if joint == "corner fillet":
        y = _Y - 30
        flat = _Body((_X - _ARM, y - lower), (_ARM, lower), _BODY, "left")
        upright = _Body((_X, y), (upper, 56), _OTHER, "below")
        return [upright, flat], [(_X, y), (_X, y - lower), (_X + upper, y)]
    if joint == "flare bevel":
        return [_tube(upper), lying], _flare(upper)
    standing = _Body((_X - upper, _Y - 118), (upper, 118), _OTHER, "above")
    return [standing, lying], _triangle(leg)


def _tube(wall: float) -> _Body:
    """Return the lower corner of a tube that lies on the other component."""
    outside = wall + _INSIDE_RADIUS
    corner = (_X, _Y - outside)
    outer, inner = _arc(corner, outside), _arc(corner, _INSIDE_RADIUS)
    top = _Y - 118
    ends = [(_X + outside, top), (_X + outside - wall, top)]
    outline = [(_X - _ARM, _Y), *outer, *ends, *reversed(inner), (_X - _ARM, _Y - wall)]
    return _Body(ends[1], (wall, 118 - outside), _OTHER, "above", outline)


def _flare(wall: float) -> list[Spot2]:
    """Return the weld between the round corner of a tube and the other component, filled flush with its side."""
    outside = wall + _INSIDE_RADIUS
    return [*_arc((_X, _Y - outside), outside), (_X + outside, _Y)]


def _arc(centre: Spot2, radius: float) -> list[Spot2]:
    """Return a quarter of a circle, from below its centre to the right of it."""
    turns = (step * math.pi / 24 for step in range(13))
    return [(centre[0] + radius * math.sin(turn), centre[1] + radius * math.cos(turn)) for turn in turns]


def _triangle(leg: float) -> list[Spot2]:
    return [(_X, _Y), (_X, _Y - leg), (_X + leg, _Y)]


def _leg(section: JointSection) -> float:
    """Return the leg of a fillet in pixels, in the scale of the components as far as it can be seen."""
    if section.leg is None:
        return 34.0
    return min(90.0, max(20.0, section.leg * _THICKEST / max(section.thicknesses)))


def _beads(bead: Sequence[Spot2], passes: int) -> Iterator[Spot2]:
    """Yield a place for the number of each pass, from the root out; none for one pass."""
    if passes == 1:
        return
    root, (x, y) = bead[0], (sum(point[0] for point in bead) / len(bead), sum(point[1] for point in bead) / len(bead))
    for number in range(passes):
        share = 0.35 + 1.15 * number / (passes - 1)
        aside = 0.0 if number < 2 else 14.0  # noqa: PLR2004 - a third pass lies beside the second
        yield root[0] + (x - root[0]) * share + aside, root[1] + (y - root[1]) * share + aside


def _write_thickness(sheet: Sheet, text: str, body: _Body) -> None:
    """Dimension a component across its thickness, at an end that is away from the weld, off both components."""
    (left, top), (right, bottom) = body.corner, (body.corner[0] + body.size[0], body.corner[1] + body.size[1])
    match body.said:
        case "above":
            draw_dimension(sheet, dimension((left, top), (right, top), offset=-_AWAY, text=text))
        case "below":
            draw_dimension(sheet, dimension((left, bottom), (right, bottom), offset=_AWAY, text=text))
        case "left":
            _write_beside(sheet, text, (left, top), (left, bottom), -1)
        case "right":
            _write_beside(sheet, text, (right, top), (right, bottom), 1)
        case _:
            assert_never(body.said)


def _write_beside(sheet: Sheet, text: str, top: Spot2, bottom: Spot2, side: int) -> None:
    """Dimension an upright edge with the words to the left (-1) or right (1) of the line, where nothing is drawn."""
    thought = dimension(top, bottom, offset=-side * _AWAY, text=text, overall=True)
    at = (thought.low[0] + side * 6, (thought.low[1] + thought.high[1]) / 2 + 0.36 * NOTE_SIZE)
    words = TextLine(at, clean(text), NOTE_SIZE, "right" if side < 0 else "left")
    draw_dimension(sheet, replace(thought, form="beside", words=words))


def _draw_stack(sheet: Sheet, section: JointSection) -> None:
    """Draw sheets between two caps, the moving cap above, and the weld in them."""
    heights = _drawn(section)
    top = (_HEIGHT - sum(heights)) / 2
    for cap_top, tip in ((top - 58, top), (top + sum(heights) + 58, top + sum(heights))):
        left = [(_X - 34, cap_top), (_X - 34, (cap_top + tip) / 2), (_X - 16, tip)]
        right = [(2 * _X - x, y) for x, y in reversed(left)]
        sheet.draw(polygon([*left, *right]), _MARK, Layer.PART)
    at = top
    for place, height in enumerate(heights):
        sheet.draw(rectangle(_X - _ARM, at, 2 * _ARM, height), _OTHER if place % 2 else _BODY, Layer.PART)
        sheet.write((_X + _ARM + 10, at + height / 2 + 5), section.named[place], _TEXT)
        at += height
    first, last = heights[0], heights[-1]
    nugget = [
        (_X - 22, top + first),
        (_X - 10, top + 0.4 * first),
        (_X + 10, top + 0.4 * first),
        (_X + 22, top + first),
    ]
    below = [(_X + 22, at - last), (_X + 10, at - 0.4 * last), (_X - 10, at - 0.4 * last), (_X - 22, at - last)]
    sheet.draw(polygon([*nugget, *below]), _WELD, Layer.SEAM)
