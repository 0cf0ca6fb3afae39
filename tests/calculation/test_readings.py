"""Figures that are read, not dialled: honest digits, allowed ranges rounded inward."""

from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.countermeasures import MEASURE_CAP
from weld_packets.calculation.readings import charted, doubts, no_number, ordered, result, value_of
from weld_packets.calculation.trace import AllowedRange, Lookup, Name, Remark, Weight
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc.size.formulas import leg_from_throat
from weld_packets.units import kinds, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)


def feed(value: float) -> Any:
    return quantity(value, "m/min")


def test_a_chart_value_keeps_honest_digits_and_its_allowed_range_is_rounded_inward() -> None:
    current = Name("welding_current", "Welding current", "I", kinds.CURRENT)
    middle = quantity(145.5678, "A")
    lookup = Lookup("t", "1", "s", "current", quantity(2, "mm"), (), (), None, middle)
    allowed_range = AllowedRange(quantity(127.8, "A"), quantity(163.4, "A"), "chart")
    figure = charted(current, lookup, allowed_range, Decimal(1))
    assert (str(figure.text), figure.allowed_range) == (
        "146",
        AllowedRange(quantity(128, "A"), quantity(163, "A"), "chart"),
    )
    open_ended = charted(current, lookup, AllowedRange(None, None, "chart"), Decimal(1))
    assert open_ended.allowed_range == AllowedRange(None, None, "chart")


@pytest.mark.parametrize(("low", "high", "shown"), [(10.02, 10.98, None), (10.02, 11.0, "11"), (10.0, 10.98, "10")])
def test_a_range_without_a_number_that_the_display_shows_is_refused(low: float, high: float, shown: str | None) -> None:
    current, middle = Name("welding_current", "Welding current", "I", kinds.CURRENT), quantity((low + high) / 2, "A")
    lookup = Lookup("t", "1", "s", "current", quantity(2, "mm"), (), (), None, middle)
    allowed_range = AllowedRange(quantity(low, "A"), quantity(high, "A"), "chart")
    if shown:
        assert str(charted(current, lookup, allowed_range, Decimal(1)).text) == shown
        return
    with pytest.raises(OutOfRangeError, match=r"in steps of 1.A shows lies inside 10\.02 to 10\.98.A \(chart\)"):
        charted(current, lookup, allowed_range, Decimal(1))


def test_a_stated_value_never_shows_an_exponent() -> None:
    assert str(ordered(FEED, feed(50), "order").text) == "50"
    assert str(ordered(FEED, feed(2.5), "order").text) == "2.5"


def test_a_minimum_size_is_rounded_up() -> None:
    leg = Name("leg", "Leg required", "z", kinds.LENGTH)
    worked = leg_from_throat.work(throat=quantity(2.5, "mm"))  # 3.53553 mm
    assert str(result(leg, worked, shares={"throat": 0.02}).text) == "3.5"
    figure = result(leg, worked, shares={"throat": 0.02}, minimum=True)
    assert (str(figure.text), figure.minimum, figure.value) == ("3.54", True, worked.result)


def test_what_is_outside_its_method_has_no_value() -> None:
    figure = no_number(FEED, "too thin")
    assert figure.outside == "too thin"
    with pytest.raises(ValueError, match="wire_feed_speed"):
        value_of(figure)


def test_a_value_from_memory_warns_and_common_practice_is_noted_for_the_auditor() -> None:
    assert doubts("a guide", "from memory", MEASURE_CAP) == (
        Remark(Weight.WARNING, "a guide", countermeasure=MEASURE_CAP),
    )
    assert doubts("a guide", "common practice", MEASURE_CAP) == (Remark(Weight.NOTE, "a guide", reader="auditor"),)
    assert doubts("a standard", "published", MEASURE_CAP) == ()
