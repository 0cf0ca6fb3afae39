"""Diameters of set-up and production, the visible side, stacks that no chart states, force that a gun repeats."""

from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.countermeasures import PEEL_ALL
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Given
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.units import quantity

NBSP = "\N{NO-BREAK SPACE}"


def welded(build: Any, plant: dict[str, Any] | None = None, operation: Any = None, **approved: Any) -> WeldSettings:
    ruled = build.approved().plant.model_copy(update=plant or {})
    first: WeldSettings = spot_operation(
        operation or build.operation(), build.approved(plant=ruled, **approved)
    ).settings[0]
    return first


@pytest.mark.parametrize(
    ("factor", "set_up", "expected"),
    [
        (None, "5.0", "factors of the test"),
        ("4.5", "4.5", "the plant's own"),
        ("4", "4.0", "the plant's own"),
        ("5", "5.0", "factors of the test"),
        ("5.5", "5.0", "factors of the test"),
    ],
)
def test_a_set_up_is_held_to_the_plants_diameter_and_never_to_more_than_the_target(
    build: Any, factor: str | None, set_up: str, expected: str
) -> None:
    plant = {"set_up_weld_diameter": factor and Decimal(factor), "set_up_weld_diameter_source": "the plant's own"}
    found = welded(build, plant)
    keys = ("target_weld_diameter", "set_up_weld_diameter", "minimum_weld_diameter")
    assert [str(found.figure(key).text) for key in keys] == ["5.0", set_up, "4.0"]
    given = found.figure("set_up_weld_diameter").trace[0]
    assert isinstance(given, Given)
    assert given.origin.endswith(expected)


def test_a_set_up_may_not_be_held_to_less_than_the_parts(build: Any) -> None:
    plant = {"set_up_weld_diameter": Decimal("3.9"), "set_up_weld_diameter_source": "the plant's own"}
    with pytest.raises(OutOfRangeError, match=r"accepts coupons of 3\.9 √t, chart .* requires 4 √t of components"):
        welded(build, plant)


def test_the_visible_side_has_a_limit_of_its_own_sheet(build: Any) -> None:
    parts = [build.part("panel", "1.2 mm"), build.part("strip", "1.5 mm")]
    plant = {"visible_indentation": quantity(10, "%"), "visible_indentation_source": "the plant's own"}
    stack = {"id": "k1", "sheets": ["panel", "strip"]}
    for visible, deep in (("panel", "0.12"), ("strip", "0.15")):
        operation = build.operation(components=parts, stacks=[stack | {"visible": visible}])
        figure = welded(build, plant, operation).figure("visible_indentation")
        assert str(figure.text) == deep
        assert figure.remarks[0].text == f"visible side: outside of part {visible}"
    operation = build.operation(components=parts, stacks=[stack])
    assert "visible_indentation" not in [figure.key for figure in welded(build, plant, operation).derived]


def test_a_depth_is_rounded_down(build: Any) -> None:
    plant = {"visible_indentation": quantity(12.9, "%")}
    operation = build.operation(stacks=[{"id": "k1", "sheets": ["panel", "strip"], "visible": "panel"}])
    assert str(welded(build, plant, operation).figure("visible_indentation").text) == "0.12"


def test_an_inner_sheet_has_no_visible_side(build: Any) -> None:
    parts = [build.part("panel"), build.part("strip"), build.part("post")]
    stacks = [{"id": "k1", "sheets": ["panel", "strip", "post"], "visible": "strip"}]
    with pytest.raises(OutOfRangeError, match="component strip is not an outer sheet of stack k1") as caught:
        welded(build, {"visible_indentation": quantity(10, "%")}, build.operation(components=parts, stacks=stacks))
    (problem,) = caught.value.problems
    assert (problem.key, problem.value) == ("stacks[0].visible", "strip")


def test_a_visible_side_without_a_limit_of_the_plant_is_refused(build: Any) -> None:
    operation = build.operation(stacks=[{"id": "k1", "sheets": ["panel", "strip"], "visible": "panel"}])
    with pytest.raises(OutOfRangeError, match="the plant states no limit of indentation"):
        welded(build, operation=operation)


def warnings_of(group: WeldSettings) -> dict[str, str]:
    return {
        verdict.key: verdict.text for verdict in group.verdicts if verdict.warns and verdict.countermeasure == PEEL_ALL
    }


def test_three_sheets_on_a_chart_for_two_are_warned_of(build: Any) -> None:
    parts = [build.part("panel"), build.part("strip"), build.part("post")]
    stacks = [{"id": "k1", "sheets": ["panel", "strip", "post"]}]
    found = warnings_of(welded(build, operation=build.operation(components=parts, stacks=stacks)))
    assert found == {
        "three_sheets": "chart plain-bands states settings for two sheets; three are welded by its row of the second "
        "thickest sheet"
    }
    assert warnings_of(welded(build)) == {}


def test_a_bare_sheet_on_a_chart_of_coated_ones_is_warned_of(build: Any) -> None:
    parts = [build.part("panel", of="zinc"), build.part("strip")]
    chart = build.chart(coatings=["hot-dip zinc"])
    found = warnings_of(welded(build, operation=build.operation(components=parts), spot_charts={"plain-bands": chart}))
    assert found == {
        "mixed_coating": "chart plain-bands states settings for two sheets of hot-dip zinc; here one side is bare"
    }
    both = build.operation(components=[build.part("panel", of="zinc"), build.part("strip", of="zinc")])
    assert warnings_of(welded(build, operation=both, spot_charts={"plain-bands": chart})) == {}


@pytest.mark.parametrize(
    ("repeats", "low", "high", "widened"),
    [
        (None, "2.4", "2.6", False),
        ("3.9 %", "2.4", "2.6", False),
        ("4 %", "2.4", "2.6", False),
        ("8 %", "2.3", "2.7", True),
    ],
)
def test_a_force_is_allowed_at_least_as_far_as_the_gun_repeats_it(
    build: Any, repeats: str | None, low: str, high: str, widened: bool
) -> None:
    """The chart gives 2.4 to 2.6 kN, 4 % of 2.5 kN on both sides."""
    chart = build.chart(row={"force from": "2.4 kN", "force to": "2.6 kN"})
    more = {"force repeatability": repeats, "force repeatability source": "data sheet"}
    guns = {mark: build.gun(id=mark, **more) for mark in ("G1", "G2")}
    force = welded(build, spot_charts={"plain-bands": chart}, guns=guns).figure("electrode_force")
    assert force.allowed_range is not None
    ends = [f"{end.m_as('kN'):.6g}" for end in (force.allowed_range.low, force.allowed_range.high) if end is not None]
    assert ends == [low, high]
    assert ("widened to ± 8" in force.allowed_range.origin) is widened
    expected = f"narrower than the gun repeats a force, ± 8{NBSP}%: the allowed range is the gun's"
    assert [remark.text.endswith(expected) for remark in force.remarks] == ([True] if widened else [])


def test_of_two_spacing_charts_the_greater_pitch_and_overlap_hold(build: Any) -> None:
    row = {"over": "0.5 mm", "up to": "2 mm", "pitch": "24 mm", "overlap": "11 mm"}
    tables = {"pitches": build.spacing(), "stricter": build.spacing(table="stricter", rows=[row])}
    chart = build.chart(**{"spacing also": ["stricter"]})
    found = welded(build, spot_charts={"plain-bands": chart}, spot_spacings=tables)
    assert [str(found.figure(key).text) for key in ("minimum_pitch", "minimum_overlap", "minimum_edge_distance")] == [
        "24",
        "12",
        "6.0",
    ]
    pitch = found.figure("minimum_pitch")
    assert pitch.remarks[0].text == "the largest value of the two charts: stricter"
    assert [getattr(step, "table", "") for step in pitch.trace] == ["pitches", "stricter", ""]


def test_the_greater_pitch_holds_for_the_pattern(build: Any) -> None:
    row = {"over": "0.5 mm", "up to": "2 mm", "pitch": "30.1 mm", "overlap": "11 mm"}
    tables = {"pitches": build.spacing(), "stricter": build.spacing(table="stricter", rows=[row])}
    chart = build.chart(**{"spacing also": ["stricter"]})
    with pytest.raises(OutOfRangeError, match=r"at least 30\.1.*\(table stricter\)"):
        welded(build, spot_charts={"plain-bands": chart}, spot_spacings=tables)


def test_a_spacing_chart_that_does_not_reach_the_thickness_is_reported(build: Any) -> None:
    row = {"over": "2 mm", "up to": "3 mm", "pitch": "30 mm", "overlap": "11 mm"}
    tables = {"pitches": build.spacing(), "thick": build.spacing(table="thick", rows=[row])}
    chart = build.chart(**{"spacing also": ["thick"]})
    pitch = welded(build, spot_charts={"plain-bands": chart}, spot_spacings=tables).figure("minimum_pitch")
    assert (str(pitch.text), [remark.text for remark in pitch.remarks]) == (
        "20",
        ["table thick does not reach this thickness and was not compared"],
    )


def test_the_minimum_edge_distance_says_what_it_costs(build: Any) -> None:
    (remark,) = welded(build).figure("minimum_edge_distance").remarks
    assert "up to 2 weld diameters" in remark.text
