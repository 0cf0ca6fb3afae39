"""The spot map of an operation: every spot numbered in its robot's sequence, with the path, the sizes and the datum."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from weld_packets.diagrams import scale_and_legend
from weld_packets.diagrams.components import draw_components, draw_datum, note_outlines
from weld_packets.diagrams.fitting import Labels, fitted
from weld_packets.diagrams.layout import EDGE, PAD, TOP, WIDTH, Frame, Room, arrange, block_around
from weld_packets.diagrams.pictorial import spot_overview
from weld_packets.diagrams.robots import draw_mark
from weld_packets.diagrams.scene import Scene, SpotPoint
from weld_packets.diagrams.spots.detail import Detail, crowded_groups, draw_detail, enlarged, name_on_main
from weld_packets.diagrams.spots.marks import (
    NUMBER,
    Look,
    Move,
    Seen,
    cut_off,
    draw_marks,
    draw_moves,
    in_close_rows,
    look_of,
    number_beside,
    pairs_in_sequence,
)
from weld_packets.diagrams.spots.pitch import Span, Stretch, draw_best, sampled, smallest_edges, smallest_pitches
from weld_packets.diagrams.spots.words import caption, description, legend_entries
from weld_packets.diagrams.views import Choice, Face, choose, faces_of, surfaces_of
from weld_packets.drawing.boxes import Box, Crowd, hull
from weld_packets.drawing.lettering import text_width
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.outlines import Surface
from weld_packets.packet.records.settings import Picture
from weld_packets.wording.english import capital

_TALLEST, _FOOT = 780.0, 74.0
_DOT = 3.2
_TRUE = 0.98


@dataclass(frozen=True, slots=True)
class Panel:
    """A view in which spots are numbered: the whole from one side, or a detail."""

    frame: Frame
    spots: list[Seen]
    look: Look
    bounds: Box


@dataclass(slots=True)
class SpotMap:
    """A drawn map: its sheet, its views and panels, its labels and moves."""

    sheet: Sheet
    crowd: Crowd
    seen: list[tuple[Frame, list[Seen]]] = field(default_factory=list)
    details: list[Detail] = field(default_factory=list)
    panels: list[Panel] = field(default_factory=list)
    labels: Labels = field(default_factory=Labels)
    moves: list[Move] = field(default_factory=list)
    air: float = 0.0
    """Room above and below the views for numbers that are written upwards."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """The spots of an operation in sequence, robot A first, with their smallest distances and the faces they lie on."""

    spots: tuple[SpotPoint, ...]
    pitches: tuple[Span, ...]
    edges: tuple[Span, ...]
    surfaces: tuple[Surface, ...]
    faces: tuple[tuple[Face, ...], ...]


def spot_pictures(scene: Scene, spots: Sequence[SpotPoint]) -> tuple[Picture, ...]:
    """Return the map of an operation's spots (at least one), and a pictorial view when the map takes several views.

    Numbers are inside the marks where spots are far enough apart, else beside them; crowded places are enlarged.
    """
    pattern = pattern_of(scene, spots)
    drawn = draw_spot_map(scene, pattern)
    picture = _picture(scene, pattern, drawn)
    if len(drawn.seen) == 1:
        return (picture,)
    return picture, spot_overview(scene, pattern.spots, _between_views(pattern, drawn))


def _picture(scene: Scene, pattern: Pattern, drawn: SpotMap) -> Picture:
    key, title = f"{scene.key}-spots", capital(f"{scene.weld} map")
    words = description(scene, pattern.spots, pattern.pitches, pattern.edges)
    details = [detail.name for detail in drawn.details]
    said = caption(
        scene, pattern.spots, pattern.pitches, pattern.edges, details, elsewhere=_between_views(pattern, drawn)
    )
    svg = to_svg(drawn.sheet, key=key, title=title, description=words)
    legend = scale_and_legend.legend_lines(scene, legend_entries(scene, pattern.spots))
    return Picture(key=key, title=title, description=words, caption=said, svg=svg, legend=legend)


def _between_views(pattern: Pattern, drawn: SpotMap) -> list[tuple[SpotPoint, SpotPoint]]:
    """Return the moves whose two spots are numbered in different views."""
    views = {one.spot: index for index, (_, spots) in enumerate(drawn.seen) for one in spots}
    return [
        (one, other) for one, other in pairwise(pattern.spots) if one.side == other.side and views[one] != views[other]
    ]


def pattern_of(scene: Scene, spots: Sequence[SpotPoint]) -> Pattern:
    """Return the spots in order with their smallest distances."""
    order = tuple(sorted(spots, key=lambda spot: (spot.side, spot.sequence)))
    surfaces = tuple(surfaces_of(scene.outlines))
    faces = tuple(tuple(faces_of(spot.at, surfaces)) for spot in order)
    return Pattern(order, tuple(smallest_pitches(order)), tuple(smallest_edges(order, faces)), surfaces, faces)


def draw_spot_map(scene: Scene, pattern: Pattern) -> SpotMap:
    """Return the map in the room that its labels need."""
    return fitted(lambda room: _attempt(scene, pattern, room))


def _attempt(scene: Scene, pattern: Pattern, room: Room) -> SpotMap:
    drawn = SpotMap(Sheet(WIDTH * room.growth, _TALLEST * room.growth), Crowd())
    _lay_out(drawn, scene, pattern, room)
    _draw_bodies(drawn, scene, pattern)
    _draw_spots(drawn)
    _name(drawn)
    for spans in (pattern.pitches, pattern.edges):
        _measure(drawn, scene, pattern, spans)
    return drawn


def _lay_out(drawn: SpotMap, scene: Scene, pattern: Pattern, room: Room) -> None:
    points = [spot.at for spot in pattern.spots]
    block = block_around([*points, *(point for outline in scene.outlines for point in outline.points)])
    normals = [[face.normal for face in faces] for faces in pattern.faces]
    choice = choose([[point] for point in points], block.size, normals, pattern.surfaces)
    sheet = drawn.sheet
    area = Box(EDGE, TOP, sheet.width - EDGE, TOP + _TALLEST * room.growth)
    drawn.seen = _seen(arrange(choice.views, block, area, room), pattern, choice)
    drawn.air = _air(drawn.seen)
    if drawn.air:
        drawn.seen = _seen(arrange(choice.views, block, area, replace(room, air=drawn.air)), pattern, choice)
    frames = [frame for frame, _ in drawn.seen]
    below = max(frame.box.bottom for frame in frames) + PAD + drawn.air
    drawn.details, bottom = enlarged(crowded_groups(drawn.seen), sheet.width, below)
    sheet.height = bottom + _FOOT
    scale_and_legend.foot(sheet, frames, scene.lengths, bottom + 12)


def _seen(frames: Sequence[Frame], pattern: Pattern, choice: Choice) -> list[tuple[Frame, list[Seen]]]:
    """Return each view with the spots that are numbered in it."""
    homes = list(zip(pattern.spots, choice.homes, strict=True))
    return [
        (frame, [Seen(spot, frame.to_sheet(spot.at)) for spot, home in homes if home == frame.view]) for frame in frames
    ]


def _air(seen: Sequence[tuple[Frame, Sequence[Seen]]]) -> float:
    """Return the room above and below the views for numbers that are written upwards beside close rows."""
    return max(
        (
            text_width(one.spot.label, NUMBER, bold=True)
            for _, spots in seen
            if not look_of(spots).inside
            for one, close in zip(spots, in_close_rows(spots), strict=True)
            if close
        ),
        default=0.0,
    )


def _draw_bodies(drawn: SpotMap, scene: Scene, pattern: Pattern) -> None:
    frames = [frame for frame, _ in drawn.seen]
    for frame in frames:
        draw_components(drawn.sheet, frame, scene.outlines)
        note_outlines(drawn.crowd, frame, scene.outlines)
        if len(frames) > 1:
            scale_and_legend.view_title(drawn.sheet, frame, drawn.crowd)
    for detail in drawn.details:
        draw_detail(drawn.sheet, drawn.crowd, detail, scene.outlines)
    edges = [point for outline in scene.outlines for point in outline.points]
    sized = block_around(edges or [spot.at for spot in pattern.spots], datum_within=-math.inf)
    scale_and_legend.overall_sizes(drawn.sheet, frames, sized, scene.lengths, drawn.crowd, air=drawn.air)


def _draw_spots(drawn: SpotMap) -> None:
    in_detail = {one.spot for detail in drawn.details for one in detail.spots}
    whole = Box(4, 4, drawn.sheet.width - 4, max(frame.box.bottom for frame, _ in drawn.seen) + PAD + drawn.air - 4)
    for frame, spots in drawn.seen:
        alone = [one for one in spots if one.spot not in in_detail]
        look = look_of(alone)
        draw_marks(drawn.sheet, alone, look, drawn.crowd)
        for one in spots:
            if one.spot in in_detail:
                draw_mark(drawn.sheet, one.spot.side, one.at, _DOT, setting=one.spot.setting)
        drawn.panels.append(Panel(frame, alone, look, whole))
        moves = [
            (one, other)
            for one, other in pairs_in_sequence(spots)
            if not (one.spot in in_detail and other.spot in in_detail)
        ]
        drawn.moves += draw_moves(drawn.sheet, spots, moves, drawn.crowd, radius=look.radius, bounds=whole)
    for detail in drawn.details:
        drawn.panels.append(_draw_enlarged(drawn, detail))


def _draw_enlarged(drawn: SpotMap, detail: Detail) -> Panel:
    spots, box = list(detail.spots), detail.frame.box
    look = look_of(spots)
    every = next(spots for frame, spots in drawn.seen if frame == detail.main)
    again = [Seen(one.spot, detail.frame.to_sheet(one.spot.at)) for one in every]
    draw_marks(drawn.sheet, spots, look, drawn.crowd)
    moves = cut_off(pairs_in_sequence(again), box)
    drawn.moves += draw_moves(drawn.sheet, spots, moves, drawn.crowd, radius=look.radius, bounds=box)
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


def _name(drawn: SpotMap) -> None:
    """Put the datum and the labels where there is room."""
    for frame, _ in drawn.seen:
        draw_datum(drawn.sheet, frame, drawn.crowd)
    for detail in drawn.details:
        box = name_on_main(drawn.sheet, drawn.crowd, detail, drawn.panels[0].bounds)
        drawn.labels.others += [box] if box else []
        drawn.labels.missing += box is None
    for panel in drawn.panels:
        for label in number_beside(drawn.sheet, panel.spots, panel.look, drawn.crowd, panel.bounds):
            drawn.labels.keep(label)
