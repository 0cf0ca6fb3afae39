"""How the two robots of a pair are distinguished: shape, fill, colour and line, so that any one of them is enough."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.diagrams.scene import Scene, Side
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.palette import BLUE, INK, INK_INSIDE, PAPER, VERMILLION
from weld_packets.drawing.shapes import Shape, circle, polyline, rectangle, square, stadium
from weld_packets.drawing.sheet import Layer, Sheet, Style

SIDES: tuple[Side, Side] = ("A", "B")
COLOUR: dict[Side, str] = {"A": BLUE, "B": VERMILLION}
MARK: dict[Side, Style] = {"A": Style(PAPER, 1.0, BLUE), "B": Style(VERMILLION, 2.4, PAPER, join="miter")}
NUMBER_COLOUR: dict[Side, str] = {"A": PAPER, "B": INK_INSIDE}
PATH: dict[Side, Style] = {"A": Style(BLUE, 1.5), "B": Style(VERMILLION, 1.7, dash=(6, 3.5))}
FIRST = Style(INK, 1.8)
_SQUARE = 0.96
SIGNS = 5
"""How many settings of one operation have signs of their own inside a mark; more are named in the legend alone."""
_DOT_SIGN = 3


def robot_name(scene: Scene, side: Side) -> str:
    """Return a robot with its side, such as ``Robot A (C1A)``."""
    return f"Robot {side} ({scene.robots[SIDES.index(side)]})"


def mark(side: Side, centre: Spot2, radius: float) -> Shape:
    """Return the mark of a robot: a disc for A, a square for B."""
    return circle(centre, radius) if side == "A" else square(centre, _SQUARE * radius)


def draw_badge(sheet: Sheet, side: Side, centre: Spot2, half: Spot2) -> None:
    """Draw a robot's mark as wide as the name that it holds: round at both ends for A, square for B."""
    x, y = centre
    wide, high = half
    if side == "A":
        sheet.draw(stadium(centre, wide, high), MARK[side], Layer.MARK)
    else:
        sheet.draw(rectangle(x - wide, y - high, 2 * wide, 2 * high), MARK[side], Layer.MARK)


def draw_mark(sheet: Sheet, side: Side, centre: Spot2, radius: float, *, first: bool = False, setting: int = 0) -> None:
    """Draw a robot's mark; the first of a sequence carries a second edge.

    Welds that are set otherwise carry a sign inside: ``setting`` 0 has none, then come bar, cross, dot and saltire.
    """
    sheet.draw(mark(side, centre, radius), MARK[side], Layer.MARK)
    for shape, style in _signs(side, centre, radius, setting):
        sheet.draw(shape, style, Layer.NOTE)
    if first:
        sheet.draw(mark(side, centre, radius + 4.5), FIRST, Layer.MARK)


def _signs(side: Side, centre: Spot2, radius: float, setting: int) -> Iterator[tuple[Shape, Style]]:
    """Yield what is drawn inside a mark, light on the full disc and dark in the hollow square."""
    x, y = centre
    colour, long, short = NUMBER_COLOUR[side], 0.62 * radius, 0.46 * radius
    line = Style(colour, max(1.6, 0.3 * radius))
    ends: tuple[tuple[Spot2, Spot2], ...] = (
        (),
        (((x - long, y), (x + long, y)),),
        (((x - long, y), (x + long, y)), ((x, y - long), (x, y + long))),
        (),
        (((x - short, y - short), (x + short, y + short)), ((x - short, y + short), (x + short, y - short))),
    )[setting % SIGNS]
    if setting % SIGNS == _DOT_SIGN:
        yield circle(centre, 0.42 * radius), Style(None, 0, colour)
    for start, end in ends:
        yield polyline((start, end)), line
