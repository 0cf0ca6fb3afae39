"""The torch is at the angles that the seams ask for, one row of the picture for each attitude."""

from __future__ import annotations

import dataclasses
import math
import xml.etree.ElementTree as ET
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.diagrams.scene import SeamLine
from weld_packets.diagrams.seams.torch import Attitude, _draw_side, _draw_torch, _joint, attitudes, torch_picture
from weld_packets.drawing.sheet import Layer, Sheet

SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]  # noqa: S314 - our own bytes


def held(operations: SimpleNamespace, **changes: object) -> SeamLine:
    seam = operations.seam(1, "A", operations.straight((0, 0, 0), (100, 0, 0)))
    return dataclasses.replace(seam, **changes)


def test_seams_of_one_attitude_share_a_row(operations: SimpleNamespace) -> None:
    seams = [held(operations), held(operations, sequence=2), held(operations, sequence=3, travel_angle=-10.0)]
    assert [len(members) for members in attitudes(seams).values()] == [2, 1]


@pytest.mark.parametrize(
    ("angle", "words"),
    [(10.0, "push 10°"), (-7.5, "drag 7.5°"), (0.0, "perpendicular, 0°")],
)
def test_travel_is_named_by_its_sense(operations: SimpleNamespace, angle: float, words: str) -> None:
    picture = torch_picture(operations.scene(), [held(operations, travel_angle=angle)])
    assert picture is not None
    assert words in texts(picture.svg)
    assert f"travel angle {words}" in picture.description


@pytest.mark.parametrize("joint", ["T", "lap", "corner", "butt", "flare-bevel"])
def test_each_joint_has_its_section_with_work_angle_and_stick_out(operations: SimpleNamespace, joint: str) -> None:
    picture = torch_picture(operations.scene(), [held(operations, joint=joint, work_angle=40.0)])
    assert picture is not None
    assert {"40°", "15 mm"} <= set(texts(picture.svg))
    assert f"{joint[:1].upper()}{joint[1:]} joint, a3, PB, seams A01" in picture.description


def test_the_tube_of_a_flare_bevel_has_a_round_corner_that_touches_the_plate_and_ends_in_its_side() -> None:
    """Radius 34 about a point 34 left of and above the root, where plate and side would meet."""
    shapes = [shape for shape, _ in _joint("flare-bevel", (200.0, 200.0))]
    assert len(shapes) == 3
    tube = shapes[1].points
    on_the_corner = [at for at in tube if abs(math.dist(at, (166.0, 166.0)) - 34.0) < 1e-9]
    assert len(on_the_corner) == 10
    assert any(at == pytest.approx((166.0, 200.0)) for at in on_the_corner), "where the plate begins to open"
    assert any(at == pytest.approx((200.0, 166.0)) for at in on_the_corner), "where the flat side begins"
    assert all(math.dist(at, (200.0, 200.0)) > 14.0 for at in tube), "no sharp corner at the root"


@pytest.mark.parametrize("angle", [0.0, 45.0, 90.0, 105.0])
def test_the_torch_axis_is_drawn_at_the_angle_asked_for(angle: float) -> None:
    sheet = Sheet(400, 400)
    _draw_torch(sheet, (200, 200), angle)
    start, end = next(shape.points for shapes in sheet.shapes.values() for shape in shapes if len(shape.points) == 2)
    assert math.degrees(math.atan2(start[1] - end[1], end[0] - start[0])) == pytest.approx(angle)


@pytest.mark.parametrize(("angle", "side"), [(10.0, -1), (-10.0, 1)])
def test_a_pushed_torch_trails_its_arc_and_a_dragged_one_leads_it(angle: float, side: int) -> None:
    """Travel runs to the right: a push gun leans back over the finished weld at the left."""
    sheet = Sheet(640, 300)
    _draw_side(sheet, Attitude("T", "a3", "PB", 45.0, angle, ""), angle, (300, 200))
    torch = [shape for (layer, _, _), shapes in sheet.shapes.items() if layer is Layer.SEAM for shape in shapes]
    body = [point for shape in torch for point in shape.points]
    top = min(body, key=lambda point: point[1])
    assert math.copysign(1, top[0] - 300) == side


def test_what_was_not_asked_for_is_not_drawn(operations: SimpleNamespace) -> None:
    assert torch_picture(operations.scene(), [held(operations, work_angle=None, travel_angle=None)]) is None
    only_work = torch_picture(operations.scene(), [held(operations, travel_angle=None)])
    assert only_work is not None
    assert "travel" not in texts(only_work.svg)
    assert "travel angle" not in only_work.description


def test_seams_that_follow_each_other_are_named_as_one_span(operations: SimpleNamespace) -> None:
    places = [(1, "A"), (2, "A"), (3, "A"), (5, "A"), (1, "B")]
    seams = [held(operations, sequence=order, label=f"{side}{order:02}", side=side) for order, side in places]
    picture = torch_picture(operations.scene(), seams)
    assert picture is not None
    assert "Seams A01 to A03, A05, B01" in texts(picture.svg)


@pytest.mark.parametrize(("position", "words"), [("PG", "travel down"), ("PF", "travel up"), ("PB", "travel")])
def test_a_vertical_seam_says_in_which_direction_it_runs_and_how_it_is_seen(
    operations: SimpleNamespace, position: str, words: str
) -> None:
    picture = torch_picture(operations.scene(), [held(operations, position=position)])
    assert picture is not None
    assert words in texts(picture.svg)
    assert ("A vertical seam" in picture.caption) == (position != "PB")


@pytest.mark.parametrize(("position", "down"), [("PG", 1), ("PF", -1)])
@pytest.mark.parametrize("angle", [10.0, -10.0, 0.0])
def test_a_vertical_seam_is_drawn_upright_and_its_travel_points_up_or_down(
    position: str, down: int, angle: float
) -> None:
    sheet = Sheet(640, 300)
    _draw_side(sheet, Attitude("T", "a3", position, 45.0, angle, "15 mm"), angle, (400, 150))
    plate = next(shapes[0] for (layer, _, _), shapes in sheet.shapes.items() if layer is Layer.PART)
    xs, ys = zip(*plate.points, strict=True)
    assert max(ys) - min(ys) > 5 * (max(xs) - min(xs))
    start, end = next(shapes[0].points for (_, _, style), shapes in sheet.shapes.items() if style.width == 3.0)
    assert start[0] == pytest.approx(end[0])
    assert math.copysign(1, end[1] - start[1]) == down


@pytest.mark.parametrize("position", ["PB", "PF", "PG"])
@pytest.mark.parametrize("angle", [12.0, -12.0])
def test_the_words_of_the_side_view_do_not_cover_each_other(position: str, angle: float, overlapping: Any) -> None:
    sheet = Sheet(640, 300)
    _draw_side(sheet, Attitude("T", "a3", position, 45.0, angle, "15 mm"), angle, (440, 160))
    assert overlapping([words.box for words in sheet.words]) == []
