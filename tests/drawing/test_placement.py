"""Labels find a free place near their marks, or say that there is none."""

from __future__ import annotations

from typing import Any

from weld_packets.drawing.boxes import Box, Crowd, around
from weld_packets.drawing.placement import Wanted, place

SHEET = Box(0, 0, 600, 600)


def crowd_of(points: list[tuple[float, float]], radius: float) -> Crowd:
    crowd = Crowd()
    for point in points:
        crowd.block(around(point, radius))
    return crowd


def test_a_lonely_label_is_beside_its_mark_without_a_leader() -> None:
    placed = place([Wanted("7", (300, 300), 5, 13)], crowd_of([(300, 300)], 5), SHEET)[0]
    assert placed is not None
    assert placed.leader is None
    assert not placed.box.overlaps(around((300, 300), 5))
    assert abs(placed.box.centre[0] - 300) + abs(placed.box.centre[1] - 300) < 30


def test_labels_of_a_dense_field_overlap_neither_each_other_nor_the_marks(overlapping: Any) -> None:
    points = [(200.0 + 15 * column, 200.0 + 15 * row) for column in range(9) for row in range(9)]
    wanted = [Wanted(str(index), point, 4, 13, bold=True) for index, point in enumerate(points)]
    placed = place(wanted, crowd_of(points, 4), SHEET)
    boxes = [label.box for label in placed if label is not None]
    assert len(boxes) == 81
    assert overlapping(boxes) == []
    assert not any(box.overlaps(around(point, 4)) for box in boxes for point in points)
    assert all(SHEET.holds(box) for box in boxes)
    assert any(label.leader for label in placed if label is not None)


def test_overlaps_are_seen(overlapping: Any) -> None:
    assert len(overlapping([Box(0, 0, 10, 10), Box(5, 5, 15, 15), Box(20, 0, 30, 10)])) == 1


def test_a_label_without_any_place_is_reported_as_missing() -> None:
    crowd = Crowd()
    crowd.block(SHEET)
    assert place([Wanted("1", (300, 300), 5, 13)], crowd, SHEET) == [None]


def test_a_label_prefers_the_side_that_was_asked_for() -> None:
    placed = place([Wanted("1", (300, 300), 5, 13, outward=(0.0, -1.0))], Crowd(), SHEET)[0]
    assert placed is not None
    assert placed.box.bottom <= 295


def test_a_label_stays_off_a_line_when_there_is_another_place() -> None:
    crowd = Crowd()
    crowd.line((0, 300), (600, 300))
    placed = place([Wanted("1", (300, 300), 5, 13)], crowd, SHEET)[0]
    assert placed is not None
    assert not placed.box.crossed_by((0, 300), (600, 300))
