from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.chart import carries, locate, read, read_count, read_range
from weld_packets.calculation.table_checks.chart_problems import chart_problems
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.charts import SpotChart, SpotSpacing
from weld_packets.units import Quantity, quantity

HEAD = {
    "title": "chart of this test",
    "source": "invented for the test",
    "revision": "3",
    "base": "low-carbon steel",
    "coatings": ["none"],
    "governing thickness": "thinner",
    "governing source": "invented",
    "stack limits": {"thickness ratio": "3", "source": "invented"},
    "weld diameter": {"minimum": "4", "target": "5", "source": "invented"},
    "spacing": "pitch-chart",
    "columns": {},
}


def bands(*rows: dict[str, Any], **more: Any) -> SpotChart:
    return SpotChart.model_validate(
        HEAD | {"table": "band-chart", "kind": "spot chart", "form": "bands", "rows": rows} | more
    )


def points(*rows: dict[str, Any], **more: Any) -> SpotChart:
    tolerance = {"force": "10 %", "weld time": "10 %", "current": "5 %"}
    head = {"table": "point-chart", "kind": "spot chart", "form": "points", "tolerance": tolerance}
    return SpotChart.model_validate(HEAD | head | {"rows": rows} | more)


def band(
    over: str | None, up_to: str | None, current: tuple[str, str] = ("7 kA", "9 kA"), **more: str
) -> dict[str, Any]:
    return {
        "over": over,
        "up to": up_to,
        "cap face": "5 mm",
        "force from": "1.6 kN",
        "force to": "1.8 kN",
        "weld time from": "11 cycles@50Hz",
        "weld time to": "15 cycles@50Hz",
        "current from": current[0],
        "current to": current[1],
    } | more


def point(thickness: str, current: str = "8.8 kA", force: str = "412 lbf", **more: str) -> dict[str, Any]:
    return {
        "thickness": thickness,
        "cap face": "0.25 in",
        "force": force,
        "weld time": "10 cycles@60Hz",
        "current": current,
    } | more


TWO_BANDS = bands(band("1.0 mm", "1.2 mm"), band("1.2 mm", "1.6 mm", ("8 kA", "11 kA")))
TWO_POINTS = points(point("0.040 in"), point("0.050 in", "9.6 kA", "554 lbf"))


def mm(number: float) -> Quantity:
    return quantity(number, "mm")


def test_the_upper_end_of_a_band_belongs_to_it() -> None:
    lookup, allowed_range = read_range(locate(TWO_BANDS, mm(1.2)), "current")
    assert lookup.rows == ("over 1\N{NO-BREAK SPACE}mm up to 1.2\N{NO-BREAK SPACE}mm",)
    assert (allowed_range.low.m_as("kA"), allowed_range.high.m_as("kA")) == (7, 9)


def test_a_hair_over_the_end_of_a_band_belongs_to_the_next() -> None:
    assert read(locate(TWO_BANDS, mm(1.2001)), "current")[0].rows == (
        "over 1.2\N{NO-BREAK SPACE}mm up to 1.6\N{NO-BREAK SPACE}mm",
    )


@pytest.mark.parametrize("at", [quantity(1.2 / 25.4, "in"), quantity(0.12, "cm"), mm(1.2 * (1 + 1e-12))])
def test_float_noise_does_not_move_a_thickness_over_a_band_end(at: Quantity) -> None:
    rows = read(locate(TWO_BANDS, at), "current")[0].rows
    assert rows == ("over 1\N{NO-BREAK SPACE}mm up to 1.2\N{NO-BREAK SPACE}mm",)


def test_the_lower_end_of_the_first_band_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="outside table band-chart revision 3"):
        locate(TWO_BANDS, mm(1.0))


def test_the_value_of_a_band_is_its_middle_and_the_operation_is_kept_as_printed() -> None:
    lookup = read(locate(TWO_BANDS, mm(1.1)), "force")[0]
    assert lookup.result.m_as("kN") == pytest.approx(1.7)
    assert lookup.values == ("1.6\N{NO-BREAK SPACE}kN to 1.8\N{NO-BREAK SPACE}kN",)
    assert lookup.fraction is None


def test_a_band_allowed_range_names_table_revision_and_operation() -> None:
    allowed_range = read_range(locate(TWO_BANDS, mm(1.1)), "weld_time")[1]
    assert allowed_range.origin == "table band-chart, row over 1\N{NO-BREAK SPACE}mm up to 1.2\N{NO-BREAK SPACE}mm"


@pytest.mark.parametrize(
    ("thickness", "reach"),
    [(0.9, "over 0.6 mm up to 1.2 mm, with a gap between two rows"), (0.6, "over 0.6 mm up to 1.2 mm"),
     (1.3, "over 0.6 mm up to 1.2 mm")],
)  # fmt: skip
def test_a_thickness_that_no_band_holds_is_refused_with_what_the_chart_covers(thickness: float, reach: str) -> None:
    gapped = bands(band("0.6 mm", "0.8 mm"), band("1.0 mm", "1.2 mm"))
    with pytest.raises(OutOfRangeError) as caught:
        locate(gapped, mm(thickness))
    message = caught.value.problems[0].message.replace("\N{NO-BREAK SPACE}", " ")
    assert message.endswith(f"mm is outside table band-chart revision 3, which covers {reach}")


def test_a_thickness_that_two_bands_claim_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="2 bands that claim"):
        locate(bands(band("0.6 mm", "1.0 mm"), band("0.8 mm", "1.2 mm")), mm(0.9))


def test_a_point_between_operations_is_interpolated_linearly() -> None:
    lookup = read(locate(TWO_POINTS, mm(1.2)), "current")[0]
    assert lookup.fraction == Decimal("0.724409")
    assert lookup.result.m_as("kA") == pytest.approx(8.8 + 0.8 * (1.2 - 1.016) / 0.254)
    assert lookup.rows == ("0.04\N{NO-BREAK SPACE}in", "0.05\N{NO-BREAK SPACE}in")
    assert lookup.values == ("8.8\N{NO-BREAK SPACE}kA", "9.6\N{NO-BREAK SPACE}kA")


@pytest.mark.parametrize(("at", "force"), [(mm(1.016), 412), (mm(1.27), 554)])
def test_a_thickness_on_an_operation_uses_that_operation(at: Quantity, force: float) -> None:
    lookup = read(locate(TWO_POINTS, at), "force")[0]
    assert len(lookup.rows) == 1
    assert lookup.fraction is None
    assert lookup.result.m_as("lbf") == force


@pytest.mark.parametrize("thickness", [1.0, 1.28])
def test_a_point_outside_the_rows_of_a_table_in_inches_is_refused_in_the_units_of_the_order(thickness: float) -> None:
    """An order in mm reads mm first, and what the table states in brackets: the next number is no other unit."""
    limits = r"covers from 1\.02 mm \(0\.04 in\) to 1\.27 mm \(0\.05 in\)".replace(" mm", "\N{NO-BREAK SPACE}mm")
    with pytest.raises(OutOfRangeError, match=limits.replace(" in", "\N{NO-BREAK SPACE}in")):
        read(locate(TWO_POINTS, mm(thickness)), "force")[0]


def test_the_allowed_range_of_a_single_value_is_the_stated_tolerance() -> None:
    allowed_range = read_range(locate(TWO_POINTS, mm(1.016)), "current")[1]
    assert (allowed_range.low.m_as("kA"), allowed_range.high.m_as("kA")) == pytest.approx((8.36, 9.24))
    assert "± 5\N{NO-BREAK SPACE}% (not stated)" in allowed_range.origin


@pytest.mark.parametrize(
    ("current", "ends"),
    [(("8 kA", "8 kA"), (7.6, 8.4)), (("7.9 kA", "8.1 kA"), (7.6, 8.4)), (("7 kA", "9 kA"), (7, 9))],
)
def test_a_range_is_as_wide_at_least_as_the_stated_tolerance(
    current: tuple[str, str], ends: tuple[float, float]
) -> None:
    allowed_range = read_range(
        locate(bands(band("1 mm", "2 mm", current), tolerance={"current": "5 %"}), mm(1.5)), "current"
    )[1]
    assert (allowed_range.low.m_as("kA"), allowed_range.high.m_as("kA")) == pytest.approx(ends)


def test_a_range_without_a_stated_tolerance_is_itself() -> None:
    allowed_range = read_range(locate(bands(band("1 mm", "2 mm", ("8 kA", "8 kA"))), mm(1.5)), "current")[1]
    assert (allowed_range.low.m_as("kA"), allowed_range.high.m_as("kA")) == pytest.approx((8, 8))


def test_a_single_value_without_tolerance_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="no tolerance"):
        read_range(locate(points(point("1 mm"), tolerance={}), mm(1)), "current")


def test_a_range_between_two_points_is_interpolated_at_both_ends() -> None:
    first = band(None, None, ("7 kA", "9 kA"), thickness="1 mm")
    last = band(None, None, ("8000 A", "11 kA"), thickness="2 mm")
    rows = [{key: value for key, value in row.items() if value is not None} for row in (first, last)]
    lookup, allowed_range = read_range(locate(points(*rows), mm(1.5)), "current")
    assert (allowed_range.low.m_as("kA"), allowed_range.high.m_as("kA")) == pytest.approx((7.5, 10))
    assert lookup.result.m_as("kA") == pytest.approx(8.75)


def test_a_column_that_the_chart_lacks_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="does not state squeeze"):
        read(locate(TWO_BANDS, mm(1.1)), "squeeze")[0]


def test_neighbours_of_different_form_are_refused() -> None:
    stated = band(None, None, thickness="2 mm")
    table = points(point("1 mm"), {key: value for key, value in stated.items() if value})
    with pytest.raises(OutOfRangeError, match="does not state current"):
        read(locate(table, mm(1.5)), "current")[0]


def test_a_place_shows_which_columns_it_carries() -> None:
    place = locate(TWO_BANDS, mm(1.1))
    assert carries(place, "current")
    assert not carries(place, "hold")


def test_pulses_that_differ_between_two_operations_are_refused() -> None:
    table = points(point("1 mm", pulses="1"), point("2 mm", pulses="3"))
    assert read_count(locate(table, mm(2)), "pulses") == 3
    with pytest.raises(OutOfRangeError, match="changes pulses between its rows"):
        read_count(locate(table, mm(1.5)), "pulses")


def test_an_operation_without_its_thickness_is_refused_on_reading() -> None:
    with pytest.raises(OutOfRangeError, match="a row lacks its thickness"):
        locate(bands(point("1 mm")), mm(1))


def keys(table: SpotChart) -> list[str]:
    return [problem.key for problem in chart_problems(table)]


def test_good_charts_have_no_problems() -> None:
    assert chart_problems(TWO_BANDS) == ()
    assert chart_problems(TWO_POINTS) == ()


def test_a_gap_and_an_overlap_are_found_at_loading() -> None:
    table = bands(band("0.4 mm", "0.6 mm"), band("0.7 mm", "0.9 mm"), band("0.8 mm", "1.0 mm"))
    found = chart_problems(table)
    assert [problem.key for problem in found] == ["rows[1].over", "rows[2].over"]
    assert "a gap" in found[0].message
    assert "an overlap" in found[1].message


def test_points_out_of_order_or_twice_are_found_at_loading() -> None:
    assert keys(points(point("1 mm"), point("0.8 mm"), point("0.8 mm"))) == ["rows[1].thickness", "rows[2].thickness"]


def test_a_band_that_ends_before_it_begins_is_found_at_loading() -> None:
    assert keys(bands(band("1.2 mm", "1.0 mm"))) == ["rows[0]"]


def test_an_operation_in_the_wrong_form_of_thickness_is_found_at_loading() -> None:
    table = bands(point("1 mm"), tolerance={"force": "1 %", "weld time": "1 %", "current": "1 %"})
    assert keys(table) == ["rows[0]"]


def test_a_point_operation_with_band_ends_is_found_at_loading() -> None:
    assert keys(points(point("1 mm", over="0.9 mm"))) == ["rows[0]"]


def test_a_range_that_runs_backwards_is_found_at_loading() -> None:
    problem = chart_problems(bands(band("1.0 mm", "1.2 mm", ("9 kA", "7000 A"))))[0]
    assert (problem.key, problem.value) == ("rows[0].current to", "7000 A")


def test_a_setting_of_nothing_is_found_at_loading() -> None:
    table = bands(band("1.0 mm", "1.2 mm", **{"force from": "0 kN", "cap face": "0 mm", "pulses": "0"}))
    assert keys(table) == ["rows[0].cap face", "rows[0].force from", "rows[0].pulses"]


def test_no_hold_time_is_a_figure_too() -> None:
    assert keys(points(point("1 mm", hold="0 ms"))) == []


def test_a_missing_column_is_found_at_loading() -> None:
    without = {key: value for key, value in point("1 mm").items() if key != "force"}
    problem = chart_problems(points(without))[0]
    assert (problem.key, problem.message) == ("columns", "the chart does not state force")


def test_a_half_filled_or_twice_filled_column_is_found_at_loading() -> None:
    half = {key: value for key, value in band("1.2 mm", "1.6 mm").items() if key != "current to"}
    twice = band("1.6 mm", "2.0 mm", current=("7 kA", "9 kA")) | {"current": "8 kA"}
    assert keys(bands(band("1.0 mm", "1.2 mm"), half, twice)) == ["rows[1].current", "rows[2].current"]


def test_a_column_that_changes_form_is_found_at_loading() -> None:
    assert keys(points(point("1 mm"), point("2 mm", hold="200 ms"))) == ["rows[1].hold"]


def test_a_missing_tolerance_is_found_at_loading() -> None:
    assert keys(points(point("1 mm"), tolerance={"force": "1 %", "current": "1 %"})) == ["tolerance"]


def test_a_spacing_chart_needs_no_tolerance() -> None:
    rows = [{"thickness": "1 mm", "pitch": "19 mm", "overlap": "13 mm"}]
    head = {"table": "pitch-chart", "title": "pitch", "source": "invented", "revision": "1", "kind": "spot spacing"}
    table = SpotSpacing.model_validate(head | {"form": "points", "columns": {}, "rows": rows})
    assert chart_problems(table) == ()
    assert read(locate(table, mm(1)), "pitch")[0].result.m_as("mm") == 19


def test_a_chart_carries_between_two_points_what_both_of_them_state() -> None:
    chart = points(point("1 mm", squeeze="20 cycles@60Hz"), point("2 mm"), point("3 mm"))
    assert carries(locate(chart, mm(1)), "squeeze")
    assert not carries(locate(chart, mm(1.5)), "squeeze")
    assert not carries(locate(chart, mm(2.5)), "squeeze")
