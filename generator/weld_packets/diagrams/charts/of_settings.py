"""The charts of a group of settings: what two dials allow together, as a field with a legend below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import CurrentAndTime, WeldSettings
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.charts import TEXT, Axis, Chart, chart
from weld_packets.drawing.palette import BLUE, INK, PALE, PAPER, SHEET
from weld_packets.drawing.shapes import circle, polyline, rectangle
from weld_packets.drawing.sheet import Layer, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.packet.records.settings import Picture
from weld_packets.packet.settings.coupled import CURRENT, FEED, SPEED, TIME, joule_bounds, size_text
from weld_packets.packet.settings.values import Showing, anchor, set_text
from weld_packets.units import SPELLINGS, magnitude, printed_unit, quantity, with_unit

ALLOWED = Style(None, fill=SHEET)
_EDGE, _SET = Style(PALE, 1.4, dash=(6, 4)), Style(PAPER, 1.5, fill=BLUE)
_WIDTH, _HEIGHT, _ROW, _SAMPLE, _MARK = 640.0, 380.0, 20.0, 34.0, 6.5
_AROUND_LOAD = 0.15
"""Share of the chart's range that is drawn beyond it on each side."""
_PIECES = 48
"""Straight pieces by which a curve is drawn."""
_WEAKEST, _STRONGEST = Style(INK, 1.8, dash=(9, 4)), Style(INK, 2.4)
_AROUND_REGION = 0.12
"""Share of the chart's range that is drawn beyond it on each side."""
_LINES = {
    "required": Style(INK, 2.4),
    "target": Style(BLUE, 1.8, dash=(9, 4)),
    "largest": Style(INK, 1.8, dash=(2, 3)),
}


def settings_charts(settings: WeldSettings, showing: Showing) -> tuple[Picture, ...]:
    """Return the charts of welds that are set the same; none where no two of their dials limit each other."""
    return (*coupling_charts(settings, showing), *load_charts(settings))


def coupling_charts(settings: WeldSettings, showing: Showing) -> tuple[Picture, ...]:
    """Return the chart of wire feed and travel speed; nothing for spots and where no size of weld is required."""
    coupling = settings.coupling
    if coupling is None or coupling.fastest is None:
        return ()
    feed, speed = settings.figure(FEED), settings.figure(SPEED)
    allowed = Allowed(
        feed=f"{feed.label}, {printed_unit(coupling.feed_unit)}",
        speed=f"{speed.label}, {printed_unit(coupling.speed_unit)}",
        feeds=(float(coupling.feeds[0]), float(coupling.feeds[1])),
        speeds=(float(coupling.speeds[0]), float(coupling.speeds[1])),
        fastest=coupling.fastest,
        slowest=coupling.slowest,
        lines=tuple(SizeDrawn(line.word, size_text(line, showing), line.slope) for line in coupling.lines),
        at=(magnitude(value_of(feed), coupling.feed_unit), magnitude(value_of(speed), coupling.speed_unit)),
        set_words=f"{set_text(feed)} and {set_text(speed)}",
    )
    caption = (
        "More wire feed or less travel speed makes a larger weld. Stay in the shaded field when you change either."
    )
    return (_region_picture(anchor(settings.key, "region"), allowed, caption),)


def load_charts(settings: WeldSettings) -> tuple[Picture, ...]:
    """Return the chart of weld current over weld time; nothing for seams."""
    together = settings.together
    if together is None:
        return ()
    current, time = settings.figure(CURRENT), settings.figure(TIME)
    if current.value is None or time.value is None:
        return ()
    minimum, maximum = joule_bounds(together)
    load = Load(
        time=f"{time.label}, {printed_unit(together.time_unit)}",
        current=f"{current.label}, {printed_unit(together.current_unit)}",
        times=(float(together.times[0]), float(together.times[1])),
        currents=(float(together.currents[0]), float(together.currents[1])),
        minimum=_slope(together, magnitude(together.minimum, "kA²·s")),
        maximum=_slope(together, magnitude(together.maximum, "kA²·s")),
        at=(magnitude(time.value, together.time_unit), magnitude(current.value, together.current_unit)),
        minimum_words=f"weakest pairing: {with_unit(minimum, 'kA²·s')}",
        maximum_words=f"strongest pairing: {with_unit(maximum, 'kA²·s')}",
        set_words=f"{set_text(current)} and {set_text(time)}",
    )
    caption = (
        "Below the lower curve a weld may be cold, above the upper one metal may be expelled. "
        "Stay in the shaded field when you change either."
    )
    return (_load_picture(anchor(settings.key, "load"), load, caption),)


def _slope(together: CurrentAndTime, heat: float) -> float:
    """Return a Joule integral as current² times weld time of one pulse, in the units of both dials."""
    one = quantity(1.0, together.current_unit) ** 2.0 * quantity(1.0, together.time_unit) * together.pulses
    return heat / float(one.m_as(SPELLINGS["kA²·s"]))


# ---------------------------------------------------------------- current and weld time


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


def _load_picture(key: str, load: Load, caption: str) -> Picture:
    """Return the chart of one group of settings."""
    made = _load_chart(load)
    bounds = ((_STRONGEST, load.maximum_words), (_WEAKEST, load.minimum_words))
    _legend(made, [(style, f"I²t of the chart's {words}") for style, words in bounds], load.set_words)
    return _picture(made, key, "Weld current and weld time allowed together", caption, load.set_words)


def _load_chart(load: Load) -> Chart:
    made = _field(_load_axis(load.time, load.times), _load_axis(load.current, load.currents), 2)
    if ring := allowed_ring(load):
        made.region(ring, ALLOWED)
    _draw_range(made, load.times, load.currents)
    for bound, style in ((load.minimum, _WEAKEST), (load.maximum, _STRONGEST)):
        made.line([(time, sqrt(bound / time)) for time in _spread(made.x.low, made.x.high) if time > 0], style)
    _draw_set(made, load.at)
    return made


def _load_axis(label: str, ends: tuple[float, float]) -> Axis:
    low, high = ends
    beyond = _AROUND_LOAD * ((high - low) or high)
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


# ---------------------------------------------------------------- wire feed and travel speed


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


def _region_picture(key: str, allowed: Allowed, caption: str) -> Picture:
    """Return the chart of one group of settings."""
    made = _region_chart(allowed)
    lines = [(_LINES[line.word], f"{line.word}: {line.size}") for line in allowed.lines]
    _legend(made, lines, allowed.set_words)
    return _picture(made, key, "Wire feed and travel speed allowed together", caption, allowed.set_words)


def _region_chart(allowed: Allowed) -> Chart:
    x, y = (
        _region_axis(allowed.feed, allowed.feeds, allowed.at[0]),
        _region_axis(allowed.speed, allowed.speeds, allowed.at[1]),
    )
    made = _field(x, y, len(allowed.lines))
    made.region(weld_size_ring(allowed), ALLOWED)
    _draw_range(made, allowed.feeds, allowed.speeds)
    for line in allowed.lines:
        made.line([(x.low, line.slope * x.low), (x.high, line.slope * x.high)], _LINES[line.word])
    _draw_set(made, allowed.at)
    return made


def _region_axis(label: str, ends: tuple[float, float], at: float) -> Axis:
    low, high = min(*ends, at), max(*ends, at)
    beyond = _AROUND_REGION * (high - low)
    return Axis(label, low - beyond, high + beyond)


def weld_size_ring(allowed: Allowed) -> list[Spot2]:
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


# ---------------------------------------------------------------- what both charts share


def _field(x: Axis, y: Axis, entries: int) -> Chart:
    """Return an empty chart with space below it for the legend of so many lines."""
    made = chart(_WIDTH, _HEIGHT, x, y)
    made.sheet.height += _ROW * (entries + 2)
    return made


def _draw_range(made: Chart, across: tuple[float, float], up: tuple[float, float]) -> None:
    """Draw the range of chart and machine as a dashed frame."""
    (left, right), (low, high) = across, up
    made.line([(left, low), (right, low), (right, high), (left, high), (left, low)], _EDGE)


def _draw_set(made: Chart, at: Spot2) -> None:
    """Mark where both are set."""
    made.mark(at, _SET, _MARK)


def _legend(made: Chart, lines: Sequence[tuple[Style, str]], set_words: str) -> None:
    """Write what the lines, the ground and the mark mean, one under another below the chart."""
    left, half, top = made.box.left, made.box.centre[0], _HEIGHT + _ROW / 2
    sheet, down = made.sheet, 0.36 * TEXT
    for place, (style, text) in enumerate(lines):
        level = top + place * _ROW
        sheet.draw(polyline([(left, level), (left + _SAMPLE, level)]), style, Layer.NOTE)
        sheet.write((left + _SAMPLE + 10, level + down), text, TEXT)
    level = top + len(lines) * _ROW
    sheet.draw(rectangle(left, level - 6, _SAMPLE, 12), ALLOWED, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + down), "allowed together", TEXT)
    sheet.draw(polyline([(half, level), (half + _SAMPLE, level)]), _EDGE, Layer.NOTE)
    sheet.write((half + _SAMPLE + 10, level + down), "range of chart and machine", TEXT)
    sheet.draw(circle((left + _SAMPLE / 2, level + _ROW), _MARK), _SET, Layer.NOTE)
    sheet.write((left + _SAMPLE + 10, level + _ROW + down), f"set: {set_words}", TEXT, bold=True)


def _picture(made: Chart, key: str, title: str, caption: str, set_words: str) -> Picture:
    """Return a finished chart as a picture of a page."""
    words = f"{caption} Set at {set_words}."
    svg = to_svg(made.sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=caption, svg=svg)
