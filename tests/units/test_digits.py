"""How numbers are shown: honest digits, machine steps, no exponent."""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.units import (
    as_written,
    distinguished,
    exceeds,
    is_between,
    kinds,
    limit_digits,
    parse,
    plain,
    quantity,
    show,
    shown,
    step_down,
    step_up,
    to_step,
)
from weld_packets.units.scales import sheet_amount


@pytest.mark.parametrize(
    ("magnitude", "digits", "text"),
    [(8.44, 2, "8.4"), (8.45, 2, "8.4"), (12345.0, 3, "12300"), (0.000123456, 3, "0.000123"), (0.1 + 0.2, 3, "0.300"),
     (1e-30, 3, "0.000000000000"), (-0.0, 3, "0.00"), (99.96, 3, "100"), (9.996, 3, "10.0")],
)  # fmt: skip
def test_significant_digits_are_kept_and_no_more(magnitude: float, digits: int, text: str) -> None:
    assert show(quantity(magnitude, "mm"), "mm", digits) == text


def test_conversion_to_the_other_system_is_exact_by_definition_of_the_inch() -> None:
    assert show(quantity(25.4, "mm"), "in", 4) == "1.000"


def test_cycles_are_time_at_their_mains_frequency() -> None:
    assert show(quantity(200, "ms"), "cycles@50Hz", 2) == "10"
    assert show(quantity(250, "ms"), "cycles@60Hz", 2) == "15"


def test_a_step_rounds_to_whole_steps_with_the_decimals_of_the_step() -> None:
    assert to_step(quantity(8.4444, "kA"), Decimal("0.1"), "kA") == Decimal("8.4")
    assert str(to_step(quantity(8, "kA"), Decimal("0.05"), "kA")) == "8.00"
    assert step_up(quantity(8.41, "kA"), Decimal("0.1"), "kA") == Decimal("8.5")
    assert step_down(quantity(8.49, "kA"), Decimal("0.1"), "kA") == Decimal("8.4")


def test_float_noise_does_not_lift_a_value_by_a_step() -> None:
    assert step_up(quantity(0.1 + 0.2, "mm"), Decimal("0.1"), "mm") == Decimal("0.3")
    assert step_down(quantity(1.1 * 3, "mm"), Decimal("0.1"), "mm") == Decimal("3.3")


def test_units_follow_their_number_after_a_space_that_does_not_break() -> None:
    assert shown(quantity(3, "mm"), "mm") == "3.00\N{NO-BREAK SPACE}mm"
    assert shown(quantity(45, "°"), "°", 2) == "45°"


def test_plain_text_has_no_exponent() -> None:
    assert plain(Decimal("1E+3")) == "1000"


@pytest.mark.parametrize(
    ("number", "printed"), [(1.2345, "1.2345"), (1.23456, "1.235"), (123456.0, "123456"), (0.06, "0.06")]
)
def test_a_stated_number_is_printed_in_full_up_to_five_digits_and_a_longer_one_as_worked_out(
    number: float, printed: str
) -> None:
    assert as_written(quantity(number, "mm")) == f"{printed}\N{NO-BREAK SPACE}mm"


def test_float_noise_makes_no_magnitude_larger_than_its_limit() -> None:
    assert not exceeds(0.1 + 0.2, 0.3)
    assert exceeds(0.301, 0.3)
    assert not exceeds(0.299, 0.3)


def test_float_noise_puts_no_end_of_a_range_outside_it() -> None:
    assert is_between(0.3, 0.1 + 0.2, 0.4)
    assert is_between(0.2, 0.1 + 0.2, 0.3)
    assert not is_between(0.2, 0.301, 0.3)
    assert not is_between(0.301, 0.3, 0.4)
    assert is_between(0.3, 0.3, 0.3)


def test_two_equal_numbers_are_shown_as_they_are_and_not_made_finer() -> None:
    assert distinguished(Decimal("2.04"), Decimal("2.04"), Decimal("0.1")) == (Decimal("2.0"), Decimal("2.0"))
    assert distinguished(Decimal("2.04"), Decimal("2.01"), Decimal("0.1")) == (Decimal("2.04"), Decimal("2.01"))


@pytest.mark.parametrize(
    ("number", "text"),
    [("1234", "1234"), ("123.4", "123"), ("12.34", "12.3"), ("0.12345", "0.123"), ("98765", "98765")],
)
def test_a_limit_has_three_digits_and_a_whole_number_all_of_its_own(number: str, text: str) -> None:
    assert limit_digits(Decimal(number), "ROUND_FLOOR") == text


@pytest.mark.parametrize(
    ("inches", "printed"),
    [
        ("3/16 in", "0.1875"),
        ("5/32 in", "0.15625"),
        ("7/64 in", "0.1094"),  # 0.109375
        ("11/64 in", "0.1719"),  # 0.171875
        ("1 11/64 in", "1.172"),  # 1.171875
        ("12 11/64 in", "12.172"),  # a thousandth is finer than four digits
        ("48 in", "48"),
    ],
)
def test_sixty_fourths_of_an_inch_are_printed_to_four_digits_or_a_thousandth(inches: str, printed: str) -> None:
    value = parse(inches, kinds.LENGTH)
    assert as_written(value) == f"{printed}\N{NO-BREAK SPACE}in"
    assert sheet_amount(value, "US customary").value == printed
