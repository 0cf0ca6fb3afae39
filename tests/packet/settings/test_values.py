from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

import pytest
from weld_packets.calculation.readings import MINIMUM, Shown, ordered, rounded_result
from weld_packets.calculation.trace import Name, Weight
from weld_packets.calculation.trace import Remark as ProcessRemark
from weld_packets.packet.records.order import Packet
from weld_packets.packet.settings.values import Showing, printed_value
from weld_packets.processes.arc.size.fit_up import NEVER_MORE
from weld_packets.units import Kind, SystemOfUnits, kinds, parse, quantity
from weld_packets.units.scales import sheet_amount, stated_amount

METRIC = Showing("metric", 50)
CUSTOMARY = Showing("US customary", 60)


def test_force_is_printed_with_its_step_and_in_pounds_without_false_precision(make: Any) -> None:
    value = printed_value(make.figure("electrode_force", "2.60", "kN", kinds.FORCE, step="0.05"), METRIC, "k1")
    assert (value.amount.value, value.amount.unit) == ("2.60", "kN")
    assert (value.amount.second, value.amount.second_unit) == ("585", "lbf")  # 2.60 kN = 584.50 lbf
    assert (value.step.value, value.step.second) == ("0.05", "11.2")


def test_us_order_prints_what_the_metric_machine_can_be_set_to_first(make: Any) -> None:
    figure = make.figure("travel_speed", "8.0", "mm/s", kinds.TRAVEL_SPEED, low="7.5", high="8.4", step="0.1")
    value = printed_value(figure, CUSTOMARY, "k1")
    assert (value.amount.value, value.amount.unit) == ("8.0", "mm/s")
    assert (value.amount.second, value.amount.second_unit) == ("18.9", "in/min")
    assert (value.window.low, value.window.high, value.step.value) == ("7.5", "8.4", "0.1")


def test_us_order_prints_what_nobody_dials_in_its_own_system_first(make: Any) -> None:
    value = printed_value(make.figure("wire_mass", "0.139", "kg", kinds.MASS), CUSTOMARY, "k1")
    assert (value.amount.value, value.amount.unit, value.amount.second) == ("0.306", "lb", "0.139")


def test_sheet_of_a_quarter_inch_is_not_rounded_to_a_tenth_of_a_millimetre(make: Any) -> None:
    value = printed_value(make.figure("governing_thickness", "0.25", "in", kinds.THICKNESS), CUSTOMARY, "k1")
    assert (value.amount.value, value.amount.second) == ("0.25", "6.35")


def test_machine_that_dials_us_units_is_exact_in_them_for_metric_readers_too(make: Any) -> None:
    value = printed_value(make.figure("wire_feed_speed", "335", "in/min", kinds.WIRE_FEED, step="5"), METRIC, "k1")
    assert (value.amount.value, value.amount.unit) == ("335", "in/min")
    assert (value.amount.second, value.amount.second_unit) == ("8.51", "m/min")


def test_weld_time_in_cycles_is_followed_by_milliseconds_and_the_other_way_round(make: Any) -> None:
    cycles = printed_value(make.figure("weld_time", "12", "cycles@60Hz", kinds.TIME, step="1"), CUSTOMARY, "k1")
    assert cycles.amount.text == "12\N{NO-BREAK SPACE}cycles at 60 Hz (200\N{NO-BREAK SPACE}ms)"
    odd = make.figure("weld_time", "10", "cycles@60Hz", kinds.TIME, low="9", high="11", step="1")
    value = printed_value(odd, CUSTOMARY, "k1")  # 150, 166.67 and 183.33 ms, the step 16.67 ms
    assert (value.window.second_low, value.amount.second, value.window.second_high) == ("150", "167", "183")
    assert (value.step.value, value.step.second) == ("1", "16.7")
    step = printed_value(make.figure("weld_time", "10", "cycles@50Hz", kinds.TIME, step="1"), METRIC, "k1").step
    assert step.second == "20"
    ms = printed_value(make.figure("weld_time", "170", "ms", kinds.TIME, step="1"), METRIC, "k1")
    assert (ms.amount.value, ms.amount.second, ms.amount.second_unit) == ("170", "8.5", "cycles at 50 Hz")


def test_current_and_voltage_have_no_second_unit(make: Any) -> None:
    value = printed_value(make.figure("arc_voltage", "19.5", "V", kinds.VOLTAGE, step="0.1"), CUSTOMARY, "k1")
    assert (value.amount.value, value.amount.unit, value.amount.second, value.amount.second_unit) == (
        "19.5", "V", "", ""
    )  # fmt: skip


def test_window_is_rounded_inward_to_the_step_and_converted_as_it_is_shown(make: Any) -> None:
    figure = make.figure("electrode_force", "2.6", "kN", kinds.FORCE, low="2.34", high="2.86", step="0.1")
    window = printed_value(figure, METRIC, "k1").window
    assert (window.low, window.high) == ("2.4", "2.8")
    assert (window.second_low, window.second_high) == (
        "540",
        "630",
    )  # the range is 526.05 to 642.95 lbf


def test_both_numbers_of_a_distance_say_the_same_range(make: Any) -> None:
    figure = make.figure("contact_distance", "15", "mm", kinds.LENGTH, low="13.5", high="16.5", step="1")
    value = printed_value(figure, METRIC, "k1")
    assert value.allowed.replace("\N{NO-BREAK SPACE}", " ") == "14 to 16 mm (0.55 to 0.63 in)"


def test_a_converted_end_that_would_leave_the_range_is_the_next_one_inside(make: Any) -> None:
    figure = make.figure("contact_distance", "15", "mm", kinds.LENGTH, low="14", high="17", step="1")
    window = printed_value(figure, METRIC, "k1").window
    assert (window.second_low, window.second_high) == ("0.56", "0.66")  # 0.5512 and 0.6693 in


def test_open_end_of_a_window_is_empty_text(make: Any) -> None:
    window = printed_value(make.figure("weld_diameter", "4.4", "mm", kinds.LENGTH, low="4.38"), METRIC, "k1").window
    assert (window.low, window.high, window.second_low, window.second_high) == ("4.4", "", "0.173", "")


def test_second_number_never_leaves_the_second_window(make: Any) -> None:
    figure = make.figure("electrode_force", "2.6", "kN", kinds.FORCE, low="2.3", high="2.6", step="0.05")
    value = printed_value(figure, METRIC, "k1")
    assert value.window.second_high == "584.5"  # 2.60 kN = 584.503 lbf, so that 585 lbf would be outside
    assert value.amount.second == "584.5"


def test_window_of_a_figure_without_step_is_never_wider_than_the_true_one(make: Any) -> None:
    figure = make.figure("minimum_pitch", "35", "mm", kinds.LENGTH, low="34.97", high="35.04")
    window = printed_value(figure, METRIC, "k1").window
    assert Decimal("34.97") <= Decimal(window.low) <= 35 <= Decimal(window.high) <= Decimal("35.04")


@pytest.mark.parametrize("step", ["0.1", "0.05", "0.02"])
def test_every_step_of_a_force_window_stays_inside_it_in_pounds(make: Any, step: str) -> None:
    pounds = Decimal("224.808943")
    for tens in range(int(Decimal("2.0") / Decimal(step)), int(Decimal("3.0") / Decimal(step)) + 1):
        text = (tens * Decimal(step)).quantize(Decimal(step))
        figure = make.figure("electrode_force", str(text), "kN", kinds.FORCE, low="2.0", high="3.0", step=step)
        value = printed_value(figure, METRIC, "k1")
        low, high, now = (Decimal(t) for t in (value.window.second_low, value.window.second_high, value.amount.second))
        assert 2 * pounds <= low <= now <= high <= 3 * pounds
        assert abs(now - text * pounds) <= Decimal(step) * pounds / 2  # the nearest step is still the right one


def test_temperature_converts_with_its_offset(make: Any) -> None:
    value = printed_value(make.figure("preheat", "120", "°C", kinds.TEMPERATURE), METRIC, "k1")
    assert (value.amount.second, value.amount.second_unit) == ("248", "°F")


def test_figure_outside_its_method_has_no_amount_and_says_why(make: Any) -> None:
    figure = make.figure("preheat", None, "°C", kinds.TEMPERATURE, outside="too thin")
    value = printed_value(figure, METRIC, "k1")
    assert value.amount is None
    assert value.outside == "outside the method: too thin"


def test_anchor_is_safe_and_remarks_keep_their_weight(make: Any) -> None:
    remark = ProcessRemark(Weight.WARNING, "from memory")
    value = printed_value(
        make.figure("weld_current", "8.4", "kA", kinds.SPOT_CURRENT, remarks=(remark,)), METRIC, "K1-c2a"
    )
    assert value.anchor == "k1-c2a-weld-current"
    assert [(each.weight, each.text, each.source) for each in value.remarks] == [("warning", "from memory", "")]


@pytest.mark.parametrize(
    ("written", "metric", "customary"),
    [("3 mm", "3\N{NO-BREAK SPACE}mm (0.118\N{NO-BREAK SPACE}in)", "0.118\N{NO-BREAK SPACE}in (3\N{NO-BREAK SPACE}mm)"),
     ("0.118 in", "3.00\N{NO-BREAK SPACE}mm (0.118\N{NO-BREAK SPACE}in)",
      "0.118\N{NO-BREAK SPACE}in (3.00\N{NO-BREAK SPACE}mm)"),
     ("1.25 mm", "1.25\N{NO-BREAK SPACE}mm (0.049\N{NO-BREAK SPACE}in)",
      "0.049\N{NO-BREAK SPACE}in (1.25\N{NO-BREAK SPACE}mm)"),
     ("0.04 in", "1.02\N{NO-BREAK SPACE}mm (0.040\N{NO-BREAK SPACE}in)",
      "0.040\N{NO-BREAK SPACE}in (1.02\N{NO-BREAK SPACE}mm)")],
)  # fmt: skip
def test_thickness_is_printed_as_written_and_converted_to_a_usual_digit(
    written: str, metric: str, customary: str
) -> None:
    thickness = parse(written, kinds.THICKNESS)
    assert sheet_amount(thickness, "metric").text == metric
    assert sheet_amount(thickness, "US customary").text == customary


def test_a_value_at_the_end_of_its_window_is_converted_like_that_end(make: Any) -> None:
    figure = make.figure("travel_speed", "7.7", "mm/s", kinds.TRAVEL_SPEED, low="6.6", high="7.7", step="0.1")
    value = printed_value(figure, CUSTOMARY, "k1")
    assert value.amount.second == value.window.second_high == "18.18"  # 7.7 mm/s = 18.189 in/min


def test_a_limit_keeps_the_digits_that_its_value_does_not_need(make: Any) -> None:
    window = printed_value(make.figure("cap_face", "6", "mm", kinds.LENGTH, high="6.35"), METRIC, "k1").window
    assert (window.high, window.second_high) == ("6.35", "0.250")


def test_a_note_says_whom_it_concerns_and_a_warning_always_concerns_the_setter(make: Any) -> None:
    remarks = (
        ProcessRemark(Weight.NOTE, "push"),
        ProcessRemark(Weight.NOTE, "typical analysis", reader="auditor"),
        ProcessRemark(Weight.WARNING, "outside what is usual", reader="auditor"),
    )
    value = printed_value(make.figure("travel_angle", "10", "°", kinds.ANGLE, remarks=remarks), METRIC, "k")
    assert [remark.reader for remark in value.remarks] == ["setter", "auditor", "setter"]


def test_rate_is_stated_per_minute(make: Any) -> None:
    value = printed_value(make.figure("spot_rate", "102", "1/min", kinds.RATE), METRIC, "k")
    assert value.amount is not None
    assert (value.amount.value, value.amount.unit) == ("102", "per minute")


@pytest.mark.parametrize(
    ("number", "unit", "kind", "first", "shown"),
    [
        (35, "ft", kinds.DISTANCE, "metric", "11 m (35 ft)"),
        (35, "ft", kinds.DISTANCE, "US customary", "35 ft (11 m)"),
        (11, "m", kinds.DISTANCE, "metric", "11 m (36 ft)"),
        (100, "ft", kinds.DISTANCE, "metric", "30 m (100 ft)"),
        (5.7, "l/min", kinds.WATER_FLOW, "metric", "5.7 l/min (1.5 gal/min)"),
        (6, "l/min", kinds.WATER_FLOW, "metric", "6 l/min (1.6 gal/min)"),
        (96, "dB(A)", kinds.SOUND_LEVEL, "metric", "96 dB(A)"),
    ],
)  # fmt: skip
def test_stated_figure_is_shown_in_both_systems_with_its_own_digits_and_at_least_two(
    number: float, unit: str, kind: Kind, first: SystemOfUnits, shown: str
) -> None:
    amount = stated_amount(quantity(number, unit), kind, first, 50)
    assert amount.text.replace("\N{NO-BREAK SPACE}", " ") == shown


@pytest.mark.parametrize(
    ("text", "spread", "second"),
    [
        ("3", 0.5, "120"),  # 0.5 m/min = 19.7 in/min: the tens are known, the ones are not
        ("3.4", 0.1, "134"),  # 0.1 m/min = 3.9 in/min
        ("0.2", 3.0, "8"),  # one significant digit is always kept
    ],
)
def test_the_other_unit_claims_no_digit_that_the_spread_does_not_leave(
    make: Any, text: str, spread: float, second: str
) -> None:
    figure = replace(make.figure("wire_feed_by_law", text, "m/min", kinds.WIRE_FEED), spread=spread)
    assert printed_value(figure, METRIC, "k1").amount.second == second


def test_a_result_is_rounded_once_in_either_unit(make: Any) -> None:
    """18.43 mm² are 0.02857 in²; the 18 mm² that are shown are 0.0279 in²."""
    figure = replace(make.figure("weld_area", "18", "mm²", kinds.AREA), value=quantity(18.43, "mm²"))
    for showing, shown in ((METRIC, "18 mm² (0.029 in²)"), (CUSTOMARY, "0.029 in² (18 mm²)")):
        assert printed_value(figure, showing, "k1").amount.text.replace("\N{NO-BREAK SPACE}", " ") == shown


def test_nothing_used_is_a_plain_zero_in_both_units(make: Any) -> None:
    value = printed_value(make.figure("gas_used", "0", "l", kinds.VOLUME), CUSTOMARY, "k1")
    assert (value.amount.value, value.amount.unit, value.amount.second) == ("0", "ft³", "0")


@pytest.mark.parametrize(
    ("first", "size", "unit", "shown"),
    [
        ("metric", "3.5355", "mm", ("3.54", "mm", "0.140", "in")),
        ("metric", "3.5", "mm", ("3.5", "mm", "0.138", "in")),
        ("US customary", "7.7231", "mm", ("0.305", "in", "7.73", "mm")),
        ("US customary", "0.1875", "in", ("0.1875", "in", "4.77", "mm")),  # 4.7625 mm; written in sixteenths
        ("metric", "0.215", "in", ("5.47", "mm", "0.215", "in")),  # 5.461 mm
        ("US customary", "0.10938", "in", ("0.110", "in", "2.78", "mm")),  # 2.778 mm
        ("metric", "30", "mm", ("30", "mm", "1.182", "in")),  # 1.1811 in
    ],
)
def test_a_minimum_size_is_rounded_up_in_both_systems(
    make: Any, first: Any, size: str, unit: str, shown: tuple[str, ...]
) -> None:
    figure = replace(make.figure("leg", size, unit, kinds.LENGTH), minimum=True)
    amount = printed_value(figure, Showing(first, 50), "k1").amount
    assert amount
    assert (amount.value, amount.unit, amount.second, amount.second_unit) == shown


def test_the_leg_of_the_card_is_the_leg_of_the_map(demo_packets: dict[str, Packet]) -> None:
    beams = demo_packets["lk-2063-coastal-column"].operations[0]
    legs = [value.amount.text for group in beams.groups for value in group.derived if value.figure == "leg"]
    size = beams.weld_columns.index("Size")
    assert {f"z {leg}" for leg in legs} == {weld.cells[size].split(" a ")[0] for weld in beams.welds}
    assert "z0.305" in beams.pictures[0].svg


# ---------------------------------------------------------------- limits in the other unit, 1 in = 25.4 mm

PITCH = Shown("mm", Decimal(1), ROUND_CEILING, "")


@pytest.mark.parametrize(
    ("shown", "millimetres", "inches"),
    [
        (MINIMUM, 4.5, "0.178"),  # 0.17717 in
        (MINIMUM, 5.08, "0.200"),  # shown as 5.1 mm, but 0.2 in exactly
        (NEVER_MORE, 0.55, "0.0216"),  # 0.021654 in
        (NEVER_MORE, 0.127, "0.0050"),  # shown as 0.12 mm, but 0.005 in exactly
        (PITCH, 19.05, "0.75"),  # shown as 20 mm, but 3/4 in exactly
    ],
)
def test_what_must_be_reached_is_rounded_up_in_the_other_unit_and_what_must_not_be_passed_down(
    shown: Shown, millimetres: float, inches: str
) -> None:
    name = Name("size", "Size", "", kinds.LENGTH)
    amount = printed_value(rounded_result(name, quantity(millimetres, "mm"), shown, ()), METRIC, "k1").amount
    assert amount is not None
    assert (amount.second, amount.second_unit) == (inches, "in")


def test_a_size_that_is_the_same_in_both_units_is_not_moved() -> None:
    name = Name("size", "Size", "", kinds.LENGTH)
    amount = printed_value(rounded_result(name, quantity(12.7, "mm"), MINIMUM, ()), METRIC, "k1").amount
    assert amount is not None
    assert (amount.value, amount.second) == ("12.7", "0.500")


_LIMITS = {
    **dict.fromkeys(("throat", "target_weld_diameter", "set_up_weld_diameter", "minimum_weld_diameter"), 1),
    **dict.fromkeys(("minimum_pitch", "minimum_overlap", "minimum_edge_distance"), 1),
    **dict.fromkeys(("root_gap", "gap_keeping_throat", "visible_indentation"), -1),
}
"""Figures that limit what is measured, in mm: 1 for a minimum, -1 for a maximum."""


def test_each_unit_rounds_a_limit_once_and_never_past_the_exact_one(demo_packets: dict[str, Packet]) -> None:
    """The trace prints the exact one, to four digits."""
    groups = [group for packet in demo_packets.values() for each in packet.operations for group in each.groups]
    limits = [value for group in groups for value in group.derived if value.figure in _LIMITS]
    assert {value.figure for value in limits} == set(_LIMITS)
    for value in limits:
        assert value.amount is not None
        exact = value.trace[-1].at if value.trace[-1].form == "rounded" else value.amount.in_both.split(" = ")[-1]
        true = Decimal(exact.replace("\N{NO-BREAK SPACE}", " ").removesuffix(" mm"))
        shown = {value.amount.unit: value.amount.value, value.amount.second_unit: value.amount.second}
        for unit, factor in (("mm", Decimal(1)), ("in", Decimal("25.4"))):
            number = Decimal(shown[unit])
            last = Decimal(1).scaleb(int(number.as_tuple().exponent))
            beyond = _LIMITS[value.figure] * (number * factor - true) / factor
            assert -true / 1000 <= beyond < last + true / 1000, value.amount


@pytest.mark.parametrize(
    ("rounding", "celsius", "fahrenheit"), [(ROUND_CEILING, 18.0, "65"), (ROUND_FLOOR, 123.0, "253")]
)  # 64.4 °F and 253.4 °F
def test_a_lowest_temperature_is_rounded_up_in_the_other_scale_and_a_highest_down(
    rounding: str, celsius: float, fahrenheit: str
) -> None:
    name = Name("temperature", "Temperature", "", kinds.TEMPERATURE)
    figure = ordered(name, quantity(celsius, "°C"), "table", spread=1.0, rounding=rounding)
    amount = printed_value(figure, METRIC, "k1").amount
    assert amount is not None
    assert amount.second == fahrenheit


def test_direction_of_the_torch_is_beside_its_angle_and_no_note_of_its_own(make: Any) -> None:
    notes = (ProcessRemark(Weight.NOTE, "push"), ProcessRemark(Weight.NOTE, "measured from the normal"))
    figure = replace(make.figure("travel_angle", "10", "°", kinds.ANGLE), remarks=notes[:1])
    value = printed_value(figure, METRIC, "k1")
    assert value.with_direction == "10° push"
    assert value.further_remarks == ()
    others = printed_value(replace(make.figure("work_angle", "45", "°", kinds.ANGLE), remarks=notes), METRIC, "k1")
    assert [each.text for each in others.further_remarks] == ["push", "measured from the normal"]
