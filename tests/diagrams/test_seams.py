"""A seam map shows every seam with its order, way and size, clear of the others, from the sides that it needs."""

from __future__ import annotations

import dataclasses
import math
import re
import xml.etree.ElementTree as ET
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.diagrams.scene import Bend, Straight, Trail
from weld_packets.diagrams.seams.lines import _arrow_around, apart, stop_of
from weld_packets.diagrams.seams.map import SeamMap, _draw_symbols, _far_off, draw_seam_map, seam_pictures
from weld_packets.diagrams.seams.words import kinds_of, legend_entries, overlap_mm
from weld_packets.diagrams.symbols import WeldSymbol, draw_reference, elementary, sign_of
from weld_packets.drawing.boxes import Box, Crowd
from weld_packets.drawing.placement import Placed
from weld_packets.drawing.sheet import Sheet
from weld_packets.drawing.svg import to_sign

SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ET.fromstring(svg).iter(f"{SVG}text")]  # noqa: S314 - our own bytes


@pytest.mark.parametrize("name", ["base_frame", "twenty"])
def test_every_seam_is_named_once_on_the_map(operations: SimpleNamespace, name: str) -> None:
    scene, seams = getattr(operations, name)
    names = {seam.label for seam in seams}
    written = [text for text in texts(seam_pictures(scene, seams)[0].svg) if text in names]
    assert sorted(written) == sorted(names)
    assert draw_seam_map(scene, seams).labels.missing == 0


@pytest.mark.parametrize("name", ["base_frame", "twenty"])
def test_numbers_and_symbols_do_not_cover_each_other(overlapping: Any, operations: SimpleNamespace, name: str) -> None:
    scene, seams = getattr(operations, name)
    found = draw_seam_map(scene, seams)
    assert len(found.labels.boxes) >= len(seams)
    assert overlapping(found.labels.boxes) == []


def test_a_path_in_space_gets_views_a_pictorial_view_and_the_torch(operations: SimpleNamespace) -> None:
    pictures = seam_pictures(*operations.base_frame)
    assert [picture.key for picture in pictures] == [
        "operation-1-seams",
        "operation-1-seams-overview",
        "operation-1-torch",
    ]
    assert {"View from above", "View from the front", "Third-angle views"} <= set(texts(pictures[0].svg))


def test_flat_seams_get_one_view_without_a_title(operations: SimpleNamespace) -> None:
    pictures = seam_pictures(*operations.twenty)
    assert [picture.key for picture in pictures] == ["operation-1-seams", "operation-1-torch"]
    assert "View from above" not in texts(pictures[0].svg)


def test_each_kind_of_seam_has_its_weld_symbol_with_process_and_position_in_the_legend(
    operations: SimpleNamespace,
) -> None:
    legend = seam_pictures(*operations.base_frame)[0].legend
    found = {tail: line.text for line in legend for tail in ("135 PA", "135 PB", "135 PF") if f">{tail}<" in line.sign}
    assert found == {"135 PA": "A01 to A04, B01 to B04", "135 PF": "A05 to A08, B05 to B08", "135 PB": "A09, A10"}


def test_the_map_points_at_one_seam_of_a_kind_where_there_is_room(operations: SimpleNamespace) -> None:
    assert texts(seam_pictures(*operations.twenty)[0].svg).count("135 PB") == 1


def test_a_symbol_without_a_place_is_left_to_the_legend(operations: SimpleNamespace) -> None:
    drawn = SeamMap(Sheet(640, 400), Crowd())
    bounds = Box(4, 4, 636, 300)
    drawn.crowd.block(bounds)
    seams = [operations.seam(order, "A", operations.straight((0, 0, 0), (1, 0, 0))) for order in (1, 2)]
    _draw_symbols(drawn, seams, [[(100.0, 100.0), (200.0, 100.0)]] * 2, bounds)
    assert drawn.sheet.words == []


def test_a_flare_bevel_has_its_own_sign_of_a_line_and_a_quarter_of_a_circle() -> None:
    assert [sign_of(joint) for joint in ("T", "lap", "corner", "butt", "flare-bevel")] == [
        *["fillet"] * 3, "square butt", "flare bevel",
    ]  # fmt: skip
    upright, bow = (
        elementary("flare bevel", (100.0, 50.0)).points[:2],
        elementary("flare bevel", (100.0, 50.0)).points[2:],
    )
    assert upright == ((102.0, 50.0), (102.0, 36.0))
    assert {round(math.dist(point, (118.0, 50.0)), 6) for point in bow} == {14.0}
    assert bow[0] == pytest.approx((118.0, 36.0))
    assert bow[-1] == pytest.approx((104.0, 50.0))


@pytest.mark.parametrize(("length", "far"), [(129.0, False), (131.0, True)])
def test_a_number_that_is_far_from_its_seam_is_as_good_as_missing(length: float, *, far: bool) -> None:
    placed = Placed("a3", Box(0, 0, 10, 10), 12.0, bold=False, leader=((0.0, 0.0), (length, 0.0)))
    assert _far_off(placed) is far
    assert not _far_off(dataclasses.replace(placed, leader=None))


def test_the_words_hold_every_seam_in_order_with_its_path(operations: SimpleNamespace) -> None:
    words = seam_pictures(*operations.base_frame)[0].description
    assert "Robot A (R31 south), 10 seams in order" in words
    arc = "from X 60, Y 0, Z -120 by an arc through X 100, Y 0, Z -135 to X 140, Y 0, Z -120"
    assert f"A09, lap joint, a4: {arc}" in words
    assert words.count(": from X ") == 18


def test_a_drawn_arc_passes_its_middle_point(operations: SimpleNamespace) -> None:
    trail = Trail((50, 50, 0), (Straight((100, 50, 0)), Bend((150, 100, 0), (100, 150, 0))))
    scene = operations.scene(operations.plate("Plate", 200, 200))
    found = draw_seam_map(scene, [operations.seam(1, "A", trail)])
    via = found.frames[0].to_sheet((150, 100, 0))
    drawn = [point for shapes in found.sheet.shapes.values() for shape in shapes for point in shape.points]
    assert any(abs(x - via[0]) < 1e-6 and abs(y - via[1]) < 1e-6 for x, y in drawn)


def test_a_seam_shorter_than_its_arrow_gets_the_arrow_beside(operations: SimpleNamespace) -> None:
    scene = operations.scene(operations.plate("Plate", 2000, 500))
    found = draw_seam_map(scene, [operations.seam(1, "A", operations.straight((1000, 250, 0), (1015, 250, 0)))])
    assert found.labels.missing == 0
    assert len(found.labels.boxes) == 2


@pytest.mark.parametrize("back", [False, True])
def test_seams_on_both_sides_of_a_thin_sheet_are_drawn_apart(back: bool) -> None:
    one, other = [(100.0, 100.0), (200.0, 100.0)], [(100.0, 104.0), (200.0, 104.0)]
    moved = apart([one, other[::-1] if back else other, [(100.0, 300.0), (200.0, 300.0)]])
    assert {y for _, y in moved[1]} == {109.5}
    assert {y for _, y in moved[0]} == {94.5}
    assert moved[2] == [(100.0, 300.0), (200.0, 300.0)]


def test_seams_that_only_meet_at_an_end_stay_where_they_are() -> None:
    lines = [[(100.0, 100.0), (200.0, 100.0)], [(200.0, 100.0), (200.0, 200.0)], [(200.0, 200.0), (100.0, 100.0)]]
    assert apart(lines) == lines


def test_the_caption_says_when_seams_were_drawn_apart(operations: SimpleNamespace) -> None:
    sheet = operations.scene(operations.plate("Plate", 200, 120))
    one, near, far = (
        operations.seam(n, "A", operations.straight((20, y, 0), (180, y, 0))) for n, y in ((1, 50), (2, 53), (3, 90))
    )
    assert "drawn a little apart" in seam_pictures(sheet, [one, near])[0].caption
    assert "drawn a little apart" not in seam_pictures(sheet, [one, far])[0].caption


def test_fillets_of_one_size_share_a_symbol_whatever_the_joint(operations: SimpleNamespace) -> None:
    seams = [
        operations.seam(order, "A", operations.straight((20, 30 * order, 0), (180, 30 * order, 0)), joint=joint)
        for order, joint in enumerate(("T", "lap", "corner"), 1)
    ]
    assert (
        texts(seam_pictures(operations.scene(operations.plate("Plate", 200, 120)), seams)[0].svg).count("135 PB") == 1
    )


def test_nasty_names_and_sizes_show_as_text(operations: SimpleNamespace) -> None:
    nasty = "<img onerror=x>$a$\x00"
    scene = operations.scene(operations.plate(nasty, 200, 100), datum=nasty, robots=(nasty, nasty))
    seams = [operations.seam(1, "A", operations.straight((20, 20, 0), (120, 20, 0)), size=nasty)]
    for picture in seam_pictures(scene, seams):
        signs = "".join(line.sign for line in picture.legend)
        assert "<img" not in picture.svg + signs
        assert "\x00" not in picture.svg + signs


def test_pictures_of_an_operation_can_stand_on_one_page(operations: SimpleNamespace) -> None:
    page = "".join(picture.svg for picture in seam_pictures(*operations.base_frame))
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids)) == 6
    assert " style=" not in page


@pytest.mark.parametrize("way", [1, -1], ids=["left", "right"])
def test_the_arrow_of_a_circular_seam_runs_outside_it_in_its_direction(way: int) -> None:
    """A head on a ring of 18 pixels points as much outwards as along it."""
    ring = [(18 * math.cos(way * turn / 20), 18 * math.sin(way * turn / 20)) for turn in range(126)]
    arrow = _arrow_around(ring)
    turns = [math.atan2(y, x) for x, y in arrow]
    assert all(math.hypot(x, y) > 18 + 8 for x, y in arrow)
    assert math.remainder(way * (turns[-1] - turns[0]), math.tau) > 0.8


def test_a_straight_or_cornered_seam_has_its_arrow_on_it() -> None:
    assert _arrow_around([(0, 0), (100, 0)]) == []
    assert _arrow_around([(0, 0), (58, 0), (58, 42)]) == []


def ring(turn: float, start: float = 0.0) -> Trail:
    """Return a seam around a circle of 30 mm, ``turn`` of it from ``start``, in three bends."""
    points = [
        (100 + 30 * math.cos(angle), 100 + 30 * math.sin(angle), 0.0)
        for angle in (start + turn * math.tau * step / 6 for step in range(7))
    ]
    return Trail(points[0], tuple(Bend(points[at], points[at + 1]) for at in (1, 3, 5)))


def test_the_overlap_of_a_closed_seam_is_what_it_runs_on_over_its_start() -> None:
    assert overlap_mm(ring(1.0)) == 0.0
    assert overlap_mm(ring(1.05)) == pytest.approx(0.05 * math.tau * 30, abs=0.1)
    assert overlap_mm(ring(0.95)) is None
    assert overlap_mm(ring(1.6)) is None
    assert overlap_mm(Trail((0, 0, 0), (Straight((100, 0, 0)),))) is None


@pytest.mark.parametrize(
    ("turn", "words"),
    [
        (1.0, "Closed seams stop where they start, overlap not stated: A01"),
        (1.05, "Closed seams run on 9.4 mm (0.37 in) over their start: A01"),
        (0.8, None),
    ],
)
def test_the_legend_says_how_closed_seams_end(operations: SimpleNamespace, turn: float, words: str | None) -> None:
    scene = operations.scene(operations.plate("Plate", 200, 200))
    legend = seam_pictures(scene, [operations.seam(1, "A", ring(turn))])[0].legend
    assert [line.text for line in legend if line.text.startswith("Closed")] == ([words] if words else [])


def test_the_legend_gives_the_overlap_of_order_or_plant_where_the_path_ends_at_its_start(
    operations: SimpleNamespace,
) -> None:
    scene = operations.scene(operations.plate("Plate", 200, 200))
    seams = [
        dataclasses.replace(operations.seam(at, "A", ring(turn)), overlap=8.0) for at, turn in ((1, 1.0), (2, 1.05))
    ]
    legend = [line.text for line in seam_pictures(scene, seams)[0].legend]
    assert "Closed seams run on 8 mm (0.31 in) over their start: A01" in legend
    assert "Closed seams run on 9.4 mm (0.37 in) over their start: A02" in legend  # as its own path runs on


@pytest.mark.parametrize("turn", [1.0, 0.8])
def test_nothing_of_a_symbol_in_the_legend_is_cut_off(operations: SimpleNamespace, turn: float) -> None:
    scene = operations.scene(operations.plate("Plate", 200, 200))
    entries = legend_entries(scene, [operations.seam(1, "A", ring(turn))])
    (entry,) = [entry for entry in entries if entry.text == "A01"]
    sheet = Sheet(entry.width, entry.height)
    entry.draw(sheet, (entry.width / 2, entry.height / 2))
    points = [point for shapes in sheet.shapes.values() for shape in shapes for point in shape.points]
    assert min(x for x, _ in points) >= 1
    assert max(x for x, _ in points) <= entry.width
    assert all(Box(0, 0, entry.width, entry.height).holds(line.box) for line in sheet.words)


@pytest.mark.parametrize(("turn", "all_round"), [(1.0, True), (1.05, True), (0.8, False)])
def test_the_symbol_of_a_closed_seam_has_the_circle_of_a_weld_all_round(
    operations: SimpleNamespace, turn: float, *, all_round: bool
) -> None:
    open_seam = operations.seam(2, "A", operations.straight((0, 0, 0), (50, 0, 0)))
    kinds = kinds_of([operations.seam(1, "A", ring(turn)), open_seam])
    assert [symbol.all_round for symbol in kinds] == ([True, False] if all_round else [False])


def test_the_circle_of_a_weld_all_round_is_where_arrow_line_and_reference_line_meet() -> None:
    box = Box(20, 20, 120, 50)

    def circles(*, all_round: bool, leftwards: bool) -> set[str]:
        sheet = Sheet(160, 80)
        draw_reference(sheet, WeldSymbol("fillet", "a3", "135 PB", "", all_round), box, leftwards=leftwards)
        return set(re.findall(r'd="m([0-9.]+ [0-9.]+)c[^"]*" fill="#ffffff"', to_sign(sheet)))

    assert circles(all_round=False, leftwards=True) == set()
    assert circles(all_round=True, leftwards=True) == {"24.5 40"}
    assert circles(all_round=True, leftwards=False) == {"124.5 40"}


@pytest.mark.parametrize(("turn", "after"), [(1.0, False), (1.03, True)])
def test_the_stop_bar_of_a_closed_seam_does_not_lie_under_its_start(turn: float, *, after: bool) -> None:
    points = [(x, y) for x, y, _ in ring(turn).points()]
    (x, y), _ = stop_of(points)
    assert math.dist((x, y), points[0]) == pytest.approx(10.0, abs=0.3)
    assert (y > 100) == after


def test_an_open_seam_has_its_stop_bar_at_its_end() -> None:
    assert stop_of([(0.0, 0.0), (100.0, 0.0)]) == ((100.0, 0.0), (1.0, 0.0))


def test_a_butt_shows_its_joint_and_its_gap(operations: SimpleNamespace) -> None:
    scene = operations.scene(operations.plate("Plate", 200, 120))
    line = operations.straight((20, 60, 0), (180, 60, 0))
    butt = dataclasses.replace(operations.seam(1, "A", line, joint="butt", size=""), gap="0.5")
    picture = seam_pictures(scene, [butt])[0]
    assert 'stroke="#111111" fill' not in picture.svg
    assert "0.5" in texts(picture.svg)
    assert "gap in mm" in picture.caption
    assert "Line in the seam: the joint of a butt" in [each.text for each in picture.legend]
    fillet = seam_pictures(scene, [operations.seam(1, "A", line)])[0]
    assert "gap" not in fillet.caption
    assert fillet.svg.count('stroke="#111111"') < picture.svg.count('stroke="#111111"')


def test_sizes_and_passes_are_written_at_the_few_that_differ(operations: SimpleNamespace) -> None:
    scene = operations.scene(operations.plate("Plate", 400, 400))
    seams = [
        operations.seam(order, "A", operations.straight((40, 40 * order, 0), (360, 40 * order, 0)))
        for order in range(1, 7)
    ]
    seams[2] = dataclasses.replace(seams[2], size="a5", passes=3)
    shown = texts(seam_pictures(scene, seams)[0].svg)
    assert shown.count("3 passes") == 1
    assert shown.count("a5") == 2, "at the seam and at the symbol"
    assert shown.count("a3") == 1, "at the symbol alone"
    assert shown.count("135 PB, 3 passes") == 1


def test_the_legend_has_the_order_of_welding_of_each_robot(operations: SimpleNamespace) -> None:
    scene = operations.scene(operations.plate("Plate", 400, 400))
    named = [
        dataclasses.replace(
            operations.seam(order, "A", operations.straight((40, 40 * order, 0), (360, 40 * order, 0))), label=label
        )
        for order, label in enumerate(("T9", "T10", "T11", "L1", "U2", "U1"), 1)
    ]
    legend = seam_pictures(scene, named[::-1])[0].legend
    assert legend[0].text == "Robot A (R31 south), 6 seams: T9 to T11 → L1 → U2 → U1"


def test_who_waits_and_what_is_not_drawn_is_in_the_legend(operations: SimpleNamespace) -> None:
    scene, seams = operations.twenty
    with_notes = dataclasses.replace(scene, waits=("B waits.",), undrawn=("Tab",))
    texts_of = [line.text for line in seam_pictures(with_notes, seams)[0].legend]
    assert texts_of[-2:] == ["No outline in the order, so not drawn: Tab", "B waits."]
