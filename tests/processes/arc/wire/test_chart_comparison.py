"""Charts that publish a wire feed, against the wires that they are for."""

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.processes.answers import RowContradicted
from weld_packets.processes.arc.wire.feed import contradicted_rows


def contradictions(bench: Any, feed: str | None, **chart: Any) -> list[tuple[str, str, str]]:
    approved = bench.approved(
        charts=(bench.chart(row={"wire feed": feed}, **chart),), with_wire=bench.wire(melting=[bench.LAW])
    )
    return [
        (each.table, each.row.replace("\N{NO-BREAK SPACE}", " "), wire_of(each)) for each in contradicted_rows(approved)
    ]


def wire_of(row: RowContradicted) -> str:
    return next(wire for wire in ("W10", "W11") if f"wire {wire}" in row.remark.text)


ROW = [("short-arc", "over 1 mm up to 12 mm", "W10")]


@pytest.mark.parametrize(
    ("feed", "rows"), [("3.9 m/min", ROW), ("4 m/min", []), ("6.55 m/min", []), ("6.65 m/min", ROW), (None, [])]
)
def test_feed_and_current_that_no_wire_within_the_scatter_has_are_reported_for_their_operation(
    bench: Any, feed: str | None, rows: list[Any]
) -> None:
    """150 A melt 5.28 m/min: 3.96 to 6.60 m/min are within 25 %."""
    assert contradictions(bench, feed) == rows


POINTS = {
    "gases": ["M21"],
    "points": [{"wire feed": "3 m/min", "current": "90 A"}, {"wire feed": "6 m/min", "current": "150 A"}],
    "contact distance from": "10 mm", "contact distance to": "25 mm", "scatter": "10 %", "source": "sheet of the test",
}  # fmt: skip


@pytest.mark.parametrize(
    ("low", "high", "rows"),
    [("140 A", "160 A", ROW), ("140 A", "160.2 A", []), ("70 A", "110 A", ROW), ("70 A", "109.8 A", [])],
)
def test_a_row_beyond_the_measured_points_of_a_wire_is_not_compared(
    bench: Any, low: str, high: str, rows: list[Any]
) -> None:
    """A chart means the middle of its currents: the wire was measured from 90 to 150 A, at 3 and 6 m/min, not at 4."""
    row = {"wire feed": "4 m/min", "current from": low, "current to": high}
    approved = bench.approved(charts=(bench.chart(row=row),), with_wire=bench.wire(melting=[POINTS]))
    found = [
        (each.table, each.row.replace("\N{NO-BREAK SPACE}", " "), wire_of(each)) for each in contradicted_rows(approved)
    ]
    assert found == rows


@pytest.mark.parametrize(
    "chart", [{"wire diameter": "1.2 mm"}, {"process": "136"}, {"bases": ["austenitic stainless"]}, {"gas": "CO2"}]
)
def test_a_wire_that_a_chart_is_not_for_is_not_compared(bench: Any, chart: dict[str, Any]) -> None:
    wire = bench.wire(melting=[bench.LAW], bases=["structural steel"])
    approved = bench.approved(charts=(bench.chart(row={"wire feed": "2 m/min"}, **chart),), with_wire=wire)
    assert list(contradicted_rows(approved)) == []


def test_every_wire_of_a_chart_is_compared(bench: Any) -> None:
    approved = bench.approved(
        charts=(bench.chart(row={"wire feed": "2 m/min"}),), with_wire=bench.wire(melting=[bench.LAW])
    )
    second = bench.wire(id="W11", melting=[bench.LAW])
    both = replace(approved, wires={**approved.wires, "W11": second})
    assert [wire_of(each) for each in contradicted_rows(both)] == ["W10", "W11"]
