"""Torch paths: lengths along straight and circular pieces, and pieces that are none."""

from math import cos, dist, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.places.path import Straight, end_mm, length_mm, points_mm, start_mm, stations_mm
from weld_packets.errors import OutOfRangeError
from weld_packets.model.order import Path


def path(*pieces: dict[str, list[str]], unit: str = "mm", start: tuple[str, str, str] = ("0", "0", "0")) -> Path:
    return Path.model_validate({"unit": unit, "start": list(start), "pieces": list(pieces)})


def test_straight_pieces_add_up_in_three_dimensions() -> None:
    found = path({"to": ["3", "4", "0"]}, {"to": ["3", "4", "12"]}, unit="cm")
    assert length_mm(found) == pytest.approx(170)
    assert (start_mm(found), end_mm(found)) == ((0, 0, 0), (30, 40, 120))


def test_a_quarter_circle_is_measured_along_the_curve() -> None:
    root = str(10 * sqrt(0.5))[:14]
    found = path({"via": [root, root, "0"], "to": ["0", "10", "0"]}, start=("10", "0", "0"))
    assert length_mm(found) == pytest.approx(5 * pi)


def test_the_long_way_round_is_taken_when_via_lies_there() -> None:
    found = path({"via": ["-10", "0", "0"], "to": ["0", "-10", "0"]}, start=("10", "0", "0"))
    assert length_mm(found) == pytest.approx(15 * pi)


def test_inches_are_read() -> None:
    assert length_mm(path({"to": ["2", "0", "0"]}, unit="in")) == pytest.approx(50.8)


@given(st.tuples(*[st.floats(-50, 50)] * 3), st.floats(1, 100), st.floats(0.1, 6))
def test_points_along_an_arc_stay_on_it_and_end_at_its_end(
    centre: tuple[float, float, float], radius: float, sweep: float
) -> None:

    def at(angle: float) -> list[str]:
        x, y, z = centre[0] + radius * cos(angle), centre[1] + radius * sin(angle), centre[2]
        return [f"{number:.9f}" for number in (x, y, z)]

    x, y, z = at(0)
    found = path({"via": at(sweep / 2), "to": at(sweep)}, start=(x, y, z))
    points = points_mm(found)
    assert length_mm(found) == pytest.approx(radius * sweep, rel=1e-4)
    assert dist(points[-1], end_mm(found)) < 1e-4
    assert all(abs(dist(point, centre) - radius) < 1e-3 for point in points)


@pytest.mark.parametrize(
    "piece",
    [
        {"to": ["0", "0", "0"]},
        {"via": ["1", "0", "0"], "to": ["2", "0", "0"]},
        {"via": ["0", "0", "0"], "to": ["2", "0", "0"]},
        {"via": ["2", "0", "0"], "to": ["2", "0", "0"]},
        {"via": ["2", "1", "0"], "to": ["0", "0", "0"]},
    ],
)
def test_a_piece_that_is_none_is_refused_with_its_place(piece: dict[str, list[str]]) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        length_mm(path(piece))
    assert refused.value.problems[0].key == "path.pieces[0]"


@pytest.mark.parametrize(("end", "is_one"), [("0.009", False), ("0.01", True)])
def test_a_piece_is_at_least_a_hundredth_of_a_millimetre_long(end: str, *, is_one: bool) -> None:
    found = path({"to": [end, "0", "0"]})
    if is_one:
        assert length_mm(found) == pytest.approx(0.01)
        return
    with pytest.raises(OutOfRangeError, match="this piece ends where it starts"):
        length_mm(found)


def test_a_piece_of_kilometres_has_no_more_stations_than_a_fixture_has_room_for() -> None:
    path = Path.model_validate({"unit": "m", "start": ["0", "0", "0"], "pieces": [{"to": ["5000", "0", "0"]}]})
    found = stations_mm(path, 5.0)
    assert len(found) == 401
    assert found[-1] == (5_000_000.0, 0.0, 0.0)


def test_a_share_of_a_straight_piece_lies_along_it_and_all_of_it_is_its_end() -> None:
    piece = Straight((0.0, 0.0, 0.0), (30.0, 40.0, 0.0))

    assert piece.length == 50
    assert piece.at(0.0) == (0, 0, 0)
    assert piece.at(0.3) == pytest.approx((9, 12, 0))
    assert piece.at(1) == (30, 40, 0)
