"""How current and weld time of a spot limit each other, in sentences and as a chart."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.results import CurrentAndTime, CurrentsAtTime, SizeLine, SizeWord
from weld_packets.diagrams.charts.of_settings import (
    Allowed,
    Load,
    allowed_ring,
    load_charts,
    settings_charts,
    weld_size_ring,
)
from weld_packets.packet.settings.coupled import load_lines, size_text
from weld_packets.packet.settings.merging import setting_groups
from weld_packets.packet.settings.values import Showing
from weld_packets.units import SystemOfUnits, kinds, quantity

NBSP = "\N{NO-BREAK SPACE}"
METRIC = Showing("metric", 50)
_FIRST: tuple[SystemOfUnits, ...] = ("metric", "US customary")


def together(pulses: int = 1) -> CurrentAndTime:
    at = ((10, "8.8", "10.0"), (12, "8.0", "10.0"), (14, "8.0", "9.2"))
    return CurrentAndTime(
        time_unit="cycles@50Hz",
        current_unit="kA",
        times=(Decimal(10), Decimal(14)),
        currents=(Decimal("8.0"), Decimal("10.0")),
        minimum=quantity(15.361, "kA²·s"),
        maximum=quantity(24.069, "kA²·s"),
        pulses=pulses,
        at=tuple(CurrentsAtTime(Decimal(time), Decimal(low), Decimal(high)) for time, low, high in at),
        basis="the basis",
        standing="how well known",
    )


def welded(make: Any, pulses: int = 1) -> Any:
    return replace(make.spot_settings("C5A", ("A1",)), together=together(pulses))


def test_the_currents_at_the_shortest_the_set_and_the_longest_weld_time_stand_in_one_sentence(make: Any) -> None:
    first, second = load_lines(welded(make), METRIC)
    assert first.replace(NBSP, " ") == (
        "Current and weld time together: at 10 cycles at 50 Hz (200 ms) 8.8 to 10.0 kA; "
        "at 12 cycles at 50 Hz (240 ms) as set 8.0 to 10.0 kA; at 14 cycles at 50 Hz (280 ms) 8.0 to 9.2 kA."
    )
    assert second.replace(NBSP, " ") == "I²t stays between 15.4 and 24.0 kA²·s: the basis (how well known)."


def test_the_bounds_are_rounded_inward(make: Any) -> None:
    wide = replace(together(), minimum=quantity(101.1, "kA²·s"), maximum=quantity(1234.9, "kA²·s"))
    line = load_lines(replace(welded(make), together=wide), METRIC)[1]
    assert "between 102 and 1234" in line


def test_seams_have_no_such_lines_and_no_chart(make: Any) -> None:
    seams = make.spot_settings("C5A", ("A1",))
    assert (load_lines(seams, METRIC), load_charts(seams)) == ((), ())


def test_the_group_carries_lines_and_chart(make: Any) -> None:
    settings = welded(make)
    (group,) = setting_groups([settings], METRIC)
    assert len(group.coupled) == 2
    (picture,) = settings_charts(settings, METRIC)
    assert picture.key == "k1-c5a-load"
    assert picture.title == "Weld current and weld time allowed together"
    assert f"Set at 8.4{NBSP}kA and 12{NBSP}cycles at 50 Hz." in picture.description
    assert "strongest pairing" in picture.svg


def load(**more: Any) -> Load:
    stated = {
        "time": "t", "current": "I", "times": (200, 280), "currents": (8, 10), "minimum": 15360.0, "maximum": 24000.0,
        "at": (240, 9), "minimum_words": "", "maximum_words": "", "set_words": "",
    } | more  # fmt: skip
    return Load(**stated)


def test_the_field_leaves_out_the_cold_and_the_expelling_corner() -> None:
    ring = allowed_ring(load())
    assert (200, 10) in ring
    assert (280, 8) in ring
    assert min(current for time, current in ring if time == 200) == pytest.approx(8.7636, abs=1e-4)
    assert max(current for time, current in ring if time == 280) == pytest.approx(9.2582, abs=1e-4)
    assert all(15360 - 1e-6 <= current**2 * time <= 24000 + 1e-6 for time, current in ring)


def feeds_and_speeds(fastest: float | None, slowest: float | None) -> Allowed:
    return Allowed("w", "v", (3, 5), (5, 10), fastest, slowest, (), (4, 7), "")


@pytest.mark.parametrize(
    ("fastest", "slowest", "corners"),
    [
        (None, None, [(3, 5), (5, 5), (5, 10), (3, 10)]),
        (1.8, None, [(3, 5), (5, 5), (5, 9), (3, 5.4)]),  # above v = 1.8 w the weld is too small
        (None, 1.5, [(3, 5), (10 / 3, 5), (5, 7.5), (5, 10), (3, 10)]),  # below v = 1.5 w it is too large
        (1.8, 1.5, [(3, 5), (10 / 3, 5), (5, 7.5), (5, 9), (3, 5.4)]),
    ],
)
def test_the_field_of_feed_and_speed_ends_at_the_smallest_and_the_largest_weld(
    fastest: float | None, slowest: float | None, corners: list[tuple[float, float]]
) -> None:
    ring = weld_size_ring(feeds_and_speeds(fastest, slowest))
    assert [corner for point in ring for corner in point] == pytest.approx(
        [each for point in corners for each in point]
    )


def test_every_pulse_counts_in_the_curves(make: Any) -> None:
    """Two pulses reach the same I²t with less current: the curve of 24.069 kA²·s leaves the chart below 10 kA."""
    one, two = (load_charts(welded(make, pulses))[0].svg for pulses in (1, 2))
    assert one != two


@pytest.mark.parametrize(
    ("word", "customary", "metric"),
    [("required", "0.089 in", "2.25 mm"), ("target", "0.088 in", "2.24 mm"), ("largest", "0.088 in", "2.24 mm")],
)
def test_a_size_that_bounds_a_weld_is_rounded_into_what_is_allowed_in_each_unit(
    word: SizeWord, customary: str, metric: str
) -> None:
    """2.2438 mm (0.08834 in): what is required is rounded up, as the figure of the throat is."""
    line = SizeLine(word, quantity(2.2438, "mm"), kinds.LENGTH, 1.0)
    shown = [size_text(line, Showing(first, 60)).replace("\N{NO-BREAK SPACE}", " ") for first in _FIRST]
    assert shown == [metric, customary]
