"""The chart of weld current over weld time: what is allowed together, the two curves of I²t, and where both are set."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from weld_packets.diagrams.charts.furniture import ALLOWED, draw_range, draw_set, field, legend, picture
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.charts import Axis, Chart
from weld_packets.drawing.palette import INK
from weld_packets.drawing.sheet import Style
from weld_packets.packet.records import Picture

_AROUND = 0.15
"""Share of the chart's range that is drawn beyond it on each side."""
_PIECES = 48
"""Straight pieces by which a curve is drawn."""
_WEAKEST, _STRONGEST = Style(INK, 1.8, dash=(9, 4)), Style(INK, 2.4)


@dataclass(frozen=True)
class Load:
    """What is drawn: labels of both axes, ranges of chart and machine, both bounds of I²t, the set point.

    ``minimum`` and ``maximum`` are squares of the current times the weld time, in the units of the axes.
    """

    time: str
    current: str
    times: tuple[float, float]
    currents: tuple[float, float]
    minimum: float
    maximum: float
    at: Spot2
    minimum_words: str
    maximum_words: str
    set_words: str


def load_picture(key: str, load: Load, caption: str) -> Picture:
    """Return the chart of one group of settings."""
    made = _drawn(load)
    bounds = ((_STRONGEST, load.maximum_words), (_WEAKEST, load.minimum_words))
    legend(made, [(style, f"I²t of the chart's {words}") for style, words in bounds], load.set_words)
    return picture(made, key, "Weld current and weld time allowed together", caption, load.set_words)


def _drawn(load: Load) -> Chart:
    made = field(_axis(load.time, load.times), _axis(load.current, load.currents), 2)
    if ring := allowed_ring(load):
        made.region(ring, ALLOWED)
    draw_range(made, load.times, load.currents)
    for bound, style in ((load.minimum, _WEAKEST), (load.maximum, _STRONGEST)):
        made.line([(time, sqrt(bound / time)) for time in _spread(made.x.low, made.x.high) if time > 0], style)
    draw_set(made, load.at)
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
    times = [
        time for time in _spread(*load.times) if sqrt(load.minimum / time) <= high and sqrt(load.maximum / time) >= low
    ]
    upper = [(time, min(high, sqrt(load.maximum / time))) for time in times]
    lower = [(time, max(low, sqrt(load.minimum / time))) for time in times]
    return [*upper, *reversed(lower)]
