"""The chart of wire feed and travel speed: what is allowed together, lines of equal weld, and where both are set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.drawing.boxes import Spot2
from generator.drawing.charts import TEXT, Axis, Chart, chart
from generator.drawing.palette import BLUE, INK, PALE, PAPER, SHEET
from generator.drawing.shapes import circle, polyline, rectangle
from generator.drawing.sheet import Layer, Style
from generator.drawing.svg import to_svg
from generator.packet.records import Picture

_WIDTH, _HEIGHT, _ROW = 640.0, 380.0, 20.0
_AROUND = 0.12
"""Share of the chart's range that is drawn beyond it on each side."""
_ALLOWED, _EDGE = Style(None, fill=SHEET), Style(PALE, 1.4, dash=(6, 4))
_LINES = {
    "required": Style(INK, 2.4),
    "target": Style(BLUE, 1.8, dash=(9, 4)),
    "largest": Style(INK, 1.8, dash=(2, 3)),
}
_SET = Style(PAPER, 1.5, fill=BLUE)
_SAMPLE = 34.0


@dataclass(frozen=True)
class SizeDrawn:
    """A line of equal weld: which (required, target, largest), its size as printed, travel speed over wire feed."""

    word: str
    size: str
    slope: float


@dataclass(frozen=True)
class Allowed:
    """What is drawn: labels of both axes, ranges of chart and machine, limits of the slope, lines, the set point."""

    feed: str
    speed: str
    feeds: tuple[float, float]
    speeds: tuple[float, float]
    fastest: float | None
    slowest: float | None
    lines: tuple[SizeDrawn, ...]
    at: Spot2
    set_words: str


def region_picture(key: str, allowed: Allowed, caption: str) -> Picture:
    """Return the chart of one group of settings."""
    title = "Wire feed and travel speed allowed together"
    entries = [(line.word, f"{line.word}: {line.size}") for line in allowed.lines]
    made = _drawn(allowed, len(entries))
    _legend(made, entries, allowed.set_words)
    words = f"{caption} Set at {allowed.set_words}."
    return Picture(
        key=key,
        title=title,
        description=words,
        caption=caption,
        svg=to_svg(made.sheet, key=key, title=title, description=words),
    )


def _drawn(allowed: Allowed, entries: int) -> Chart:
    x, y = _axis(allowed.feed, allowed.feeds, allowed.at[0]), _axis(allowed.speed, allowed.speeds, allowed.at[1])
    made = chart(_WIDTH, _HEIGHT, x, y)
    made.sheet.height += _ROW * (entries + 2)
    (left, right), (low, high) = allowed.feeds, allowed.speeds
    made.region(_ring(allowed), _ALLOWED)
    made.line([(left, low), (right, low), (right, high), (left, high), (left, low)], _EDGE)
    for line in allowed.lines:
        made.line([(x.low, line.slope * x.low), (x.high, line.slope * x.high)], _LINES[line.word])
    made.mark(allowed.at, _SET, 6.5)
    return made


def _axis(label: str, ends: tuple[float, float], at: float) -> Axis:
    low, high = min(*ends, at), max(*ends, at)
    beyond = _AROUND * (high - low)
    return Axis(label, low - beyond, high + beyond)


def _ring(allowed: Allowed) -> list[Spot2]:
    """Return the corners of what is allowed together: the range of both dials, cut by the largest and smallest weld."""
    (left, right), (low, high) = allowed.feeds, allowed.speeds
    corners: list[Spot2] = [(left, low), (right, low), (right, high), (left, high)]
    if allowed.fastest is not None:
        corners = _below(corners, allowed.fastest, 1.0)
    return corners if allowed.slowest is None else _below(corners, allowed.slowest, -1.0)


def _below(ring: Sequence[Spot2], slope: float, side: float) -> list[Spot2]:
    """Return the part of a ring of points below a line through nought; with ``side`` -1 the part above it."""
    kept: list[Spot2] = []
    for (x, y), (next_x, next_y) in zip(ring, [*ring[1:], ring[0]], strict=True):
        here, there = side * (slope * x - y), side * (slope * next_x - next_y)
        if here >= 0:
            kept.append((x, y))
        if here * there < 0:
            share = here / (here - there)
            kept.append((x + share * (next_x - x), y + share * (next_y - y)))
    return kept


def _legend(made: Chart, entries: Sequence[tuple[str, str]], set_words: str) -> None:
    """Write what the lines, the ground and the mark mean, one under another below the chart."""
    left, top = made.box.left, _HEIGHT + _ROW / 2
    sheet = made.sheet
    for place, (word, text) in enumerate(entries):
        level = top + place * _ROW
        sheet.draw(polyline([(left, level), (left + _SAMPLE, level)]), _LINES[word], Layer.NOTE)
        sheet.write((left + _SAMPLE + 10, level + 0.36 * TEXT), text, TEXT)
    level = top + len(entries) * _ROW
    sheet.draw(rectangle(left, level - 6, _SAMPLE, 12), _ALLOWED, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + 0.36 * TEXT), "allowed together", TEXT)
    half = made.box.centre[0]
    sheet.draw(polyline([(half, level), (half + _SAMPLE, level)]), _EDGE, Layer.NOTE)
    sheet.write((half + _SAMPLE + 10, level + 0.36 * TEXT), "range of chart and machine", TEXT)
    sheet.draw(circle((left + _SAMPLE / 2, level + _ROW), 6.5), _SET, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + _ROW + 0.36 * TEXT), f"set: {set_words}", TEXT, bold=True)
