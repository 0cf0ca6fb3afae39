from typing import Any

import pytest
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation


def verdicts(operation: Any, approved: Any) -> dict[tuple[str, str], Verdict]:
    return {(verdict.key, verdict.subject): verdict for verdict in spot_operation(operation, approved).verdicts}


def problems(operation: Any, approved: Any) -> list[tuple[str, str]]:
    with pytest.raises(OutOfRangeError) as caught:
        spot_operation(operation, approved)
    return [(problem.key, problem.message) for problem in caught.value.problems]


def problem_of(operation: Any, approved: Any) -> tuple[str, str]:
    [found] = problems(operation, approved)
    return found[0], found[1].replace("\N{NO-BREAK SPACE}", " ")


def texts(operation: Any, approved: Any) -> dict[tuple[str, str], str]:
    return {
        place: verdict.text.replace("\N{NO-BREAK SPACE}", " ")
        for place, verdict in verdicts(operation, approved).items()
    }


def test_a_good_pattern_is_passed_with_its_closest_nearest_deepest_and_farthest(build: Any) -> None:
    spots = [build.spot("s1", 20), build.spot("s2", 45, 10), build.spot("s3", 80)]
    assert texts(build.operation(spots=spots), build.approved()) == {
        ("pitch", "stack k1"): "closest: s1 and s2, 26.9 mm apart; at least 20.0 mm",
        ("edge_distance", "stack k1"): "nearest edge: s2, 10.0 mm on part panel; at least 6.0 mm",
        ("throat_depth", "gun G1"): "deepest: s1, 20 mm inside the nearest edge of part panel; throat 300 mm",
        ("reach", "robot A"): "farthest: s3, 526 mm from the base; reach 2000 mm",
    }


def test_spots_exactly_at_the_minimum_pitch_pass(build: Any) -> None:
    spots = [build.spot("s1", 20.1), build.spot("s2", 40.1)]
    assert verdicts(build.operation(spots=spots), build.approved())["pitch", "stack k1"].passed is True


def test_all_pairs_of_a_stack_that_are_too_close_are_one_problem_that_names_each(build: Any) -> None:
    spots = [build.spot("s1", 20), build.spot("s2", 35), build.spot("s3", 51)]
    ((key, message),) = problems(build.operation(spots=spots), build.approved())
    assert key == "spots[1]"
    text = message.replace("\N{NO-BREAK SPACE}", " ")
    assert "spot s2 is 15.0 mm from spot s1; at least 20.0 mm" in text
    assert text.endswith("(likewise s3 from s2 16.0 mm)")


def test_spots_too_near_an_edge_are_one_problem_in_inches_where_the_order_has_them_first(build: Any) -> None:
    spots = [build.spot("s1", 20, 2), build.spot("s2", 60, 3)]
    with pytest.raises(OutOfRangeError) as refused:
        spot_operation(build.operation(spots=spots), build.approved())
    by_component = [problem.shown_first("US customary") for problem in refused.value.problems]
    assert {problem.key for problem in by_component} == {"spots[0]"}
    assert {problem.value for problem in by_component} == {"0.079 in"}
    text = by_component[0].message.replace("\N{NO-BREAK SPACE}", " ")
    assert "spot s1 is 0.079 in (2.0 mm) from the edge of part panel; at least 0.2" in text
    assert text.endswith("(likewise s2 0.118 in (3.0 mm))")


def test_the_pitch_is_the_distance_in_space(build: Any) -> None:
    spots = [build.spot("s1", 20), build.spot("s2", 35, 20, 20)]
    assert "25.0 mm apart" in texts(build.operation(spots=spots), build.approved())["pitch", "stack k1"]


def test_the_pitch_of_three_sheets_counts_against_a_neighbour_through_two_of_them(build: Any) -> None:
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "k3", "sheets": ["panel", "strip", "panel"]}]
    spots = [build.spot("s1", 20), build.spot("s2", 45, stack="k3")]
    key, message = problem_of(build.operation(stacks=stacks, spots=spots), build.approved())
    assert key == "spots[1]"
    assert message.startswith("spot s2 is 25.0 mm from spot s1; at least 26.0 mm for stack k3 (table pitches)")


def test_spots_whose_stacks_share_one_sheet_only_are_no_neighbours(build: Any) -> None:
    parts = [build.part("panel"), build.part("strip"), build.part("other")]
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "k2", "sheets": ["panel", "other"]}]
    spots = [build.spot("s1", 20), build.spot("s2", 25, stack="k2")]
    found = verdicts(build.operation(components=parts, stacks=stacks, spots=spots), build.approved())
    assert found["pitch", "stack k1"].passed is True
    assert found["pitch", "stack k2"].text == "one spot on these sheets: no neighbour to keep away from"


def test_a_sheet_stacked_on_its_like_is_two_sheets_in_common(build: Any) -> None:
    stacks = [{"id": "k1", "sheets": ["panel", "panel"]}]
    assert (
        len(
            problems(
                build.operation(stacks=stacks, spots=[build.spot("s1", 20), build.spot("s2", 30)]), build.approved()
            )
        )
        == 1
    )


def test_a_point_given_twice_is_refused_even_on_other_sheets(build: Any) -> None:
    parts = [build.part(mark) for mark in ("panel", "strip", "third", "fourth")]
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "k2", "sheets": ["third", "fourth"]}]
    spots = [build.spot("s1", 20), build.spot("s2", 20.004, stack="k2", robot="B")]
    assert problem_of(build.operation(components=parts, stacks=stacks, spots=spots), build.approved()) == (
        "spots[1]",
        "spot s2 is where spot s1 is",
    )


def test_spots_more_than_a_hundredth_of_a_millimetre_apart_are_two_that_are_too_near(build: Any) -> None:
    spots = [build.spot("s1", 20), build.spot("s2", 20.015)]
    key, message = problem_of(build.operation(spots=spots), build.approved())
    assert (key, message.partition(";")[0]) == ("spots[1]", "spot s2 is 0.0 mm from spot s1")


def test_a_spot_beyond_the_reach_of_its_robot_is_refused(build: Any) -> None:
    spots = [build.spot("s1", 20, robot="B"), build.spot("s2", 50, 20, 1900, robot="B"), build.spot("s3", 80)]
    operation = build.operation(components=[build.part("panel"), build.part("strip")], spots=spots)
    key, message = problem_of(operation, build.approved())
    assert key == "spots[1]"
    assert message == "spot s2 is 2094 mm from the base of robot B, which reaches 2000 mm"


def test_a_spot_outside_the_outlines_of_all_its_sheets_is_refused_once(build: Any) -> None:
    found = problems(build.operation(spots=[build.spot("s1", 20), build.spot("s2", 50, 41)]), build.approved())
    assert found == [
        ("spots[1]", "spot s2 is outside the outline of part panel and of part strip"),
    ]


def test_several_spots_outside_one_outline_are_one_fault_of_the_outline(build: Any) -> None:
    spots = [build.spot(f"s{n}", -50 - 30 * n, 41) for n in range(3)]
    found = problems(build.operation(spots=spots), build.approved())
    assert found == [
        ("components[0]", "3 spots are outside the outline of part panel: s0, s1, s2"),
        ("components[1]", "3 spots are outside the outline of part strip: s0, s1, s2"),
    ]


def test_a_spot_too_near_to_the_edge_is_refused_with_the_overlap_that_requires_it(build: Any) -> None:
    found = problems(build.operation(spots=[build.spot("s1", 20, 5.9)]), build.approved())
    assert [key for key, _ in found] == ["spots[0]", "spots[0]"]
    assert "5.9\N{NO-BREAK SPACE}mm from the edge of part panel; at least 6.0\N{NO-BREAK SPACE}mm" in found[0][1]
    assert found[0][1].endswith("half the overlap of table pitches")


def test_a_spot_exactly_at_the_minimum_edge_distance_passes(build: Any) -> None:
    found = verdicts(build.operation(spots=[build.spot("s1", 20, 6)]), build.approved())
    assert found["edge_distance", "stack k1"].passed is True


def test_a_spot_deeper_than_the_throat_is_refused(build: Any) -> None:
    wide = {"unit": "mm", "points": build.rectangle(800, 700)}
    parts = [build.part("panel", outlines=[wide]), build.part("strip")]
    key, message = problem_of(build.operation(components=parts, spots=[build.spot("s1", 400, 320)]), build.approved())
    assert (key, message) == (
        "spots[0]",
        "spot s1 is 320 mm inside the nearest edge of part panel; the throat of gun G1 is 300 mm deep",
    )


def test_a_sheet_without_an_outline_is_reported_as_not_checked(build: Any) -> None:
    outline = {"unit": "mm", "points": build.rectangle(200, 40)}
    operation = build.operation(components=[build.part("panel", outlines=[outline]), build.part("strip")])
    found = verdicts(operation, build.approved())["edge_distance", "part strip"]
    assert (found.text, found.passed) == ("3 spots on part strip not checked: the component has no outline", None)


def test_an_outline_in_another_plane_is_reported_as_not_checked(build: Any) -> None:
    outline = {"unit": "mm", "points": build.rectangle(200, 40), "offset": "10 mm"}
    operation = build.operation(
        components=[build.part("panel", outlines=[outline]), build.part("strip", outlines=[outline])]
    )
    found = verdicts(operation, build.approved())
    assert found["edge_distance", "part panel"].text == (
        "3 spots on part panel not checked: no outline lies in their plane"
    )
    assert ("edge_distance", "stack k1") not in found


def test_an_outline_within_the_thickness_of_the_stack_counts_as_the_plane_of_the_spot(build: Any) -> None:
    outline = {"unit": "mm", "points": build.rectangle(200, 40), "offset": "2 mm"}
    operation = build.operation(
        components=[build.part("panel", outlines=[outline]), build.part("strip", outlines=[outline])]
    )
    assert verdicts(operation, build.approved())["edge_distance", "stack k1"].passed is True


def test_of_two_planes_that_meet_at_a_fold_the_one_that_holds_the_spot_counts(build: Any) -> None:
    flange = {"unit": "mm", "points": build.rectangle(200, 40)}
    web = {"unit": "mm", "plane": "XZ", "offset": "20 mm", "points": [["0", "0"], ["60", "0"], ["60", "90"]]}
    folded = build.part("panel", outlines=[flange, web])
    operation = build.operation(components=[folded, build.part("strip")], spots=[build.spot("s1", 100, 20)])
    assert "20.0 mm on part panel" in texts(operation, build.approved())["edge_distance", "stack k1"]


def test_of_two_outlines_that_hold_a_spot_the_nearer_edge_counts(build: Any) -> None:
    lower = {"unit": "mm", "points": build.rectangle(200, 40)}
    upper = {"unit": "mm", "offset": "1 mm", "points": [["11", "0"], ["200", "0"], ["200", "40"], ["11", "40"]]}
    for outlines in ([lower, upper], [upper, lower]):
        parts = [build.part("panel", outlines=outlines), build.part("strip")]
        operation = build.operation(components=parts, spots=[build.spot("s1", 20)])
        assert "s1, 9.0 mm on part panel" in texts(operation, build.approved())["edge_distance", "stack k1"]
        near = build.operation(components=parts, spots=[build.spot("s1", 16)])
        assert "spot s1 is 5.0 mm from the edge of part panel" in problem_of(near, build.approved())[1]


def test_a_hole_is_an_edge(build: Any) -> None:
    sheet = {"unit": "mm", "points": build.rectangle(200, 100)}
    hole = {"unit": "mm", "points": [["90", "40"], ["110", "40"], ["110", "60"], ["90", "60"]]}
    parts = [build.part("panel", outlines=[sheet, hole]), build.part("strip")]
    approved = build.approved()
    assert (
        "4.0 mm from the edge"
        in problem_of(build.operation(components=parts, spots=[build.spot("s1", 86, 50)]), approved)[1]
    )
    assert (
        "outside the outline"
        in problem_of(build.operation(components=parts, spots=[build.spot("s1", 100, 50)]), approved)[1]
    )


def scaled(build: Any, scale: float, **more: Any) -> dict[str, Any]:
    """Return a panel of 200 x 40 mm whose drawing was read at another scale."""
    points = [[f"{x * scale:.6f}", f"{y * scale:.6f}"] for x, y in ((0, 0), (200, 0), (200, 40), (0, 40))]
    return build.part("panel", outlines=[{"unit": "mm", "points": points, **more}])


@pytest.mark.parametrize(("scale", "size", "other"), [(1 / 25.4, "small", "larger"), (25.4, "large", "smaller")])
def test_a_drawing_in_the_wrong_unit_is_one_problem_for_all_its_spots(
    build: Any, scale: float, size: str, other: str
) -> None:
    spots = [build.spot(f"s{index}", x, 30) for index, x in enumerate((8, 40, 80, 120, 192))]
    outline = {"unit": "mm", "points": build.rectangle(200, 40)}
    parts = [scaled(build, scale, file="panel.dxf"), build.part("strip", outlines=[outline])]
    guns = {"G1": build.gun(**{"throat depth": "25 mm"})}
    found = problem_of(
        build.operation(components=parts, spots=spots), build.approved(guns=build.approved().guns | guns)
    )
    assert found == (
        "components[0].outlines[0].file",
        f"the whole drawing panel.dxf is 25.4 times too {size}: read 25.4 times {other}, all of its 5 welds lie on it",
    )


def test_outlines_that_the_order_writes_in_the_wrong_unit_are_reported_at_their_component(build: Any) -> None:
    spots = [build.spot(f"s{index}", x) for index, x in enumerate((20, 60, 100))]
    outline = {"unit": "mm", "points": build.rectangle(200, 40)}
    parts = [scaled(build, 1 / 25.4), build.part("strip", outlines=[outline])]
    key, message = problem_of(build.operation(components=parts, spots=spots), build.approved())
    assert key == "components[0].outlines[0].unit"
    assert message.startswith("the whole drawing of component part panel is 25.4 times too small")


def test_two_stray_spots_do_not_make_a_drawing_too_small(build: Any) -> None:
    """A drawing 25.4 times larger would hold them, but of two welds nothing is concluded."""
    outline = {"unit": "mm", "points": build.rectangle(200, 40)}
    parts = [scaled(build, 0.1), build.part("strip", outlines=[outline])]
    spots = [build.spot("s1", 60), build.spot("s2", 100)]
    assert [key for key, _ in problems(build.operation(components=parts, spots=spots), build.approved())] == [
        "spots[0]",
        "spots[1]",
    ]


def test_a_few_stray_spots_of_many_do_not_make_a_drawing_too_small(build: Any) -> None:
    spots = [build.spot(f"s{index}", x) for index, x in enumerate((20, 60, 100, 140, 220, 260))]
    found = problems(build.operation(spots=spots), build.approved())
    assert {key for key, _ in found} == {"spots[4]", "spots[5]"}


def test_an_operation_whose_stacks_all_fail_still_shows_only_what_it_knows(build: Any) -> None:
    parts = [build.part("panel", of="bright"), build.part("strip", of="bright")]
    assert [key for key, _ in problems(build.operation(components=parts), build.approved())] == ["stacks[0]"]
