"""The seam map of an operation: every seam from the sides that show it, with order, direction, symbol and size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from weld_packets.diagrams import furniture
from weld_packets.diagrams.components import draw_components, draw_datum, draw_ghost, note_outlines
from weld_packets.diagrams.layout import EDGE, PAD, TEXT, WIDTH, Block, Frame, arrange, block_around
from weld_packets.diagrams.pictorial import seam_overview
from weld_packets.diagrams.scene import Ghost, Scene, SeamLine
from weld_packets.diagrams.seams.lines import apart, draw_seam, draw_thin, note_seam, on_line_at, place_numbers
from weld_packets.diagrams.seams.torch import torch_picture
from weld_packets.diagrams.seams.words import caption, description, legend_entries
from weld_packets.diagrams.symbols import WeldSymbol, draw_reference, draw_symbol, place_symbol, sign_of
from weld_packets.diagrams.views import View, choose
from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.placement import Placed
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.vectors import Point
from weld_packets.packet.records import Picture

_TALLEST, _FOOT = 780.0, 74.0
_GROWTH = (1.0, 1.2, 1.5, 2.0, 2.6)
_GHOST_RADIUS = 6.0
_STRIP_LINE = 44.0
_LONGEST_LEADER = 130.0
"""Pixels between a seam and its number beyond which the number is as good as missing."""
_POINTED_AT, _POINTS = 3, (0.8, 0.25)


@dataclass(slots=True)
class SeamMap:
    """A drawn map: its sheet, the views with the seams numbered in each, and the boxes that its labels took."""

    sheet: Sheet
    crowd: Crowd
    frames: list[Frame] = field(default_factory=list)
    homes: list[View] = field(default_factory=list)
    labels: list[Box] = field(default_factory=list)
    missing: int = 0
    """Numbers without a place, or with one that is too far off."""
    parted: bool = False
    """Whether seams were drawn apart that fall on one line."""


def seam_pictures(scene: Scene, seams: Sequence[SeamLine], ghost: Ghost | None = None) -> tuple[Picture, ...]:
    """Return the map of an operation's seams (at least one), a pictorial view when it takes several, and the torch.

    The attitude is left out when no seam states an angle.
    """
    order = sorted(seams, key=lambda seam: (seam.side, seam.order))
    drawn = draw_seam_map(scene, order, ghost)
    overview = seam_overview(scene, order) if len(drawn.frames) > 1 else None
    found = (_picture(scene, order, drawn), overview, torch_picture(scene, order))
    return tuple(picture for picture in found if picture is not None)


def _picture(scene: Scene, order: Sequence[SeamLine], drawn: SeamMap) -> Picture:
    key, title, words = f"{scene.key}-seams", "Seam map", description(scene, order)
    svg = to_svg(drawn.sheet, key=key, title=title, description=words)
    said = caption(scene, order, len(drawn.frames), parted=drawn.parted)
    return Picture(key=key, title=title, description=words, caption=said, svg=svg)


def draw_seam_map(scene: Scene, order: Sequence[SeamLine], ghost: Ghost | None = None) -> SeamMap:
    """Return the map on the smallest sheet that has a place for every label."""
    drawn = _attempt(scene, order, ghost, _GROWTH[0])
    for growth in _GROWTH[1:]:
        if not drawn.missing:
            break
        drawn = _attempt(scene, order, ghost, growth)
    return drawn


def _attempt(scene: Scene, order: Sequence[SeamLine], ghost: Ghost | None, growth: float) -> SeamMap:
    drawn = SeamMap(Sheet(WIDTH * growth, _TALLEST * growth), Crowd())
    top = furniture.legend(drawn.sheet, legend_entries(scene, order, ghost), 6.0)
    paths = [seam.trail.points() for seam in order]
    _lay_out(drawn, scene, paths, ghost, Box(EDGE, top, WIDTH * growth - EDGE, top + _TALLEST * growth))
    bottom = max(frame.box.bottom for frame in drawn.frames) + PAD
    _draw_bodies(drawn, scene, paths, ghost)
    flat = _draw_seams(drawn, order, paths)
    for frame in drawn.frames:
        draw_datum(drawn.sheet, frame, drawn.crowd)
    bounds = Box(4, top, drawn.sheet.width - 4, bottom)
    bottom = _draw_symbols(drawn, order, flat, bounds)
    for placed in place_numbers(drawn.sheet, order, flat, drawn.crowd, bounds):
        drawn.labels += [placed.box] if placed else []
        drawn.missing += placed is None or _far_off(placed)
    drawn.sheet.height = bottom + _FOOT
    furniture.foot(drawn.sheet, drawn.frames, scene.lengths, bottom + 8)
    return drawn


def _far_off(placed: Placed) -> bool:
    return placed.leader is not None and math.dist(*placed.leader) > _LONGEST_LEADER


def _lay_out(
    drawn: SeamMap,
    scene: Scene,
    paths: Sequence[Sequence[Point]],
    ghost: Ghost | None,
    area: Box,
) -> None:
    before = [point for trail in ghost.trails for point in trail.points()] if ghost else []
    edges = [point for outline in scene.outlines for point in outline.points]
    block = block_around([*(point for path in paths for point in path), *before, *edges])
    choice = choose(paths, block.size, [()] * len(paths))
    drawn.frames, drawn.homes = arrange(choice.views, block, area), list(choice.homes)


def _draw_bodies(drawn: SeamMap, scene: Scene, paths: Sequence[Sequence[Point]], ghost: Ghost | None) -> None:
    for frame in drawn.frames:
        draw_components(drawn.sheet, frame, scene.outlines)
        note_outlines(drawn.crowd, frame, scene.outlines)
        draw_ghost(drawn.sheet, frame, ghost, _GHOST_RADIUS)
        if len(drawn.frames) > 1:
            furniture.view_title(drawn.sheet, frame, drawn.crowd)
    furniture.overall_sizes(drawn.sheet, drawn.frames, _sized(scene, paths), scene.lengths, drawn.crowd)


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
    flat = apart(seen)
    drawn.parted = flat != seen
    for seam, path, home, points in zip(order, paths, drawn.homes, flat, strict=True):
        for frame in drawn.frames:
            if frame.view != home:
                draw_thin(drawn.sheet, seam.side, [frame.to_sheet(point) for point in path])
        draw_seam(drawn.sheet, seam.side, points)
        note_seam(drawn.crowd, points)
    return flat


def _draw_symbols(
    drawn: SeamMap,
    order: Sequence[SeamLine],
    flat: Sequence[Sequence[Spot2]],
    bounds: Box,
) -> float:
    """Draw one symbol for each kind of seam, pointing at one of the first such seams, and return where the views end.

    A symbol that finds no place among the views stands in a strip below them, before the numbers of its seams.
    """
    bottom = bounds.bottom
    kinds: dict[WeldSymbol, list[int]] = {}
    for index, seam in enumerate(order):
        symbol = WeldSymbol(sign_of(seam.joint), seam.size, f"{seam.process} {seam.position}".strip())
        kinds.setdefault(symbol, []).append(index)
    for symbol, members in kinds.items():
        targets = [at for member in members[:_POINTED_AT] for at, _ in on_line_at(flat[member], _POINTS)]
        found = place_symbol(symbol, targets, drawn.crowd, bounds)
        if found:
            draw_symbol(drawn.sheet, symbol, found)
            drawn.labels.append(found.box)
        else:
            bottom = _in_strip(drawn, symbol, [order[index] for index in members], bottom)
    return bottom


def _in_strip(drawn: SeamMap, symbol: WeldSymbol, members: Sequence[SeamLine], top: float) -> float:
    box = Box(EDGE, top + 4, EDGE + symbol.width, top + 34)
    draw_reference(drawn.sheet, symbol, box)
    names = ", ".join(seam.label for seam in members)
    drawn.sheet.write((box.right + 16, top + 29), f"seams {names}", TEXT)
    return top + _STRIP_LINE
