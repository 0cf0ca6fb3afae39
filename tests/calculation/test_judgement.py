"""What becomes of an entry read at a machine."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.judgement import FAR_OFF, Linked, Range, is_accepted, judge, judge_together, number_of
from weld_packets.errors import OutOfRangeError

FEED = Range(
    Decimal("3.3"), Decimal("3.1"), Decimal("4.6"),
    (("mm/s", Decimal("0.06")), ("in/min", Decimal("0.0254")), ("cm/min", Decimal("0.01"))),
)  # fmt: skip
CURRENT = Range(Decimal("7.0"), Decimal("6.2"), Decimal("8.0"), (("A", Decimal("0.001")),))


@pytest.mark.parametrize(
    ("entered", "number"),
    [("3.2", "3.2"), ("3,2", "3.2"), (" 3,20\t", "3.20"), ("0012", "0012"), ("\N{NO-BREAK SPACE}0,05", "0.05")],
)
def test_comma_and_point_and_spaces_around_make_a_number(entered: str, number: str) -> None:
    assert number_of(entered) == number


@pytest.mark.parametrize(
    ("entered", "hint"),
    [
        ("", "enter what the machine shows"),
        (",5", "zero before"),
        ("1.234,5", "thousands"),
        ("3.2 m/min", "no unit"),
        ("3 200", "no unit"),
        ("NaN", "digits"),
        ("1e3", "digits"),
        ("٣", "digits"),
        ("+3", "digits"),
        ("-3", "digits"),
        ("1234567890", "digits"),
        ("1" * 4000, "digits"),
    ],
)
def test_what_is_not_a_number_is_refused_with_a_hint(entered: str, hint: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        number_of(entered)
    (problem,) = refused.value.problems
    assert hint in problem.remedy


@pytest.mark.parametrize(
    ("number", "verdict", "outside", "unit"),
    [
        ("3.3", "equal", "0", ""),
        ("3.300", "equal", "0", ""),
        ("3.1", "in range", "0", ""),
        ("4.6", "in range", "0", ""),
        ("3.0", "low", "0.1", ""),
        ("4.75", "high", "0.15", ""),
        ("130", "implausible", "125.4", "in/min"),
        ("55", "implausible", "50.4", "mm/s"),
        ("340", "implausible", "335.4", "cm/min"),
        ("13.8", "high", "9.2", ""),
        ("0", "low", "3.1", ""),
        ("900", "high", "895.4", ""),
    ],
)
def test_an_entry_is_judged_by_setting_range_and_likely_unit(
    number: str, verdict: str, outside: str, unit: str
) -> None:
    found = judge(Decimal(number), FEED)
    assert (found.verdict, found.outside, found.unit) == (verdict, Decimal(outside), unit)


def test_amperes_for_kiloamperes_are_named() -> None:
    assert judge(Decimal(7100), CURRENT).unit == "A"
    assert judge(Decimal(8100), CURRENT).verdict == "high"


def test_an_entry_within_the_factor_is_low_or_high_even_where_another_unit_fits() -> None:
    near = Range(Decimal(10), Decimal(9), Decimal(11), (("x", Decimal("0.6")), ("y", Decimal("1.6"))))
    assert judge(Decimal("16.5"), near).verdict == "high"
    assert judge(Decimal("16.6"), near).unit == "x"
    assert judge(Decimal(6), near).verdict == "low"
    assert judge(Decimal("5.9"), near).unit == "y"


@pytest.mark.parametrize(
    ("shown", "unit", "allowed"), [("18.9", "in/min", (8, "7.7", "8.5")), ("36", "ft³/h", (17, 15, 20))]
)
def test_the_nearest_pairs_of_units_are_distinguished(shown: str, unit: str, allowed: tuple[object, ...]) -> None:
    others = {"in/min": Decimal("0.423333333333"), "ft³/h": Decimal("0.4719474432")}
    found = judge(Decimal(shown), Range(*(Decimal(str(each)) for each in allowed), others=((unit, others[unit]),)))
    assert (found.verdict, found.unit) == ("implausible", unit)


def test_an_open_end_holds_everything_on_its_side() -> None:
    duty = Range(Decimal("14.5"), None, Decimal(20))
    assert judge(Decimal(0), duty).verdict == "in range"
    assert judge(Decimal("20.1"), duty).verdict == "high"


def test_without_a_range_only_the_setting_itself_is_right() -> None:
    angle = Range(Decimal(45), Decimal(45), Decimal(45))
    assert [judge(Decimal(number), angle).verdict for number in ("45", "44.9", "45.1")] == ["equal", "low", "high"]


@pytest.mark.parametrize(
    ("number", "minimum", "maximum", "accepted"),
    [("2.5", "2.5", "4.0", True), ("2.49", "2.5", "4.0", False), ("4.0", "2.5", "4.0", True),
     ("4.01", "2.5", "4.0", False), ("9", "4.5", None, True), ("0", None, "0.5", True)],
)  # fmt: skip
def test_a_result_on_its_limit_is_accepted(
    number: str, minimum: str | None, maximum: str | None, *, accepted: bool
) -> None:
    ends = (None if end is None else Decimal(end) for end in (minimum, maximum))
    assert is_accepted(Decimal(number), *ends) is accepted


NUMBERS = st.decimals(0, 999_999_999, allow_nan=False, places=9)


@given(NUMBERS, NUMBERS, NUMBERS, NUMBERS, st.sampled_from(["0.00444822161526", "0.0254", "1000", "16.6666666667"]))
def test_a_verdict_agrees_with_fractions(
    number: Decimal, setting: Decimal, one: Decimal, other: Decimal, factor: str
) -> None:
    low, high = sorted((one, other))
    found = judge(number, Range(setting, low, high, (("other", Decimal(factor)),)))
    exact, ends = Fraction(number), (Fraction(low), Fraction(high))
    inside = ends[0] <= exact <= ends[1]
    if exact == Fraction(setting):
        assert found.verdict == "equal"
    elif inside:
        assert found.verdict == "in range"
    else:
        far = exact * Fraction(FAR_OFF) < ends[0] if exact < ends[0] else exact > Fraction(FAR_OFF) * ends[1]
        slip = ends[0] <= exact * Fraction(factor) <= ends[1]
        assert (found.verdict == "implausible") == (far and slip)
        assert Fraction(found.outside) == (ends[0] - exact if exact < ends[0] else exact - ends[1])


@pytest.mark.parametrize(
    ("number", "other", "power", "low", "high", "verdict"),
    [
        ("8.854", "3.8", 1, "2.0", "2.33", "in range"),
        ("8.855", "3.8", 1, "2.0", "2.33", "high"),
        ("7.6", "3.8", 1, "2.0", "2.33", "in range"),
        ("7.59", "3.8", 1, "2.0", "2.33", "low"),
        ("9.3", "3.8", 1, "2.0", None, "in range"),
        ("1", "3.8", 1, None, "2.33", "in range"),
        ("200", "6.0", -2, "7200", "13440", "in range"),
        ("199", "6.0", -2, "7200", "13440", "low"),
        ("210", "8.0", -2, "7200", "13440", "in range"),
        ("211", "8.0", -2, "7200", "13440", "high"),
    ],
)
def test_a_value_is_judged_beside_the_one_that_limits_it(  # noqa: PLR0917 - one line is one case
    number: str, other: str, power: Literal[1, -2], low: str | None, high: str | None, verdict: str
) -> None:
    limit = Linked(power, *(None if end is None else Decimal(end) for end in (low, high)))
    assert judge_together(Decimal(number), Decimal(other), limit) == verdict
