"""An SVG that may stand among others on one page under a strict policy, the same bytes each time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest
from weld_packets.drawing.shapes import circle, polyline, rectangle
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.drawing.svg import to_svg

SVG = "{http://www.w3.org/2000/svg}"
NASTY = '$5 and $\\frac{1}$ <script>alert(1)</script> & "q" \x00\x1b \u202e'


def sample(key: str = "k1", text: str = NASTY) -> str:
    sheet = Sheet(200, 100)
    sheet.draw(circle((50, 50), 10), Style("#0072b2", 2, "#ffffff"), Layer.MARK)
    sheet.draw(polyline([(0, 0), (100.123456, 100)]), Style(dash=(4, 2)), Layer.PATH)
    sheet.write((10, 20), text, 13)
    sheet.write((20, 90), "turned", 13, anchor="center", angle=90)
    return to_svg(sheet, key=key, title=text, description=text)


def test_it_is_well_formed_and_shows_nasty_text_as_text() -> None:
    root = ET.fromstring(sample())  # noqa: S314 - our own bytes
    texts = [node.text for node in root.iter(f"{SVG}text")]
    assert texts[0] == '$5 and $\\frac{1}$ <script>alert(1)</script> & "q" \N{REPLACEMENT CHARACTER}' * 1 + (
        "\N{REPLACEMENT CHARACTER} \N{REPLACEMENT CHARACTER}"
    )
    assert {node.tag.removeprefix(SVG) for node in root.iter()} == {"svg", "title", "desc", "rect", "path", "g", "text"}


def test_it_carries_no_style_no_script_no_reference_and_no_foreign_metadata() -> None:
    svg = sample(text="plain")
    assert not re.search(r"style|<script|href|url\(|<metadata|matplotlib|<!DOCTYPE|<\?xml| on[a-z]+=", svg)


def test_ids_are_only_those_of_title_and_description_and_start_with_the_key() -> None:
    one, other = sample("row-1"), sample("row-2")
    ids = re.findall(r'\bid="([^"]+)"', one + other)
    assert sorted(ids) == ["row-1-description", "row-1-title", "row-2-description", "row-2-title"]
    assert 'aria-labelledby="row-1-title" aria-describedby="row-1-description"' in one
    assert 'role="img"' in one


def test_the_width_of_a_stroke_is_written_where_it_is_not_the_usual_one() -> None:
    widths = [path.get("stroke-width") for path in ET.fromstring(sample()).iter(f"{SVG}path")]  # noqa: S314 - our own
    assert sorted(widths, key=str) == ["2", None]


def test_it_fits_any_width_on_its_own_white_ground() -> None:
    root = ET.fromstring(sample())  # noqa: S314 - our own bytes
    assert root.get("viewBox") == "0 0 200 100"
    assert root.get("width") is None
    assert root.get("height") is None
    ground = root.find(f"{SVG}rect")
    assert ground is not None
    assert ground.get("fill") == "#ffffff"


def test_points_are_where_they_were_put_with_y_down_and_few_digits() -> None:
    assert 'd="m0 0 100.1 100"' in sample()
    assert '<text x="10" y="20">' in sample()


def test_steps_from_point_to_point_end_where_the_points_are() -> None:
    sheet = Sheet(400, 400)
    points = [(0.04 + 0.333 * index, 300 - 0.777 * index) for index in range(300)]
    sheet.draw(polyline(points), Style(), Layer.PATH)
    drawn = re.search(r'<path d="m([^"]*)"', to_svg(sheet, key="k", title="t", description="d"))
    assert drawn is not None
    numbers = [float(text) for text in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", drawn[1])]
    assert sum(numbers[::2]) == pytest.approx(points[-1][0], abs=0.051)
    assert sum(numbers[1::2]) == pytest.approx(points[-1][1], abs=0.051)


def test_shapes_drawn_one_after_another_each_keep_their_place() -> None:
    sheet = Sheet(200, 100)
    sheet.draw(circle((50, 50), 10), Style(), Layer.PATH)
    sheet.draw(rectangle(100, 20, 30, 10), Style(), Layer.PATH)
    svg = to_svg(sheet, key="k", title="t", description="d")
    assert (
        'd="m60 50c0 5.5-4.5 10-10 10-5.5 0-10-4.5-10-10 0-5.5 4.5-10 10-10 5.5 0 10 4.5 10 10zm40-30 30 0 0 10-30 0z"'
        in svg
    )


@pytest.mark.parametrize("key", ["", "1a", 'a"b', "a b", "a<b", "ä"])
def test_a_key_that_cannot_become_an_id_is_refused(key: str) -> None:
    with pytest.raises(ValueError, match="cannot become an id"):
        sample(key)


def test_two_processes_write_the_same_bytes() -> None:
    code = (
        "import hashlib, runpy; m = runpy.run_path(r'" + __file__ + "');"
        "print(hashlib.sha256(m['sample']().encode()).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    }
    assert digests == {hashlib.sha256(sample().encode()).hexdigest()}


def test_dark_text_has_a_white_edge_and_text_inside_marks_has_none() -> None:
    sheet = Sheet(100, 100)
    sheet.write((10, 10), "outside", 13)
    sheet.write_in((50, 50), "12", 13, colour="#000000")
    sheet.write_in((80, 50), "13", 13)
    groups = re.findall(r"<g[^>]*>.*?</g>", to_svg(sheet, key="k", title="t", description="d"))
    assert ["paint-order" in group for group in groups] == [True, False, False]
