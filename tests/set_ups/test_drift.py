"""When readings drift."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.revisions.set_ups.drift import SIDE_RUN, TREND_RUN, Point, drift_of


def offs(*numbers: str) -> list[Decimal]:
    return [Decimal(number) for number in numbers]


@pytest.mark.parametrize(
    ("readings", "said"),
    [
        (offs("0.1", "0.2", "0.1", "0.3", "0.1"), "the last 5 readings are above the setting"),
        (offs("-0.1", "-0.2", "-0.1", "-0.3", "-0.1"), "the last 5 readings are below the setting"),
        (offs("0.1", "0.2", "0", "0.3", "0.1"), ""),
        (offs("0.1", "0.2", "0.1", "0.3"), ""),
        (offs("-0.3", "-0.2", "-0.1", "0", "0.1", "0.2"), "the last 6 readings rise"),
        (offs("0.3", "0.2", "0.1", "0", "-0.1", "-0.2"), "the last 6 readings fall"),
        (offs("-0.3", "-0.2", "-0.2", "0", "0.1", "0.2"), ""),
        (offs("0.1", "0.1", "0.1", "0.1", "0.1", "0"), ""),
        ([], ""),
    ],
)
def test_runs_on_one_side_and_runs_up_or_down_are_found(readings: list[Decimal], said: str) -> None:
    assert drift_of(readings) == said


NUMBERS = st.lists(st.integers(-3, 3).map(Decimal), max_size=12)


@given(NUMBERS)
def test_a_drift_is_said_exactly_where_the_last_readings_are_such_a_run(readings: list[Decimal]) -> None:
    side, trend = readings[-SIDE_RUN:], readings[-TREND_RUN:]
    one_side = len(side) == SIDE_RUN and (min(side) > 0 or max(side) < 0)
    steps = {(other > one) - (other < one) for one, other in pairwise(trend)}
    steady = len(trend) == TREND_RUN and steps in ({1}, {-1})
    assert bool(drift_of(readings)) == (one_side or steady)


@given(NUMBERS)
def test_what_lies_before_the_last_run_does_not_matter(readings: list[Decimal]) -> None:
    assert drift_of(readings) == drift_of(readings[-TREND_RUN:])


@pytest.mark.parametrize(("number", "off"), [("8.2", "0.2"), ("7.9", "-0.1"), ("8", "0")])
def test_a_reading_above_its_setting_is_off_upwards(number: str, off: str) -> None:
    point = Point("set-up", "2026-12-02", "A", Decimal(number), Decimal(8), None, None)

    assert point.off == Decimal(off)
