"""Scannable codes and gauges."""

from __future__ import annotations

import re

import pytest
import segno
from weld_packets.packet.records import Amount, Span, Value
from weld_packets.site.pages.marks import gauge, scannable


def test_the_drawn_code_is_the_code() -> None:
    text = "PRG:R11:2041"
    matrix = segno.make(text, error="m", micro=False, mask=2).matrix
    (start,) = re.findall(r'stroke="#000" d="M(\d+) (\d+).5m', scannable(text))
    across, down = map(int, start)
    dark = set()
    for right, below, width in re.findall(r"m(-?\d+) (\d+)h(\d+)", scannable(text)):
        across, down = across + int(right), down + int(below)
        dark |= {(down - 4, across - 4 + step) for step in range(int(width))}
        across += int(width)
    assert dark == {(down, across) for down, line in enumerate(matrix) for across, cell in enumerate(line) if cell}


def test_a_code_names_what_it_holds_and_escapes_it() -> None:
    assert 'aria-label="Code: &lt;&#34;x"' in scannable('<"x')


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
