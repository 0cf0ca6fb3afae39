"""Values set to a machine's step inside their allowed range."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.dial import Setting, between, set_inside, target
from weld_packets.calculation.trace import AllowedRange, Name
from weld_packets.errors import OutOfRangeError
from weld_packets.units import kinds, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)


def feed(value: float) -> Any:
    return quantity(value, "m/min")


def span(step: float = 0.1, low: float = 1, high: float = 20) -> Setting:
    return between("feeder", feed(low), feed(high), feed(step))


def test_a_value_goes_to_the_nearest_step_and_the_allowed_range_to_the_steps_inside_it() -> None:
    figure = set_inside(FEED, feed(3.14), AllowedRange(feed(2.83), feed(3.46), "chart"), span(), ())
    assert (str(figure.text), figure.allowed_range is not None) == ("3.1", True)
    assert figure.allowed_range is not None
    assert (figure.allowed_range.low, figure.allowed_range.high) == (feed(2.9), feed(3.4))


def test_a_nearest_step_outside_a_narrow_allowed_range_gives_way_to_one_inside() -> None:
    figure = set_inside(FEED, feed(3.14), AllowedRange(feed(3.12), feed(3.3), "chart"), span(), ())
    assert figure.text == Decimal("3.2")


def test_no_step_inside_the_allowed_range_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"no step of 0\.1"):
        set_inside(FEED, feed(3.14), AllowedRange(feed(3.12), feed(3.18), "chart"), span(), ())


def test_an_open_allowed_range_is_closed_by_the_machine() -> None:
    figure = set_inside(FEED, feed(3.14), AllowedRange(None, None, "chart"), span(0.5, 1.2, 4.8), ())
    assert figure.allowed_range is not None
    assert (figure.allowed_range.low, figure.allowed_range.high) == (feed(1.5), feed(4.5))


def test_an_allowed_range_that_the_machine_cuts_says_so() -> None:
    figure = set_inside(FEED, feed(3.14), AllowedRange(feed(2.5), feed(4), "chart"), span(0.1, 1, 3.5), ())
    assert figure.allowed_range is not None
    assert (figure.allowed_range.high, figure.allowed_range.origin) == (feed(3.5), "chart; upper end: feeder")


def test_beyond_the_machine_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="below the minimum of feeder"):
        set_inside(FEED, feed(3.14), AllowedRange(feed(2), feed(4), "chart"), span(0.1, 5, 10), ())


def allowed_range(low: float | None, high: float | None) -> AllowedRange:
    return AllowedRange(None if low is None else feed(low), None if high is None else feed(high), "chart")


@pytest.mark.parametrize(
    ("wanted", "low", "high", "step"),
    [
        (3.14, 2.8, 3.6, "3.1"),  # two steps and more inside both ends
        (2.8, 2.8, 3.6, "3.0"),  # wanted at the end of the range: two steps inside it
        (2.9, 2.8, 3.6, "3.0"),
        (3.6, 2.8, 3.6, "3.4"),
        (5, 2.8, 3.6, "3.4"),  # wanted outside the range
        (2.98, 2.75, 3.65, "3.0"),  # the first step inside 2.75 is 2.8
        (2.85, 2.75, 3.65, "3.0"),
        (3.2, 3.0, 3.4, "3.2"),  # four steps wide: the one step that lies two inside both ends
        (3.0, 3.0, 3.4, "3.2"),
        (3.0, 3.0, 3.3, "3.1"),  # three steps wide: two are nearest to the middle, 3.1 is nearer to what is wanted
        (3.3, 3.0, 3.3, "3.2"),
        (3.15, 3.0, 3.3, "3.1"),  # neither is nearer: the lower one
        (3.2, 3.0, 3.2, "3.1"),  # two steps wide
        (3.2, 3.12, 3.3, "3.2"),  # 3.3 is an end; the middle is 3.21
        (3.0, 2.9, 4.0, "3.1"),
        (3.42, 2.99, 3.44, "3.2"),  # wider than four steps, but none lies two inside both: the middle is 3.215
    ],
)
def test_what_is_target_at_lies_two_steps_inside_or_nearest_the_middle(
    wanted: float, low: float, high: float, step: str
) -> None:
    assert str(target(feed(wanted), allowed_range(low, high), span())) == step


@pytest.mark.parametrize(("low", "high"), [(3.12, 3.18), (3.1, 3.2), (3.1, 3.1), (3.12, 3.2), (3.1, 3.18)])
def test_a_range_with_no_step_but_at_its_ends_has_none_to_aim_at(low: float, high: float) -> None:
    assert target(feed(3.15), allowed_range(low, high), span()) is None


@pytest.mark.parametrize(
    ("wanted", "low", "high", "step"),
    [(3, None, 3.1, "2.9"), (3, 2.9, None, "3.1"), (3, None, None, "3.0"), (2.95, None, 3.3, "3.0")],
)
def test_an_open_end_asks_for_no_margin(wanted: float, low: float | None, high: float | None, step: str) -> None:
    assert str(target(feed(wanted), allowed_range(low, high), Setting("feeder", feed(0.1)))) == step


def test_the_ends_of_the_machine_are_ends_of_the_range() -> None:
    assert str(target(feed(3.4), allowed_range(2, 4), span(0.1, 1, 3.5))) == "3.3"
    assert str(target(feed(3.0), allowed_range(2, 4), span(0.1, 2.95, 10))) == "3.2"


def test_a_setting_inside_shows_the_steps_of_the_range_and_where_it_was_wanted() -> None:
    figure = set_inside(FEED, feed(3.6), AllowedRange(feed(2.83), feed(3.66), "chart"), span(), ())
    assert figure.allowed_range is not None
    assert (str(figure.text), figure.allowed_range.low, figure.allowed_range.high) == ("3.4", feed(2.9), feed(3.6))


def test_a_range_without_an_inner_step_is_refused_with_what_would_widen_it() -> None:
    with pytest.raises(OutOfRangeError, match=r"no step of 0\.1.*between the ends of 3\.1") as caught:
        set_inside(FEED, feed(3.15), AllowedRange(feed(3.1), feed(3.2), "chart"), span(), ())
    assert "wider than 0.1\N{NO-BREAK SPACE}m/min" in caught.value.problems[0].remedy


@pytest.mark.parametrize(
    ("low", "high", "said"), [(3.2, 10, "below the minimum of feeder"), (1, 3.0, "above the maximum of feeder")]
)
def test_a_setting_is_not_moved_to_where_the_machine_ends(low: float, high: float, said: str) -> None:
    with pytest.raises(OutOfRangeError, match=said):
        set_inside(FEED, feed(3.1), AllowedRange(feed(2), feed(4), "chart"), span(0.1, low, high), ())


@given(
    wanted=st.decimals(1, 9, places=3),
    low=st.decimals(1, 9, places=3),
    wide=st.decimals(0, 3, places=3),
    step=st.sampled_from(["0.001", "0.05", "0.1", "0.25", "1"]),
)
def test_every_aim_is_a_whole_step_that_no_other_step_betters(
    wanted: Decimal, low: Decimal, wide: Decimal, step: str
) -> None:
    width, high = Decimal(step), low + wide
    found = target(feed(float(wanted)), allowed_range(float(low), float(high)), span(float(step), 0, 100))
    count = range(int(low / width), int(high / width) + 2)
    steps = [number * width for number in count if low <= number * width <= high]
    inner = [number for number in steps if low < number < high]
    wide_enough = steps[2:-2]
    if not inner:
        assert found is None
        return
    assert found in inner
    if wide_enough:
        assert found in wide_enough
        assert all(abs(found - wanted) <= abs(other - wanted) for other in wide_enough)
    else:
        middle = (low + high) / 2
        assert all(abs(found - middle) <= abs(other - middle) for other in inner)
