"""Two revisions of an operation's welds over each other: changes are named, the old place is pale and dashed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from weld_packets.diagrams import scale_and_legend
from weld_packets.diagrams.components import draw_components, draw_datum, note_outlines
from weld_packets.diagrams.layout import EDGE, PAD, TEXT, TOP, WIDTH, Frame, arrange, block_around
from weld_packets.diagrams.robots import draw_mark
from weld_packets.diagrams.scene import Bend, Lengths, Outline, Side, Straight, Trail
from weld_packets.diagrams.seams.lines import draw_thin
from weld_packets.diagrams.views import choose
from weld_packets.drawing.boxes import Box, Crowd, Spot2, around
from weld_packets.drawing.palette import GREY, INK, PALE
from weld_packets.drawing.placement import Wanted, place
from weld_packets.drawing.shapes import arrowhead, circle, polyline, unit
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.vectors import Point
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.settings import LegendLine, Picture, WeldGeometry

_TALLEST, _FOOT = 640.0, 74.0
_DOT, _GHOST_DOT, _RING = 5.0, 7.0, 11.0
_GHOST, _GHOST_PATH = Style(PALE, 1.8, dash=(3, 2.5)), Style(PALE, 4.0, dash=(6, 4))
_MOVE, _RING_STYLE, _LEADER = Style(INK, 2.2), Style(INK, 2.4), Style(GREY, 1.0)
_SHOWN_PX = 3.0
_METRIC = Lengths(lambda length: f"{length:.0f} mm")


@dataclass(frozen=True)
class _Altered:
    """A weld that differs, by where it was and where it is; either is missing for a new or a removed one."""

    words: str
    before: Trail | None
    after: Trail | None


def overlay_picture(key: str, old: OperationSheet, new: OperationSheet, words: dict[str, str]) -> Picture:
    """Return the welds of ``new`` over those of ``old``; ``words`` says what is written beside a weld, by its key.

    Raises ValueError where neither revision has a weld.
    """
    sheet = _drawn(old, new, words)
    title = f"Operation {new.number}, {new.name}: welds before and after"
    description = "; ".join(words.values())
    svg = to_svg(sheet, key=key, title=title, description=description)
    caption = "Pale and dashed: before. Ringed: what is new, moved or removed."
    entries = (scale_and_legend.Entry(_ghost_sample, "before"), scale_and_legend.Entry(_ring_sample, "changed"))
    legend = tuple(LegendLine(sign=scale_and_legend.drawn_sign(entry), text=entry.text) for entry in entries)
    return Picture(key=key, title=title, description=description, caption=caption, svg=svg, legend=legend)


def _drawn(old: OperationSheet, new: OperationSheet, words: dict[str, str]) -> Sheet:
    before, after = _trails(old), _trails(new)
    outlines = [_outline(one.component, one.points) for one in (new.outlines or old.outlines)]
    sheet, crowd = Sheet(WIDTH, _TALLEST), Crowd()
    frames = _frames([*before.values(), *after.values()], outlines, Box(EDGE, TOP, WIDTH - EDGE, TOP + _TALLEST))
    bottom = max(frame.box.bottom for frame in frames) + PAD
    ghosts = [trail for name, trail in before.items() if name in words]
    sides = {weld.key: weld.side for weld in new.geometry}
    for frame in frames:
        draw_components(sheet, frame, outlines)
        note_outlines(crowd, frame, outlines)
        _draw_ghosts(sheet, frame, ghosts)
        for name, trail in after.items():
            _draw_weld(sheet, frame, sides[name], trail, crowd)
        if len(frames) > 1:
            scale_and_legend.view_title(sheet, frame, crowd)
        draw_datum(sheet, frame, crowd)
    altered = [_Altered(text, before.get(name), after.get(name)) for name, text in words.items()]
    _name_altered(sheet, frames, altered, crowd, Box(4, 4, WIDTH - 4, bottom))
    sheet.height = bottom + _FOOT
    scale_and_legend.foot(sheet, frames, _METRIC, bottom + 8)
    return sheet


def _frames(trails: Sequence[Trail], outlines: Sequence[Outline], area: Box) -> list[Frame]:
    paths = [trail.points() if trail.pieces else [trail.start] for trail in trails]
    if not paths:
        raise ValueError("neither revision has a weld")
    block = block_around([*(p for path in paths for p in path), *(p for o in outlines for p in o.points)])
    return arrange(choose(paths, block.size, [()] * len(paths)).views, block, area)


def _trails(operation: OperationSheet) -> dict[str, Trail]:
    return {weld.key: _trail(weld) for weld in operation.geometry if weld.pieces}


def _trail(weld: WeldGeometry) -> Trail:
    start, *others = weld.pieces
    return Trail(_point(start), tuple(_piece(piece) for piece in others))


def _piece(piece: tuple[str, ...]) -> Straight | Bend:
    ends = [_point(piece[at : at + 3]) for at in range(0, len(piece), 3)]
    return Straight(ends[0]) if len(ends) == 1 else Bend(ends[0], ends[1])


def _point(texts: Sequence[str]) -> Point:
    x, y, z = (float(text) for text in texts)
    return x, y, z


def _outline(component: str, points: Sequence[tuple[str, str, str]]) -> Outline:
    return Outline(component, tuple(_point(point) for point in points))


def _draw_ghosts(sheet: Sheet, frame: Frame, trails: Iterable[Trail]) -> None:
    """Draw welds where they were, pale and dashed beneath the present ones."""
    for trail in trails:
        if trail.pieces:
            sheet.draw(polyline([frame.to_sheet(point) for point in trail.points()]), _GHOST_PATH, Layer.GHOST)
        else:
            sheet.draw(circle(frame.to_sheet(trail.start), _GHOST_DOT), _GHOST, Layer.GHOST)


def _ghost_sample(sheet: Sheet, centre: Spot2) -> None:
    sheet.draw(circle(centre, _GHOST_DOT), _GHOST, Layer.GHOST)


def _draw_weld(sheet: Sheet, frame: Frame, side: Side, trail: Trail, crowd: Crowd) -> None:
    points = [frame.to_sheet(point) for point in trail.points()] if trail.pieces else []
    if points:
        draw_thin(sheet, side, points)
        crowd.polyline(points)
    else:
        at = frame.to_sheet(trail.start)
        draw_mark(sheet, side, at, _DOT)
        crowd.block(around(at, _DOT))


def _name_altered(sheet: Sheet, frames: Sequence[Frame], altered: Sequence[_Altered], crowd: Crowd, room: Box) -> None:
    """Ring every changed weld, show where it moved, and write what changed where it is seen best."""
    for one in altered:
        for frame in frames:
            _ring(sheet, frame, one, crowd)
    wanted = [Wanted(one.words, _seat(_best(frames, one), one), _RING, TEXT, bold=True) for one in altered]
    for label in place(wanted, crowd, room):
        if label is not None:
            if label.leader:
                sheet.draw(polyline(label.leader), _LEADER, Layer.DIMENSION)
            sheet.write(label.baseline, label.text, label.size, anchor="center", bold=True)


def _ring(sheet: Sheet, frame: Frame, one: _Altered, crowd: Crowd) -> None:
    at = _seat(frame, one)
    sheet.draw(circle(at, _RING), _RING_STYLE, Layer.NOTE)
    crowd.block(around(at, _RING))
    if one.before and one.after:
        start, end = frame.to_sheet(_middle(one.before)), frame.to_sheet(_middle(one.after))
        if math.dist(start, end) > _SHOWN_PX:
            sheet.draw(polyline([start, end]), _MOVE, Layer.COVER)
            sheet.draw(arrowhead(end, unit(start, end), 9, 4), Style(None, 0, INK), Layer.COVER)


def _seat(frame: Frame, one: _Altered) -> Spot2:
    trail = one.after or one.before
    return frame.to_sheet(_middle(trail)) if trail else frame.box.centre


def _best(frames: Sequence[Frame], one: _Altered) -> Frame:
    """Return the view in which the weld is seen to move most, else the first."""
    if not (one.before and one.after):
        return frames[0]
    start, end = _middle(one.before), _middle(one.after)
    return max(frames, key=lambda frame: math.dist(frame.to_sheet(start), frame.to_sheet(end)))


def _middle(trail: Trail) -> Point:
    points = trail.points() if trail.pieces else [trail.start]
    one, other = points[(len(points) - 1) // 2], points[len(points) // 2]
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2, (one[2] + other[2]) / 2


def _ring_sample(sheet: Sheet, centre: Spot2) -> None:
    sheet.draw(circle(centre, 8), _RING_STYLE, Layer.NOTE)
