"""What both charts of settings that are allowed together share: size, looks, the dashed range, the legend below."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.charts import TEXT, Axis, Chart, chart
from weld_packets.drawing.palette import BLUE, PALE, PAPER, SHEET
from weld_packets.drawing.shapes import circle, polyline, rectangle
from weld_packets.drawing.sheet import Layer, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.packet.records import Picture

ALLOWED = Style(None, fill=SHEET)
_EDGE, _SET = Style(PALE, 1.4, dash=(6, 4)), Style(PAPER, 1.5, fill=BLUE)
_WIDTH, _HEIGHT, _ROW, _SAMPLE, _MARK = 640.0, 380.0, 20.0, 34.0, 6.5


def field(x: Axis, y: Axis, entries: int) -> Chart:
    """Return an empty chart with space below it for the legend of so many lines."""
    made = chart(_WIDTH, _HEIGHT, x, y)
    made.sheet.height += _ROW * (entries + 2)
    return made


def draw_range(made: Chart, across: tuple[float, float], up: tuple[float, float]) -> None:
    """Draw the range of chart and machine as a dashed frame."""
    (left, right), (low, high) = across, up
    made.line([(left, low), (right, low), (right, high), (left, high), (left, low)], _EDGE)


def draw_set(made: Chart, at: Spot2) -> None:
    """Mark where both are set."""
    made.mark(at, _SET, _MARK)


def legend(made: Chart, lines: Sequence[tuple[Style, str]], set_words: str) -> None:
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


def picture(made: Chart, key: str, title: str, caption: str, set_words: str) -> Picture:
    """Return a finished chart as a picture of a page."""
    words = f"{caption} Set at {set_words}."
    svg = to_svg(made.sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=caption, svg=svg)
