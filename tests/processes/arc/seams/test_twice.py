"""The same seam twice: one path on another, in either direction, by one robot or both."""

from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.model.order import Path
from weld_packets.processes.arc.seams.twice import refuse_retraced

LINE = (10.0, 28.5, 4.0), (90.0, 28.5, 4.0)
MESSAGE = "seams S1 and S2 are one seam, welded twice"


@pytest.mark.parametrize(
    "second", [LINE, LINE[::-1], (LINE[0], (50.0, 28.5, 4.0), LINE[1]), (LINE[0], (60.0, 28.5, 4.0))]
)
def test_a_seam_that_lies_wholly_on_another_is_refused_with_both_names(place: Any, second: Any) -> None:
    found = place.refusals(place.operation(place.seam("S1", *LINE), place.seam("S2", *second)))
    assert found == [("seams[1].path", f"{MESSAGE} by A")]


def test_both_robots_on_one_seam_are_reported_so(place: Any) -> None:
    found = place.refusals(place.operation(place.seam("S1", *LINE), place.seam("S2", *LINE[::-1], robot="B")))
    assert found == [("seams[1].path", f"{MESSAGE} by both robots (A and B)")]


def test_a_short_seam_before_the_long_one_that_holds_it_is_found_too(place: Any) -> None:
    found = place.refusals(place.operation(place.seam("S1", (40, 28.5, 4), (80, 28.5, 4)), place.seam("S2", *LINE)))
    assert [key for key, _ in found] == ["seams[1].path"]


def test_the_same_seam_three_times_is_reported_for_each_two(place: Any) -> None:
    found = place.refusals(place.operation(*(place.seam(mark, *LINE) for mark in ("S1", "S2", "S3"))))
    assert [key for key, _ in found] == ["seams[1].path", "seams[2].path", "seams[2].path"]


def test_seams_on_both_sides_of_a_thin_web_are_two(place: Any) -> None:
    web = place.part("web", "1.2 mm", place.WEB)
    operation = place.operation(
        place.seam("S1", (10, 29.5, 4), (90, 29.5, 4)),
        place.seam("S2", (10, 30.5, 4), (90, 30.5, 4)),
        components=[web, place.part("plate", "4 mm", place.PLATE)],
    )
    assert place.is_good(operation)


@pytest.mark.parametrize(("beside", "one"), [(0.74, True), (0.76, False)])
def test_paths_within_a_quarter_of_the_thinner_component_are_one_line(place: Any, beside: float, *, one: bool) -> None:
    """A quarter of the web's 3 mm."""
    operation = place.operation(place.seam("S1", *LINE), place.seam("S2", *((x, y + beside, z) for x, y, z in LINE)))
    if one:
        assert MESSAGE in place.refusals(operation)[0][1]
    else:
        assert place.is_good(operation)


@pytest.mark.parametrize(("start", "warned"), [(70.0, False), (65.0, True)])
def test_an_overlap_is_usual_up_to_20_mm_and_longer_a_warning_with_both_names(
    place: Any, start: float, *, warned: bool
) -> None:
    operation = place.operation(place.seam("S1", *LINE), place.seam("S2", (start, 28.5, 4), (98, 28.5, 4), robot="B"))
    found = place.warnings(operation)
    if warned:
        text = "run on one line for 25 mm, by both robots (A and B); a usual overlap is at most 20 mm"
        assert found == [("seams S1 and S2", text)]
    else:
        assert found == []


def test_seams_that_meet_at_an_end_or_cross_are_two(place: Any) -> None:
    seams = [place.seam("S1", (10, 28.5, 4), (50, 28.5, 4)), place.seam("S2", (50, 28.5, 4), (90, 28.5, 4))]
    assert place.is_good(place.operation(*seams))


def test_circles_of_one_centre_and_another_radius_are_two(place: Any) -> None:
    def around(radius: float) -> dict[str, Any]:
        left, right = f"{50 - radius}", f"{50 + radius}"
        up, down = f"{30 + radius}", f"{30 - radius}"
        pieces = [
            {"via": ["50", up, "4"], "to": [left, "30", "4"]},
            {"via": ["50", down, "4"], "to": [right, "30", "4"]},
        ]
        return {"path": {"unit": "mm", "start": [right, "30", "4"], "pieces": pieces}}

    parts = [place.part("web", "3 mm"), place.part("plate", "4 mm", place.PLATE)]
    seams = [place.seam(f"S{index}", *LINE) | around(radius) for index, radius in enumerate((10, 12, 12.3), 1)]
    found = place.refusals(place.operation(*seams, components=parts))
    assert found == [("seams[2].path", "seams S2 and S3 are one seam, welded twice by A")]


def line(*along: float) -> tuple[tuple[float, float, float], ...]:
    return tuple((x, 28.5, 4.0) for x in along)


@pytest.mark.parametrize(
    ("path", "refused"),
    [
        (line(10, 90, 10, 90), True),
        (line(10, 90, 60), True),
        (line(10, 90, 72), False),
        (line(10, 40, 50, 60, 90), False),
        (((10, 28.5, 4), (90, 28.5, 4), (90, 29.3, 4), (10, 29.3, 4)), False),
    ],
    ids=["three times", "30 mm back", "18 mm back", "in pieces", "beside itself"],
)
def test_a_seam_may_run_over_itself_for_a_usual_overlap_alone(place: Any, path: Any, *, refused: bool) -> None:
    operation = place.operation(place.seam("S1", *path))
    if refused:
        fault = ("seams[0].path", "seam S1 runs over itself for more than 20 mm")
        assert fault in place.refusals(operation)
    else:
        assert place.verdicts(operation)


def test_a_smooth_path_of_short_pieces_does_not_run_over_itself(place: Any) -> None:
    along = [(10 + step / 2, 28.5, 4.0) for step in range(160)]
    assert place.is_good(place.operation(place.seam("S1", *along)))


def test_a_circle_of_two_halves_does_not_run_over_itself() -> None:
    halves = [{"via": [50, 50, 0], "to": [100, 0, 0]}, {"via": [50, -50, 0], "to": [0, 0, 0]}]
    once = Path.model_validate({"unit": "mm", "start": ["0", "0", "0"], "pieces": _texts(halves)})
    refuse_retraced(once, "S1", 0.5)
    twice = Path.model_validate({"unit": "mm", "start": ["0", "0", "0"], "pieces": _texts(halves * 2)})
    with pytest.raises(OutOfRangeError, match="runs over itself"):
        refuse_retraced(twice, "S1", 0.5)


def _texts(pieces: list[dict[str, list[int]]]) -> list[dict[str, list[str]]]:
    return [{key: [str(each) for each in point] for key, point in piece.items()} for piece in pieces]
