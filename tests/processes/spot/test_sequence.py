"""Squeeze by the drive of the gun, hold by the thickness, upslope where it is stated."""

from typing import Any

import pytest
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure, Given, Lookup
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.units import quantity


def of_drive(**more: Any) -> dict[str, Any]:
    return {
        "squeeze_servo": quantity(4, "cycles@50Hz"),
        "squeeze_pneumatic": quantity(17, "cycles@50Hz"),
        "squeeze_source": "a slide set",
    } | more


def welded(build: Any, plant: dict[str, Any] | None = None, drive: str = "servo", **chart: Any) -> WeldSettings:
    ruled = build.approved().plant.model_copy(update=plant or {})
    charts = {"plain-bands": build.chart(**chart), "other": _other(build)}
    guns = {mark: build.gun(id=mark, drive=drive) for mark in ("G1", "G2")}
    operation = build.operation(chart="plain-bands")
    first: WeldSettings = spot_operation(
        operation, build.approved(plant=ruled, spot_charts=charts, guns=guns)
    ).settings[0]
    return first


def _other(build: Any) -> Any:
    columns = {"thickness": "0.8 mm", "cap face": "5 mm", "force": "2 kN", "weld time": "10 cycles@50Hz"}
    low = columns | {"current": "9 kA", "hold": "9 cycles@50Hz"}
    high = low | {"thickness": "1.2 mm", "hold": "13 cycles@50Hz"}
    shares = {"force": "5 %", "weld time": "5 %", "current": "5 %"}
    return build.chart(table="other", form="points", tolerance=shares, rows=[low, high])


def warned(figure: Figure) -> list[str]:
    return [remark.text for remark in figure.remarks if remark.weight.value == "warning"]


@pytest.mark.parametrize(("drive", "cycles"), [("servo", 4), ("pneumatic", 17)])
def test_squeeze_follows_the_drive_of_the_gun(build: Any, drive: str, cycles: int) -> None:
    figure = welded(build, of_drive(), drive, squeeze=None).figure("squeeze_time")
    assert (figure.text, figure.unit) == (cycles, "cycles@50Hz")
    assert isinstance(figure.trace[0], Given)
    assert figure.trace[0].origin == f"table plant, {drive} gun: a slide set"
    assert warned(figure) == []


def test_a_drive_for_which_the_plant_states_no_squeeze_is_refused(build: Any) -> None:
    with pytest.raises(OutOfRangeError, match="no squeeze time, and the plant none for a pneumatic gun") as caught:
        welded(build, of_drive(squeeze_pneumatic=None), "pneumatic", squeeze=None)
    assert "'squeeze pneumatic'" in caught.value.problems[0].remedy


def test_hold_is_read_at_the_thickness_from_the_chart_that_is_named(build: Any) -> None:
    """9 cycles at 0.8 mm and 13 at 1.2 mm are 11 at 1 mm."""
    figure = welded(build, hold=None, **{"hold from": "other"}).figure("hold_time")
    assert figure.text == 11
    assert isinstance(figure.trace[0], Lookup)
    assert (figure.trace[0].table, figure.trace[0].fraction) == ("other", 0.5)
    assert [remark.text for remark in figure.remarks] == [
        "the chart states no hold time; it is that of chart other at the same thickness"
    ]
    assert warned(figure) == []


def test_one_time_for_every_thickness_is_never_taken_silently(build: Any) -> None:
    found = welded(build)
    for key, name in (("squeeze_time", "squeeze time"), ("hold_time", "hold time")):
        (text,) = warned(found.figure(key))
        assert text == f"the chart states one {name} for every thickness and gun: sequence of the test"
    assert warned(welded(build, row={"hold": "9 cycles@50Hz"}).figure("hold_time")) == []


def test_upslope_is_set_where_the_chart_states_it_and_counts_into_duty_and_time_under_force(build: Any) -> None:
    without, found = welded(build), welded(build, row={"upslope": "2 cycles@50Hz"})
    assert "upslope_time" not in [figure.key for figure in without.dialled]
    keys = [figure.key for figure in found.dialled]
    assert keys.index("squeeze_time") + 1 == keys.index("upslope_time") == keys.index("weld_current") - 1
    times = [each.figure("time_under_force").text for each in (without, found)]
    assert times == [700, 740]
    duties = [str(each.figure("duty_cycle").text) for each in (without, found)]
    assert duties == ["14.2", "16.1"]  # 240 of 1700 ms, 280 of 1740 ms
