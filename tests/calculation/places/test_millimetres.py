from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.places.millimetres import (
    base_point,
    farthest,
    flat_shapes,
    point_in_mm,
    points_in_space,
    within,
)
from weld_packets.geometry.nearest import closest_pair, pairs_closer
from weld_packets.geometry.outlines import FlatShape
from weld_packets.model.order import Outline
from weld_packets.model.tables.machines import Robot

SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
HOLE = [(40.0, 40.0), (60.0, 40.0), (60.0, 60.0), (40.0, 60.0)]
ROBOT = Robot.model_validate(
    {
        "id": "A1",
        "name": "robot",
        "cell": "c1",
        "side": "A",
        "base": ["-1", "0", "0.5"],
        "base unit": "m",
        "reach": "2.05 m",
        "equipment": "g1",
        "travel speed step": "1 mm/s",
        "air speed": "1 m/s",
        "weld overhead": "0.2 s",
        "approach": "0.4 s",
        "times source": "invented",
    }
)


def test_coordinates_are_read_in_their_unit() -> None:
    assert point_in_mm((1, 2, -3), "in") == pytest.approx((25.4, 50.8, -76.2))
    assert base_point(ROBOT) == (-1000, 0, 500)


def test_the_farthest_point_is_found_by_its_distance_in_space() -> None:
    assert farthest(ROBOT, [(0, 0, 500), (-1000, 0, 1600), (-1000, 900, 500)]) == (1, 1100)


def test_a_length_equal_to_its_limit_is_within_it() -> None:
    assert within(0.1 + 0.2, 0.3)
    assert not within(0.3001, 0.3)


@pytest.mark.parametrize(("point", "on_sheet"), [((50, 20, 0), True), ((150, 20, 0), False), ((50, 50, 0), False)])
def test_a_point_in_a_hole_or_outside_is_not_on_the_sheet(point: tuple[float, float, float], on_sheet: bool) -> None:
    assert FlatShape("XY", 0, [SQUARE, HOLE]).holds(point) is on_sheet


def test_the_edge_distance_counts_the_edge_of_a_hole() -> None:
    shape = FlatShape("XY", 0, [SQUARE, HOLE])
    assert shape.edge_distance((50, 35, 0)) == 5
    assert shape.edge_distance((50, 8, 0)) == 8


def test_the_nearest_edge_may_be_a_corner() -> None:
    assert FlatShape("XY", 0, [HOLE]).edge_distance((37, 36, 0)) == 5


def test_a_repeated_corner_has_no_length_but_still_a_distance() -> None:
    assert FlatShape("XY", 0, [[(0, 0), (0, 0), (10, 0), (10, 10)]]).edge_distance((8, 3, 0)) == 2


def test_an_outline_is_in_its_own_plane() -> None:
    shape = FlatShape("XZ", 30, [SQUARE])
    assert shape.holds((50, 30, 90))
    assert shape.height((50, 27, 90)) == 3
    assert FlatShape("YZ", 0, [SQUARE]).edge_distance((1, 50, 97)) == 3


def test_outlines_in_one_plane_are_one_shape_and_in_two_planes_two() -> None:
    rectangle = [["0", "0"], ["4", "0"], ["4", "4"], ["0", "4"]]
    flat = Outline.model_validate({"points": rectangle, "unit": "in"})
    inner = Outline.model_validate({"points": [["1", "1"], ["3", "1"], ["3", "3"]], "unit": "in"})
    raised = Outline.model_validate({"plane": "XZ", "offset": "1 in", "points": rectangle})
    bare = Outline.model_validate({"file": "panel.dxf"})
    shapes = flat_shapes([flat, inner, raised, bare])
    assert [(shape.plane, shape.offset) for shape in shapes] == [("XY", 0), ("XZ", 25.4)]
    assert shapes[0].edge_distance((50.8, 20, 0)) == pytest.approx(5.4)


coordinate = st.floats(-500, 500, allow_nan=False).map(lambda value: round(value, 3))
points = st.lists(st.tuples(coordinate, coordinate, coordinate), max_size=12)


@given(points, st.floats(1, 400))
def test_pairs_closer_than_a_limit_are_all_found(found: list[tuple[float, float, float]], limit: float) -> None:
    every = {(i, j) for j in range(len(found)) for i in range(j) if _apart(found[i], found[j]) < limit}
    assert {(first, second) for first, second, _ in pairs_closer(found, limit)} == every


@given(points)
def test_the_closest_pair_is_no_farther_than_any_other(found: list[tuple[float, float, float]]) -> None:
    pair = closest_pair(found, lambda first, second: (first + second) % 2 == 1)
    admitted = [_apart(found[i], found[j]) for j in range(len(found)) for i in range(j) if (i + j) % 2 == 1]
    assert (pair is None) is (not admitted)
    if pair is not None:
        assert pair[2] == pytest.approx(min(admitted))


def _apart(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    return hypot(*(a - b for a, b in zip(one, other, strict=True)))


@pytest.mark.parametrize(
    ("plane", "corner"), [("XY", (25.4, 50.8, 3.0)), ("XZ", (25.4, 3.0, 50.8)), ("YZ", (3.0, 25.4, 50.8))]
)
def test_the_corners_of_an_outline_lie_in_its_plane_at_its_offset(plane: str, corner: tuple[float, ...]) -> None:
    points = [["1", "2"], ["4", "2"], ["4", "6"]]
    outline = Outline.model_validate({"plane": plane, "unit": "in", "points": points, "offset": "3 mm"})

    assert next(points_in_space(outline)) == pytest.approx(corner)


def test_an_outline_without_an_offset_lies_in_its_plane() -> None:
    outline = Outline.model_validate({"plane": "XY", "unit": "mm", "points": [["1", "2"], ["4", "2"], ["4", "6"]]})

    assert list(points_in_space(outline)) == [(1, 2, 0), (4, 2, 0), (4, 6, 0)]
