"""The spot map of an operation: every spot numbered in its robot's sequence, with the way, the sizes and the datum."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from weld_packets.diagrams import furniture
from weld_packets.diagrams.components import draw_components, draw_datum, draw_ghost, note_outlines
from weld_packets.diagrams.faces import Face, faces_of, surfaces_of
from weld_packets.diagrams.layout import EDGE, PAD, TEXT, WIDTH, Frame, arrange, block_around
from weld_packets.diagrams.pictorial import spot_overview
from weld_packets.diagrams.robots import draw_mark
from weld_packets.diagrams.scene import Ghost, Scene, SpotPoint
from weld_packets.diagrams.spots.detail import Detail, crowded_groups, draw_detail, enlarged, name_on_main
from weld_packets.diagrams.spots.marks import Look, Seen, draw_marks, draw_ways, look_of, number_beside
from weld_packets.diagrams.spots.pitch import Span, Stretch, draw_best, sampled, smallest_edges, smallest_pitches
from weld_packets.diagrams.spots.words import caption, description, legend_entries
from weld_packets.diagrams.symbols import WeldSymbol, draw_reference, draw_symbol, place_symbol
from weld_packets.diagrams.views import choose
from weld_packets.drawing.boxes import Box, Crowd, Spot2, hull
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.outlines import Surface
from weld_packets.packet.records import Picture

_TALLEST, _FOOT = 780.0, 74.0
_GROWTH = (1.0, 1.25, 1.6, 2.1, 2.8)
_DOT, _GHOST_RADIUS = 3.2, 7.0
_TRUE = 0.98
_STRIP_LINE = 40.0
_SAMPLE = 7.0


@dataclass(frozen=True, slots=True)
class Panel:
    """A view in which spots are numbered: the whole from one side, or a detail."""

    frame: Frame
    spots: list[Seen]
    look: Look
    bounds: Box


@dataclass(slots=True)
class SpotMap:
    """A drawn map: its sheet, the boxes that its labels took, and how many labels found no place."""

    sheet: Sheet
    crowd: Crowd
    seen: list[tuple[Frame, list[Seen]]] = field(default_factory=list)
    details: list[Detail] = field(default_factory=list)
    panels: list[Panel] = field(default_factory=list)
    labels: list[Box] = field(default_factory=list)
    missing: int = 0


@dataclass(frozen=True, slots=True)
class Pattern:
    """The spots of an operation in sequence, robot A first, with their smallest distances and the geometry before."""

    spots: tuple[SpotPoint, ...]
    pitches: tuple[Span, ...]
    edges: tuple[Span, ...]
    surfaces: tuple[Surface, ...]
    faces: tuple[tuple[Face, ...], ...]
    ghost: Ghost | None


def spot_pictures(scene: Scene, spots: Sequence[SpotPoint], ghost: Ghost | None = None) -> tuple[Picture, ...]:
    """Return the map of an operation's spots (at least one), and a pictorial view when the map takes several views.

    Numbers stand inside the marks where spots are far enough apart, else beside them; crowded places are enlarged.
    """
    pattern = pattern_of(scene, spots, ghost)
    drawn = draw_spot_map(scene, pattern)
    picture = _picture(scene, pattern, drawn)
    return (picture, spot_overview(scene, pattern.spots)) if len(drawn.seen) > 1 else (picture,)


def _picture(scene: Scene, pattern: Pattern, drawn: SpotMap) -> Picture:
    key, title = f"{scene.key}-spots", "Spot map"
    words = description(scene, pattern.spots, pattern.pitches, pattern.edges)
    said = caption(scene, pattern.spots, pattern.pitches, pattern.edges, [detail.name for detail in drawn.details])
    svg = to_svg(drawn.sheet, key=key, title=title, description=words)
    return Picture(key=key, title=title, description=words, caption=said, svg=svg)


def pattern_of(scene: Scene, spots: Sequence[SpotPoint], ghost: Ghost | None = None) -> Pattern:
    """Return the spots in order with their smallest distances."""
    order = tuple(sorted(spots, key=lambda spot: (spot.side, spot.sequence)))
    surfaces = tuple(surfaces_of(scene.outlines))
    faces = tuple(tuple(faces_of(spot.at, surfaces)) for spot in order)
    return Pattern(order, tuple(smallest_pitches(order)), tuple(smallest_edges(order, faces)), surfaces, faces, ghost)


def draw_spot_map(scene: Scene, pattern: Pattern) -> SpotMap:
    """Return the map on the smallest sheet that has a place for every label."""
    drawn = _attempt(scene, pattern, _GROWTH[0])
    for growth in _GROWTH[1:]:
        if not drawn.missing:
            break
        drawn = _attempt(scene, pattern, growth)
    return drawn


def _attempt(scene: Scene, pattern: Pattern, growth: float) -> SpotMap:
    drawn = SpotMap(Sheet(WIDTH * growth, _TALLEST * growth), Crowd())
    top = furniture.legend(drawn.sheet, legend_entries(scene, pattern.spots, pattern.ghost), 6.0)
    _lay_out(drawn, scene, pattern, top, growth)
    _draw_bodies(drawn, scene, pattern)
    _draw_spots(drawn, top)
    for spans in (pattern.pitches, pattern.edges):
        _measure(drawn, scene, pattern, spans)
    _draw_symbols(drawn, pattern)
    _finish(drawn)
    return drawn


def _lay_out(drawn: SpotMap, scene: Scene, pattern: Pattern, top: float, growth: float) -> None:
    points = [spot.at for spot in pattern.spots]
    before = pattern.ghost.spots if pattern.ghost else ()
    block = block_around([*points, *before, *(point for outline in scene.outlines for point in outline.points)])
    normals = [[face.normal for face in faces] for faces in pattern.faces]
    choice = choose([[point] for point in points], block.size, normals, pattern.surfaces)
    sheet = drawn.sheet
    frames = arrange(choice.views, block, Box(EDGE, top, sheet.width - EDGE, top + _TALLEST * growth))
    for frame in frames:
        at_home = [spot for spot, home in zip(pattern.spots, choice.homes, strict=True) if home == frame.view]
        drawn.seen.append((frame, [Seen(spot, frame.to_sheet(spot.at)) for spot in at_home]))
    below = max(frame.box.bottom for frame in frames) + PAD
    drawn.details, bottom = enlarged(crowded_groups(drawn.seen), sheet.width, below)
    sheet.height = bottom + _FOOT
    furniture.foot(sheet, frames, scene.lengths, bottom + 12)


def _draw_bodies(drawn: SpotMap, scene: Scene, pattern: Pattern) -> None:
    frames = [frame for frame, _ in drawn.seen]
    for frame in frames:
        draw_components(drawn.sheet, frame, scene.outlines)
        note_outlines(drawn.crowd, frame, scene.outlines)
        draw_ghost(drawn.sheet, frame, pattern.ghost, _GHOST_RADIUS)
        if len(frames) > 1:
            furniture.view_title(drawn.sheet, frame, drawn.crowd)
    for detail in drawn.details:
        draw_detail(drawn.sheet, drawn.crowd, detail, scene.outlines)
    edges = [point for outline in scene.outlines for point in outline.points]
    sized = block_around(edges or [spot.at for spot in pattern.spots], datum_within=-math.inf)
    furniture.overall_sizes(drawn.sheet, frames, sized, scene.lengths, drawn.crowd)


def _draw_spots(drawn: SpotMap, top: float) -> None:
    in_detail = {one.spot for detail in drawn.details for one in detail.spots}
    whole = Box(4, top, drawn.sheet.width - 4, max(frame.box.bottom for frame, _ in drawn.seen) + PAD - 4)
    for frame, spots in drawn.seen:
        alone = [one for one in spots if one.spot not in in_detail]
        look = look_of(alone)
        draw_ways(drawn.sheet, spots, look.radius, drawn.crowd, hidden=in_detail)
        draw_marks(drawn.sheet, alone, look, drawn.crowd)
        for one in spots:
            if one.spot in in_detail:
                draw_mark(drawn.sheet, one.spot.side, one.at, _DOT, setting=one.spot.setting)
        drawn.panels.append(Panel(frame, alone, look, whole))
    for detail in drawn.details:
        drawn.panels.append(_draw_enlarged(drawn, detail))


def _draw_enlarged(drawn: SpotMap, detail: Detail) -> Panel:
    spots, box = list(detail.spots), detail.frame.box
    look = look_of(spots)
    every = next(spots for frame, spots in drawn.seen if frame == detail.main)
    again = [Seen(one.spot, detail.frame.to_sheet(one.spot.at)) for one in every]
    draw_ways(drawn.sheet, again, look.radius, drawn.crowd, clip=box)
    draw_marks(drawn.sheet, spots, look, drawn.crowd)
    return Panel(detail.frame, spots, look, box.grown(-2))


def _measure(drawn: SpotMap, scene: Scene, pattern: Pattern, spans: Sequence[Span]) -> None:
    for panel in drawn.panels:
        here = {one.spot for one in panel.spots}
        own = [span for span in spans if all(spot in here for spot in _ends(pattern, span))]
        stretches = list(_stretches(panel, scene, pattern, sampled(own)))
        if stretches and draw_best(drawn.sheet, stretches, drawn.crowd, panel.bounds):
            return


def _stretches(panel: Panel, scene: Scene, pattern: Pattern, spans: Sequence[Span]) -> Iterator[Stretch]:
    """Return the spans that this panel shows in true size."""
    for span in spans:
        start, end = panel.frame.to_sheet(pattern.spots[span.spot].at), panel.frame.to_sheet(span.to)
        true = math.dist(start, end) / panel.frame.scale >= _TRUE * span.distance
        if true and panel.bounds.holds(hull((start, end))):
            yield Stretch(start, end, scene.lengths.text(span.distance), panel.look.radius)


def _ends(pattern: Pattern, span: Span) -> list[SpotPoint]:
    return [pattern.spots[index] for index in (span.spot, span.other) if index is not None]


def _draw_symbols(drawn: SpotMap, pattern: Pattern) -> None:
    """Draw one symbol for each stack that states a diameter, where numbers leave room for it, else below all.

    Where stacks are set otherwise, each line below shows the marks that its spots have.
    """
    kinds = dict.fromkeys(
        (spot.stack, spot.size, spot.process, spot.setting, spot.schedule) for spot in pattern.spots if spot.size
    )
    several = len({setting for *_, setting, _ in kinds}) > 1
    for stack, size, process, setting, schedule in kinds:
        symbol = WeldSymbol("spot", size, process)
        if several or not any(
            _symbol_placed(drawn, panel, symbol, stack) for panel in drawn.panels if panel.look.inside
        ):
            box = Box(EDGE, drawn.sheet.height, EDGE + symbol.width, drawn.sheet.height + 30)
            draw_reference(drawn.sheet, symbol, box)
            words = f"spots through {stack}" + (f", weld schedule {schedule}" if several and schedule else "")
            after = (
                _draw_samples(drawn.sheet, pattern, (box.right + 16, box.top + 20), setting) if several else box.right
            )
            drawn.sheet.write((after + 16, box.top + 25), words, TEXT)
            drawn.sheet.height += _STRIP_LINE


def _draw_samples(sheet: Sheet, pattern: Pattern, at: Spot2, setting: int) -> float:
    """Draw the marks of the robots that weld at a setting, and return where they end."""
    x, y = at
    for side in sorted({spot.side for spot in pattern.spots if spot.setting == setting}):
        draw_mark(sheet, side, (x + _SAMPLE, y), _SAMPLE, setting=setting)
        x += 3 * _SAMPLE
    return x - _SAMPLE


def _symbol_placed(drawn: SpotMap, panel: Panel, symbol: WeldSymbol, stack: str) -> bool:
    targets = sampled([one.at for one in panel.spots if one.spot.stack == stack])
    found = place_symbol(symbol, targets, drawn.crowd, panel.bounds)
    if found:
        draw_symbol(drawn.sheet, symbol, found, panel.look.radius + 1)
        drawn.labels.append(found.box)
    return found is not None


def _finish(drawn: SpotMap) -> None:
    """Put the datum and the labels where there is room left."""
    for frame, _ in drawn.seen:
        draw_datum(drawn.sheet, frame, drawn.crowd)
    for detail in drawn.details:
        _keep(drawn, [name_on_main(drawn.sheet, drawn.crowd, detail, drawn.panels[0].bounds)])
    for panel in drawn.panels:
        placed = number_beside(drawn.sheet, panel.spots, panel.look, drawn.crowd, panel.bounds)
        _keep(drawn, [label.box if label else None for label in placed])


def _keep(drawn: SpotMap, boxes: Sequence[Box | None]) -> None:
    drawn.labels += [box for box in boxes if box is not None]
    drawn.missing += sum(box is None for box in boxes)
