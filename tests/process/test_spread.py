"""One rule for the digits that a figure is shown with: how well it is known."""

from __future__ import annotations

from decimal import Decimal

import pytest

from generator.process.spread import beside
from generator.units import known_to, last_digit, quantity, told_apart


@pytest.mark.parametrize(
    ("spread", "last"), [("0.49", "0.1"), ("0.5", "1"), ("4.9", "1"), ("5", "1E+1"), ("0.04", "0.01"), ("0.05", "0.1")]
)
def test_rounding_to_the_last_digit_moves_a_number_no_further_than_it_is_known(spread: str, last: str) -> None:
    assert last_digit(Decimal(spread)) == Decimal(last)
    assert Decimal(last) / 2 <= Decimal(spread) < Decimal(last) * 5


@pytest.mark.parametrize(
    ("number", "spread", "shown"),
    [
        ("30.6", "3.06", "31"),  # a run in hours, of which a tenth is not counted
        ("0.365", "0.04", "0.36"),  # a heat input on a current known to a tenth
        ("1561.03", "0.5", "1560"),  # three significant digits at most
        ("0.0501", "0.005", "0.05"),
        ("7", "50", "7"),  # one significant digit is always kept
        ("12.345", "0", "12.3"),
    ],
)
def test_a_number_is_shown_as_far_as_it_is_known(number: str, spread: str, shown: str) -> None:
    assert known_to(Decimal(number), Decimal(spread)) == Decimal(shown)


def test_two_numbers_are_shown_as_far_as_it_takes_to_see_which_is_greater() -> None:
    found, limit = told_apart(Decimal("11.96"), Decimal(12), Decimal(1))
    assert found < limit
    assert told_apart(Decimal("11.2"), Decimal(12), Decimal(1)) == (Decimal(11), Decimal(12))


def test_a_length_just_below_its_limit_never_reads_as_the_limit() -> None:
    found, limit = beside(quantity(11.96, "mm"), quantity(12.0, "mm"), "mm", Decimal(1))
    assert (str(found), str(limit)) == ("11.96", "12.00")
