"""An operation is shown from as few sides as show every weld in true size and apart."""

from __future__ import annotations

import math

import pytest
from weld_packets.diagrams.layout import arrange, block_around
from weld_packets.diagrams.scene import Outline
from weld_packets.diagrams.views import ABOVE, BELOW, FRONT, LEFT, PICTORIAL, REAR, RIGHT, choose, surfaces_of
from weld_packets.drawing.boxes import Box
from weld_packets.geometry.vectors import Point, cross

SIZE = (400.0, 300.0, 100.0)
FLAT, SIDE, FACE = (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


def names(welds: list[list[Point]], normals: list[list[Point]] | None = None, size: Point = SIZE) -> list[str]:
    return [view.name for view in choose(welds, size, normals or [[] for _ in welds]).views]


@pytest.mark.parametrize("view", [ABOVE, FRONT, RIGHT, LEFT, REAR, BELOW, PICTORIAL])
def test_right_and_up_of_a_view_turn_towards_the_eye(view: object) -> None:
    assert cross(view.right, view.up) == pytest.approx(view.eye)  # type: ignore[attr-defined]
    assert math.hypot(*view.eye) == pytest.approx(1)  # type: ignore[attr-defined]


def test_flat_spots_are_seen_from_above_only() -> None:
    assert names([[(x, y, 0)] for x in (0, 100, 200) for y in (0, 100)]) == ["View from above"]


def test_spots_on_an_upright_panel_are_seen_from_the_front_only() -> None:
    assert names([[(x, 0, z)] for x in (0, 100, 200) for z in (0, 100)]) == ["View from the front"]


def test_spots_on_opposite_flanges_are_seen_from_both_sides() -> None:
    welds = [[(x, y, 25)] for x in (0.0, 400.0) for y in (50, 100, 150)]
    choice = choose(welds, SIZE, [[SIDE]] * 6)
    assert [view.name for view in choice.homes] == ["View from the left"] * 3 + ["View from the right"] * 3


def test_spots_on_floor_and_flange_are_each_seen_square_to_their_face() -> None:
    welds = [[(100, 100, 0)], [(200, 100, 0)], [(400, 100, 25)]]
    choice = choose(welds, SIZE, [[FLAT], [FLAT], [SIDE]])
    assert [view.name for view in choice.homes] == ["View from above", "View from above", "View from the right"]


def test_spots_behind_a_flange_are_seen_from_the_other_side() -> None:
    flanges = [Outline("flange", ((x, 0, 0), (x, 300, 0), (x, 300, 50), (x, 0, 50))) for x in (0.0, 400.0)]
    welds: list[list[Point]] = [[(0, 40, 25)], [(0, 80, 25)], [(400, 60, 25)]]
    choice = choose(welds, SIZE, [[SIDE]] * 3, surfaces_of(flanges))
    assert [view.name for view in choice.homes] == ["View from the left"] * 2 + ["View from the right"]


def test_a_seam_that_climbs_gets_a_view_that_shows_its_length() -> None:
    level: list[Point] = [(0, 0, 0), (300, 0, 0)]
    upright: list[Point] = [(300, 0, 0), (300, 0, 90)]
    choice = choose([level, upright], SIZE, [[], []])
    flat = [home.flat(upright[1])[1] - home.flat(upright[0])[1] for home in choice.homes]
    assert flat[1] == 90
    assert "View from the front" in [view.name for view in choice.views]


def test_seams_above_each_other_are_distinguished() -> None:
    welds: list[list[Point]] = [[(0, 0, 0), (300, 0, 0)], [(0, 0, 60), (300, 0, 60)]]
    choice = choose(welds, SIZE, [[], []])
    assert choice.homes[0] == choice.homes[1]
    assert choice.homes[0].flat(welds[0][0]) != choice.homes[1].flat(welds[1][0])


def test_views_stand_in_third_angle_order_at_one_scale() -> None:
    block = block_around([(0, 0, 0), (400, 300, 100)])
    frames = {frame.view: frame for frame in arrange((ABOVE, FRONT, RIGHT), block, Box(0, 0, 640, 700))}
    assert frames[ABOVE].box.bottom < frames[FRONT].box.top
    assert frames[RIGHT].box.left > frames[FRONT].box.right
    assert frames[ABOVE].to_sheet((400, 0, 0))[0] == frames[FRONT].to_sheet((400, 0, 0))[0]
    assert frames[RIGHT].to_sheet((0, 0, 100))[1] == frames[FRONT].to_sheet((0, 0, 100))[1]
    assert len({frame.scale for frame in frames.values()}) == 1
    assert all(Box(0, 0, 640, 700).holds(frame.box) for frame in frames.values())


def test_the_datum_is_taken_in_when_near_and_left_out_when_far() -> None:
    assert block_around([(50, 50, 0), (250, 150, 0)]).low == (0, 0, 0)
    assert block_around([(900, 900, 0), (1000, 950, 0)]).low == (900, 900, 0)
