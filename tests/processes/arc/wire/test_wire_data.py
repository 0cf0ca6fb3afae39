"""Wire feed and current, tied by the melting data of a wire."""

from math import pi, sqrt
from typing import Any

import pytest
from weld_packets.calculation.trace import Lookup
from weld_packets.errors import OutOfRangeError
from weld_packets.model.table import Table
from weld_packets.processes.arc.wire.wire_data import WireData, wire_data
from weld_packets.units import magnitude, quantity

POINTS = {
    "gases": ["M21"],
    "points": [
        {"wire feed": "4 m/min", "current": "120 A"},
        {"wire feed": "6 m/min", "current": "170 A"},
        {"wire feed": "10 m/min", "current": "230 A"},
    ],
    "contact distance from": "10 mm",
    "contact distance to": "14 mm",
    "scatter": "10 %",
    "source": "trials of the test",
}
WIRES = Table.model_construct(table="wires", revision="7")


def data(
    bench: Any, *melting: Any, gas: str = "M21", transfer: Any = "short arc", distance: float = 12
) -> WireData | None:
    wire = bench.wire(melting=list(melting))
    return wire_data(wire, gas, transfer, quantity(distance, "mm"), WIRES)


def found(bench: Any, *melting: Any, **more: Any) -> WireData:
    tied = data(bench, *melting, **more)
    assert tied is not None
    return tied


def test_the_law_is_that_of_arc_heat_and_of_resistance_heat_in_the_stick_out(bench: Any) -> None:
    """A·v = a·I + b·L·I²/A by hand: 0.7854 mm² of wire, 10 mm of stick-out, 150 A."""
    area = pi / 4
    speed = (0.339 * 150 + 6.4e-5 * 10 * 150**2 / area) / area
    tied = found(bench, bench.LAW).feed(quantity(150, "A"))
    assert magnitude(tied.result, "m/min") == pytest.approx(0.06 * speed)
    assert [type(step).__name__ for step in tied.trace] == ["Given"] * 3 + ["Worked"] * 3


def test_the_arc_takes_of_the_contact_distance_what_its_mode_of_transfer_says(bench: Any) -> None:
    short, spray = (found(bench, bench.LAW, transfer=mode) for mode in ("short arc", "spray"))
    area = pi / 4
    lengths = [
        (magnitude(each.feed(quantity(150, "A")).result, "mm/s") * area - 0.339 * 150) for each in (short, spray)
    ]
    assert lengths[0] / lengths[1] == pytest.approx(10 / 8)


@pytest.mark.parametrize("amperes", [40, 120, 300])
def test_the_current_of_a_feed_is_the_inverse_of_the_feed_of_a_current(bench: Any, amperes: float) -> None:
    tied = found(bench, bench.LAW)
    assert magnitude(tied.current(tied.feed(quantity(amperes, "A")).result).result, "A") == pytest.approx(amperes)


def test_machines_within_the_scatter_draw_less_and_more_than_the_data_say(bench: Any) -> None:
    tied = found(bench, bench.LAW)
    low, high = quantity(3, "m/min"), quantity(4, "m/min")
    minimum, maximum = tied.currents(low, high)
    assert magnitude(minimum, "A") == pytest.approx(magnitude(tied.current(quantity(2.4, "m/min")).result, "A"))
    assert magnitude(maximum, "A") == pytest.approx(magnitude(tied.current(quantity(4 / 0.75, "m/min")).result, "A"))


def test_data_hold_for_their_gases_and_modes_alone(bench: Any) -> None:
    assert data(bench, bench.LAW, gas="CO2") is None
    assert data(bench, bench.LAW, transfer="pulsed") is None
    assert data(bench) is None


def test_the_first_data_that_hold_are_taken(bench: Any) -> None:
    other = bench.LAW | {"gases": ["CO2"], "source": "another"}
    assert found(bench, other, bench.LAW).melting.source == "law of the test"


def test_a_distance_that_leaves_no_stick_out_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="leaves no stick-out"):
        data(bench, bench.LAW, distance=2)


def test_measured_points_are_joined_by_straight_lines(bench: Any) -> None:
    tied = found(bench, POINTS)
    assert magnitude(tied.feed(quantity(145, "A")).result, "m/min") == pytest.approx(5)
    assert magnitude(tied.current(quantity(9, "m/min")).result, "A") == pytest.approx(215)
    (step,) = tied.feed(quantity(145, "A")).trace
    assert isinstance(step, Lookup)
    assert (step.table, step.revision, step.column) == ("wires", "7", "wire feed")
    assert [text.replace("\N{NO-BREAK SPACE}", " ") for text in (*step.rows, *step.values)] == [
        "120 A",
        "170 A",
        "4 m/min",
        "6 m/min",
    ]


@pytest.mark.parametrize("feed", [3.99, 10.01])
def test_measured_points_are_never_extrapolated(bench: Any, feed: float) -> None:
    with pytest.raises(OutOfRangeError, match="has been measured at a wire feed of"):
        found(bench, POINTS).current(quantity(feed, "m/min"))


@pytest.mark.parametrize(("feed", "amperes"), [(4, 120), (6, 170), (10, 230)])
def test_a_measured_point_is_itself(bench: Any, feed: float, amperes: float) -> None:
    assert magnitude(found(bench, POINTS).current(quantity(feed, "m/min")).result, "A") == pytest.approx(amperes)


@pytest.mark.parametrize(("distance", "holds"), [(9.9, False), (10, True), (14, True), (14.1, False)])
def test_measured_points_hold_at_the_contact_distances_of_their_trial(
    bench: Any, distance: float, *, holds: bool
) -> None:
    assert (data(bench, POINTS, distance=distance) is not None) is holds


def test_the_scatter_of_measured_points_ends_where_they_end(bench: Any) -> None:
    minimum, maximum = found(bench, POINTS).currents(quantity(4, "m/min"), quantity(10, "m/min"))
    assert (magnitude(minimum, "A"), magnitude(maximum, "A")) == pytest.approx((120, 230))


def test_the_published_constants_give_the_textbook_form(bench: Any) -> None:
    """Norrish prints v = 0.3 I + 5e-5 L I² for 1.2 mm wire; a = 0.339 and b = 6.4e-5 are these times the section."""
    section = pi * 1.2**2 / 4
    wire = bench.wire(diameter="1.2 mm", melting=[bench.LAW])
    tied = wire_data(wire, "M21", "short arc", quantity(14, "mm"), WIRES)
    assert tied is not None
    printed = 0.3 * 200 + 5e-5 * 12 * 200**2
    assert magnitude(tied.feed(quantity(200, "A")).result, "mm/s") == pytest.approx(printed, rel=2e-3)
    assert sqrt(6.4e-5 / section**2 / 5e-5) == pytest.approx(1, abs=2e-3)
