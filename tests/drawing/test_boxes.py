"""Boxes know what overlaps and what crosses them; the crowd knows what is taken."""

from __future__ import annotations

import random

import pytest
from weld_packets.drawing.boxes import Box, Crowd, Spot2, hull


def test_touching_edges_do_not_overlap() -> None:
    assert not Box(0, 0, 10, 10).overlaps(Box(10, 0, 20, 10))
    assert Box(0, 0, 10, 10).overlaps(Box(9.9, 9.9, 20, 20))


def test_a_line_is_cut_to_the_piece_inside() -> None:
    box = Box(0, 0, 10, 10)
    assert box.inside_part((-5, 5), (15, 5)) == ((0, 5), (10, 5))
    assert box.inside_part((-5, -5), (15, 15)) == ((0, 0), (10, 10))
    assert box.inside_part((-5, 12), (15, 12)) is None
    assert box.inside_part((2, 2), (3, 3)) == ((2, 2), (3, 3))


def test_a_line_past_a_corner_does_not_cross() -> None:
    assert not Box(0, 0, 10, 10).crossed_by((-6, 5), (5, -6))
    assert Box(0, 0, 10, 10).crossed_by((-4, 5), (5, -4))


def test_the_grid_finds_what_a_look_at_every_box_finds() -> None:
    chance = random.Random(7)  # noqa: S311 - a repeatable pattern
    boxes = [Box(x := chance.uniform(-300, 900), y := chance.uniform(-300, 900), x + 30, y + 15) for _ in range(200)]
    crowd = Crowd()
    for box in boxes[:100]:
        crowd.block(box)
    for box in boxes[100:]:
        assert crowd.taken(box) == any(box.overlaps(other) for other in boxes[:100])


def test_crossed_lines_are_counted_once_however_long() -> None:
    crowd = Crowd()
    crowd.line((-500, 50), (500, 50))
    crowd.line((0, 400), (10, 400))
    assert crowd.crossings(Box(-100, 0, 100, 100)) == 1


def test_a_line_hits_only_what_is_in_its_way() -> None:
    crowd = Crowd()
    crowd.block(Box(40, 40, 60, 60))
    assert crowd.hits((0, 50), (200, 50))
    assert not crowd.hits((0, 70), (200, 70))


def test_the_hull_encloses_all_points() -> None:
    assert hull([(1, 5), (-2, 3), (4, 4)]) == Box(-2, 3, 4, 5)


def test_a_line_counts_for_its_weight_where_it_runs_through() -> None:
    crowd = Crowd()
    crowd.line((0, 50), (100, 50), 6)
    crowd.line((50, 0), (50, 100))
    assert crowd.crossings(Box(40, 40, 60, 60)) == 7
    assert crowd.crossings(Box(10, 40, 20, 60)) == 6
    assert crowd.crossings(Box(10, 10, 20, 20)) == 0


@pytest.mark.parametrize(
    ("start", "end", "cut"),
    [
        ((20, 0), (20, 60), 1),
        ((0, 50), (50, 0), 1),
        ((0, 10), (50, 60), 0),  # beside it in the same direction
        ((60, 0), (60, 100), 0),  # where the line would be if it went on
        ((0, 20), (10, 30), 0),
        ((30, 40), (40, 41), 0),
    ],
)
def test_a_line_cuts_those_that_it_crosses_between_their_ends(start: Spot2, end: Spot2, cut: int) -> None:
    crowd = Crowd()
    crowd.line((0, 0), (50, 50))
    assert crowd.cuts(start, end) == cut
    assert crowd.cuts(end, start) == cut


def test_a_bar_stops_labels_and_lines_all_along() -> None:
    crowd = Crowd()
    crowd.bar((0, 0), (120, 90))
    assert crowd.taken(Box(59, 44, 61, 46))
    assert all(crowd.hits((10 * step, 7.5 * step + 12), (10 * step + 1, 7.5 * step - 12)) for step in range(1, 11))
    assert not crowd.taken(Box(59, 55, 61, 57))


@pytest.mark.parametrize(("end", "crossed"), [((15, 4), True), ((15, 26), False), ((5, 5), True), ((-5, 5), False)])
def test_a_crossing_is_the_same_as_a_piece_inside(end: Spot2, crossed: bool) -> None:
    box = Box(0, 0, 10, 10)
    start: Spot2 = (-5, 5) if end != (5, 5) else end
    assert box.crossed_by(start, end) == crossed == (box.inside_part(start, end) is not None)
