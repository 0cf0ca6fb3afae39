import pytest
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.charts import Axis, Chart, chart
from weld_packets.drawing.sheet import Layer, Style
from weld_packets.drawing.svg import to_svg

FEED, SPEED = Axis("Wire feed speed, m/min", 3, 5), Axis("Travel speed, mm/s", 5, 11)
LINE = Style("#123456")


def drawn() -> Chart:
    return chart(520, 340, FEED, SPEED)


def points_of(made: Chart, layer: Layer, style: Style) -> list[Spot2]:
    drawn_so = [shapes for (on, _, look), shapes in made.sheet.shapes.items() if on == layer and look == style]
    return [point for shapes in drawn_so for shape in shapes for point in shape.points]


def test_ticks_are_round_values_inside_the_axis_with_equal_digits() -> None:
    assert [f"{value:f}" for value in FEED.ticks()] == ["3.0", "3.5", "4.0", "4.5", "5.0"]
    assert [f"{value:f}" for value in Axis("x", 7.3, 9.1).ticks()] == ["7.5", "8.0", "8.5", "9.0"]
    assert [f"{value:f}" for value in Axis("x", -1, 1).ticks()] == ["-1.0", "-0.5", "0.0", "0.5", "1.0"]
    assert [f"{value:f}" for value in Axis("x", 0, 5000).ticks()] == ["0", "1000", "2000", "3000", "4000", "5000"]


def test_the_ends_of_the_axes_are_the_corners_of_the_frame() -> None:
    made = drawn()
    assert made.at((3, 5)) == pytest.approx((made.box.left, made.box.bottom))
    assert made.at((5, 11)) == pytest.approx((made.box.right, made.box.top))
    assert made.at((4, 8)) == pytest.approx(made.box.centre)


def test_a_line_is_cut_off_at_the_frame() -> None:
    made = drawn()
    made.line([(2, 8), (6, 8)], LINE)
    (left, level), (right, other) = points_of(made, Layer.PATH, LINE)
    assert (left, right) == pytest.approx((made.box.left, made.box.right), abs=1.5)
    assert level == other == pytest.approx(made.box.centre[1])


def test_a_line_that_leaves_the_frame_and_comes_back_is_two_pieces() -> None:
    made = drawn()
    made.line([(3.2, 8), (4, 30), (4.8, 8)], LINE)
    pieces = [shape for key, shapes in made.sheet.shapes.items() for shape in shapes if key[2] == LINE]
    assert len(pieces) == 2


def test_a_line_outside_the_frame_is_not_drawn() -> None:
    made = drawn()
    made.line([(3, 20), (5, 20)], LINE)
    assert points_of(made, Layer.PATH, LINE) == []


def test_a_region_is_cut_off_at_the_frame() -> None:
    made = drawn()
    made.region([(4, 8), (9, 8), (9, 20), (4, 20)], LINE)
    found = points_of(made, Layer.PART, LINE)
    assert min(x for x, _ in found) == pytest.approx(made.box.centre[0])
    assert max(x for x, _ in found) == pytest.approx(made.box.right)
    assert min(y for _, y in found) == pytest.approx(made.box.top)


def test_words_stay_inside_the_frame() -> None:
    made = drawn()
    for point, anchor in (((5, 11), "left"), ((3, 5), "right"), ((3, 11), "center")):
        assert made.box.holds(made.words(point, "throat 2.5 mm", anchor=anchor))


def test_every_label_lies_on_the_sheet() -> None:
    made = drawn()
    assert all(
        words.box.left >= 0 and words.box.right <= 520 and words.box.top >= 0 and words.box.bottom <= 340
        for words in made.sheet.words
    )
    assert {"Wire feed speed, m/min", "Travel speed, mm/s"} <= {words.text for words in made.sheet.words}


def test_a_chart_is_the_same_bytes_each_time() -> None:
    first, second = (to_svg(drawn().sheet, key="c", title="t", description="d") for _ in range(2))
    assert first == second
