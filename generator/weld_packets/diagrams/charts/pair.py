"""Two robots over one cycle: bars of what each does, and the distance of their tools under the same time axis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from weld_packets.diagrams.robots import COLOUR
from weld_packets.diagrams.scene import Side
from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.charts import Axis, Chart, chart
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import GREY, INK, PAPER, SHEET
from weld_packets.drawing.shapes import polyline, rectangle
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.packet.records.settings import Picture
from weld_packets.planning.pair.approach import distances
from weld_packets.planning.pair.blocks import Started
from weld_packets.planning.pair.records import PairPlan
from weld_packets.planning.pair.verdicts import seconds
from weld_packets.units import SystemOfUnits
from weld_packets.units.digits import WHOLE
from weld_packets.units.scales import measured_amount

_WIDTH, _HEIGHT = 780.0, 300.0
_BAR, _FIRST, _APART, _TEXT = 34.0, 58.0, 96.0, 13.0
_LOW = 0.3
"""Share of a bar's height in which a move is outlined."""
_HATCH = 7.0
_POINTS = 4
_FLAT = 0.6
"""Pixels by which a curve may miss the points that are left out."""
_NOTE = 0.62
"""Share of the height of the chart at which the smallest distance is written: above what a cycle's middle shows."""
_INCH = 25.4
_EDGE = Style(INK, 1.0)
_HATCHED = Style(INK, 1.1)
_LINK = Style(GREY, 1.2, dash=(4.0, 3.0))
_CURVE, _LIMIT = Style(INK, 1.6), Style("#b00020", 1.8, dash=(8.0, 4.0))
_MARKED = Style(INK, 2.0, PAPER)


def pair_charts(pair: PairPlan, key: str, sides: tuple[Side, Side], first: SystemOfUnits) -> tuple[Picture, ...]:
    """Return the time chart of both robots and the distance of their tools over time; none where nothing is welded."""
    if not pair.ends:
        return ()
    made, distance = _distance(pair, key, first)
    return _times(pair, key, sides, made), distance


# ---------------------------------------------------------------- bars


@dataclass(frozen=True)
class _Bars:
    """A sheet with one row of bars for each robot; ``left`` and ``right`` are those of the chart below it."""

    sheet: Sheet
    left: float
    right: float
    ends: int

    def at(self, moment: float) -> float:
        return self.left + (self.right - self.left) * moment / self.ends

    def top(self, robot: int) -> float:
        return _FIRST + robot * _APART


def _times(pair: PairPlan, key: str, sides: tuple[Side, Side], below: Chart) -> Picture:
    bars = _Bars(Sheet(_WIDTH, _FIRST + _APART + _BAR + 44), below.box.left, below.box.right, pair.ends)
    _legend(bars)
    for robot, side in enumerate(sides):
        top = bars.top(robot)
        bars.sheet.write((6, top + _BAR / 2 + 0.36 * _TEXT), pair.names[robot], _TEXT, bold=True)
        for started in pair.timed[robot]:
            _block(bars, started, top, COLOUR[side])
        for wait in pair.waits:
            if wait.robot == robot:
                _wait(bars, wait.start, wait.lasts, top)
    _links(bars, pair)
    _axis(bars, below)
    title, words = "Both robots over time", _described(pair)
    svg = to_svg(bars.sheet, key=f"{key}-pair-times", title=title, description=words)
    caption = (
        "Welds are filled, moves outlined, waits hatched with their length. A dashed line leads from the release of an "
        "interlock to the move that asks for it."
    )
    return Picture(key=f"{key}-pair-times", title=title, description=words, caption=caption, svg=svg)


def _legend(bars: _Bars) -> None:
    x = bars.left
    entries = (("weld", COLOUR["A"], 1.0), ("move", None, _LOW), ("wait", None, 1.0))
    for name, colour, share in entries:
        height = 16 * share
        box = Box(x, 24 - 8 - height / 2, x + 26, 24 - 8 + height / 2)
        bars.sheet.draw(rectangle(box.left, box.top, box.width, box.height), _filled(colour), Layer.PART)
        if name == "wait":
            _hatch(bars.sheet, box)
        bars.sheet.write((x + 32, 16 + 0.36 * _TEXT), name, _TEXT)
        x += 110


def _filled(colour: str | None) -> Style:
    return Style(INK, 1.0, colour or PAPER)


def _block(bars: _Bars, started: Started, top: float, colour: str) -> None:
    """Draw the move of a block low and outlined, its weld full and filled, with its name where that fits."""
    block = started.block
    left, weld, right = (bars.at(moment) for moment in (started.start, started.start + block.welds_from, started.end))
    if weld > left:
        low = top + _BAR * (1 - _LOW) / 2
        bars.sheet.draw(rectangle(left, low, weld - left, _BAR * _LOW), _filled(None), Layer.PART)
    if not block.weld:
        return
    bars.sheet.draw(rectangle(weld, top, right - weld, _BAR), _filled(colour), Layer.PATH)
    if text_width(block.weld, _TEXT - 2, bold=True) + 4 < right - weld:
        bars.sheet.write_in(((weld + right) / 2, top + _BAR / 2), block.weld, _TEXT - 2, bold=True, colour=PAPER)


def _wait(bars: _Bars, start: int, lasts: int, top: float) -> None:
    box = Box(bars.at(start), top, bars.at(start + lasts), top + _BAR)
    bars.sheet.draw(rectangle(box.left, box.top, box.width, box.height), _filled(None), Layer.PATH)
    _hatch(bars.sheet, box)
    text = seconds(lasts)
    half = text_width(text, _TEXT, bold=True) / 2
    middle = min(max((box.left + box.right) / 2, bars.left + half), bars.right - half)
    bars.sheet.write((middle, top - 5), text, _TEXT, anchor="center", bold=True)


def _hatch(sheet: Sheet, box: Box) -> None:
    """Draw strokes that rise to the right across a box."""
    offset = _HATCH / 2
    while offset < box.width + box.height:
        low = (box.left + min(offset, box.width), box.bottom - max(0.0, offset - box.width))
        high = (box.left + max(0.0, offset - box.height), box.bottom - min(offset, box.height))
        sheet.draw(polyline([low, high]), _HATCHED, Layer.PATH, 1)
        offset += _HATCH


def _links(bars: _Bars, pair: PairPlan) -> None:
    """Draw each interlock from where it is released to the move that asks for it, with its number between the rows."""
    low, high = bars.top(0) + _BAR, bars.top(1)
    last = -1000.0
    for number, lock in enumerate(pair.interlocks, 1):
        release = bars.at(pair.started(lock.first, lock.leaves).end)
        request = bars.at(pair.started(1 - lock.first, lock.enters).start)
        upper, lower = (release, request) if lock.first == 0 else (request, release)
        bars.sheet.draw(polyline([(upper, low), (lower, high)]), _LINK, Layer.DIMENSION)
        text = str(number)
        x = max((upper + lower) / 2, last + text_width(text, _TEXT, bold=True) + 8)
        last = x
        bars.sheet.write((x, (low + high) / 2 + 0.36 * _TEXT), text, _TEXT, anchor="center", bold=True)


def _axis(bars: _Bars, below: Chart) -> None:
    bottom = bars.top(1) + _BAR + 8
    bars.sheet.draw(polyline([(bars.left, bottom), (bars.right, bottom)]), _EDGE, Layer.DIMENSION)
    for value in below.x.ticks():
        x = bars.at(float(value) * 1000)
        bars.sheet.draw(polyline([(x, bottom), (x, bottom + 4)]), _EDGE, Layer.DIMENSION)
        bars.sheet.write((x, bottom + 5 + _TEXT), f"{value:f}", _TEXT, anchor="center")
    middle = (bars.left + bars.right) / 2
    bars.sheet.write((middle, bottom + 2 * _TEXT + 6), "time in s", _TEXT, anchor="center", bold=True)


def _described(pair: PairPlan) -> str:
    components = [f"Cycle of {seconds(pair.ends)}"]
    for robot, name in enumerate(pair.names):
        welds = [started.block.weld for started in pair.timed[robot] if started.block.weld]
        waits = [seconds(wait.lasts) for wait in pair.waits if wait.robot == robot]
        waiting = f"waits {', '.join(waits)}" if waits else "never waits"
        components.append(f"{name} welds {', '.join(dict.fromkeys(welds)) or 'nothing'} and {waiting}")
    return f"{'; '.join(components)}."


# ---------------------------------------------------------------- distance


def _distance(pair: PairPlan, key: str, first: SystemOfUnits) -> tuple[Chart, Picture]:
    is_customary = first == "US customary"
    scale, unit = (1 / _INCH, "inches") if is_customary else (1.0, "mm")
    curve = [(moment, apart * scale) for moment, apart in distances(pair.timed, pair.waiting, _POINTS)]
    highest = max(apart for _, apart in curve)
    x, y = Axis("time in s", 0.0, pair.ends / 1000), Axis(f"distance in {unit}", 0.0, 1.08 * highest)
    made = chart(_WIDTH, _HEIGHT, x, y)
    required, minimum = pair.clearance.required / 1000 * scale, pair.nearest.apart // 1000 * scale
    made.region([(x.low, 0.0), (x.high, 0.0), (x.high, required), (x.low, required)], Style(None, 0, SHEET))
    made.line([(x.low, required), (x.high, required)], _LIMIT, Layer.DIMENSION)
    made.line(_thinned(curve, made), _CURVE)
    moment = pair.nearest.moment / 1000
    made.mark((moment, minimum), _MARKED)
    shown, kept = (measured_amount(each / scale, WHOLE, first).first_text for each in (minimum, required))
    near = f"{shown} at {seconds(pair.nearest.moment)}"
    made.line([(moment, minimum), (moment, _NOTE * y.high)], _LINK, Layer.DIMENSION)
    made.words((moment, (_NOTE + 0.02) * y.high), f"minimum {near}", anchor="center", bold=True)
    made.words((x.low, required - 0.065 * y.high), f"kept: at least {kept}")
    title = "Distance of both tools over time"
    words = f"The smallest distance is {near}; at least {kept} is kept."
    svg = to_svg(made.sheet, key=f"{key}-pair-distance", title=title, description=words)
    caption = (
        "Distance of the tool centre points, waits and the paths to and from the waiting places included. "
        "The shaded band is never entered."
    )
    return made, Picture(key=f"{key}-pair-distance", title=title, description=words, caption=caption, svg=svg)


def _thinned(points: Sequence[Spot2], made: Chart) -> list[Spot2]:
    """Return the points of a curve without those from which a straight line is less than a pixel away."""
    placed = [made.at(point) for point in points]
    kept = {0, len(points) - 1, *_corners(placed, 0, len(points) - 1)}
    return [points[index] for index in sorted(kept)]


def _corners(points: Sequence[Spot2], low: int, high: int) -> Iterator[int]:
    """Yield the indices between two points that a line through both would miss."""
    stretches = [(low, high)]
    while stretches:
        low, high = stretches.pop()
        far, index = max(_offs(points, low, high), default=(0.0, 0))
        if far > _FLAT:
            yield index
            stretches += [(low, index), (index, high)]


def _offs(points: Sequence[Spot2], low: int, high: int) -> list[tuple[float, int]]:
    """Return how far above or below the line through two points each point between them is, in pixels."""
    (x, y), (end_x, end_y) = points[low], points[high]
    across, up = (end_x - x) or inf, end_y - y
    return [(abs(points[index][1] - y - (points[index][0] - x) / across * up), index) for index in range(low + 1, high)]
