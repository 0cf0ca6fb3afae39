from __future__ import annotations

import math

import pytest
from weld_packets.geometry.arcs import arc_points, arc_through

QUARTER = (10.0, 0.0, 0.0), (10 * math.cos(math.pi / 4), 10 * math.sin(math.pi / 4), 0.0), (0.0, 10.0, 0.0)


def test_an_arc_has_its_length_and_ends_where_it_should() -> None:
    arc = arc_through(*QUARTER)
    assert arc is not None
    assert arc.length == pytest.approx(10 * math.pi / 2)
    assert arc.at(0) == pytest.approx(QUARTER[0])
    assert arc.at(0.5) == pytest.approx(QUARTER[1])
    assert arc.at(1) == pytest.approx(QUARTER[2])


def test_the_point_between_decides_which_side_an_arc_goes_round() -> None:
    start, _, end = QUARTER
    arc = arc_through(start, (-10.0, 0.0, 0.0), end)
    assert arc is not None
    assert arc.sweep == pytest.approx(1.5 * math.pi)


def test_three_points_on_a_line_make_no_arc_and_are_joined_straight() -> None:
    line = (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (3.0, 0.0, 0.0)
    assert arc_through(*line) is None
    assert arc_points(*line, step=0.1) == list(line)


def test_points_lie_on_the_circle_no_further_apart_than_the_step() -> None:
    arc = arc_through(*QUARTER)
    assert arc is not None
    points = [QUARTER[0], *arc.points(math.radians(2))]
    assert len(points) == 46
    assert all(math.hypot(x, y) == pytest.approx(10) for x, y, _ in points)
    assert points[-1] == pytest.approx(QUARTER[2])
