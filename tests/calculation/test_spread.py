"""One rule for the digits that a figure is shown with: how well it is known."""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.calculation.readings import beside, moved, share_of, share_of_size, share_of_stated, spread_of
from weld_packets.calculation.sentences import lengths
from weld_packets.calculation.trace import AllowedRange, Figure
from weld_packets.processes.arc.heat.heat import arc_energy
from weld_packets.units import distinguished, kinds, known_to, last_digit, quantity
from weld_packets.units.digits import TENTH

ALLOWED = AllowedRange(quantity(128.0, "A"), quantity(163.0, "A"), "chart")


def current(
    text: str, allowed_range: AllowedRange | None = None, step: str | None = None, spread: float | None = None
) -> Figure:
    value = quantity(float(text), "A")
    last = None if step is None else Decimal(step)
    return Figure(
        "current", "Current", "I", kinds.CURRENT, "A", value, Decimal(text), allowed_range, last, spread=spread
    )


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
    found, limit = distinguished(Decimal("11.96"), Decimal(12), Decimal(1))
    assert found < limit
    assert distinguished(Decimal("11.2"), Decimal(12), Decimal(1)) == (Decimal(11), Decimal(12))


def test_a_length_just_below_its_limit_never_reads_as_the_limit() -> None:
    found, limit = beside(quantity(11.96, "mm"), quantity(12.0, "mm"), "mm", Decimal(1))
    assert (str(found), str(limit)) == ("11.96", "12.00")


@pytest.mark.parametrize(
    ("figure", "known"),
    [
        (current("146", ALLOWED, "5", 3.0), 3.0),  # what its inputs leave goes before all else
        (current("146", ALLOWED, "5"), 5.0),  # a set value: the step of its machine
        (current("146", ALLOWED), 17.5),  # a reading: half of 128 A to 163 A
        (current("146"), 1.0),  # a stated number: its last digit
        (current("14.6", AllowedRange(None, quantity(20.0, "A"), "chart")), 0.1),  # a range with one end says nothing
    ],
)
def test_a_figure_is_known_to_what_it_was_made_with(figure: Figure, known: float) -> None:
    assert spread_of(figure) == pytest.approx(known)
    assert share_of(figure) == pytest.approx(known / float(figure.text or 0))


def test_a_size_is_known_to_a_weld_gauge_and_a_stated_number_to_its_last_digit() -> None:
    assert share_of_size(quantity(2.5, "mm")) == pytest.approx(0.1 / 2.5)
    assert share_of_stated(quantity(95.0, "%"), "%") == pytest.approx(1 / 95)
    assert share_of_stated(quantity(1.13, "1"), "1") == pytest.approx(0.01 / 1.13)


def test_a_result_moves_by_the_root_of_the_sum_of_squares_of_what_its_inputs_move_it() -> None:
    worked = arc_energy.work(
        arc_voltage=quantity(20.0, "V"), welding_current=quantity(150.0, "A"), travel_speed=quantity(8.0, "mm/s")
    )  # 20 * 150 / 8000 = 0.375 kJ/mm
    shares = {"arc_voltage": 0.03, "welding_current": 0.04}
    assert moved(worked, shares, "kJ/mm") == pytest.approx(0.375 * 0.05)
    assert moved(worked, {"travel_speed": 0.25}, "kJ/mm") == pytest.approx(0.375 * 0.2)  # 1 - 1 / 1.25


def test_a_measured_length_and_its_limit_get_the_digits_that_tell_them_apart() -> None:
    assert [one.text for one in lengths(11.96, 12.0, TENTH)] == [
        "11.96\N{NO-BREAK SPACE}mm",
        "12.00\N{NO-BREAK SPACE}mm",
    ]
    assert [one.text for one in lengths(9.04, 12.0, TENTH)] == ["9.0\N{NO-BREAK SPACE}mm", "12.0\N{NO-BREAK SPACE}mm"]


def test_nothing_is_known_to_no_share_of_itself() -> None:
    assert share_of_size(quantity(0.0, "mm")) == 0
    assert share_of_stated(quantity(0.0, "%"), "%") == 0
    assert share_of(current("0")) == 0
