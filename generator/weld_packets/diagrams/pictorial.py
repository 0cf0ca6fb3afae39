"""The pictorial view of an operation whose welds do not lie in one plane: where each weld is, at a glance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from weld_packets.diagrams.components import draw_components, draw_datum, note_outlines
from weld_packets.diagrams.layout import EDGE, PAD, TEXT, TOP, WIDTH, Frame, block_around, pictorial_frame
from weld_packets.diagrams.scene import Scene, SeamLine, SpotPoint
from weld_packets.diagrams.seams import words as seam_words
from weld_packets.diagrams.seams.lines import apart, draw_seam, note_seam, place_numbers
from weld_packets.diagrams.spots import words as spot_words
from weld_packets.diagrams.spots.marks import Look, Seen, draw_marks, draw_moves, number_beside
from weld_packets.diagrams.views import PICTORIAL
from weld_packets.drawing.boxes import Box, Crowd, Spot2
from weld_packets.drawing.dimensions import axis
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.vectors import Point
from weld_packets.packet.records.settings import Picture
from weld_packets.wording.english import capital

_TALLEST, _FOOT = 640.0, 70.0
_SPOT_RADIUS = 5.0
_STARTS = " Starts, stops and directions are on the map."
_AXES: tuple[tuple[str, Point], ...] = (("X", (1, 0, 0)), ("Y", (0, 1, 0)), ("Z", (0, 0, 1)))
_CAPTION = "Seen from the front, the right and above; not for measuring. Signs as on the map."


def seam_overview(scene: Scene, seams: Sequence[SeamLine]) -> Picture:
    """Return the pictorial view of an operation's seams (at least one)."""
    sheet, crowd = Sheet(WIDTH, _TALLEST), Crowd()
    paths = [seam.trail.points() for seam in seams]
    frame = _ground(sheet, crowd, scene, [point for path in paths for point in path])
    flat = apart([[frame.to_sheet(point) for point in path] for path in paths])
    for seam, points in zip(seams, flat, strict=True):
        draw_seam(sheet, seam.side, points, on_joint=seam.joint == "butt", courses=False)
        note_seam(crowd, points)
    draw_datum(sheet, frame, crowd)
    place_numbers(sheet, [replace(seam, size="", passes=1) for seam in seams], flat, crowd, _bounds(sheet, frame))
    return _picture(
        scene,
        sheet,
        "seams-overview",
        "Seams, pictorial view",
        seam_words.description(scene, seams),
        added=_STARTS,
    )


def spot_overview(scene: Scene, spots: Sequence[SpotPoint], between: Sequence[tuple[SpotPoint, SpotPoint]]) -> Picture:
    """Return the pictorial view of an operation's spots (at least one), with the moves ``between`` views alone."""
    sheet, crowd = Sheet(WIDTH, _TALLEST), Crowd()
    frame = _ground(sheet, crowd, scene, [spot.at for spot in spots])
    seen = [Seen(spot, frame.to_sheet(spot.at)) for spot in spots]
    look = Look(_SPOT_RADIUS, inside=False)
    draw_marks(sheet, seen, look, crowd)
    moves = [(Seen(one, frame.to_sheet(one.at)), Seen(other, frame.to_sheet(other.at))) for one, other in between]
    draw_moves(sheet, seen, moves, crowd, radius=look.radius, bounds=_bounds(sheet, frame))
    draw_datum(sheet, frame, crowd)
    number_beside(sheet, seen, look, crowd, _bounds(sheet, frame))
    said = spot_words.description(scene, spots, (), ())
    moved = " Moves are drawn only from one view of the map to another." if between else ""
    return _picture(scene, sheet, "spots-overview", f"{capital(scene.weld)}s, pictorial view", said, added=moved)


def _ground(
    sheet: Sheet,
    crowd: Crowd,
    scene: Scene,
    welds: Sequence[Point],
) -> Frame:
    points = [*welds, *(point for outline in scene.outlines for point in outline.points)]
    frame = pictorial_frame(block_around(points).corners(), Box(EDGE, TOP, WIDTH - EDGE, _TALLEST))
    sheet.height = frame.box.bottom + _FOOT
    draw_components(sheet, frame, scene.outlines)
    note_outlines(crowd, frame, scene.outlines)
    _draw_axes(sheet, crowd, (EDGE + 20, sheet.height - 34))
    return frame


def _draw_axes(sheet: Sheet, crowd: Crowd, origin: Spot2) -> None:
    for name, direction in _AXES:
        u, v = PICTORIAL.flat(direction)
        crowd.block(axis(sheet, origin, (u, -v), name, length=32, size=TEXT))


def _bounds(sheet: Sheet, frame: Frame) -> Box:
    return Box(4, frame.box.top - PAD, WIDTH - 4, sheet.height - 4)


def _picture(scene: Scene, sheet: Sheet, name: str, title: str, description: str, *, added: str = "") -> Picture:
    key = f"{scene.key}-{name}"
    svg = to_svg(sheet, key=key, title=title, description=description)
    return Picture(key=key, title=title, description=description, caption=_CAPTION + added, svg=svg)
