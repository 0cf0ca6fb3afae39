"""What one pass deposits as set, and the most while feed or speed is at an end of its range."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest
from weld_packets.calculation.readings import ordered
from weld_packets.calculation.trace import AllowedRange, Figure, Name
from weld_packets.processes.arc.melting import Melt
from weld_packets.processes.arc.passes.of_seams import nominal_of
from weld_packets.processes.arc.passes.passes import Passes
from weld_packets.processes.arc.size.sizes import Nominal
from weld_packets.units import kinds, magnitude, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)
SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)
Ends = tuple[float | None, float | None]


def figure(name: Name, number: float, unit: str, ends: Ends | None) -> Figure:
    made = ordered(name, quantity(number, unit), "test")
    if ends is None:
        return made
    low, high = (None if end is None else quantity(end, unit) for end in ends)
    return replace(made, allowed_range=AllowedRange(low, high, "test"))


def deposited(feeds: Ends | None, speeds: Ends | None) -> Nominal:
    """Return what 6 m/min of 1 mm² deposit at 10 mm/s: 6000 / 60 / 10 mm², of which 95 % stay."""
    passes: Any = SimpleNamespace(feed=figure(FEED, 6.0, "m/min", feeds), speed=figure(SPEED, 10.0, "mm/s", speeds))
    melt = Melt(quantity(6.0, "m/min"), quantity(1.0, "mm²"), quantity(95, "%"))
    return nominal_of(melt, cast("Passes", passes))


@pytest.mark.parametrize(
    ("feeds", "speeds", "times"),
    [
        ((5.0, 7.2), (9.0, 12.0), 1.2),
        ((5.0, 6.6), (8.0, 12.0), 1.25),
        (None, (8.0, 12.0), 1.25),
        ((5.0, 7.2), None, 1.2),
        ((5.0, None), (None, 12.0), 1.0),
        (None, None, 1.0),
    ],
)
def test_the_most_is_at_the_fastest_feed_or_the_slowest_speed_and_not_at_both(
    feeds: Ends | None, speeds: Ends | None, times: float
) -> None:
    found = deposited(feeds, speeds)
    assert magnitude(found.set.result, "mm²") == pytest.approx(9.5)
    assert magnitude(found.maximum, "mm²") == pytest.approx(9.5 * times)
