"""Enlarged views of crowded places: a frame on the main view, and a panel in which everything has room."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

from weld_packets.diagrams.layout import EDGE, TEXT, Frame, extent_of
from weld_packets.diagrams.scene import Outline
from weld_packets.diagrams.spots.marks import Seen, write_label
from weld_packets.drawing.boxes import Box, Crowd, Spot2, hull
from weld_packets.drawing.lettering import number
from weld_packets.drawing.palette import INK
from weld_packets.drawing.placement import Wanted, place
from weld_packets.drawing.shapes import polyline, rectangle
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.geometry.nearest import smallest_distance
from weld_packets.grouping import grouped

CROWDED_PX, TOUCHING_PX = 13.0, 8.5
"""Spots closer than the first get an enlarged view; when that makes too many views, those closer than the second."""
_MAXIMUM_DETAILS = 4
_FRAME_STYLE = Style(INK, 1.4, dash=(7, 3, 2, 3))
_PANEL_EDGE = Style(INK, 1.4)
_COMPONENT_EDGE = Style(INK, 1.2)
_MINIMUM_PITCH, _MAXIMUM_PIECES = 20.0, 12
_WANTED_PITCH, _PAD, _TALLEST, _GAP, _TITLE, _NARROWEST = 50.0, 44.0, 300.0, 18.0, 26.0, 200.0


@dataclass(frozen=True, slots=True)
class Detail:
    """A crowded group with its panel on the sheet: the frame's box is the panel."""

    name: str
    main: Frame
    on_main: Box
    frame: Frame
    spots: tuple[Seen, ...]


def crowded_groups(seen: Sequence[tuple[Frame, Sequence[Seen]]]) -> list[tuple[Frame, list[Seen]]]:
    """Return the groups of spots that need an enlarged view."""
    groups: list[tuple[Frame, list[Seen]]] = []
    for limit in (CROWDED_PX, TOUCHING_PX):
        groups = [
            (frame, [spots[index] for index in members])
            for frame, spots in seen
            for members in crowded([one.at for one in spots], limit)
        ]
        if len(groups) <= _MAXIMUM_DETAILS:
            break
    return groups


def enlarged(groups: Sequence[tuple[Frame, list[Seen]]], width: float, top: float) -> tuple[list[Detail], float]:
    """Return a panel for each group, in rows from ``top`` on a sheet of ``width``, and where they end."""
    details: list[Detail] = []
    x, bottom = EDGE, top
    for main, spots in chain.from_iterable(_pieces(*group, width) for group in groups):
        frame = _panel(main, spots, width)
        if x > EDGE and x + frame.box.width > width - EDGE:
            x, top = EDGE, bottom + _GAP
        frame = _moved(frame, x, top + _TITLE)
        again = tuple(Seen(one.spot, frame.to_sheet(one.spot.at)) for one in spots)
        on_main = hull([one.at for one in spots]).grown(7)
        details.append(Detail(f"D{len(details) + 1}", main, on_main, frame, again))
        x, bottom = frame.box.right + _GAP, max(bottom, frame.box.bottom)
    return details, bottom


def _pieces(main: Frame, spots: list[Seen], width: float) -> list[tuple[Frame, list[Seen]]]:
    """Return a group in as many pieces along its length as it takes to draw its spots well apart."""
    gap = _gap(spots) * _panel(main, spots, width).scale / main.scale
    count = min(_MAXIMUM_PIECES, max(1, math.ceil(_MINIMUM_PITCH / gap)))
    box = hull([one.at for one in spots])
    axis = 0 if box.width >= box.height else 1
    order = sorted(spots, key=lambda one: one.at[axis])
    size = math.ceil(len(order) / count)
    return [(main, order[at : at + size]) for at in range(0, len(order), size)]


def _gap(spots: Sequence[Seen]) -> float:
    """Return the smallest distance in pixels between spots that can be distinguished; infinite where none can."""
    return smallest_distance(list({(round(x, 1), round(y, 1)) for x, y in (one.at for one in spots)}))


def _panel(main: Frame, spots: Sequence[Seen], width: float) -> Frame:
    """Return the panel's frame with its box at the sheet's corner."""
    extent = extent_of(main.view, [one.spot.at for one in spots])
    gap = min(_gap(spots), _WANTED_PITCH) / main.scale
    scale = min(
        _WANTED_PITCH / gap,
        (width - 2 * EDGE - 2 * _PAD) / max(extent.width, 1e-6),
        (_TALLEST - 2 * _PAD) / max(extent.height, 1e-6),
    )
    box = Box(0, 0, max(extent.width * scale + 2 * _PAD, _NARROWEST), extent.height * scale + 2 * _PAD)
    middle = extent.left + extent.width / 2, extent.bottom + extent.height / 2
    return Frame(main.view, box, scale, (box.centre[0] - middle[0] * scale, box.centre[1] + middle[1] * scale))


def _moved(frame: Frame, x: float, y: float) -> Frame:
    box = frame.box
    return Frame(
        frame.view,
        Box(box.left + x, box.top + y, box.right + x, box.bottom + y),
        frame.scale,
        (frame.origin[0] + x, frame.origin[1] + y),
    )


def draw_detail(sheet: Sheet, crowd: Crowd, detail: Detail, outlines: Sequence[Outline]) -> None:
    """Draw the panel's edge and title, the component edges through it, and its frame on the main view."""
    box = detail.frame.box
    for outline in outlines:
        flat = [detail.frame.to_sheet(point) for point in outline.points]
        for start, end in zip(flat, [*flat[1:], flat[0]], strict=True):
            _edge(sheet, crowd, box.inside_part(start, end))
    sheet.draw(rectangle(box.left, box.top, box.width, box.height), _PANEL_EDGE, Layer.MARK)
    larger = number(detail.frame.scale / detail.main.scale, 1)
    sheet.write((box.left, box.top - 8), f"{detail.name}  ({larger} times larger)", TEXT, bold=True)
    on_main = detail.on_main
    sheet.draw(rectangle(on_main.left, on_main.top, on_main.width, on_main.height), _FRAME_STYLE, Layer.NOTE)
    crowd.block(on_main)


def _edge(sheet: Sheet, crowd: Crowd, piece: tuple[Spot2, Spot2] | None) -> None:
    if piece:
        sheet.draw(polyline(piece), _COMPONENT_EDGE, Layer.PART)
        crowd.polyline(piece)


def name_on_main(sheet: Sheet, crowd: Crowd, detail: Detail, bounds: Box) -> Box | None:
    """Write the detail's name beside its frame; None when there is no place."""
    box = detail.on_main
    wanted = Wanted(detail.name, box.centre, min(box.width, box.height) / 2, TEXT + 1, bold=True)
    placed = place([wanted], crowd, bounds)[0]
    if placed is None:
        return None
    write_label(sheet, placed)
    return placed.box


# ---------------------------------------------------------------- clusters of spots


def crowded(points: Sequence[Spot2], limit: float) -> list[list[int]]:
    """Return the groups (by index) of points that hang together by distances below ``limit``; none of one point."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    leader = list(range(len(points)))
    for index, (x, y) in enumerate(points):
        column, row = int(x // limit), int(y // limit)
        for near in ((column + dx, row + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)):
            for other in cells.get(near, ()):
                if math.dist(points[other], (x, y)) < limit:
                    leader[_root(leader, other)] = _root(leader, index)
        cells[column, row].append(index)
    groups = grouped((_root(leader, index), index) for index in range(len(points)))
    return [group for group in groups.values() if len(group) > 1]


def _root(leader: list[int], index: int) -> int:
    while leader[index] != index:
        leader[index] = leader[leader[index]]
        index = leader[index]
    return index
