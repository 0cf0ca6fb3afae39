"""The chart of weld current over weld time: what is allowed together, the two curves of I²t, and where both are set."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from generator.drawing.boxes import Spot2
from generator.drawing.charts import TEXT, Axis, Chart, chart
from generator.drawing.palette import BLUE, INK, PALE, PAPER, SHEET
from generator.drawing.shapes import circle, polyline, rectangle
from generator.drawing.sheet import Layer, Style
from generator.drawing.svg import to_svg
from generator.packet.records import Picture

_WIDTH, _HEIGHT, _ROW = 640.0, 380.0, 20.0
_AROUND = 0.15
"""Share of the chart's range that is drawn beyond it on each side."""
_PIECES = 48
"""Straight pieces by which a curve is drawn."""
_ALLOWED, _EDGE = Style(None, fill=SHEET), Style(PALE, 1.4, dash=(6, 4))
_WEAKEST, _STRONGEST = Style(INK, 1.8, dash=(9, 4)), Style(INK, 2.4)
_SET = Style(PAPER, 1.5, fill=BLUE)
_SAMPLE = 34.0


@dataclass(frozen=True)
class Load:
    """What is drawn: labels of both axes, ranges of chart and machine, both bounds of I²t, the set point.

    ``least`` and ``most`` are squares of the current times the weld time, in the units of the axes.
    """

    time: str
    current: str
    times: tuple[float, float]
    currents: tuple[float, float]
    least: float
    most: float
    at: Spot2
    least_words: str
    most_words: str
    set_words: str


def load_picture(key: str, load: Load, caption: str) -> Picture:
    """Return the chart of one group of settings."""
    title = "Weld current and weld time allowed together"
    made = _drawn(load)
    _legend(made, load)
    words = f"{caption} Set at {load.set_words}."
    svg = to_svg(made.sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=caption, svg=svg)


def _drawn(load: Load) -> Chart:
    made = chart(_WIDTH, _HEIGHT, _axis(load.time, load.times), _axis(load.current, load.currents))
    made.sheet.height += 4 * _ROW
    (short, long), (low, high) = load.times, load.currents
    if ring := allowed_ring(load):
        made.region(ring, _ALLOWED)
    made.line([(short, low), (long, low), (long, high), (short, high), (short, low)], _EDGE)
    for bound, style in ((load.least, _WEAKEST), (load.most, _STRONGEST)):
        made.line([(time, sqrt(bound / time)) for time in _spread(made.x.low, made.x.high) if time > 0], style)
    made.mark(load.at, _SET, 6.5)
    return made


def _axis(label: str, ends: tuple[float, float]) -> Axis:
    low, high = ends
    beyond = _AROUND * ((high - low) or high)
    return Axis(label, max(low - beyond, 0.0), high + beyond)


def _spread(low: float, high: float) -> list[float]:
    return [low + (high - low) * piece / _PIECES for piece in range(_PIECES + 1)]


def allowed_ring(load: Load) -> list[Spot2]:
    """Return the corners of what is allowed together, along the upper bound and back along the lower one.

    Empty where no weld time allows any current of the range.
    """
    low, high = load.currents
    times = [time for time in _spread(*load.times) if sqrt(load.least / time) <= high and sqrt(load.most / time) >= low]
    upper = [(time, min(high, sqrt(load.most / time))) for time in times]
    lower = [(time, max(low, sqrt(load.least / time))) for time in times]
    return [*upper, *reversed(lower)]


def _legend(made: Chart, load: Load) -> None:
    """Write what the curves, the ground and the mark mean below the chart."""
    left, half, top = made.box.left, made.box.centre[0], _HEIGHT + _ROW / 2
    sheet, down = made.sheet, 0.36 * TEXT
    for place, (style, text) in enumerate(((_STRONGEST, load.most_words), (_WEAKEST, load.least_words))):
        level = top + place * _ROW
        sheet.draw(polyline([(left, level), (left + _SAMPLE, level)]), style, Layer.NOTE)
        sheet.write((left + _SAMPLE + 10, level + down), f"I²t of the chart's {text}", TEXT)
    level = top + 2 * _ROW
    sheet.draw(rectangle(left, level - 6, _SAMPLE, 12), _ALLOWED, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + down), "allowed together", TEXT)
    sheet.draw(polyline([(half, level), (half + _SAMPLE, level)]), _EDGE, Layer.NOTE)
    sheet.write((half + _SAMPLE + 10, level + down), "range of chart and machine", TEXT)
    sheet.draw(circle((left + _SAMPLE / 2, level + _ROW), 6.5), _SET, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + _ROW + down), f"set: {load.set_words}", TEXT, bold=True)
