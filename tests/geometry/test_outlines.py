"""Flat outlines: on the sheet or off it, across its holes, in each plane of the datum; edges and surfaces."""

from __future__ import annotations

from math import sqrt

import pytest
from weld_packets.geometry.outlines import FlatShape, foot_on, normal_of, surface_of
from weld_packets.geometry.vectors import Point

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))
HOLE = ((40.0, 20.0), (60.0, 20.0), (60.0, 40.0), (40.0, 40.0))
IN_PLANE = {"XY": (0, 1, 2), "XZ": (0, 2, 1), "YZ": (1, 2, 0)}
"""The axes across and up of each plane, and the one that leads off it."""


def placed(plane: str, across: float, up: float, off: float) -> Point:
    """Return a point by its place in a plane and its distance from it."""
    found = [0.0, 0.0, 0.0]
    for axis, value in zip(IN_PLANE[plane], (across, up, off), strict=True):
        found[axis] = value
    return found[0], found[1], found[2]


@pytest.mark.parametrize("plane", IN_PLANE)
def test_a_point_is_on_the_sheet_off_it_or_in_its_hole_in_every_plane(plane: str) -> None:
    shape = FlatShape(plane, 5.0, (SQUARE, HOLE))
    assert shape.holds(placed(plane, 10, 10, 0))
    assert not shape.holds(placed(plane, 50, 30, 5))
    assert not shape.holds(placed(plane, 101, 30, 5))
    assert shape.height(placed(plane, 10, 10, 3)) == pytest.approx(2)
    assert shape.rise(placed(plane, 10, 10, 3)) == pytest.approx(-2)


@pytest.mark.parametrize(
    ("across", "up", "edge", "box"),
    [(5, 30, 5, 0), (45, 30, 5, 0), (103, 64, 5, 5), (50, -7, 7, 7), (-4, 30, 4, 4)],
)
@pytest.mark.parametrize("plane", IN_PLANE)
def test_the_distance_to_an_edge_counts_holes_and_that_to_the_box_does_not(
    plane: str, across: float, up: float, edge: float, box: float
) -> None:
    shape = FlatShape(plane, 0.0, (SQUARE, HOLE))
    point = placed(plane, across, up, 9)
    assert shape.edge_distance(point) == pytest.approx(edge)
    assert shape.box_distance(point) == pytest.approx(box)


@pytest.mark.parametrize("plane", IN_PLANE)
def test_the_nearest_edge_has_its_course_in_space(plane: str) -> None:
    shape = FlatShape(plane, 0.0, (SQUARE,))
    assert shape.nearest_edge(placed(plane, 50, 1, 0)) == placed(plane, 100, 0, 0)
    assert shape.nearest_edge(placed(plane, 99, 30, 0)) == placed(plane, 0, 60, 0)
    assert sorted(shape.edge_lengths()) == [60, 60, 100, 100]


def test_the_foot_on_a_straight_piece_stays_between_its_ends() -> None:
    start, end = (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)
    assert foot_on((4.0, 3.0, 1.0), start, end) == (4, 0, 0)
    assert foot_on((-4.0, 3.0, 1.0), start, end) == start
    assert foot_on((14.0, 3.0, 1.0), start, end) == end
    assert foot_on((14.0, 3.0, 1.0), start, start) == start


def test_a_surface_in_any_plane_says_height_and_hold_and_a_line_is_none() -> None:
    tilted = ((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 10.0, 10.0), (0.0, 10.0, 10.0))
    surface = surface_of(tilted)
    assert surface is not None
    assert surface.normal == pytest.approx((0, -sqrt(0.5), sqrt(0.5)))
    assert surface.height((5.0, 0.0, 2.0)) == pytest.approx(sqrt(2))
    assert surface.holds((5.0, 5.0, 5.0))
    assert not surface.holds((11.0, 5.0, 5.0))
    assert surface.foot((5.0, -3.0, 0.0)) == (5, 0, 0)
    assert normal_of(tilted[:2]) is None
    assert surface_of(((0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (10.0, 0.0, 0.0))) is None
