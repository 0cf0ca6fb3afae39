"""Distances of EN 1993-1-3, which an order may ask for: 2 d_s to an end, 4 d_s to a side, 3 to 8 d_s of pitch."""

from typing import Any

import pytest
from weld_packets.calculation.trace import Verdict
from weld_packets.processes.spot.operation import spot_operation

NBSP = "\N{NO-BREAK SPACE}"


def verdicts(build: Any, spots: list[dict[str, Any]], **more: Any) -> dict[str, Verdict]:
    """Return the verdicts of two 1 mm sheets of 200 by 40 mm, whose d_s is 5 mm."""
    operation = build.operation(spots=spots, **{"spacing rule": "EN 1993-1-3"} | more)
    return {
        each.key: each
        for each in spot_operation(operation, build.approved()).verdicts
        if each.key.startswith("en_1993")
    }


def test_distances_inside_the_rule_pass(build: Any) -> None:
    found = verdicts(build, [build.spot("s1", 20), build.spot("s2", 60)])
    assert [verdict.passed for verdict in found.values()] == [True] * 4
    assert all("from memory" in verdict.source for verdict in found.values())


@pytest.mark.parametrize(("y", "good"), [(10, True), (9.9, False), (20, True)])
def test_an_end_distance_below_two_weld_diameters_warns(build: Any, y: float, good: bool) -> None:
    verdict = verdicts(build, [build.spot("s1", 30, y), build.spot("s2", 60, 20)])["en_1993_end"]
    assert (verdict.passed, verdict.warns) == ((True, False) if good else (None, True))
    assert f"at least 2 d_s, 10.0{NBSP}mm" in verdict.text


@pytest.mark.parametrize(("y", "good"), [(20, True), (20.1, False)])
def test_a_side_distance_above_four_weld_diameters_warns(build: Any, y: float, good: bool) -> None:
    outline = {"unit": "mm", "points": build.rectangle(200, 60)}
    parts = [build.part("panel", outlines=[outline]), build.part("strip", outlines=[outline])]
    verdict = verdicts(build, [build.spot("s1", 60, y), build.spot("s2", 90, 20)], components=parts)["en_1993_side"]
    assert (verdict.passed, verdict.warns) == ((True, False) if good else (None, True))


@pytest.mark.parametrize(("apart", "alone"), [(40, False), (40.1, True)])
def test_spots_without_a_neighbour_within_eight_weld_diameters_warn(build: Any, apart: float, alone: bool) -> None:
    verdict = verdicts(build, [build.spot("s1", 20), build.spot("s2", 20 + apart)])["en_1993_pitch_maximum"]
    assert verdict.warns is alone
    assert verdict.text.startswith("s1 and 1 more have" if alone else "no spot has")


def test_a_pitch_below_three_weld_diameters_warns_where_the_chart_allows_it(build: Any) -> None:
    row = {"over": "0.5 mm", "up to": "2 mm", "pitch": "10 mm", "overlap": "12 mm"}
    for apart, good in ((15, True), (14.9, False)):
        order = build.operation(
            spots=[build.spot("s1", 20), build.spot("s2", 20 + apart)], **{"spacing rule": "EN 1993-1-3"}
        )
        result = spot_operation(order, build.approved(spot_spacings={"pitches": build.spacing(rows=[row])}))
        (verdict,) = (each for each in result.verdicts if each.key == "en_1993_pitch")
        assert verdict.warns is not good


def test_the_pitch_of_a_spot_is_that_to_its_nearest_neighbour(build: Any) -> None:
    row = {"over": "0.5 mm", "up to": "2 mm", "pitch": "10 mm", "overlap": "12 mm"}
    spots = [build.spot("s1", 20), build.spot("s2", 34), build.spot("s3", 60)]
    order = build.operation(spots=spots, **{"spacing rule": "EN 1993-1-3"})
    result = spot_operation(order, build.approved(spot_spacings={"pitches": build.spacing(rows=[row])}))
    (verdict,) = (each for each in result.verdicts if each.key == "en_1993_pitch")
    assert verdict.warns is True  # 14 mm to the next spot is less than 15 mm, 26 and 40 mm to the others are not
    assert verdict.text.startswith(f"s1 is 14.0{NBSP}mm from its neighbour")


def test_without_the_rule_nothing_of_it_is_checked(build: Any) -> None:
    assert verdicts(build, [build.spot("s1", 20)], **{"spacing rule": "chart"}) == {}


def test_one_spot_alone_has_no_pitch(build: Any) -> None:
    assert set(verdicts(build, [build.spot("s1", 20)])) == {"en_1993_end", "en_1993_side"}


def test_one_spot_without_a_neighbour_is_named_alone(build: Any) -> None:
    spots = [build.spot("s1", 20), build.spot("s2", 50), build.spot("s3", 120)]
    assert verdicts(build, spots)["en_1993_pitch_maximum"].text.startswith("s3 has no neighbour within 8 d_s")
