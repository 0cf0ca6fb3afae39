"""Drawings of allowed ranges."""

from __future__ import annotations

import pytest
from weld_packets.packet.records import Amount, Span, Value
from weld_packets.site.pages.filters import gauge


def value(at: str, low: str, high: str) -> Value:
    amount = Amount(value=at, unit="kA")
    return Value(key="x", figure="x", label="x", symbol="I", anchor="x", amount=amount, window=Span(low=low, high=high))


@pytest.mark.parametrize(("at", "place"), [("8.0", "10.0"), ("9.0", "190.0"), ("8.5", "100.0")])
def test_the_gauge_points_at_the_value_s_place_in_the_window(at: str, place: str) -> None:
    assert f"M{place} 14l9" in gauge(value(at, "8.0", "9.0"))


@pytest.mark.parametrize(
    ("at", "low", "high"), [("8", "", "9"), ("8", "7", ""), ("9.1", "8", "9"), ("about 8", "7", "9"), ("8", "8", "8")]
)
def test_there_is_no_gauge_where_the_window_is_open_or_not_plain_numbers(at: str, low: str, high: str) -> None:
    assert gauge(value(at, low, high)) == ""
