"""What is drawn around the views: titles, overall sizes, scale bar and axes below, and the signs of the legend."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from weld_packets.diagrams.layout import EDGE, HEAD, TEXT, Block, Frame
from weld_packets.diagrams.scene import Lengths, Scene
from weld_packets.diagrams.views import REAR, View
from weld_packets.drawing.boxes import Crowd, Spot2
from weld_packets.drawing.dimensions import Dimension, axis, dimension, draw_dimension, scale_bar
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.palette import GREY, INK
from weld_packets.drawing.shapes import circle, polygon, polyline
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.drawing.svg import to_sign
from weld_packets.geometry.vectors import Point
from weld_packets.packet.records.settings import LegendLine

_AWAY = 26.0
_NARROW_SHIFT = 28.0
_DIMENSION_AIR, _DIMENSION_WEIGHT = 2.5, 10


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the legend: draws its sign about a centre, and says what it is; its sign takes width and height."""

    draw: Callable[[Sheet, Spot2], None]
    text: str
    width: float = 22.0
    height: float = 22.0


def legend_lines(scene: Scene, entries: Sequence[Entry]) -> tuple[LegendLine, ...]:
    """Return the legend with its signs drawn, then in words what is missing and who waits for whom."""
    undrawn = [f"No outline in the order, so not drawn: {', '.join(scene.undrawn)}"] if scene.undrawn else []
    return (
        *(LegendLine(sign=drawn_sign(entry), text=entry.text) for entry in entries),
        *(LegendLine(text=text) for text in (*undrawn, *scene.waits)),
    )


def drawn_sign(entry: Entry) -> str:
    """Return the sign of a line as SVG."""
    sheet = Sheet(entry.width, entry.height)
    entry.draw(sheet, (entry.width / 2, entry.height / 2))
    return to_sign(sheet)


def view_title(sheet: Sheet, frame: Frame, crowd: Crowd) -> None:
    """Write over a view from where it is seen, with its axes."""
    narrow = frame.box.width < text_width(frame.view.name, TEXT, bold=True)
    x, y = frame.box.left - (_NARROW_SHIFT if narrow else 0.0), frame.box.top - HEAD
    crowd.block(sheet.write((x, y), frame.view.name, TEXT, bold=True).grown(1))
    crowd.block(sheet.write((x, y + 16), axes_of(frame.view), TEXT, colour=GREY).grown(1))


def axes_of(view: View) -> str:
    """Return which axis runs right and which up, such as ``X →  Y ↑``."""
    return f"{_arrow(view.right, '→', '←')}  {_arrow(view.up, '↑', '↓')}"


def _arrow(direction: Point, plus: str, minus: str) -> str:
    name, sign = next((n, component) for n, component in zip("XYZ", direction, strict=True) if component)
    return f"{name} {plus if sign > 0 else minus}"


def overall_sizes(
    sheet: Sheet, frames: Sequence[Frame], block: Block, lengths: Lengths, crowd: Crowd, *, air: float = 0.0
) -> None:
    """Draw the size of all components along each axis once: widths below, ``air`` further off, heights at the left."""
    done: set[int] = set()
    for frame in sorted(frames, key=lambda frame: (-frame.view.row, frame.view.column)):
        low, high = (frame.to_sheet(corner) for corner in (block.low, block.high))
        left, right = sorted((low[0], high[0]))
        top, bottom = sorted((low[1], high[1]))
        for axis_index, flat, start, end in (
            (_axis(frame.view.right), 0, (left, bottom), (right, bottom)),
            (_axis(frame.view.up), 1, (left, top), (left, bottom)),
        ):
            size = block.high[axis_index] - block.low[axis_index]
            if axis_index in done or size < 1e-6:  # noqa: PLR2004 - nothing to measure
                continue
            done.add(axis_index)
            away = start[0] - frame.box.left if flat else frame.box.bottom - start[1] + air
            thought = dimension(start, end, offset=away + _AWAY, text=lengths.text(size), overall=True)
            _draw_overall(sheet, crowd, thought)


def _draw_overall(sheet: Sheet, crowd: Crowd, thought: Dimension) -> None:
    crowd.block(draw_dimension(sheet, thought).grown(1))
    crowd.bar(thought.low, thought.high, _DIMENSION_AIR)
    for start, end in thought.extensions:
        crowd.line(start, end, _DIMENSION_WEIGHT)


def _axis(direction: Point) -> int:
    return next(index for index, component in enumerate(direction) if component)


def foot(sheet: Sheet, frames: Sequence[Frame], lengths: Lengths, top: float) -> float:
    """Draw scale bar, and axes (one view) or the third-angle sign (several); return where the strip ends."""
    scale_bar(
        sheet,
        (EDGE, top + 26),
        pixels_per_mm=frames[0].scale,
        longest=170,
        unit_length=lengths.unit_length,
        label=lengths.text,
    )
    if len(frames) == 1:
        view, origin = frames[0].view, (sheet.width - EDGE - 56, top + 44)
        for direction in ((view.right, (1.0, 0.0)), (view.up, (0.0, -1.0))):
            name = "XYZ"[_axis(direction[0])]
            sign = 1 if max(direction[0], key=abs) > 0 else -1
            axis(sheet, origin, (direction[1][0] * sign, direction[1][1] * sign), name, length=30)
    else:
        _third_angle(sheet, (sheet.width - EDGE - 40, top + 30))
        words = (sheet.width - EDGE - 76, top + 30 + 0.36 * TEXT)
        said = "Third-angle views" + (", rear view below the front" if any(f.view == REAR for f in frames) else "")
        sheet.write(words, said, TEXT, anchor="right", colour=GREY)
    return top + 58


def _third_angle(sheet: Sheet, centre: Spot2) -> None:
    """Draw the projection sign of ISO 5456-2: the circles are on the side of the cone's small end."""
    x, y = centre
    line = Style(INK, 1.2)
    for radius in (4.5, 9.0):
        sheet.draw(circle((x - 16, y), radius), line, Layer.NOTE)
    sheet.draw(polygon([(x + 2, y - 4.5), (x + 24, y - 9), (x + 24, y + 9), (x + 2, y + 4.5)]), line, Layer.NOTE)
    centre_line = Style(INK, 0.7, dash=(6, 2, 1, 2))
    sheet.draw(polyline([(x - 28, y), (x + 29, y)]), centre_line, Layer.NOTE)
    sheet.draw(polyline([(x - 16, y - 12), (x - 16, y + 12)]), centre_line, Layer.NOTE)
