"""Paths, faces and smallest distances of what is drawn."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from weld_packets.diagrams.scene import Bend, Outline, SpotPoint, Straight, Trail
from weld_packets.diagrams.spots.pitch import smallest_edges, smallest_pitches
from weld_packets.diagrams.views import faces_of, hidden, surfaces_of
from weld_packets.geometry.arcs import arc_points
from weld_packets.geometry.vectors import Point, length_of

FLOOR = Outline("floor", ((0, 0, 0), (400, 0, 0), (400, 300, 0), (0, 300, 0)))
WALL = Outline("wall", ((0, 0, 0), (0, 300, 0), (0, 300, 50), (0, 0, 50)))
SURFACES = surfaces_of((FLOOR, WALL, Outline("no area", ((0, 0, 0), (5, 0, 0), (9, 0, 0)))))


@pytest.mark.parametrize(
    ("start", "via", "end"),
    [
        ((10.0, 0, 0), (0, 10.0, 0), (-10.0, 0, 0)),
        ((10.0, 0, 0), (7.0710678, 7.0710678, 0), (0, -10.0, 0)),
        ((0, 0, 5.0), (3.0, 4.0, 9.0), (8.0, -2.0, 1.0)),
        ((0, 0, 0), (1.0, 1e-4, 0), (2.0, 0, 0)),
    ],
)
def test_an_arc_passes_its_three_points_on_one_circle(start: Point, via: Point, end: Point) -> None:
    points = _bend(start, via, end)
    assert points[0] == start
    assert points[-1] == end
    assert via in points
    steps = [math.dist(one, other) for one, other in pairwise(points)]
    assert max(steps) <= 0.12 * length_of(points) + 1e-9 or len(points) == 3
    assert points.index(via) not in (0, len(points) - 1)


def _bend(start: Point, via: Point, end: Point) -> list[Point]:
    return arc_points(start, via, end, math.radians(6))


def test_a_half_circle_has_the_length_of_one() -> None:
    assert length_of(_bend((10, 0, 0), (0, 10, 0), (-10, 0, 0))) == pytest.approx(10 * math.pi, rel=1e-3)


def test_an_arc_runs_the_long_way_when_its_middle_point_lies_there() -> None:
    long_way = _bend((10, 0, 0), (-10, 0, 0), (0, 10, 0))
    assert length_of(long_way) == pytest.approx(15 * math.pi, rel=1e-3)


def test_three_points_in_line_are_joined_straight() -> None:
    assert _bend((0, 0, 0), (5, 0, 0), (9, 0, 0)) == [(0, 0, 0), (5, 0, 0), (9, 0, 0)]


def test_a_trail_keeps_all_its_corners() -> None:
    trail = Trail((0, 0, 0), (Straight((100, 0, 0)), Bend((110, 10, 0), (100, 20, 0)), Straight((0, 20, 0))))
    points = trail.points()
    assert [point for point in points if point in {(100, 0, 0), (110, 10, 0), (100, 20, 0)}] == [
        (100, 0, 0),
        (110, 10, 0),
        (100, 20, 0),
    ]
    assert trail.end == points[-1] == (0, 20, 0)


def spot(sequence: int, x: float, y: float, z: float = 0.0) -> SpotPoint:
    return SpotPoint(sequence, f"p{sequence}", "A", (x, y, z))


def test_the_smallest_pitch_is_found_in_space_and_ties_are_kept() -> None:
    spots = [spot(1, 0, 0), spot(2, 30, 0), spot(3, 60, 0), spot(4, 60, 40, 0), spot(5, 60, 40, 200)]
    found = smallest_pitches(spots)
    assert [(span.spot, span.other, span.distance) for span in found] == [(0, 1, 30.0), (1, 2, 30.0)]


def test_pitches_agree_with_measuring_every_pair() -> None:
    spots = [spot(n, 100 * math.sin(n * 1.7), 100 * math.cos(n * 2.3), 40 * math.sin(n)) for n in range(60)]
    minimum = min(math.dist(a.at, b.at) for i, a in enumerate(spots) for b in spots[i + 1 :])
    assert smallest_pitches(spots)[0].distance == pytest.approx(minimum)


def test_one_spot_has_no_pitch() -> None:
    assert smallest_pitches([spot(1, 0, 0)]) == []


def test_the_edge_distance_is_to_the_face_that_a_spot_lies_on() -> None:
    spots = [spot(1, 200, 20), spot(2, 15, 150), spot(3, 0, 150, 25)]
    faces = [faces_of(one.at, SURFACES) for one in spots]
    assert [len(found) for found in faces] == [1, 1, 1]
    assert [abs(found[0].normal[2]) for found in faces] == [1, 1, 0]
    (nearest,) = smallest_edges(spots, faces)
    assert (nearest.spot, nearest.distance, nearest.to) == (1, 15.0, (0, 150, 0))


def test_a_spot_beside_all_parts_lies_on_no_face() -> None:
    assert faces_of((500, 500, 0), SURFACES) == []
    assert faces_of((200, 150, 11), SURFACES) == []


def test_a_face_hides_what_lies_well_behind_it_and_nothing_beside_or_before_it() -> None:
    from_the_left: Point = (-1, 0, 0)
    assert hidden((400, 150, 25), from_the_left, SURFACES)
    assert not hidden((400, 150, 60), from_the_left, SURFACES)
    assert not hidden((400, 150, 25), (1, 0, 0), SURFACES)
    assert not hidden((5, 150, 25), from_the_left, SURFACES)
