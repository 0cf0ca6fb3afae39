"""Whatever arc weld the shipped charts make, its settings agree with each other and with the wire."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.dial import MARGIN
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.wire.wire_data import wire_data
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import magnitude, to_step

ROOT = Path(__file__).parents[3]
APPROVED = load_workspace(ROOT).approved
DIALS = ("wire_feed_speed", "arc_voltage", "travel_speed", "gas_flow")
CELLS = {"G3Si1-1.2": "C1", "G3Si1-1.0": "C2", "G3Si1-0.8": "C2", "19-9-L-Si-1.0": "C4"}
Chart = tuple[str, str, str, str, float, float]
"""Wire, gas, joint, position, thinnest and thickest operation of a shipped chart."""
STEEL, STAINLESS = "S235JR", "X5CrNi18-10"


def operation_of(chart: Chart, thickness: float, throat: float, quality: str, cell: str = "") -> ArcOperation:
    wire, gas, joint, position, *_ = chart
    cell = cell or CELLS[wire]
    size = {"gap": "0.3 mm"} if joint == "square butt" else {"throat": f"{throat:.2f} mm"}
    metal = STAINLESS if wire.startswith("19") else STEEL
    path = {"unit": "mm", "start": ["100", "100", "200"], "pieces": [{"to": ["100", "100", "100"]}]}
    seam = {
        "id": "S1",
        "robot": f"{cell}A",
        "joint": joint,
        "position": position,
        "components": ["one", "two"],
        "path": path,
    }
    sheet = {"material": metal, "thickness": f"{thickness:.2f} mm"}
    stated: dict[str, Any] = {
        "name": "generated", "cell": cell, "robots": [f"{cell}A", f"{cell}B"], "process": "135", "wire": wire,
         "gas": gas,
        "programs": {f"{cell}A": "1", f"{cell}B": "2"}, "datum": "pin", "fixture": "F", "quality": quality,
        "components": [{"id": name, "name": name, **sheet} for name in ("one", "two")], "seams": [seam | size],
    }  # fmt: skip
    return ArcOperation.model_validate(stated)


CHARTS: tuple[Chart, ...] = (
    ("G3Si1-1.2", "CO2", "T fillet", "PB", 1.6, 12.0),
    ("G3Si1-1.2", "CO2", "lap fillet", "PB", 1.6, 4.5),
    ("G3Si1-1.0", "CO2", "square butt", "PA", 1.2, 3.2),
    ("G3Si1-1.0", "M21", "square butt", "PA", 1.0, 4.0),
    ("G3Si1-1.0", "M21", "T fillet", "PB", 2.4, 3.2),
    ("G3Si1-0.8", "M21", "T fillet", "PB", 1.0, 3.2),
    ("G3Si1-0.8", "M21", "T fillet", "PG", 1.6, 3.0),
    ("G3Si1-1.2", "M21", "T fillet", "PA", 5.0, 10.0),
    ("19-9-L-Si-1.0", "M12", "T fillet", "PB", 1.0, 3.0),
)


@st.composite
def generated(draw: st.DrawFn) -> ArcOperation:
    chart = draw(st.sampled_from(CHARTS))
    thickness = draw(st.floats(chart[4], chart[5]))
    throat = draw(st.floats(0.5, 0.95)) * thickness + draw(st.floats(0, 1))
    return operation_of(chart, thickness, throat, draw(st.sampled_from("BCD")))


def made(operation: ArcOperation, approved: ApprovedTables) -> Iterator[WeldSettings]:
    """Yield the settings of a weld that the charts make; a refusal makes none."""
    try:
        yield from FAMILY.compute(operation, approved).settings
    except OutOfRangeError:
        return


def assert_inside(figure: Figure) -> None:
    allowed_range, step = figure.allowed_range, figure.step
    assert allowed_range is not None
    assert step is not None
    assert figure.value is not None
    assert allowed_range.low is not None
    assert allowed_range.high is not None
    low, at, high = (
        int(to_step(end, step, figure.unit) / step) for end in (allowed_range.low, figure.value, allowed_range.high)
    )
    if high - low >= 2 * MARGIN:
        assert low + MARGIN <= at <= high - MARGIN, figure
    else:
        assert low < at < high, figure
        assert abs(at - (low + high) / 2) <= 0.5, figure


def assert_shown_inside(reading: Figure) -> None:
    assert reading.text is not None
    assert reading.allowed_range is not None
    assert (
        magnitude(reading.allowed_range.low, "A") <= float(reading.text) <= magnitude(reading.allowed_range.high, "A")
    )


@pytest.mark.parametrize("cell", ["C1", "C3"])
def test_a_current_beside_the_end_of_its_chart_is_read_inside_its_range(cell: str) -> None:
    """At 4.48 mm the chart begins at 189.1 A, so that 190 A are the lowest reading; 189 in/min would draw 189.2 A."""
    (group,) = FAMILY.compute(operation_of(CHARTS[0], 4.48, 2.86, "C", cell), APPROVED).settings
    reading = group.figure("welding_current")
    assert_shown_inside(reading)
    assert reading.allowed_range is not None
    assert magnitude(reading.allowed_range.low, "A") == 190


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(generated())
def test_every_setting_lies_inside_its_range_and_every_current_inside_its_reading(operation: ArcOperation) -> None:
    for group in made(operation, APPROVED):
        for key in DIALS:
            assert_inside(group.figure(key))
        reading, feed = group.figure("welding_current"), group.figure("wire_feed_speed")
        wire, distance = APPROVED.wires[operation.wire], group.figure("contact_distance").value
        assert distance is not None
        assert feed.value is not None
        assert reading.allowed_range is not None
        assert reading.value is not None
        transfer = "spray" if operation.seams[0].position == "PA" and wire.id == "G3Si1-1.2" else "short arc"
        tied = wire_data(wire, operation.gas, transfer, distance, APPROVED.owner("wires"))
        assert tied is not None
        drawn = magnitude(tied.current(feed.value).result, "A")
        assert magnitude(reading.value, "A") == pytest.approx(drawn)
        assert_shown_inside(reading)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(generated())
def test_no_weld_is_smaller_than_required_anywhere_in_its_field(operation: ArcOperation) -> None:
    for group in made(operation, APPROVED):
        coupling = group.coupling
        assert coupling is not None
        if coupling.fastest is None:
            continue
        feed, speed = (group.figure(key) for key in ("wire_feed_speed", "travel_speed"))
        assert feed.allowed_range is not None
        assert speed.allowed_range is not None
        feeds = [
            magnitude(each, coupling.feed_unit)
            for each in (feed.allowed_range.low, feed.value, feed.allowed_range.high)
        ]
        speeds = [
            magnitude(each, coupling.speed_unit)
            for each in (speed.allowed_range.low, speed.value, speed.allowed_range.high)
        ]
        assert speeds[2] <= coupling.fastest * feeds[1] * (1 + 1e-9)
        assert speeds[1] <= coupling.fastest * feeds[0] * (1 + 1e-9)
        if coupling.slowest is not None:
            assert speeds[0] >= coupling.slowest * feeds[1] * (1 - 1e-9)
            assert speeds[1] >= coupling.slowest * feeds[2] * (1 - 1e-9)


def test_maximum_of_the_welds_that_are_generated_are_made() -> None:
    """A property of welds that are all refused would hold of nothing."""
    operations = [
        operation_of(chart, chart[4] + share * (chart[5] - chart[4]), throat, "C")
        for chart in CHARTS
        for share in (0.0, 0.5, 1.0)
        for throat in (1.6, 2.0, 2.2, 2.5, 2.8, 3.3, 4.0, 5.0)
    ]
    found = [operation for operation in operations if list(made(operation, APPROVED))]
    assert {
        (operation.wire, operation.gas, operation.seams[0].joint, operation.seams[0].position) for operation in found
    } == {chart[:4] for chart in CHARTS}
