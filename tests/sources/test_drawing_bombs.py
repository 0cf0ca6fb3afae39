"""Small files that would take minutes and gigabytes are refused while they are read."""

from __future__ import annotations

import math
import time
from pathlib import Path

import ezdxf
import pytest
from weld_packets.errors import SourceError
from weld_packets.sources.drawings.outlines import read_outlines

SECONDS = 5
"""Of this process, whatever else the machine does; what is refused here takes up to 2 s."""


def saved(document: ezdxf.document.Drawing, path: Path) -> Path:
    document.units = 4
    document.saveas(path)
    return path


def refused(path: Path) -> str:
    begun = time.process_time()
    with pytest.raises(SourceError) as caught:
        read_outlines(path, path.name)
    assert time.process_time() - begun < SECONDS
    return caught.value.problems[0].message


def test_many_large_circles_are_counted_while_they_are_flattened(tmp_path: Path) -> None:
    document = ezdxf.new()
    for number in range(5_000):
        document.modelspace().add_circle((number / 100, 0), 99_000)
    assert refused(saved(document, tmp_path / "circles.dxf")) == "the outlines have more than 50,000 points"


def test_one_polyline_of_many_bulges_is_flattened_no_further_than_the_limit(tmp_path: Path) -> None:
    document = ezdxf.new()
    points = [(50_000 * math.cos(at), 50_000 * math.sin(at), 1.0) for at in range(20_000)]
    document.modelspace().add_lwpolyline(points, format="xyb", close=True)
    assert refused(saved(document, tmp_path / "bulges.dxf")) == "the outlines have more than 50,000 points"


@pytest.mark.parametrize("what", ["texts", "layers"])
def test_what_is_not_drawn_is_counted_before_the_drawing_is_opened(tmp_path: Path, what: str) -> None:
    document = ezdxf.new()
    document.modelspace().add_text("x")
    document.layers.add("many")
    path = saved(document, tmp_path / "many.dxf")
    text = path.read_text("utf-8")
    kind = "TEXT" if what == "texts" else "LAYER"
    begin = text.rindex(f"  0\n{kind}\n")
    end = text.index("  0\n", begin + 1)
    path.write_text(text[:begin] + text[begin:end] * 31_000 + text[end:], "utf-8")
    message = "the drawing holds more than 30,000 elements, layers and blocks"
    assert refused(path) == message


def test_a_star_of_many_lines_is_looked_at_once(tmp_path: Path) -> None:
    document = ezdxf.new()
    for number in range(4_900):
        document.modelspace().add_line((0, 0), (math.cos(number), math.sin(number)))
    assert refused(saved(document, tmp_path / "star.dxf")) == "the outline branches (4900 ends meet) here"


def test_an_element_of_more_points_than_any_outline_has_is_not_read(tmp_path: Path) -> None:
    document = ezdxf.new()
    document.modelspace().add_lwpolyline([(0, 0), (1, 0), (1, 1)])
    path = saved(document, tmp_path / "long.dxf")
    text = path.read_text("utf-8")
    at = text.index(" 10\n", text.index("LWPOLYLINE", text.index("ENTITIES")))
    path.write_text(text[:at] + " 10\n1\n 20\n2\n" * 250_000 + text[at:], "utf-8")
    assert refused(path) == "the drawing has more than 1,000,000 lines"


def test_an_element_of_an_unknown_kind_is_refused_and_left_out_of_a_layer(tmp_path: Path) -> None:
    document = ezdxf.new()
    document.layers.add("OUTLINE")
    document.modelspace().add_lwpolyline([(0, 0), (9, 0), (9, 9)], close=True, dxfattribs={"layer": "OUTLINE"})
    path = saved(document, tmp_path / "foo.dxf")
    text = path.read_text("utf-8")
    path.write_text(text.replace("ENTITIES\n", "ENTITIES\n  0\nFOO\n  5\nFFF1\n", 1), "utf-8")
    assert refused(path) == "cannot take an outline from FOO"
    assert len(read_outlines(path, "foo.dxf", "outline")) == 1
    with pytest.raises(SourceError, match="nothing is drawn on layer"):
        read_outlines(path, "foo.dxf", "NONE")
