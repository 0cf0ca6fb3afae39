"""Outlines from drawings: what closes, what is refused, and how near a flattened curve stays."""

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import ezdxf
import ezdxf.math
import pytest
from weld_packets.sources.drawings.outlines import FLATNESS, Ring, read_outlines

Refused = Callable[[Callable[[], object]], str]
Draw = Callable[..., Path]


@pytest.fixture
def draw(tmp_path: Path) -> Callable[..., Path]:
    """Draws into model space and returns the path of the drawing."""

    def run(drawer: Callable[[Any], object], unit: int = 4, version: str = "R2010") -> Path:
        drawing = ezdxf.new(version)
        drawing.header["$INSUNITS"] = unit
        drawer(drawing.modelspace())
        drawing.saveas(tmp_path / "a.dxf")
        return tmp_path / "a.dxf"

    return run


def area(ring: Ring) -> float:
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def rectangle(space: Any, width: float = 100, height: float = 50) -> None:
    space.add_lwpolyline([(0, 0), (width, 0), (width, height), (0, height)], close=True)


def test_a_closed_polyline_is_an_outline_without_a_repeated_point(draw: Draw) -> None:
    (ring,) = read_outlines(draw(rectangle), "a.dxf")
    assert ring == ((0, 0), (100, 0), (100, 50), (0, 50))


def test_an_old_style_polyline_is_read_as_the_new_one(draw: Draw) -> None:
    path = draw(lambda space: space.add_polyline2d([(0, 0), (9, 0), (9, 9)], close=True))
    assert read_outlines(path, "a.dxf") == (((0, 0), (9, 0), (9, 9)),)


def test_a_bulge_and_the_arc_that_it_is_for_are_one_curve(draw: Draw) -> None:
    def both(space: Any) -> None:
        space.add_lwpolyline([(0, 0, 0.3), (4000, 0, -0.2), (4000, 4000, 0)], format="xyb", close=True)

    (ring,) = read_outlines(draw(both), "a.dxf")
    centre, _, _, radius = ezdxf.math.bulge_to_arc((0, 0), (4000, 0), 0.3)
    first = ring[: ring.index((4000, 0)) + 1]
    assert all(math.dist(point, centre) == pytest.approx(radius, abs=1e-6) for point in first)
    assert len(first) > 10


@pytest.mark.parametrize(
    "corners",
    [
        [(100, 0, 0.001), (0, -10, -1), (0, 25.4, 0.41421356)],
        [(100, 0, 0.001), (0, 0, -0.338), (0, 10, -0.46)],
        [(100, 0, 0), (100, 50, 0), (10, 50, -0.41421356), (0, 40, 0), (0, 0, 0)],
        [(0, 0, -1), (100, 0, -1)],
        [(0, 0, 2.5), (30, 0, 0), (30, -80, 0)],
    ],
    ids=["half circle on an axis", "two on an axis", "inner corner", "clockwise circle", "most of a circle"],
)
def test_an_outline_with_bulges_either_way_encloses_its_area(
    draw: Draw, corners: list[tuple[float, float, float]]
) -> None:
    """Of the corners, and of the segment of a circle on each side; flattening costs less than tolerance by length."""
    path = draw(lambda space: space.add_lwpolyline(corners, format="xyb", close=True))
    (ring,) = read_outlines(path, "a.dxf")
    sides = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    expected, length = 0.0, 0.0
    for (x, y, bulge), (u, v, _) in sides:
        angle, chord = 4 * math.atan(bulge), math.hypot(u - x, v - y)
        radius = chord / (2 * abs(math.sin(angle / 2))) if bulge else 0.0
        expected += (x * v - u * y) / 2 + radius**2 * (angle - math.sin(angle)) / 2
        length += radius * abs(angle) if bulge else chord
    assert area(ring) == pytest.approx(abs(expected), abs=FLATNESS * length)


def test_a_bulge_that_rises_less_than_its_tolerance_is_straight(draw: Draw) -> None:
    path = draw(
        lambda space: space.add_lwpolyline([(0, 0, 1e-12), (100, 0, 0.0009), (100, 50)], format="xyb", close=True)
    )
    assert read_outlines(path, "a.dxf") == (((0, 0), (100, 0), (100, 50)),)


def test_a_tiny_hole_keeps_eight_corners(draw: Draw) -> None:
    (ring,) = read_outlines(draw(lambda space: space.add_circle((5, 5), 0.04)), "a.dxf")
    assert len(ring) == 8


def test_a_mirrored_drawing_keeps_its_places(draw: Draw) -> None:
    path = draw(lambda space: space.add_circle((-20, 20), 5, dxfattribs={"extrusion": (0, 0, -1)}))
    (ring,) = read_outlines(path, "a.dxf")
    assert all(math.dist(point, (20, 20)) == pytest.approx(5) for point in ring)


@pytest.mark.parametrize(("unit", "millimetres"), [(1, 25.4), (2, 304.8), (4, 1), (5, 10), (6, 1000)])
def test_the_drawing_says_its_unit(draw: Callable[..., Path], unit: int, millimetres: float) -> None:
    (ring,) = read_outlines(draw(lambda space: rectangle(space, 1, 1), unit), "a.dxf")
    assert ring[2] == pytest.approx((millimetres, millimetres))


def test_a_bulge_is_flattened_within_its_tolerance(draw: Draw) -> None:
    path = draw(lambda space: space.add_lwpolyline([(0, 0, 1), (100, 0, 1)], format="xyb", close=True))
    (ring,) = read_outlines(path, "a.dxf")
    assert all(math.dist(point, (50, 0)) == pytest.approx(50, abs=1e-6) for point in ring)
    sagittas = [50 - math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (50, 0)) for a, b in pairwise(ring)]
    assert max(sagittas) <= FLATNESS


def test_the_tolerance_is_in_millimetres_whatever_the_drawing_is_in(draw: Callable[..., Path]) -> None:
    small = read_outlines(draw(lambda space: space.add_circle((0, 0), 25.4)), "a.dxf")
    inches = read_outlines(draw(lambda space: space.add_circle((0, 0), 1), 1), "a.dxf")
    assert len(small[0]) == len(inches[0])
    assert area(small[0]) == pytest.approx(area(inches[0]))


def test_lines_and_arcs_in_any_order_and_direction_join(draw: Draw) -> None:
    def side(space: Any) -> None:
        space.add_arc((100, 10), 10, 270, 90)
        space.add_line((0, 20), (100, 20.004))
        space.add_line((100, 0), (0, 0))
        space.add_arc((0, 10), 10, 90, 270)

    (ring,) = read_outlines(draw(side), "a.dxf")
    assert area(ring) == pytest.approx(100 * 20 + math.pi * 100, rel=1e-2)


def test_several_outlines_come_from_one_drawing(draw: Draw) -> None:
    def plate(space: Any) -> None:
        rectangle(space)
        space.add_circle((20, 20), 5)
        for start, end in (((200, 0), (210, 0)), ((210, 0), (205, 9)), ((205, 9), (200, 0))):
            space.add_line(start, end)

    assert [len(ring) > 2 for ring in read_outlines(draw(plate), "a.dxf")] == [True] * 3


def test_notes_and_dimensions_are_not_outlines(draw: Draw) -> None:
    def annotated(space: Any) -> None:
        rectangle(space)
        space.add_text("PLATE 3 mm")
        space.add_point((1, 1))

    assert len(read_outlines(draw(annotated), "a.dxf")) == 1


def test_a_layer_is_chosen_without_regard_to_capitals(draw: Draw) -> None:
    def layered(space: Any) -> None:
        space.add_circle((0, 0), 5, dxfattribs={"layer": "Hole"})
        space.add_line((0, 0), (1, 1), dxfattribs={"layer": "Bend"})

    assert len(read_outlines(draw(layered), "a.dxf", layer="HOLE")) == 1


def test_a_drawing_without_a_unit_takes_that_of_the_order(draw: Callable[..., Path], refused: Refused) -> None:
    path = draw(rectangle, 0)
    assert read_outlines(path, "a.dxf", unit="cm")[0][2] == pytest.approx((1000, 500))
    assert "the drawing does not say its unit" in refused(lambda: read_outlines(path, "a.dxf"))


def test_where_an_outline_is_open_is_said_in_the_unit_of_the_drawing(draw: Draw, refused: Refused) -> None:
    path = draw(lambda space: space.add_line((0.5, 0), (6, 0)), 1)
    assert "x 0.500 in, y 0.000 in" in refused(lambda: read_outlines(path, "a.dxf"))


def test_an_open_outline_leads_to_the_layers_that_were_read_together(draw: Draw, refused: Refused) -> None:
    def beside(space: Any) -> None:
        space.add_circle((0, 0), 5, dxfattribs={"layer": "Hole"})
        space.add_line((0, 0), (1, 1), dxfattribs={"layer": "Bend"})

    path, one = draw(beside), "close the outline in the drawing so that each end meets exactly one other"
    remedy = f"{one}, or name the layer of the outline with 'layer:'; what was read is on the layers Bend, Hole"
    assert remedy in refused(lambda: read_outlines(path, "a.dxf"))
    # nothing else was read where a layer is named
    assert "layer:" not in refused(lambda: read_outlines(path, "a.dxf", layer="Bend"))


@pytest.mark.parametrize(
    ("drawer", "words"),
    [
        (lambda s: s.add_line((0, 0), (10, 0)), "x 0.000 mm, y 0.000 mm"),
        (lambda s: s.add_lwpolyline([(0, 0), (10, 0), (10, 10)]), "the outline is open here"),
        (lambda s: [s.add_line((0, 0), (10, y)) for y in (0, 5, 9)], "the outline branches (3 ends meet) here"),
        (lambda s: [s.add_line((0, 0), (10, 0)), s.add_line((10, 0), (0, 0))], "has no area"),
        (lambda s: s.add_lwpolyline([(0, 0), (10, 0), (0, 0)], close=True), "has no area"),
        (lambda s: s.add_spline([(0, 0), (5, 5), (9, 0)]), "cannot take an outline from SPLINE"),
        (lambda s: s.add_blockref("X", (0, 0)), "cannot take an outline from INSERT"),
        (lambda s: s.add_circle((0, 0, 5), 3), "does not lie in the plane z = 0"),
        (lambda s: s.add_circle((0, 0), 2e5), "reaches farther than 100 m"),
        (lambda s: s.add_circle((0, 0), 1e9), "a CIRCLE has the radius 1e+09"),
        (lambda s: s.add_circle((0, 0), 0), "a CIRCLE has the radius 0"),
        *[
            (
                lambda s, bulge=bulge: s.add_lwpolyline(
                    [(0, 0, bulge), (9, 0, 0), (9, 9, 0)], format="xyb", close=True
                ),
                f"a polyline has the bulge {bulge:g}",
            )
            for bulge in (1e300, -1e300, 444445.0, float("inf"), float("nan"))
        ],
        (lambda s: s.add_arc((0, 0), 5, 90, 90), "an ARC ends where it begins"),
        (lambda s: s.add_polyline3d([(0, 0, 0), (9, 0, 0), (9, 9, 3)], close=True), "does not lie in the plane z = 0"),
        (lambda s: s.add_polymesh((2, 2)), "a POLYLINE is a spline or a surface"),
        (lambda s: s.add_text("x"), "nothing is drawn in model space"),
        (lambda s: [s.add_point((0, 0)) for _ in range(3)], "nothing is drawn in model space"),
        (lambda s: [s.add_circle((n, 0), 1) for n in range(5001)], "more than 5,000 elements"),
        (lambda s: [s.add_circle((n, 0), 5000) for n in range(200)], "more than 50,000 points"),
    ],
)
def test_a_drawing_without_closed_flat_outlines_is_refused(
    draw: Draw, refused: Refused, drawer: Callable[[Any], object], words: str
) -> None:
    path = draw(drawer)
    assert words in refused(lambda: read_outlines(path, "instructions/wo-1/a.dxf"))


def test_a_bulge_of_the_largest_arc_reaches_too_far_and_a_flat_one_is_straight(draw: Draw, refused: Refused) -> None:
    def largest(space: Any) -> None:
        space.add_lwpolyline([(0, 0, 444444.0), (9, 0, 0), (9, 9, 0)], format="xyb", close=True)

    assert "farther than 100 m" in refused(lambda: read_outlines(draw(largest), "a.dxf"))
    flat = draw(lambda s: s.add_lwpolyline([(0, 0, 1e-9), (9, 0, 0), (9, 9, 0)], format="xyb", close=True))
    assert len(read_outlines(flat, "a.dxf")) == 1


def test_all_gaps_of_an_outline_are_reported(draw: Draw, refused: Refused) -> None:
    path = draw(lambda s: [s.add_line((0, 0), (10, 0)), s.add_line((10.02, 0), (10, 10)), s.add_line((10, 10), (0, 0))])
    message = refused(lambda: read_outlines(path, "a.dxf"))
    assert "x 10.000 mm, y 0.000 mm" in message
    assert "x 10.020 mm, y 0.000 mm" in message


def test_a_layer_that_is_not_there_is_reported_with_those_that_are(draw: Draw, refused: Refused) -> None:
    path = draw(lambda s: s.add_circle((0, 0), 5, dxfattribs={"layer": "Hole"}))
    assert "the layers are: Hole" in refused(lambda: read_outlines(path, "a.dxf", layer="Hull"))


@pytest.mark.parametrize(
    ("code", "stated", "words"),
    [
        (1, "mm", "the drawing is in in and the order says mm"),
        (3, None, "($INSUNITS 3) is not one of mm"),
        (0, "yd", "'yd' is not a unit of a drawing"),
    ],
)
def test_a_unit_that_does_not_fit_is_refused(
    draw: Callable[..., Path], refused: Refused, code: int, stated: str | None, words: str
) -> None:
    path = draw(rectangle, code)
    assert words in refused(lambda: read_outlines(path, "a.dxf", unit=stated))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "the file is empty"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00" + b"\x00" * 50, "binary DXF"),
        (b"AC1027" + b"\x00" * 50, "is a DWG file"),
        (b"%PDF-1.7", "is a PDF file"),
        (b"hello\nworld\n", "is not a readable DXF drawing"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n0\nENDSEC\n0\nEOF\n", "is not a readable DXF drawing"),
        (b"\xff\xfe0\x00\n\x00", "is not a readable DXF drawing"),
    ],
)
def test_what_is_no_drawing_is_refused_in_plain_words(
    tmp_path: Path, refused: Refused, data: bytes, words: str
) -> None:
    (tmp_path / "a.dxf").write_bytes(data)
    assert words in refused(lambda: read_outlines(tmp_path / "a.dxf", "a.dxf"))


def test_a_drawing_cut_short_is_refused(draw: Draw, refused: Refused) -> None:
    path = draw(rectangle)
    path.write_bytes(path.read_bytes()[:-700])
    assert "a.dxf" in refused(lambda: read_outlines(path, "a.dxf"))


def test_a_huge_drawing_is_refused_before_it_is_read(tmp_path: Path, refused: Refused) -> None:
    with (tmp_path / "a.dxf").open("wb") as file:
        file.write(b"0\n")
        file.truncate(20_000_001)
    assert "more than 20,000,000 bytes" in refused(lambda: read_outlines(tmp_path / "a.dxf", "a.dxf"))
