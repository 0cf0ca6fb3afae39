"""Values set to a machine's step inside their window."""

from decimal import Decimal
from typing import Any

import pytest

from generator.errors import OutOfRangeError
from generator.process.dial import Setting, between, set_to_step
from generator.process.trace import Name, Window
from generator.units import kinds, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)


def feed(value: float) -> Any:
    return quantity(value, "m/min")


def span(step: float = 0.1, low: float = 1, high: float = 20) -> Setting:
    return between("feeder", feed(low), feed(high), feed(step))


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
    with pytest.raises(OutOfRangeError, match="below the least of feeder"):
        set_to_step(FEED, feed(3.14), Window(feed(2), feed(4), "chart"), span(0.1, 5, 10), ())
