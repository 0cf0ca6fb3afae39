"""Where feed and speed are set together, in whole steps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.dial import MARGIN
from weld_packets.processes.arc.passes.feed_and_speed import OVER, Region, Slopes, Steps


@pytest.mark.parametrize(
    ("low", "high", "inner"),
    [
        (10, 20, (12, 18)),
        (10, 14, (12, 12)),
        (10, 13, (11, 12)),
        (10, 12, (11, 11)),
        (-13, -10, (-12, -11)),
    ],
)
def test_a_setting_keeps_two_steps_from_an_end_or_lies_at_the_middle_of_a_narrow_range(
    low: int, high: int, inner: tuple[int, int]
) -> None:
    assert Steps(low, high).inner() == Steps(*inner)


@pytest.mark.parametrize(("low", "high"), [(10, 11), (10, 10), (11, 10)])
def test_a_range_without_a_step_besides_its_ends_has_nothing_to_set(low: int, high: int) -> None:
    inner = Steps(low, high).inner()
    assert not any(inner.holds(step) for step in range(low - 3, high + 4))


FEEDS, SPEEDS = Steps(30, 50), Steps(70, 95)


def region(slopes: Slopes, feeds: Steps = FEEDS, aims: Steps | None = None) -> Region:
    return Region(feeds, SPEEDS, slopes, aims or feeds)


def test_the_ranges_at_a_set_value_end_where_the_weld_would_be_too_small_or_too_large() -> None:
    made = region(Slopes(2.2, 2.0, 1.8))
    assert made.speeds_at(40) == Steps(72, 88)
    assert made.feeds_at(80) == Steps(37, 44)
    assert region(Slopes(2.2, 2.0)).speeds_at(40) == Steps(70, 88)
    assert region(Slopes(2.2, 2.0)).feeds_at(80) == Steps(37, 50)


def test_a_step_that_lies_on_a_limit_belongs_to_the_range() -> None:
    assert region(Slopes(2.0, 1.9, 1.8)).speeds_at(40) == Steps(72, 80)


@pytest.mark.parametrize("noise", [1e-12, -1e-12])
def test_a_step_on_a_limit_is_not_lost_to_the_noise_of_a_float(noise: float) -> None:
    made = region(Slopes(2.0 * (1 + noise), 1.9, 1.8 * (1 + noise)))
    assert made.speeds_at(40) == Steps(72, 80)
    assert made.feeds_at(72) == Steps(36, 40)


def test_the_feed_nearest_to_the_middle_is_taken_with_the_speed_target_at() -> None:
    assert region(Slopes(2.2, 2.05)).aim(40.2) == (40, 82)


def test_the_feed_leaves_the_middle_where_the_speed_would_leave_its_range() -> None:
    assert region(Slopes(2.6, 2.42)).aim(40.0) == (39, 93)


def test_a_feed_is_target_only_where_the_chart_means_it() -> None:
    made = region(Slopes(2.2, 2.05), aims=Steps(44, 45))
    assert made.aim(40.2) == (44, 90)
    assert region(Slopes(2.2, 2.05), aims=Steps(49, 50)).aim(40.2) is None


def test_a_weld_that_neither_feed_nor_speed_can_make_has_no_aim() -> None:
    assert region(Slopes(1.2, 1.1)).aim(40.0) is None
    assert region(Slopes(4.0, 3.9)).aim(40.0) is None


def test_a_weld_a_million_times_too_small_is_refused_without_going_through_every_speed() -> None:
    assert region(Slopes(2e9, 1.9e9)).aim(40.0) is None
    assert region(Slopes(2e-9, 1.9e-9)).aim(40.0) is None


def test_a_field_too_narrow_for_two_steps_is_target_at_its_middle() -> None:
    """At a feed of 200 the speeds 80 to 82 are allowed, at a speed of 81 the feeds 198 to 204."""
    assert region(Slopes(0.41, 0.406, 0.396), Steps(150, 250)).aim(200.0) == (200, 81)


@given(
    st.integers(10, 60),
    st.integers(0, 40),
    st.integers(30, 120),
    st.integers(0, 60),
    st.floats(0.5, 6),
    st.floats(1.01, 1.2),
    st.none() | st.floats(1.01, 1.5),
    st.floats(10, 100),
)
def test_every_aim_lies_well_inside_both_ranges_and_makes_the_weld(  # noqa: PLR0917 - one draw each
    feed: int, wide: int, speed: int, high: int, target: float, margin: float, room: float | None, middle: float
) -> None:
    slopes = Slopes(target * margin, target, None if room is None else target / room)
    made = region(slopes, Steps(feed, feed + wide), Steps(speed, speed + high))
    pair = made.aim(middle)
    if pair is None:
        return
    for at, allowed in ((pair[0], made.feeds_at(pair[1])), (pair[1], made.speeds_at(pair[0]))):
        if allowed.high - allowed.low >= 2 * MARGIN:
            assert allowed.low + MARGIN <= at <= allowed.high - MARGIN
        else:
            assert allowed.low < at < allowed.high
            assert abs(at - (allowed.low + allowed.high) / 2) <= 0.5
    assert target * (1 - OVER) <= pair[1] / pair[0] * (1 + 1e-9) <= target * (1 + 2e-9)
