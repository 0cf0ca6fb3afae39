"""Maps can be read without guessing: labels, moves and arrowheads of generated operations and of the demo's orders."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from itertools import combinations, pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from weld_packets.diagrams import illustrations
from weld_packets.diagrams.layout import TEXT, WIDTH
from weld_packets.diagrams.scene import Bend, Lengths, Outline, Scene, SeamLine, SpotPoint, Straight, Trail
from weld_packets.diagrams.seams.map import SeamMap, draw_seam_map
from weld_packets.diagrams.spots.map import SpotMap, draw_spot_map, pattern_of
from weld_packets.drawing.boxes import Box, Spot2, around
from weld_packets.drawing.placement import Placed, gap
from weld_packets.drawing.routing import Course, distance_to
from weld_packets.geometry.vectors import Point
from weld_packets.packet.operation.view import OperationView
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import open_workspace
from weld_packets.sources.orders.order_folders import order_names

ROOT = Path(__file__).parents[2]
GENERATED = (Phase.explicit, Phase.reuse, Phase.generate)
MOST_SHARED = 0.4
"""Of a move off its ends, what may lie on another one."""
LINE = 3.0
"""Lines nearer than this look like one."""
CROSSING = 15.0
"""Pixels that a line takes to cross another at a slant."""
STRAY = 20.0
FEW_ON_EDGES = 2
TABLET = 788 / WIDTH
"""Pixels of an upright tablet to a pixel of the sheet."""
SMALLEST_LETTER = 13.0
"""2.5 mm at 5.2 pixels per mm."""
CAPITAL_EM = 0.71
"""Height of a capital or a digit in the common sans-serif faces."""


def plate(name: str, left: float, low: float, width: float, height: float) -> Outline:
    right, high = left + width, low + height
    return Outline(name, ((left, low, 0), (right, low, 0), (right, high, 0), (left, high, 0)))


def scene(*outlines: Outline) -> Scene:
    return Scene("operation-1", "corner", ("C1A", "C1B"), outlines, Lengths(lambda mm: f"{mm:.0f} mm"), "spot")


def numbered(places: Sequence[Point], side: Any) -> list[SpotPoint]:
    return [SpotPoint(index, f"{side}{index:02}", side, place) for index, place in enumerate(places, 1)]


@st.composite
def spot_operations(draw: st.DrawFn) -> tuple[Scene, list[SpotPoint]]:
    """Return rows or columns of spots on stiffeners of a panel, welded along them, ends first, or in any order."""
    shuffled = random.Random(draw(st.integers(0, 10**6)))  # noqa: S311 - generated operations, no secrets
    lines, count = draw(st.integers(1, 3)), draw(st.integers(3, 8))
    pitch, apart = draw(st.integers(40, 90)), draw(st.integers(110, 260))
    upright, stiffened = draw(st.booleans()), draw(st.booleans())
    order = draw(st.sampled_from(["along", "ends first", "any"]))
    spots: list[SpotPoint] = []
    outlines = []
    for number, side in enumerate(("A", "B")):
        places: list[Point] = []
        for line in range(lines):
            across = 80.0 + (number * lines + line) * apart
            ranks = list(range(count))
            if order == "ends first":
                ranks.sort(key=lambda rank: (rank not in (0, count - 1), rank))
            elif order == "any":
                shuffled.shuffle(ranks)
            along = [80.0 + pitch * rank for rank in ranks]
            places += [(across, each, 0.0) if upright else (each, across, 0.0) for each in along]
            if stiffened:
                long = pitch * (count - 1) + 40
                box = (across - 20, 60, 40, long) if upright else (60, across - 20, long, 40)
                outlines.append(plate(f"stiffener {side}{line}", *box))
        spots += numbered(places, side)
    extent = 160.0 + (2 * lines - 1) * apart, 160.0 + pitch * (count - 1)
    panel = plate("panel", 0, 0, *(extent if upright else extent[::-1]))
    return scene(panel, *outlines), spots


@st.composite
def seam_operations(draw: st.DrawFn) -> tuple[Scene, list[SeamLine]]:
    """Return short seams on both sides of ribs, and rings, on a base plate."""
    ribs, rings = draw(st.integers(1, 5)), draw(st.integers(0, 3))
    length, turned = draw(st.integers(60, 160)), draw(st.booleans())
    sizes = draw(st.lists(st.sampled_from(["a3", "a4"]), min_size=16, max_size=16))
    trails: list[Trail] = []
    for rib in range(ribs):
        middle = 100.0 + 160 * rib
        for x in (middle - 4, middle + 4):
            low, high = (x, 80.0, 0.0), (x, 80.0 + length, 0.0)
            start, end = (high, low) if turned and x > middle else (low, high)
            trails.append(Trail(start, (Straight(end),)))
    for index in range(rings):
        x, y = 120.0 + 200 * index, 330.0
        pieces = (Bend((x, y + 30, 0.0), (x - 30, y, 0.0)), Bend((x, y - 30, 0.0), (x + 30, y, 0.0)))
        trails.append(Trail((x + 30, y, 0.0), pieces))
    seams = [
        SeamLine(1 + at // 2, f"{'AB'[at % 2]}{1 + at // 2}", "AB"[at % 2], trail, "T", size, "135", "PB")  # type: ignore[arg-type]
        for at, (trail, size) in enumerate(zip(trails, sizes, strict=False))
    ]
    return scene(plate("base", 0, 0, 900, 420)), seams


def drawn_spots(operation: tuple[Scene, list[SpotPoint]]) -> SpotMap:
    return draw_spot_map(operation[0], pattern_of(*operation))


def drawn_seams(operation: tuple[Scene, list[SeamLine]]) -> SeamMap:
    return draw_seam_map(operation[0], sorted(operation[1], key=lambda seam: (seam.side, seam.sequence)))


def spot_marks(drawn: SpotMap) -> dict[str, list[Spot2]]:
    """Return where each spot is that has its number beside it."""
    return {one.spot.label: [one.at] for panel in drawn.panels if not panel.look.inside for one in panel.spots}


def seam_marks(drawn: SeamMap, seams: Sequence[SeamLine]) -> dict[str, list[Spot2]]:
    """Return points along each seam as it is drawn."""
    order = sorted(seams, key=lambda seam: (seam.side, seam.sequence))
    return {seam.label: points for seam, points in zip(order, drawn.lines, strict=True)}


def edges_of(drawn: SpotMap | SeamMap, outlines: Sequence[Outline]) -> list[tuple[Spot2, Spot2]]:
    frames = [frame for frame, _ in drawn.seen] if isinstance(drawn, SpotMap) else drawn.frames
    flat = [[frame.to_sheet(point) for point in outline.points] for frame in frames for outline in outlines]
    return [pair for points in flat for pair in pairwise([*points, points[0]])]


def misread(labels: Sequence[Placed], marks: dict[str, list[Spot2]]) -> list[str]:
    """Return the labels without a leader that are nearer to another mark than to their own, and stray leaders."""
    wrong = []
    for label in labels:
        if label.text not in marks:
            continue
        off = {name: min(gap(label.box, at) for at in points) for name, points in marks.items()}
        if label.leader is None and min(off, key=off.__getitem__) != label.text:
            wrong.append(label.text)
        if label.leader is not None:
            start = label.leader[0]
            near = {name: min(math.dist(start, at) for at in points) for name, points in marks.items()}
            if near[label.text] > STRAY or min(near, key=near.__getitem__) != label.text:
                wrong.append(label.text)
    return wrong


def shared(one: Course, other: Course) -> float:
    """Return the share of a move, off its ends, that lies on another one; to cross it is none."""
    samples = [one.at(0.1 + 0.8 * step / 40) for step in range(41)]
    pieces = list(pairwise(other.points()))
    share = sum(any(distance_to(at, *piece) < LINE for piece in pieces) for at in samples) / len(samples)
    return share if share * one.length > CROSSING else 0.0


def check_spots(drawn: SpotMap, overlapping: Any) -> None:
    marks = spot_marks(drawn)
    assert drawn.labels.missing == 0
    assert overlapping(drawn.labels.boxes) == []
    around_marks = [around(one.at, 0.8 * panel.look.radius) for panel in drawn.panels for one in panel.spots]
    assert not [box for box in drawn.labels.boxes for mark in around_marks if box.overlaps(mark)]
    assert misread(drawn.labels.welds, marks) == []
    heads = [move.head.box for move in drawn.moves]
    assert not [box for box in drawn.labels.boxes for head in heads if box.overlaps(head)]
    assert not [pair for pair in combinations(heads, 2) if pair[0].grown(-2).overlaps(pair[1].grown(-2))]
    lines = [move.line for move in drawn.moves]
    assert max((shared(one, other) for one in lines for other in lines if one is not other), default=0.0) <= MOST_SHARED


def check_seams(drawn: SeamMap, seams: Sequence[SeamLine], overlapping: Any) -> None:
    assert drawn.labels.missing == 0
    assert overlapping(drawn.labels.boxes) == []
    assert misread(drawn.labels.welds, seam_marks(drawn, seams)) == []


def on_edges(drawn: SpotMap | SeamMap, outlines: Sequence[Outline]) -> list[str]:
    """Return the labels through which an edge runs."""
    edges = edges_of(drawn, outlines)
    return [label.text for label in drawn.labels.welds if any(label.box.crossed_by(*edge) for edge in edges)]


@settings(max_examples=40, deadline=None, phases=GENERATED, derandomize=True)
@given(operation=spot_operations())
def test_generated_spot_maps_can_be_read(overlapping: Any, operation: tuple[Scene, list[SpotPoint]]) -> None:
    drawn = drawn_spots(operation)
    check_spots(drawn, overlapping)
    assert len(drawn.moves) == len(operation[1]) - 2
    assert len(on_edges(drawn, operation[0].outlines)) <= drawn.labels.struck


@settings(max_examples=40, deadline=None, phases=GENERATED, derandomize=True)
@given(operation=seam_operations())
def test_generated_seam_maps_can_be_read(overlapping: Any, operation: tuple[Scene, list[SeamLine]]) -> None:
    drawn = drawn_seams(operation)
    check_seams(drawn, operation[1], overlapping)
    assert len(on_edges(drawn, operation[0].outlines)) <= drawn.labels.struck


@pytest.mark.parametrize("name", ["door", "close", "strip", "tray"])
def test_large_spot_maps_can_be_read(overlapping: Any, operations: SimpleNamespace, name: str) -> None:
    check_spots(drawn_spots(getattr(operations, name)), overlapping)


@pytest.fixture(scope="module")
def demo() -> dict[str, list[OperationView]]:
    """Return the operations of every demo order as they are about to be drawn."""
    found: dict[str, list[OperationView]] = {}
    workspace = open_workspace(ROOT)
    with pytest.MonkeyPatch.context() as patch:
        for name in order_names(ROOT):

            def kept(packet: Any, views: Any, _plan: Any, name: str = name) -> Any:
                found[name] = list(views)
                return packet

            patch.setattr("weld_packets.plant.drafts.illustrated", kept)
            draft(workspace, name)
    return found


def test_the_spot_maps_of_the_demo_can_be_read(overlapping: Any, demo: dict[str, list[OperationView]]) -> None:
    found = 0
    for view in (view for views in demo.values() for view in views):
        spots = illustrations.spot_points(view)
        if spots:
            scene_of = illustrations.scene_of(view)
            drawn = drawn_spots((scene_of, list(spots)))
            check_spots(drawn, overlapping)
            assert len(on_edges(drawn, scene_of.outlines)) <= FEW_ON_EDGES
            assert drawn.sheet.width == WIDTH
            found += 1
    assert found == 7


def test_the_seam_maps_of_the_demo_can_be_read(overlapping: Any, demo: dict[str, list[OperationView]]) -> None:
    found = 0
    for view in (view for views in demo.values() for view in views):
        seams = illustrations.seam_lines(view)
        if seams:
            scene_of = illustrations.scene_of(view)
            drawn = drawn_seams((scene_of, list(seams)))
            check_seams(drawn, seams, overlapping)
            assert on_edges(drawn, scene_of.outlines) == []
            assert drawn.sheet.width == WIDTH
            found += 1
    assert found == 6


def test_letters_are_as_high_on_an_upright_tablet_as_is_read_at_arms_length() -> None:
    assert TEXT * CAPITAL_EM * TABLET >= SMALLEST_LETTER


def test_jumps_along_a_row_lie_apart_there_and_back() -> None:
    """Ends first, then the middle, then halves: drawn straight, all moves would lie on one line."""
    places: list[Point] = [(100 + 60 * rank, 100, 0) for rank in (0, 6, 3, 1, 5, 2, 4)]
    drawn = drawn_spots((scene(plate("panel", 0, 0, 600, 200)), numbered(places, "A")))
    lines = [move.line for move in drawn.moves]
    assert all(line.bow for line in lines if line.length > 90)
    assert max(shared(one, other) for one in lines for other in lines if one is not other) <= MOST_SHARED
    marks = [one.at for one in drawn.panels[0].spots]
    for line in lines:
        others = [mark for mark in marks if mark not in (line.start, line.end)]
        assert not [mark for mark in others if any(distance_to(mark, *piece) < 6 for piece in pairwise(line.points()))]


def test_numbers_of_a_close_row_are_all_written_upwards_on_one_side() -> None:
    places: list[Point] = [(40 + 26 * rank, 100, 0) for rank in range(20)]
    drawn = drawn_spots((scene(plate("panel", 0, 0, 600, 200)), numbered(places, "A")))
    assert {label.form for label in drawn.labels.welds} == {"upwards"}
    middle = drawn.panels[0].spots[0].at[1]
    assert len({label.box.centre[1] < middle for label in drawn.labels.welds}) == 1


def test_two_seams_on_a_rib_have_their_names_each_on_its_side() -> None:
    trails = [Trail((x, 80, 0), (Straight((x, 200, 0)),)) for x in (196, 204)]
    seams = [SeamLine(at, f"A{at}", "A", trail, "T", "a3", "135", "PB") for at, trail in enumerate(trails, 1)]
    drawn = drawn_seams((scene(plate("base", 0, 0, 400, 300)), seams))
    first, second = (label.box for label in sorted(drawn.labels.welds, key=lambda label: label.text))
    assert isinstance(first, Box)
    assert first.right < second.left
