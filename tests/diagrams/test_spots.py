"""A spot map shows every spot once, numbered, clear of the others, with its smallest distances."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.diagrams.robots import MARK, PATH, SIGNS, draw_mark
from weld_packets.diagrams.scene import Side
from weld_packets.diagrams.spots.map import SpotMap, draw_spot_map, pattern_of, spot_pictures
from weld_packets.drawing.boxes import around
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_svg
from weld_packets.geometry.vectors import Point

SVG = "{http://www.w3.org/2000/svg}"
PATTERNS = ["door", "close", "strip", "tray"]


def drawn(operation: tuple[object, list[object]]) -> SpotMap:
    scene, spots = operation
    return draw_spot_map(scene, pattern_of(scene, spots))  # type: ignore[arg-type]


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]  # noqa: S314 - our own bytes


@pytest.mark.parametrize("name", PATTERNS)
def test_every_spot_is_marked_and_named_once_in_a_view(operations: SimpleNamespace, name: str) -> None:
    scene, spots = getattr(operations, name)
    found = drawn((scene, spots))
    assert sorted(one.spot.label for panel in found.panels for one in panel.spots) == sorted(s.label for s in spots)
    names = {spot.label for spot in spots}
    written = [text for text in texts(spot_pictures(scene, spots)[0].svg) if text in names]
    assert sorted(written) == sorted(names)
    assert found.labels.missing == 0


@pytest.mark.parametrize("name", PATTERNS)
def test_no_number_covers_another_number_or_a_mark(overlapping: Any, operations: SimpleNamespace, name: str) -> None:
    found = drawn(getattr(operations, name))
    marks = [around(one.at, 0.9 * panel.look.radius) for panel in found.panels for one in panel.spots]
    assert overlapping(found.labels.boxes) == []
    assert not [(label, mark) for label in found.labels.boxes for mark in marks if label.overlaps(mark)]


@pytest.mark.parametrize("name", PATTERNS)
def test_marks_of_one_view_do_not_touch(overlapping: Any, operations: SimpleNamespace, name: str) -> None:
    found = drawn(getattr(operations, name))
    for panel in found.panels:
        assert overlapping([around(one.at, 0.7 * panel.look.radius) for one in panel.spots]) == []


def test_80_spots_on_a_door_fill_one_sheet_of_ordinary_size(operations: SimpleNamespace) -> None:
    found = drawn(operations.door)
    assert found.sheet.width == 640
    assert found.sheet.height <= 1.43 * found.sheet.width
    assert len(found.labels.boxes) == 80


def test_spots_12_mm_apart_are_enlarged_with_numbers_inside(operations: SimpleNamespace) -> None:
    found = drawn(operations.close)
    (detail,) = found.details
    assert len(detail.spots) == 15
    assert found.panels[-1].look.inside
    assert detail.frame.scale > 5 * detail.main.scale


def test_a_long_line_of_close_spots_is_cut_into_several_enlarged_views(operations: SimpleNamespace) -> None:
    found = drawn(operations.strip)
    assert len(found.details) > 1
    assert sum(len(detail.spots) for detail in found.details) == 80


def test_spots_on_several_faces_get_views_and_a_pictorial_one(operations: SimpleNamespace) -> None:
    pictures = spot_pictures(*operations.tray)
    assert [picture.key for picture in pictures] == ["operation-1-spots", "operation-1-spots-overview"]
    shown = texts(pictures[0].svg)
    assert {"View from above", "View from the left", "View from the right"} <= set(shown)
    assert len(spot_pictures(*operations.door)) == 1


def test_smallest_pitch_and_edge_distance_are_drawn_and_said(operations: SimpleNamespace) -> None:
    picture = spot_pictures(*operations.close)[0]
    assert "12 mm (0.47 in)" in texts(picture.svg)
    assert "20 mm (0.79 in)" in texts(spot_pictures(*operations.tray)[0].svg)
    assert "Smallest pitch 12 mm (0.47 in), A01 to A02" in picture.caption
    assert "Smallest edge distance 30 mm (1.18 in), at A01" in picture.caption


def test_a_dimension_that_would_strike_numbers_is_said_alone(operations: SimpleNamespace) -> None:
    picture = spot_pictures(*operations.door)[0]
    assert "15 mm (0.59 in)" not in texts(picture.svg)
    assert "Smallest edge distance 15 mm (0.59 in), at A01" in picture.caption


def test_the_words_hold_every_spot_in_sequence_with_its_place(operations: SimpleNamespace) -> None:
    words = spot_pictures(*operations.tray)[0].description
    assert "Robot A (R31 south), 14 spots in sequence" in words
    assert "A01 at X 0, Y 40, Z 20; A02 at X 0, Y 100, Z 20" in words
    assert words.count(" at X ") == 22


def test_robots_differ_by_shape_fill_and_line_not_by_colour_alone() -> None:
    assert MARK["A"].fill != MARK["B"].fill
    assert bool(PATH["A"].dash) != bool(PATH["B"].dash)


def test_nasty_names_show_as_text(operations: SimpleNamespace) -> None:
    nasty = "<script>$x$ & \x07\"'"
    scene = operations.scene(operations.plate(nasty, 200, 100), datum=nasty, robots=(nasty, nasty))
    spots = [replace(spot, label=nasty) for spot in operations.numbered([(50, 50, 0), (150, 50, 0)], "A")]
    picture = spot_pictures(scene, spots)[0]
    assert "<script" not in picture.svg + "".join(line.sign for line in picture.legend)
    assert "\x07" not in picture.svg
    assert any("<script>$x$ & \N{REPLACEMENT CHARACTER}\"'" in text for text in texts(picture.svg))


def test_one_spot_without_outline_can_be_drawn(operations: SimpleNamespace) -> None:
    picture = spot_pictures(operations.scene(), operations.numbered([(40, 30, 0)], "B"))[0]
    assert "B01" in texts(picture.svg)
    assert "pitch" not in picture.caption


def test_the_order_of_the_input_does_not_matter(operations: SimpleNamespace) -> None:
    scene, spots = operations.door
    assert spot_pictures(scene, spots[::-1]) == spot_pictures(scene, spots)


def test_two_processes_draw_the_same_bytes(operations: SimpleNamespace) -> None:
    here = Path(__file__).with_name("conftest.py")
    code = (
        f"import hashlib, runpy; m = runpy.run_path(r'{here}');"
        "from weld_packets.diagrams.spots.map import spot_pictures as draw;"
        "print(hashlib.sha256(''.join(p.svg for p in draw(*m['tray']())).encode()).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("11", "12")
    }
    svg = "".join(picture.svg for picture in spot_pictures(*operations.tray))
    assert digests == {hashlib.sha256(svg.encode()).hexdigest()}


def test_pictures_can_stand_on_one_page(operations: SimpleNamespace) -> None:
    page = "".join(picture.svg for picture in spot_pictures(*operations.tray))
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids)) == 4
    assert " style=" not in page


@pytest.mark.parametrize("points", [[(50, 50, 0)] * 2, [(50, 50, 0)] * 12, [(50, 50, 0), (50, 50, 1e-9), (200, 90, 0)]])
def test_spots_at_one_place_are_still_each_named(operations: SimpleNamespace, points: list[Point]) -> None:
    picture = spot_pictures(operations.scene(operations.plate("Plate", 400, 300)), operations.numbered(points, "A"))[0]
    names = [f"A{number:02d}" for number in range(1, len(points) + 1)]
    assert sorted(text for text in texts(picture.svg) if text in names) == names


def test_each_stack_has_one_line_of_the_legend_with_its_diameter_the_process_and_its_spots(
    operations: SimpleNamespace,
) -> None:
    points: list[Point] = [(60 + 80 * step, 100, 0) for step in range(4)]
    spots = [
        replace(spot, stack=stack, size=size, process="21")
        for spot, (stack, size) in zip(
            operations.numbered(points, "A"),
            [("1 + 1", "5.0"), ("1 + 2", "5.0"), ("1 + 1", "5.0"), ("2 + 2", "7.1")],
            strict=True,
        )
    ]
    picture = spot_pictures(operations.scene(operations.plate("Plate", 400, 300)), spots)[0]
    stacks = [line for line in picture.legend if "+" in line.text]
    assert [line.text for line in stacks] == ["1 + 1: all others", "1 + 2: A02", "2 + 2: A04"]
    assert [">7.1<" in line.sign for line in stacks] == [False, False, True]
    assert all(">21<" in line.sign for line in stacks)
    assert "target diameter in mm" in picture.caption


def test_spots_that_are_set_otherwise_have_another_mark_and_their_schedule(operations: SimpleNamespace) -> None:
    scene, spots = operations.tray
    kinds = [replace(spot, stack="1 mm + 1 mm", size="5.0", schedule="1") for spot in spots]
    thick = [replace(spot, stack="1 mm + 2 mm", setting=1, schedule="2") for spot in kinds[:3]]
    equal, mixed = (spot_pictures(scene, each)[0] for each in (kinds, [*thick, *kinds[3:]]))
    stacks = [line for line in mixed.legend if "mm + " in line.text]
    assert [line.text for line in stacks] == [
        "1 mm + 2 mm, weld schedule 2: A01 to A03",
        "1 mm + 1 mm, weld schedule 1: all others",
    ]
    assert stacks[0].sign != stacks[1].sign
    assert "Spots that are set otherwise carry another sign in their marks" in mixed.caption
    assert not any("weld schedule" in line.text for line in equal.legend)
    assert "set otherwise" not in equal.caption


@pytest.mark.parametrize("side", ["A", "B"])
def test_every_setting_has_a_sign_of_its_own(side: Side) -> None:
    marks = []
    for setting in range(SIGNS):
        sheet = Sheet(40, 40)
        draw_mark(sheet, side, (20, 20), 6, setting=setting)
        marks.append(to_svg(sheet, key="mark", title="Mark", description="A mark"))
    assert len(set(marks)) == SIGNS


def test_a_component_without_an_outline_is_said_to_be_missing(operations: SimpleNamespace) -> None:
    scene, spots = operations.tray
    said = spot_pictures(replace(scene, undrawn=("Lifting tab",)), spots)[0].legend
    assert said[-1].text == "No outline in the order, so not drawn: Lifting tab"
    assert "not drawn" not in "".join(line.text for line in spot_pictures(scene, spots)[0].legend)


def test_a_move_from_one_view_to_another_is_drawn_in_the_pictorial_view(operations: SimpleNamespace) -> None:
    views, pictorial = spot_pictures(*operations.tray)
    assert "From one view to another, drawn in the pictorial view: A08 to A09" in views.caption
    assert "Moves are drawn only from one view of the map to another" in pictorial.caption
