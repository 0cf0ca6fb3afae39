"""The chart of wire feed and travel speed: what is allowed together, lines of equal weld, and where both are set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weld_packets.diagrams.charts.furniture import ALLOWED, draw_range, draw_set, field, legend, picture
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.charts import Axis, Chart
from weld_packets.drawing.palette import BLUE, INK
from weld_packets.drawing.sheet import Style
from weld_packets.packet.records import Picture

_AROUND = 0.12
"""Share of the chart's range that is drawn beyond it on each side."""
_LINES = {
    "required": Style(INK, 2.4),
    "target": Style(BLUE, 1.8, dash=(9, 4)),
    "largest": Style(INK, 1.8, dash=(2, 3)),
}


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
    made = _drawn(allowed)
    lines = [(_LINES[line.word], f"{line.word}: {line.size}") for line in allowed.lines]
    legend(made, lines, allowed.set_words)
    return picture(made, key, "Wire feed and travel speed allowed together", caption, allowed.set_words)


def _drawn(allowed: Allowed) -> Chart:
    x, y = _axis(allowed.feed, allowed.feeds, allowed.at[0]), _axis(allowed.speed, allowed.speeds, allowed.at[1])
    made = field(x, y, len(allowed.lines))
    made.region(_ring(allowed), ALLOWED)
    draw_range(made, allowed.feeds, allowed.speeds)
    for line in allowed.lines:
        made.line([(x.low, line.slope * x.low), (x.high, line.slope * x.high)], _LINES[line.word])
    draw_set(made, allowed.at)
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
    """Return the part of a ring of points below a line through zero; with ``side`` -1 the part above it."""
    kept: list[Spot2] = []
    for (x, y), (next_x, next_y) in zip(ring, [*ring[1:], ring[0]], strict=True):
        here, there = side * (slope * x - y), side * (slope * next_x - next_y)
        if here >= 0:
            kept.append((x, y))
        if here * there < 0:
            share = here / (here - there)
            kept.append((x + share * (next_x - x), y + share * (next_y - y)))
    return kept
