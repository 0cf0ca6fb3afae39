"""The section of a joint for its procedure specification: each thickness is said, beside what is drawn."""

from __future__ import annotations

from itertools import combinations, product
from typing import get_args

import pytest
from weld_packets.diagrams import joint_sketch
from weld_packets.diagrams.joint_sketch import JointSection, joint_picture
from weld_packets.drawing.boxes import Box, hull
from weld_packets.drawing.sheet import Layer, Sheet
from weld_packets.model.trade import Joint

THICKNESSES = ((3.0, 4.0), (4.0, 1.0), (1.0, 4.0), (8.0, 8.0))
NAMES = (("3 mm", "4 mm"), ("0.157 in", "0.118 in"), ("1 1/4 in", "3/16 in"))


def drawn(monkeypatch: pytest.MonkeyPatch, section: JointSection) -> Sheet:
    sheets: list[Sheet] = []
    monkeypatch.setattr(joint_sketch, "to_svg", lambda sheet, **_words: sheets.append(sheet) or "")
    joint_picture("joint-1", "Joint", section)
    return sheets[0]


def outlines(sheet: Sheet, *layers: Layer) -> list[Box]:
    return [hull(shape.points) for (layer, _, _), shapes in sheet.shapes.items() if layer in layers for shape in shapes]


@pytest.mark.parametrize("joint", get_args(Joint))
def test_each_thickness_is_said_once_off_the_components_and_off_the_weld(
    monkeypatch: pytest.MonkeyPatch, joint: Joint
) -> None:
    for thicknesses, named in product(THICKNESSES, NAMES):
        sheet = drawn(monkeypatch, JointSection(joint, thicknesses, named, ("a 2.5 mm", "z 3.5 mm"), 3.5, 1))
        words = [each for each in sheet.words if each.text in named]
        assert sorted(each.text for each in words) == sorted(named)
        frame = Box(0, 0, sheet.width, sheet.height)
        bodies = outlines(sheet, Layer.PART, Layer.SEAM)
        for each in words:
            assert frame.holds(each.box), (thicknesses, each)
            assert not any(each.box.overlaps(body) for body in bodies), (thicknesses, each)
        assert not any(one.box.overlaps(other.box) for one, other in combinations(sheet.words, 2)), thicknesses


def test_the_corner_of_a_tube_is_round_and_its_groove_is_filled(monkeypatch: pytest.MonkeyPatch) -> None:
    """A fillet has three corners; a flare bevel follows the corner of the tube, from the plate up to its side."""
    sheet = drawn(monkeypatch, JointSection("flare bevel", (3.0, 4.0), ("3 mm", "4 mm"), ("s 3 mm",), None, 1))
    tube, _ = (shape for (layer, _, _), shapes in sheet.shapes.items() if layer is Layer.PART for shape in shapes)
    (bead,) = (shape for (layer, _, _), shapes in sheet.shapes.items() if layer is Layer.SEAM for shape in shapes)
    assert len(bead.points) > 10
    assert len(set(bead.points) - set(tube.points)) == 1
    right, low = max(x for x, _ in tube.points), max(y for _, y in tube.points)
    assert (right, low) in bead.points
    assert (right, low) not in tube.points
