"""Welds of two revisions over each other."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from weld_packets.diagrams.overlay import overlay_picture
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.settings import ComponentOutline, WeldGeometry

PANEL = (("0", "0", "0"), ("400", "0", "0"), ("400", "200", "0"), ("0", "200", "0"))


def operation(*welds: WeldGeometry, outlines: bool = True) -> OperationSheet:
    drawn = (ComponentOutline(component="Panel", points=PANEL),) if outlines else ()
    return OperationSheet(
        key="operation-1", number=1, name="Panel", cell="C1", cell_name="Cell 1", robots=("R1", "R2"), process="21",
        process_name="resistance spot welding", fixture="F-1", datum="lower left pin", components=(), confirm=(),
        programs=(), groups=(), pictures=(), weld_columns=(), welds=(), geometry=welds, set_up=(), prove=(),
        faults=(), checks=(), callouts=(), times=(), notes=(), outlines=drawn,
    )  # fmt: skip


def spot(key: str, x: str, y: str = "100", side: Any = "A") -> WeldGeometry:
    return WeldGeometry(key=key, robot="R1", side=side, form="spot", pieces=((x, y, "0"),), label=key)


def seam(key: str, *pieces: tuple[str, ...]) -> WeldGeometry:
    return WeldGeometry(key=key, robot="R1", side="A", form="seam", pieces=pieces, label=key)


def texts(svg: str) -> list[str]:
    return [found for found in re.findall(r"<text[^>]*>([^<]*)</text>", svg) if found]


def dashed(svg: str) -> int:
    """Return how many separate shapes are drawn dashed, by an attribute of their own or of their group."""
    count, inside = 0, False
    for tag in re.findall(r"<(?:g|/g|path)[^>]*>", svg):
        if tag.startswith("<g"):
            inside = "stroke-dasharray" in tag
        elif tag == "</g>":
            inside = False
        elif inside or "stroke-dasharray" in tag:
            count += len(re.findall(r"[Mm]", re.findall(r' d="([^"]*)"', tag)[0]))
    return count


def test_what_is_altered_is_named_and_what_is_not_is_only_drawn() -> None:
    old, new = operation(spot("A1", "100"), spot("A2", "200")), operation(spot("A1", "100"), spot("A2", "230"))
    svg = overlay_picture("k", old, new, {"A2": "A2 moved 30.0 mm"}).svg
    assert "A2 moved 30.0 mm" in texts(svg)
    assert not [text for text in texts(svg) if text.startswith("A1")]
    ET.fromstring(svg)  # noqa: S314 - our own drawing


def test_the_old_place_of_a_moved_weld_lies_dashed_beneath() -> None:
    before, moved = operation(spot("A1", "100"), spot("A2", "300")), operation(spot("A1", "160"), spot("A2", "300"))
    legend_alone = dashed(overlay_picture("k", before, before, {}).svg)
    assert dashed(overlay_picture("k", before, moved, {"A1": "A1 moved 60.0 mm"}).svg) == legend_alone + 1


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (operation(spot("A1", "100")), operation(spot("A1", "100"), spot("A2", "300", side="B")), "A2 new"),
        (operation(spot("A1", "100"), spot("A2", "300")), operation(spot("A1", "100")), "A2 removed"),
        (
            operation(seam("A2", ("0", "0", "0"), ("90", "0", "0"))),
            operation(seam("A2", ("0", "20", "0"), ("90", "20", "0"))),
            "A2 up",
        ),
        (
            operation(seam("A2", ("0", "0", "0"), ("50", "50", "0", "100", "0", "0"))),
            operation(seam("A2", ("0", "0", "0"), ("50", "40", "0", "100", "0", "0"))),
            "A2 flatter",
        ),
    ],
    ids=["added", "removed", "seam", "arc"],
)  # fmt: skip
def test_every_kind_of_alteration_is_drawn_and_named(old: OperationSheet, new: OperationSheet, said: str) -> None:
    picture = overlay_picture("k", old, new, {"A2": said})
    assert said in texts(picture.svg)
    assert picture.description == said


def test_operations_without_outlines_are_drawn_from_their_welds_alone() -> None:
    old, new = operation(spot("A1", "100"), outlines=False), operation(spot("A1", "130"), outlines=False)
    assert "A1 moved" in overlay_picture("k", old, new, {"A1": "A1 moved"}).svg


def test_many_names_stand_clear_of_each_other() -> None:
    old = operation(*(spot(f"A{n}", str(20 + 36 * n)) for n in range(10)))
    new = operation(*(spot(f"A{n}", str(20 + 36 * n), "112") for n in range(10)))
    svg = overlay_picture("k", old, new, {f"A{n}": f"A{n} moved 12.0 mm" for n in range(10)}).svg
    places = re.findall(r'<text[^>]*?x="([^"]*)" y="([^"]*)"[^>]*>A\d moved', svg)
    assert len(places) == 10
    for (x, y), (other_x, other_y) in pairwise(sorted((float(x), float(y)) for x, y in places)):
        assert abs(x - other_x) > 100 or abs(y - other_y) > 12


def test_two_empty_revisions_have_no_picture() -> None:
    with pytest.raises(ValueError, match="neither revision has a weld"):
        overlay_picture("k", operation(), operation(), {})
