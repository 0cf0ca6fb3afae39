"""Dimension lines keep their words clear, and scale bars have round lengths."""

from __future__ import annotations

import pytest
from weld_packets.drawing.boxes import Box
from weld_packets.drawing.dimensions import dimension, draw_dimension, nice_length, scale_bar
from weld_packets.drawing.sheet import Sheet


@pytest.mark.parametrize(
    ("longest", "unit", "length"),
    [(999, 1, 500), (1000, 1, 1000), (0.3, 1, 0.2), (60, 25.4, 2 * 25.4), (25.4, 25.4, 25.4), (4.99, 1, 2)],
)
def test_a_scale_bar_has_the_maximum_round_length_that_fits(longest: float, unit: float, length: float) -> None:
    assert nice_length(longest, unit) == pytest.approx(length)


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    sheet = Sheet(400, 100)
    said: list[float] = []
    scale_bar(
        sheet,
        (10, 10),
        pixels_per_mm=0.5,
        longest=170,
        unit_length=1,
        label=lambda mm: said.append(mm) or f"{mm} mm",
    )
    points = [point for shapes in sheet.shapes.values() for shape in shapes for point in shape.points]
    assert max(x for x, _ in points) - 10 == pytest.approx(said[0] * 0.5)


def test_words_stand_in_the_line_when_they_fit() -> None:
    thought = dimension((0, 100), (300, 100), offset=20, text="300 mm")
    assert thought.form == "inside"
    assert thought.low == (0, 120)
    assert 0 < thought.words.box.left < thought.words.box.right < 300


def test_a_steep_line_has_turned_words() -> None:
    thought = dimension((100, 0), (100, 300), offset=20, text="300 mm")
    assert thought.words.angle == 90
    assert thought.words.box.height > thought.words.box.width


def test_words_that_do_not_fit_stand_beyond_the_end() -> None:
    thought = dimension((100, 100), (112, 100), offset=20, text="12 mm (0.472 in)")
    assert thought.form == "beyond"
    assert thought.words.box.left > 112
    assert thought.line.left < 100


@pytest.mark.parametrize("end", [(130.0, 100.0), (100.0, 70.0)])
def test_an_overall_size_too_short_for_its_words_keeps_them_near(end: tuple[float, float]) -> None:
    thought = dimension((100, 100), end, offset=20, text="30 mm (1.18 in)", overall=True)
    assert thought.form == "beside"
    assert not thought.words.box.overlaps(thought.line)


def test_drawing_takes_the_box_that_was_thought_out() -> None:
    sheet = Sheet(400, 400)
    thought = dimension((10, 10), (310, 10), offset=30, text="300 mm")
    assert draw_dimension(sheet, thought) == thought.words.box
    assert Box(0, 0, 400, 400).holds(thought.words.box)
