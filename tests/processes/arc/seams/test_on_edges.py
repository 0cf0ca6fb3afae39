"""A seam lies on an edge of its components: hand-made joints with distances, moved, turned, and in other units."""

from itertools import permutations, product
from math import cos, pi, sin
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.trace import Measured, Verdict
from weld_packets.processes.arc.seams.on_edges import place_in

ANY_JOINT = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40, deadline=None)


@pytest.mark.parametrize("y", [28.5, 31.5, 30.0, 28.0, 27.0, 33.0])
def test_a_fillet_may_lie_a_thickness_off_the_plane_in_which_its_web_is_drawn_on_either_side(
    place: Any, y: float
) -> None:
    assert place.is_good(place.operation(place.seam("S1", (10, y, 4), (90, y, 4))))


@pytest.mark.parametrize(("y", "off"), [(26.4, "0.6 mm"), (33.6, "0.6 mm"), (24.0, "3.0 mm")])
def test_a_fillet_a_little_off_its_edge_is_a_warning_with_the_distance(place: Any, y: float, off: str) -> None:
    operation = place.operation(place.seam("S1", (10, y, 4), (90, y, 4)))
    ((subject, text),) = place.warnings(operation)
    assert (subject, text.split(" at x")[0]) == ("seam S1", f"{off} off the edge of web and plate")
    assert text.endswith("at most 0.5 mm")


def _first_length(verdict: Verdict) -> Measured:
    return next(part for part in verdict.said if isinstance(part, Measured))


def test_the_border_of_the_warning_is_the_plant_s_tolerance(place: Any) -> None:
    operation = place.operation(place.seam("S1", (10, 26.5, 4), (90, 26.5, 4)))
    assert place.is_good(operation)
    assert len(place.warnings(operation, **{"seam tolerance": "0.49 mm"})) == 1


def test_the_border_of_the_refusal_is_the_plant_s_too(place: Any) -> None:
    operation = place.operation(place.seam("S1", (10, 24, 4), (90, 24, 4)))
    assert len(place.warnings(operation)) == 1
    ((key, message),) = place.refusals(operation, **{"seam refused over": "2.9 mm"})
    assert key == "seams[0].path"
    assert message.startswith("seam S1 lies on no edge of web and plate: at x ")
    assert message.endswith("it is 3.0 mm off")


def test_a_seam_on_a_face_that_follows_no_edge_is_refused_with_the_distance(place: Any) -> None:
    ((key, message),) = place.refusals(place.operation(place.seam("S1", (10, 15, 4), (90, 15, 4))))
    assert key == "seams[0].path"
    assert "lies on no edge of web and plate" in message
    assert message.endswith("12.0 mm off"), "15 mm from the web's middle plane, of which its thickness explains 3 mm"


def test_a_seam_in_the_air_is_refused_with_its_distance_from_the_nearer_component(place: Any) -> None:
    ((_, message),) = place.refusals(place.operation(place.seam("S1", (10, -30, 24), (90, -30, 24))))
    assert message.startswith("seam S1 runs through the air: at x ")
    assert "y -30.0 mm, z 24.0 mm it is 36.1 mm from web and plate" in message, "30 mm beside and 20 mm above the plate"


def test_the_farthest_place_of_a_seam_counts_and_is_named(place: Any) -> None:
    ((_, text),) = place.warnings(place.operation(place.seam("S1", (10, 28.5, 4), (90, 25, 4))))
    assert text.startswith("2.0 mm off the edge of web and plate at x 90.0 mm, y 25.0 mm, z 4.0 mm")


def test_a_seam_that_leaves_its_edge_between_its_ends_is_found(place: Any) -> None:
    bow = [(10, 28.5, 4), (48, 28.5, 4), (50, 20, 4), (52, 28.5, 4), (90, 28.5, 4)]
    ((_, message),) = place.refusals(place.operation(place.seam("S1", *bow)))
    assert "at x 50.0 mm, y 20.0 mm" in message


def test_a_notch_of_more_than_5_mm_in_an_edge_is_found(place: Any) -> None:
    """The web is on the plate from 0 to 52 mm and from 58 mm on; between them the seam has nothing to weld to."""
    left, right = (place.rectangle("XZ", 30, (x, 4), (end, 44)) for x, end in ((0, 52), (58, 100)))
    components = [place.part("web", "3 mm", left, right), place.part("plate", "4 mm", place.PLATE)]
    limits = {"seam tolerance": "2.5 mm", "seam refused over": "9 mm"}
    ((_, message),) = place.warnings(place.operation(components=components), **limits)
    assert "at x 55.0 mm" in message


def test_a_seam_that_runs_on_past_the_end_of_its_web_is_found(place: Any) -> None:
    web = place.rectangle("XZ", 30, (0, 4), (60, 44))
    parts = [place.part("web", "3 mm", web), place.part("plate", "4 mm", place.PLATE)]
    ((_, message),) = place.refusals(place.operation(components=parts))
    assert "at x 90.0 mm" in message
    assert message.endswith("30.0 mm off")


def test_which_component_is_named_first_does_not_matter(place: Any) -> None:
    assert place.is_good(place.operation(place.seam("S1", *place.GOOD, components=["plate", "web"])))


def test_a_lap_follows_the_edge_of_the_upper_sheet(place: Any) -> None:
    upper = place.rectangle("XY", 4, (0, 0), (100, 30))
    parts = [place.part("web", "3 mm", upper), place.part("plate", "4 mm", place.PLATE)]
    good = place.seam("S1", (5, 30, 4), (95, 30, 4), joint="lap fillet")
    assert place.is_good(place.operation(good, components=parts))
    off = place.seam("S1", (5, 36, 4), (95, 36, 4), joint="lap fillet")
    assert place.refusals(place.operation(off, components=parts))[0][1].endswith("6.0 mm off")


CORNER_WEB = ("XZ", 58, (0, 4), (100, 44))


@pytest.mark.parametrize(("y", "good"), [(60.0, True), (57.0, True), (56.4, False)])
def test_a_corner_lies_on_both_edges_but_for_the_thickness_of_the_other_plate(
    place: Any, y: float, *, good: bool
) -> None:
    """Web of 3 mm on the rim of the plate: the corner lies between the plate's edge and 3 mm inside it."""
    parts = [place.part("web", "3 mm", place.rectangle(*CORNER_WEB)), place.part("plate", "4 mm", place.PLATE)]
    operation = place.operation(place.seam("S1", (5, y, 4), (95, y, 4), joint="corner fillet"), components=parts)
    assert place.is_good(operation) is good


@pytest.mark.parametrize(("low", "good"), [(0.0, True), (-0.4, True), (-0.6, False)])
def test_a_web_that_covers_the_end_of_the_plate_may_begin_a_plate_s_thickness_beside_the_corner(
    place: Any, low: float, *, good: bool
) -> None:
    """The corner runs at z 4 along the plate's edge, the web's own edge up to 4 mm and the tolerance below it."""
    parts = [
        place.part("web", "3 mm", place.rectangle("XZ", 61.5, (0, low), (100, 44))),
        place.part("plate", "4 mm", place.PLATE),
    ]
    operation = place.operation(place.seam("S1", (5, 60, 4), (95, 60, 4), joint="corner fillet"), components=parts)
    assert place.is_good(operation) is good


@pytest.mark.parametrize(("x", "good"), [(50.25, True), (49.6, True), (50.9, True), (49.4, False), (51.1, False)])
def test_a_butt_lies_within_the_gap_of_both_edges(place: Any, x: float, *, good: bool) -> None:
    """Edges at 50.0 and 50.5 mm, gap 0.5 mm, tolerance 0.5 mm: from 49.5 to 51.0 mm."""
    left, right = place.rectangle("XY", 0, (0, 0), (50, 60)), place.rectangle("XY", 0, (50.5, 0), (100, 60))
    parts = [place.part("web", "3 mm", left), place.part("plate", "3 mm", right)]
    seam = place.seam("S1", (x, 2, 3), (x, 58, 3), joint="square butt", position="PA", gap="0.5 mm")
    assert place.is_good(place.operation(seam, components=parts)) is good


def test_a_round_seam_lies_on_a_circle_drawn_with_corners_within_the_tolerance(place: Any) -> None:
    """Sixteen corners on a circle of 15 mm miss it by 0.29 mm halfway between them; a place lies near each middle."""
    corners = [(50 + 15 * cos(pi * index / 8), 30 + 15 * sin(pi * index / 8)) for index in range(16)]
    parts = [place.part("web", "2 mm", place.outline("XY", 4, *corners)), place.part("plate", "4 mm", place.PLATE)]
    around = {
        "unit": "mm",
        "start": ["65", "30", "4"],
        "pieces": [
            {"via": ["50", "45", "4"], "to": ["35", "30", "4"]},
            {"via": ["50", "15", "4"], "to": ["65", "30", "4"]},
        ],
    }
    operation = place.operation(place.seam("S1", *place.GOOD) | {"path": around}, components=parts)
    assert place.is_good(operation)
    (found,) = place.verdicts(operation)
    assert _first_length(found).millimetres == pytest.approx(0.28, abs=0.01)


# ---------------------------------------------------------------- moved, turned, mirrored


def _turned(point: tuple[float, ...], axes: tuple[int, ...], signs: tuple[int, ...], by: tuple[float, ...]) -> Any:
    return tuple(signs[i] * point[axes[i]] + by[i] for i in range(3))


def _drawn(place: Any, corners: list[tuple[float, ...]]) -> Any:
    """Return the outline of corners in space that share one coordinate."""
    level = next(axis for axis in range(3) if max(c[axis] for c in corners) - min(c[axis] for c in corners) < 1e-9)
    plane, (across, up) = {2: ("XY", (0, 1)), 1: ("XZ", (0, 2)), 0: ("YZ", (1, 2))}[level]
    return place.outline(plane, corners[0][level], *((corner[across], corner[up]) for corner in corners))


FOOT = [(0, 0, 0), (100, 0, 0), (100, 60, 0), (0, 60, 0)]
UPRIGHT = [(0, 30, 4), (100, 30, 4), (100, 30, 44), (0, 30, 44)]
WAYS = list(product(permutations(range(3)), product((1, -1), repeat=3)))


@ANY_JOINT
@given(
    way=st.sampled_from(WAYS),
    by=st.tuples(*[st.floats(-200, 200)] * 3),
    y=st.floats(20, 40),
    z=st.one_of(st.just(4.0), st.floats(0, 10)),
    backwards=st.booleans(),
)
def test_what_is_said_of_a_seam_does_not_change_when_everything_is_moved_turned_or_mirrored(
    place: Any, *, way: Any, by: tuple[float, ...], y: float, z: float, backwards: bool
) -> None:
    path = [(10, y, z), (90, y, z)][:: -1 if backwards else 1]

    def off(axes: tuple[int, ...], signs: tuple[int, ...], by: tuple[float, ...]) -> float:
        web, plate = ([_turned(corner, axes, signs, by) for corner in drawn] for drawn in (UPRIGHT, FOOT))
        parts = [place.part("web", "3 mm", _drawn(place, web)), place.part("plate", "4 mm", _drawn(place, plate))]
        operation = place.operation(
            place.seam("S1", *(_turned(point, axes, signs, by) for point in path)), components=parts
        )
        (found,) = place.verdicts(operation, **{"seam refused over": "90 m"})
        return float(_first_length(found).millimetres)

    here = off((0, 1, 2), (1, 1, 1), (0, 0, 0))
    assert off(*way, by) == pytest.approx(here, abs=1e-6)
    expected = max(abs(y - 30) - 3, 0.0)
    if z == 4:
        assert here == pytest.approx(expected, abs=1e-6)


@ANY_JOINT
@given(st.floats(0.6, 20))
def test_the_distance_reported_is_how_far_the_seam_was_moved_off_the_edge(place: Any, by: float) -> None:
    """The seam lies 3 mm off the plane of the web, as its thickness allows, and is moved away from it."""
    operation = place.operation(place.seam("S1", (10, 27 - by, 4), (90, 27 - by, 4)))
    (found,) = place.verdicts(operation, **{"seam refused over": "90 m"})
    assert _first_length(found).millimetres == pytest.approx(by, abs=1e-6)


# ---------------------------------------------------------------- units


@pytest.mark.parametrize(("unit", "scale"), [("in", 25.4), ("cm", 10.0), ("m", 1000.0)])
def test_a_path_in_the_wrong_unit_is_reported_with_the_unit_that_fits(place: Any, unit: str, scale: float) -> None:
    """The numbers of the path are in inches (cm, m) and it says mm; outlines and numbers are the same joint."""
    points = [tuple(number / scale for number in point) for point in place.GOOD]
    (problem,) = place.problems(place.operation(place.seam("S1", *points)))
    assert (problem.key, problem.value) == ("seams[0].path.unit", "mm")
    assert problem.remedy.startswith(f"write 'unit: {unit}' for the path")


def test_a_path_in_mm_that_says_inches_is_reported_alone_although_it_is_out_of_reach(place: Any) -> None:
    (problem,) = place.problems(place.operation(place.seam("S1", *place.GOOD, unit="in")))
    assert (problem.key, problem.value) == ("seams[0].path.unit", "in")
    assert "with 'unit: mm' it lies on them within 0.020" in problem.message


def test_seams_in_one_wrong_unit_are_one_problem(place: Any) -> None:
    far = (10.0, 31.5, 4.0), (90.0, 31.5, 4.0)
    seams = [place.seam("S1", *place.GOOD, unit="in"), place.seam("S2", *far, unit="in")]
    ((key, message),) = place.refusals(place.operation(*seams))
    assert key == "seams[0].path.unit"
    assert "2 seams (S1, S2) lie" in message


def test_seams_that_only_the_wrong_unit_brings_together_are_not_reported_as_one_seam(place: Any) -> None:
    """The two sides of a web of 3 mm, in inches and said to be mm: 0.12 mm apart."""
    sides = [[tuple(number / 25.4 for number in (x, y, 4)) for x in (10, 90)] for y in (28.5, 31.5)]
    operation = place.operation(*(place.seam(f"S{index}", *side) for index, side in enumerate(sides)))
    assert [key for key, _ in place.refusals(operation)] == ["seams[0].path.unit"]


def test_the_farthest_of_several_good_seams_is_named(place: Any) -> None:
    seams = [place.seam("S1", *place.GOOD), place.seam("S2", (10, 33.3, 4), (90, 33.3, 4))]
    (found,) = place.verdicts(place.operation(*seams))
    assert "largest deviation: S2, 0.3" in found.text


def test_a_good_path_in_inches_is_good(place: Any) -> None:
    points = [tuple(number / 25.4 for number in point) for point in place.GOOD]
    assert place.is_good(place.operation(place.seam("S1", *points, unit="in")))


def test_a_seam_that_is_wrong_in_every_unit_is_not_reported_to_be_in_another(place: Any) -> None:
    (problem,) = place.problems(place.operation(place.seam("S1", (10, 15, 4), (90, 15, 4))))
    assert problem.key == "seams[0].path"


@pytest.mark.parametrize(("scale", "word"), [(25.4, "large"), (1 / 25.4, "small")])
def test_a_drawing_in_the_wrong_unit_is_one_problem_for_all_its_seams(place: Any, scale: float, word: str) -> None:
    corners = [(0, 0), (100, 0), (100, 60), (0, 60)]
    plate = place.outline("XY", 0, *((x * scale, y * scale) for x, y in corners), file="plate.dxf")
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", plate)]
    lap = place.part("strip", "2 mm", place.rectangle("XY", 4, (0, 40), (100, 55)))
    seams = [
        place.seam("S1", *place.GOOD, components=["web", "plate"]),
        place.seam("S2", (10, 31.5, 4), (90, 31.5, 4)),
        place.seam(
            "S3", (0, 59.8, 4), (60, 59.8, 4), (100, 59.8, 4), components=["rim", "plate"], joint="corner fillet"
        ),
    ]
    rim = place.part("rim", "2 mm", place.rectangle("XZ", 59, (0, 4), (100, 20)))
    found = place.refusals(place.operation(*seams, components=[*parts, lap, rim]))
    assert [key for key, _ in found] == ["components[1].outlines[0].file"]
    assert found[0][1].startswith(f"the whole drawing plate.dxf is 25.4 times too {word}: ")
    assert found[0][1].endswith("all of its 3 welds lie on it")


def test_one_seam_off_the_edges_of_a_drawing_leads_to_its_unit_too(place: Any) -> None:
    small = place.outline("XY", 0, (0, 0), (4, 0), (4, 2.4), (0, 2.4), file="plate.dxf")
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", small)]
    seam = place.seam("S1", (10, 15, 4), (90, 15, 4))
    (drawn,) = place.problems(place.operation(seam, components=parts))
    assert drawn.remedy.endswith("or draw the edge that is missing, or correct the unit of plate.dxf")
    (written,) = place.problems(place.operation(seam))
    assert written.remedy.endswith("or draw the edge that is missing")


# ---------------------------------------------------------------- what is not compared


def test_components_without_an_outline_are_named_once_and_the_others_compared(place: Any) -> None:
    parts = [place.part("web", "3 mm"), place.part("plate", "4 mm", place.PLATE)]
    seams = [place.seam("S1", *place.GOOD), place.seam("S2", (10, 5, 4), (90, 5, 4))]
    compared, note = place.verdicts(place.operation(*seams, components=parts))
    assert compared.passed
    assert (note.passed, note.warns) == (None, False)
    assert note.text == "seams are not compared with components that have no outline: web"
    ((_, message),) = place.refusals(place.operation(place.seam("S1", (10, 5, 40), (90, 5, 40)), components=parts))
    assert "x 90.0 mm, y 5.0 mm, z 40.0 mm it is 36.0 mm from plate" in message


def test_where_no_component_has_an_outline_nothing_is_compared(place: Any) -> None:
    parts = [place.part("web", "3 mm"), place.part("plate", "4 mm")]
    (note,) = place.verdicts(place.operation(components=parts))
    assert note.text.endswith("no outline: web, plate")


@pytest.mark.parametrize("missing", ["seam tolerance", "seam refused over"])
def test_without_a_tolerance_of_the_plant_nothing_is_compared_and_that_is_said(place: Any, missing: str) -> None:
    (note,) = place.verdicts(place.operation(place.seam("S1", (10, 15, 4), (90, 15, 4))), **{missing: None})
    assert (note.passed, note.source) == (None, "table plant")
    assert note.text.endswith("the plant's table states no seam tolerance")


def test_a_path_that_makes_no_line_is_reported_once(place: Any) -> None:
    operation = place.operation(place.seam("S1", (10, 28.5, 4), (10, 28.5, 4.001)))
    assert [key for key, _ in place.refusals(operation)] == ["seams[0].path.pieces[0]"]


def test_a_place_is_said_by_all_three_of_its_coordinates_in_the_unit_of_the_path() -> None:
    place = (25.4, 50.8, -76.2)

    assert place_in(place, "in").replace("\N{NO-BREAK SPACE}", " ") == "x 1.000 in, y 2.000 in, z -3.000 in"
    assert place_in(place, "mm").replace("\N{NO-BREAK SPACE}", " ") == "x 25.4 mm, y 50.8 mm, z -76.2 mm"
