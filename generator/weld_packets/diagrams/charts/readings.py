"""The chart of what machines showed of one value over the set-ups of an order, with its setting and allowed range."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from weld_packets.diagrams.charts.of_settings import ALLOWED
from weld_packets.drawing.charts import Axis, Chart, chart
from weld_packets.drawing.palette import BLUE, INK, PAPER, VERMILLION
from weld_packets.drawing.shapes import rectangle
from weld_packets.drawing.sheet import Layer, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.packet.records.settings import Picture
from weld_packets.wording.english import capital

_WIDTH, _HEIGHT, _MARK = 640.0, 260.0, 5.0
_SETTING = Style(INK, 1.6, dash=(6, 4))
_LINES = (Style(BLUE, 1.4), Style(VERMILLION, 1.4))
_MARKS = (Style(PAPER, 1.5, fill=BLUE), Style(PAPER, 1.5, fill=VERMILLION))
_SHAPES = ("circles", "squares")
_BEYOND = 0.15
_MOST_TICKS = 12


@dataclass(frozen=True)
class Read:
    """One reading: at which set-up, counted from 1, with the setting and allowed range of its revision."""

    set_up: int
    number: float
    setting: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class _SetUps(Axis):
    """An axis of things that are counted: every one has its tick, or every second, third or more."""

    def ticks(self) -> list[Decimal]:
        last = int(self.high)
        return [Decimal(number) for number in range(1, last + 1, -(-last // _MOST_TICKS))]


def readings_picture(key: str, title: str, unit: str, robots: Mapping[str, Sequence[Read]], caption: str) -> Picture:
    """Return the chart of one value, the readings of each robot joined; at most two robots."""
    every = [read for reads in robots.values() for read in reads]
    made = _empty(unit, every)
    for at in sorted({read.set_up: read for read in every}.values(), key=lambda read: read.set_up):
        _range(made, at)
    for place, reads in enumerate(robots.values()):
        for one, other in pairwise(reads):
            made.line([(one.set_up, one.number), (other.set_up, other.number)], _LINES[place])
        for read in reads:
            _mark(made, read, place)
    shapes = "; ".join(f"{shape}: {robot}" for robot, shape in zip(robots, _SHAPES, strict=False))
    words = f"{capital(shapes)}. Grey: allowed range; dashed: setting. {caption}".strip()
    svg = to_svg(made.sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=words, svg=svg)


def _empty(unit: str, reads: Sequence[Read]) -> Chart:
    ends = [end for read in reads for end in (read.number, read.setting, read.low, read.high) if end is not None]
    low, high = min(ends), max(ends)
    beyond = _BEYOND * ((high - low) or abs(high) or 1.0)
    last = max(read.set_up for read in reads)
    label = f"reading in {unit}" if unit else "reading"
    return chart(_WIDTH, _HEIGHT, _SetUps("set-up", 0.5, last + 0.5), Axis(label, low - beyond, high + beyond))


def _range(made: Chart, at: Read) -> None:
    """Draw the allowed range and the setting of one set-up; an open end goes to the frame."""
    left, right = at.set_up - 0.5, at.set_up + 0.5
    low = made.y.low if at.low is None else at.low
    high = made.y.high if at.high is None else at.high
    if high > low:
        made.region([(left, low), (right, low), (right, high), (left, high)], ALLOWED)
    made.line([(left, at.setting), (right, at.setting)], _SETTING)


def _mark(made: Chart, read: Read, place: int) -> None:
    if place == 0:
        made.mark((read.set_up, read.number), _MARKS[place], _MARK)
        return
    x, y = made.at((read.set_up, read.number))
    made.sheet.draw(rectangle(x - _MARK, y - _MARK, 2 * _MARK, 2 * _MARK), _MARKS[place], Layer.MARK)
