"""Values set to a machine's step inside their window, and results with honest digits."""

from decimal import Decimal
from typing import Any

import pytest

from generator.errors import OutOfRangeError
from generator.process.arc.dial import Range, charted, no_number, ordered, set_to_step, value_of
from generator.process.trace import Lookup, Name, Window
from generator.units import kinds, magnitude, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)


def feed(value: float) -> Any:
    return quantity(value, "m/min")


def span(step: float = 0.1, low: float = 1, high: float = 20) -> Range:
    return Range(feed(low), feed(high), feed(step), "feeder")


def test_a_value_goes_to_the_nearest_step_and_the_window_to_the_steps_inside_it() -> None:
    figure = set_to_step(FEED, feed(3.14), Window(feed(2.83), feed(3.46), "chart"), span(), ())
    assert (str(figure.text), figure.window is not None) == ("3.1", True)
    assert figure.window is not None
    assert (figure.window.low, figure.window.high) == (feed(2.9), feed(3.4))


def test_a_nearest_step_outside_a_narrow_window_gives_way_to_one_inside() -> None:
    figure = set_to_step(FEED, feed(3.14), Window(feed(3.12), feed(3.3), "chart"), span(), ())
    assert figure.text == Decimal("3.2")


def test_no_step_inside_the_window_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"no step of 0\.1"):
        set_to_step(FEED, feed(3.14), Window(feed(3.12), feed(3.18), "chart"), span(), ())


def test_an_open_window_is_closed_by_the_machine() -> None:
    figure = set_to_step(FEED, feed(3.14), Window(None, None, "chart"), span(0.5, 1.2, 4.8), ())
    assert figure.window is not None
    assert (figure.window.low, figure.window.high) == (feed(1.5), feed(4.5))


def test_a_window_that_the_machine_cuts_says_so() -> None:
    figure = set_to_step(FEED, feed(3.14), Window(feed(2.5), feed(4), "chart"), span(0.1, 1, 3.5), ())
    assert figure.window is not None
    assert (figure.window.high, figure.window.origin) == (feed(3.5), "chart; upper end: feeder")


def test_beyond_the_machine_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="outside what feeder can give"):
        set_to_step(FEED, feed(3.14), Window(feed(2), feed(4), "chart"), span(0.1, 5, 10), ())


def test_a_chart_value_keeps_honest_digits_and_its_window_is_rounded_inward() -> None:
    current = Name("welding_current", "Welding current", "I", kinds.CURRENT)
    middle = quantity(145.5678, "A")
    lookup = Lookup("t", "1", "s", "current", quantity(2, "mm"), (), (), None, middle)
    window = Window(quantity(127.8, "A"), quantity(163.4, "A"), "chart")
    figure = charted(current, lookup, window)
    assert (str(figure.text), figure.window) == ("146", Window(quantity(128, "A"), quantity(163, "A"), "chart"))
    open_ended = charted(current, lookup, Window(None, None, "chart"))
    assert open_ended.window == Window(None, None, "chart")


def test_a_stated_value_never_shows_an_exponent() -> None:
    assert str(ordered(FEED, feed(50), "order").text) == "50"
    assert str(ordered(FEED, feed(2.5), "order").text) == "2.5"


def test_what_is_outside_its_method_has_no_value() -> None:
    figure = no_number(FEED, "too thin")
    assert figure.outside == "outside the method: too thin"
    with pytest.raises(ValueError, match="wire_feed_speed"):
        value_of(figure)


def test_a_magnitude_is_converted_by_factor_or_by_scale() -> None:
    assert magnitude(quantity(1, "in"), "mm") == pytest.approx(25.4)
    assert magnitude(quantity(68, "°F"), "°C") == pytest.approx(20)
