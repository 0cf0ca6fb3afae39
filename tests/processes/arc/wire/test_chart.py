"""Which chart a group of seams is set from."""

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc.wire.settings import arc_chart_for


def test_the_only_fitting_chart_is_found(bench: Any) -> None:
    tables = (bench.chart("spray", positions=["PA"]), bench.chart("short"))
    approved = bench.approved(charts=tables)
    assert arc_chart_for(bench.group(bench.operation(), approved), None, approved).table == "short"


def test_of_several_that_fit_the_one_whose_operations_reach_the_thickness_is_meant(bench: Any) -> None:
    tables = (
        bench.chart("thin", row={"over": "0.5 mm", "up to": "2 mm"}),
        bench.chart("thick", row={"over": "2 mm", "up to": "12 mm"}),
    )
    approved = bench.approved(charts=tables)
    assert (
        arc_chart_for(bench.group(bench.operation(components=bench.sheets("3 mm")), approved), None, approved).table
        == "thick"
    )


@pytest.mark.parametrize("thickness", ["3 mm", "20 mm"])
def test_several_that_fit_equally_are_refused_by_name(bench: Any, thickness: str) -> None:
    approved = bench.approved(charts=(bench.chart("first"), bench.chart("second")))
    with pytest.raises(OutOfRangeError, match="2 charts fit: first, second"):
        arc_chart_for(bench.group(bench.operation(components=bench.sheets(thickness)), approved), None, approved)


@pytest.mark.parametrize(
    ("more", "reason"),
    [
        ({"process": "136"}, "is for process 136"),
        ({"gas": "CO2"}, "is for gas CO2"),
        ({"wire diameter": "1.2 mm"}, "is for wire 1.2 mm"),
        ({"bases": ["austenitic stainless"]}, "is not for structural steel"),
        ({"joints": ["square butt"]}, "is for square butt"),
        ({"positions": ["PA", "PC"]}, "is for position PA or PC"),
    ],
)
def test_where_none_fits_the_chart_says_why(bench: Any, more: dict[str, Any], reason: str) -> None:
    approved = bench.approved(charts=(bench.chart("other", **more),))
    with pytest.raises(OutOfRangeError) as refused:
        arc_chart_for(bench.group(bench.operation(), approved), None, approved)
    assert f"nearest: other {reason}" in refused.value.problems[0].message.replace("\N{NO-BREAK SPACE}", " ")


def test_where_none_fits_the_three_that_miss_minimum_are_named_and_the_rest_counted(bench: Any) -> None:
    tables = (
        bench.chart("far", process="136", gas="CO2", positions=["PA"]),
        bench.chart("near", gas="CO2"),
        bench.chart("farther", process="136", gas="CO2"),
        bench.chart("nearer", positions=["PA"]),
        bench.chart("farthest", process="136", gas="CO2", positions=["PA"], joints=["square butt"]),
    )
    approved = bench.approved(charts=tables)
    with pytest.raises(OutOfRangeError) as refused:
        arc_chart_for(bench.group(bench.operation(), approved), None, approved)
    message = refused.value.problems[0].message
    assert message.index("near is for") < message.index("nearer is for") < message.index("farther is for")
    assert "far is for" not in message
    assert message.endswith("; 2 more fit less")


def test_where_there_is_no_chart_that_is_said(bench: Any) -> None:
    approved = replace(bench.approved(), arc_charts={})
    with pytest.raises(OutOfRangeError, match="the tables hold none"):
        arc_chart_for(bench.group(bench.operation(), approved), None, approved)


def test_a_named_chart_is_used_although_another_fits_too(bench: Any) -> None:
    approved = bench.approved(charts=(bench.chart("first"), bench.chart("second")))
    assert arc_chart_for(bench.group(bench.operation(), approved), "second", approved).table == "second"


def test_a_named_chart_that_does_not_fit_is_refused_with_all_reasons(bench: Any) -> None:
    approved = bench.approved(charts=(bench.chart("first", gas="CO2", positions=["PA"]),))
    with pytest.raises(OutOfRangeError, match="first does not fit: is for gas CO2, is for position PA"):
        arc_chart_for(bench.group(bench.operation(), approved), "first", approved)
