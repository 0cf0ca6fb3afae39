"""Near outlines lie over far ones, small ones over the sheet that they lie on."""

from __future__ import annotations

from weld_packets.diagrams.components import ranks
from weld_packets.diagrams.scene import Outline
from weld_packets.diagrams.views import ABOVE, LEFT, PICTORIAL, RIGHT, View
from weld_packets.drawing.boxes import Box
from weld_packets.geometry.vectors import Point

SKIN = Outline("skin", ((0, 0, 0), (400, 0, 0), (400, 300, 0), (0, 300, 0)))
STIFFENER = Outline("stiffener", ((100, 20, 0), (180, 20, 0), (180, 280, 0), (100, 280, 0)))
LEFT_FLANGE = Outline("left flange", ((0, 0, 0), (0, 300, 0), (0, 300, 30), (0, 0, 30)))
RIGHT_FLANGE = Outline("right flange", ((400, 0, 0), (400, 300, 0), (400, 300, 30), (400, 0, 30)))
PLATE = Outline("plate on the left flange", ((0, 40, 2), (0, 110, 2), (0, 110, 28), (0, 40, 28)))
ALL = (PLATE, STIFFENER, RIGHT_FLANGE, LEFT_FLANGE, SKIN)


def ranked(view: View) -> dict[str, int]:
    def box(points: tuple[Point, ...]) -> Box:
        us, vs = zip(*map(view.flat, points), strict=True)
        return Box(min(us), -max(vs), max(us), -min(vs))

    found = ranks(ALL, [box(outline.points) for outline in ALL], view.eye)
    return {outline.name: rank for outline, rank in zip(ALL, found, strict=True)}


def test_what_lies_on_a_sheet_is_drawn_over_it_from_above_and_at_a_slant() -> None:
    for view in (ABOVE, PICTORIAL):
        found = ranked(view)
        assert found["stiffener"] > found["skin"]


def test_a_plate_on_a_flange_is_drawn_over_the_flange_but_not_over_the_nearer_one() -> None:
    assert ranked(LEFT)["plate on the left flange"] > ranked(LEFT)["left flange"] > ranked(LEFT)["right flange"]
    assert ranked(RIGHT)["right flange"] > ranked(RIGHT)["plate on the left flange"]


def test_at_a_slant_the_near_flange_is_drawn_over_the_skin_that_it_is_on() -> None:
    assert ranked(PICTORIAL)["right flange"] > ranked(PICTORIAL)["skin"]
    assert ranked(PICTORIAL)["plate on the left flange"] > ranked(PICTORIAL)["left flange"]
