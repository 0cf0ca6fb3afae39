"""The seam map of an operation: every seam from the sides that show it, with order, direction, symbol and size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from weld_packets.diagrams import scale_and_legend
from weld_packets.diagrams.components import draw_components, draw_datum, note_outlines
from weld_packets.diagrams.fitting import Labels, fitted
from weld_packets.diagrams.layout import EDGE, PAD, TOP, WIDTH, Block, Frame, Room, arrange, block_around
from weld_packets.diagrams.pictorial import seam_overview
from weld_packets.diagrams.scene import Scene, SeamLine
from weld_packets.diagrams.seams.lines import apart, draw_seam, draw_thin, note_seam, on_line_at, place_numbers
from weld_packets.diagrams.seams.torch import torch_picture
from weld_packets.diagrams.seams.words import caption, description, kinds_of, legend_entries
from weld_packets.diagrams.symbols import draw_symbol, place_symbol
from weld_packets.diagrams.views import View, choose
from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.placement import Placed
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.vectors import Point
from weld_packets.packet.records.settings import Picture

_TALLEST, _FOOT = 780.0, 74.0
_LONGEST_LEADER = 130.0
"""Pixels between a seam and its number beyond which the number is as good as missing."""
_POINTED_AT, _POINTS = 4, (0.8, 0.5, 0.25)


@dataclass(slots=True)
class SeamMap:
    """A drawn map: its sheet, the views, in which of them each seam is numbered, and its labels."""

    sheet: Sheet
    crowd: Crowd
    frames: list[Frame] = field(default_factory=list)
    homes: list[View] = field(default_factory=list)
    labels: Labels = field(default_factory=Labels)
    lines: list[list[Spot2]] = field(default_factory=list)
    """Where each seam runs in the view in which it is numbered."""
    parted: bool = False
    """Whether seams were drawn apart that fall on one line."""


def seam_pictures(scene: Scene, seams: Sequence[SeamLine]) -> tuple[Picture, ...]:
    """Return the map of an operation's seams (at least one), a pictorial view when it takes several, and the torch.

    The attitude is left out when no seam states an angle.
    """
    order = sorted(seams, key=lambda seam: (seam.side, seam.sequence))
    drawn = draw_seam_map(scene, order)
    overview = seam_overview(scene, order) if len(drawn.frames) > 1 else None
    found = (_picture(scene, order, drawn), overview, torch_picture(scene, order))
    return tuple(picture for picture in found if picture is not None)


def _picture(scene: Scene, order: Sequence[SeamLine], drawn: SeamMap) -> Picture:
    key, title, words = f"{scene.key}-seams", "Seam map", description(scene, order)
    svg = to_svg(drawn.sheet, key=key, title=title, description=words)
    said = caption(scene, order, len(drawn.frames), parted=drawn.parted)
    legend = scale_and_legend.legend_lines(scene, legend_entries(scene, order))
    return Picture(key=key, title=title, description=words, caption=said, svg=svg, legend=legend)


def draw_seam_map(scene: Scene, order: Sequence[SeamLine]) -> SeamMap:
    """Return the map in the room that its labels need."""
    return fitted(lambda room: _attempt(scene, order, room))


def _attempt(scene: Scene, order: Sequence[SeamLine], room: Room) -> SeamMap:
    drawn = SeamMap(Sheet(WIDTH * room.growth, _TALLEST * room.growth), Crowd())
    paths = [seam.trail.points() for seam in order]
    _lay_out(drawn, scene, paths, room)
    bottom = max(frame.box.bottom for frame in drawn.frames) + PAD
    _draw_bodies(drawn, scene, paths)
    flat = _draw_seams(drawn, order, paths)
    for frame in drawn.frames:
        draw_datum(drawn.sheet, frame, drawn.crowd)
    bounds = Box(4, 4, drawn.sheet.width - 4, bottom)
    for placed in place_numbers(drawn.sheet, order, flat, drawn.crowd, bounds):
        drawn.labels.keep(None if placed is None or _far_off(placed) else placed)
    _draw_symbols(drawn, order, flat, bounds)
    drawn.sheet.height = bottom + _FOOT
    scale_and_legend.foot(drawn.sheet, drawn.frames, scene.lengths, bottom + 8)
    return drawn


def _far_off(placed: Placed) -> bool:
    return placed.leader is not None and math.dist(*placed.leader) > _LONGEST_LEADER


def _lay_out(drawn: SeamMap, scene: Scene, paths: Sequence[Sequence[Point]], room: Room) -> None:
    edges = [point for outline in scene.outlines for point in outline.points]
    block = block_around([*(point for path in paths for point in path), *edges])
    choice = choose(paths, block.size, [()] * len(paths))
    area = Box(EDGE, TOP, drawn.sheet.width - EDGE, TOP + _TALLEST * room.growth)
    drawn.frames, drawn.homes = arrange(choice.views, block, area, room), list(choice.homes)


def _draw_bodies(drawn: SeamMap, scene: Scene, paths: Sequence[Sequence[Point]]) -> None:
    for frame in drawn.frames:
        draw_components(drawn.sheet, frame, scene.outlines)
        note_outlines(drawn.crowd, frame, scene.outlines)
        if len(drawn.frames) > 1:
            scale_and_legend.view_title(drawn.sheet, frame, drawn.crowd)
    scale_and_legend.overall_sizes(drawn.sheet, drawn.frames, _sized(scene, paths), scene.lengths, drawn.crowd)


def _sized(scene: Scene, paths: Sequence[Sequence[Point]]) -> Block:
    edges = [point for outline in scene.outlines for point in outline.points]
    return block_around(edges or [point for path in paths for point in path], datum_within=-math.inf)


def _draw_seams(
    drawn: SeamMap,
    order: Sequence[SeamLine],
    paths: Sequence[Sequence[Point]],
) -> list[list[Spot2]]:
    """Draw every seam in every view and return where each runs in the view in which it is numbered."""
    by_view = {frame.view: frame for frame in drawn.frames}
    seen = [[by_view[home].to_sheet(point) for point in path] for path, home in zip(paths, drawn.homes, strict=True)]
    flat = drawn.lines = apart(seen)
    drawn.parted = flat != seen
    for seam, path, home, points in zip(order, paths, drawn.homes, flat, strict=True):
        for frame in drawn.frames:
            if frame.view != home:
                draw_thin(drawn.sheet, seam.side, [frame.to_sheet(point) for point in path])
        draw_seam(drawn.sheet, seam.side, points, on_joint=seam.joint == "butt")
        note_seam(drawn.crowd, points)
    return flat


def _draw_symbols(drawn: SeamMap, order: Sequence[SeamLine], flat: Sequence[Sequence[Spot2]], bounds: Box) -> None:
    """Draw one symbol for each kind of seam, pointing at one of the first; the legend has those without room, too."""
    places = {seam.label: points for seam, points in zip(order, flat, strict=True)}
    for symbol, members in kinds_of(order).items():
        targets = [at for seam in members[:_POINTED_AT] for at, _ in on_line_at(places[seam.label], _POINTS)]
        found = place_symbol(symbol, targets, drawn.crowd, bounds)
        if found:
            draw_symbol(drawn.sheet, symbol, found)
            drawn.labels.others.append(found.box)
