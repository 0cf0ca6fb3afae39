"""Wire feed and current of one weld agree with each other and with the wire."""

from decimal import Decimal
from typing import Any, get_args

import pytest
from weld_packets.calculation.countermeasures import LOWER_FEED, RAISE_FEED
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.sentences import sentence
from weld_packets.calculation.trace import AllowedRange, Countermeasure, Figure, Weight
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.wire.feed import warned_at_end
from weld_packets.processes.arc.wire.wire_data import wire_data
from weld_packets.units import SystemOfUnits, kinds, magnitude, quantity

SMALL = {"wire feed": None, "travel speed from": "6 mm/s", "travel speed to": "14 mm/s"}
"""A chart row that prints a current of 140 to 160 A and no wire feed."""


def computed(bench: Any, operation: dict[str, Any], *melting: Any, **more: Any) -> WeldSettings:
    table = bench.chart(row=operation, tolerance={"wire feed": "10 %"}, **more)
    approved = bench.approved(charts=(table,), with_wire=bench.wire(melting=list(melting)))
    (settings,) = FAMILY.compute(bench.operation(), approved).settings
    return settings


def set_to(figure: Figure, unit: str) -> float:
    assert figure.value is not None
    return magnitude(figure.value, unit)


def law(bench: Any, feed: float) -> float:
    wire = bench.wire(melting=[bench.LAW])
    tied = wire_data(wire, "M21", "short arc", quantity(12, "mm"), bench.approved().owner("wires"))
    assert tied is not None
    return magnitude(tied.current(quantity(feed, "m/min")).result, "A")


def test_a_feed_that_no_chart_prints_follows_from_the_current_and_the_wire(bench: Any) -> None:
    """By the law 150 A, the middle of the chart, melt 5.28 m/min of this wire."""
    settings = computed(bench, SMALL, bench.LAW)
    feed = settings.figure("wire_feed_speed")
    assert set_to(feed, "m/min") == pytest.approx(5.28, abs=0.05)
    assert bench.notes(feed) == [
        "calculated from the current by the law of melting of wire W10, within ± 25\N{NO-BREAK SPACE}%; not published"
    ]


def test_the_current_to_be_read_is_the_one_that_the_set_feed_draws(bench: Any) -> None:
    settings = computed(bench, SMALL, bench.LAW)
    reading = settings.figure("welding_current")
    feed = set_to(settings.figure("wire_feed_speed"), "m/min")
    assert set_to(reading, "A") == pytest.approx(law(bench, feed))
    assert reading.allowed_range is not None
    assert (reading.allowed_range.low.magnitude, reading.allowed_range.high.magnitude) == pytest.approx((140, 160))


def test_the_allowed_feeds_reach_as_far_as_wires_scatter(bench: Any) -> None:
    """140 and 160 A melt 4.85 and 5.74 m/min; 25 % to either side, where the size of the weld does not end it."""
    feed = computed(bench, SMALL, bench.LAW).figure("wire_feed_speed")
    assert feed.allowed_range is not None
    assert feed.allowed_range.high.magnitude == pytest.approx(7.1)
    assert feed.allowed_range.low.magnitude > 4.85 / 1.25


def test_a_feed_from_data_that_rest_on_memory_warns(bench: Any) -> None:
    feed = computed(bench, SMALL, bench.LAW | {"from memory": "yes"}).figure("wire_feed_speed")
    assert [text.startswith("calculated from the current") for text in bench.warnings(feed)] == [True]


def test_without_a_feed_in_the_chart_and_data_of_the_wire_nothing_can_be_set(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match=r"publishes no wire feed, and wire W10 has no melting data under M21"):
        computed(bench, SMALL)


@pytest.mark.parametrize(("feed", "warned"), [("3.97 m/min", False), ("6.5 m/min", False), ("3.9 m/min", True)])
def test_a_published_feed_is_compared_with_the_wire(bench: Any, feed: str, *, warned: bool) -> None:
    """5.28 m/min melt at 150 A: 25 % less is 3.96 m/min."""
    operation = {"wire feed": feed, "travel speed from": "6 mm/s", "travel speed to": "14 mm/s"}
    found = bench.warnings(computed(bench, operation, bench.LAW).figure("wire_feed_speed"))
    assert [text.startswith("published, but its current melts 5.3") for text in found] == ([True] if warned else [])


def test_what_a_current_melts_is_said_in_the_units_that_an_order_shows_first(bench: Any) -> None:
    operation = {"wire feed": "3.9 m/min", "travel speed from": "6 mm/s", "travel speed to": "14 mm/s"}
    feed = computed(bench, operation, bench.LAW).figure("wire_feed_speed")
    (said,) = (remark.said for remark in feed.remarks if remark.weight is Weight.WARNING)
    metric, customary = (sentence(said, first).replace("\N{NO-BREAK SPACE}", " ") for first in get_args(SystemOfUnits))
    assert "its current melts 5.3 m/min by" in metric
    assert "its current melts 210 in/min (5.3 m/min) by" in customary


def test_a_published_feed_of_a_wire_without_data_says_that_it_was_not_compared(bench: Any) -> None:
    feed = computed(bench, {}).figure("wire_feed_speed")
    assert "published feed, not compared: no melting data of this wire here" in bench.notes(feed)


def test_a_published_feed_beyond_the_measured_points_of_its_wire_is_set_and_said_not_to_be_compared(bench: Any) -> None:
    """The chart means 150 A, the wire was measured up to 149 A: its feed is published, so that nothing is missing."""
    points = [{"wire feed": "3 m/min", "current": "90 A"}, {"wire feed": "4 m/min", "current": "149 A"}]
    reach = {"contact distance from": "10 mm", "contact distance to": "14 mm"}
    measured = {"gases": ["M21"], "points": points, "scatter": "10 %", "source": "trials of the test", **reach}
    settings = computed(bench, {}, measured)
    assert "published feed, not compared: no melting data of this wire here" in bench.notes(
        settings.figure("wire_feed_speed")
    )
    assert set_to(settings.figure("welding_current"), "A") == pytest.approx(150)


def test_a_chart_without_current_is_read_by_what_its_feeds_draw_within_the_scatter(bench: Any) -> None:
    operation = {"current from": None, "current to": None}
    settings = computed(bench, operation, bench.LAW)
    reading, feed = settings.figure("welding_current"), settings.figure("wire_feed_speed")
    assert feed.allowed_range is not None
    assert reading.allowed_range is not None
    assert magnitude(reading.allowed_range.low, "A") == pytest.approx(
        law(bench, feed.allowed_range.low.magnitude / 1.25), abs=1
    )
    assert magnitude(reading.allowed_range.high, "A") == pytest.approx(
        law(bench, feed.allowed_range.high.magnitude / 0.75), abs=1
    )


# ---------------------------------------------------------------- a reading at the end of its range


@pytest.mark.parametrize(
    ("shown", "said", "acts"),
    [
        ("125", ["nothing to spare above"], [LOWER_FEED]),
        ("124", [], []),
        ("116", [], []),
        ("115", ["nothing to spare below"], [RAISE_FEED]),
    ],
)
def test_a_current_at_the_end_of_its_own_range_warns_and_says_what_to_do(
    shown: str, said: list[str], acts: list[Countermeasure]
) -> None:
    allowed_range = AllowedRange(quantity(115, "A"), quantity(125, "A"), "rule of the test")
    text = Decimal(shown)
    current = Figure("i", "Current", "I", kinds.CURRENT, "A", quantity(float(shown), "A"), text, allowed_range)
    remarks = warned_at_end(current).remarks
    assert [remark.text.rsplit("; ", 1)[1] for remark in remarks] == said
    assert [remark.countermeasure for remark in remarks] == acts
    assert all(remark.weight is Weight.WARNING for remark in remarks)


def test_a_current_without_a_range_has_no_end() -> None:
    current = Figure("i", "Current", "I", kinds.CURRENT, "A", quantity(125.0, "A"), Decimal(125))
    assert warned_at_end(current) is current
