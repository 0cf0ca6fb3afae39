"""Welds that are written once: defaults, and copies by mirror, turn and step, each with its own identifier."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.errors import refusal
from weld_packets.processes.arc.records import ArcOperation, Seam
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.sources.orders.orders import SourcedOrder, load_order
from weld_packets.sources.orders.repeats import written_out
from weld_packets.sources.reading.places import Places
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).resolve().parents[2]
Refused = Callable[[Callable[[], object]], str]
HEAD = """\
order: T-1
title: Panel
part: {number: P-1, name: Panel}
quantity: 20
due: 2026-12-04
revision intent: first issue
operations:
"""
ARC = """\
  - name: Frame
    cell: C2
    robots: [C2A, C2B]
    process: 135
    wire: G3Si1-0.8
    gas: M21
    programs: {C2A: P1, C2B: P2}
    datum: front left pin
    fixture: F-1
    components:
      - {id: strip, name: Strip, material: S235JR, thickness: 2 mm}
      - {id: gusset, name: Gusset, material: S235JR, thickness: 2 mm}
    weld defaults: {joint: T fillet, position: PB, components: [gusset, strip], throat: 2.2 mm}
    seams:
      - {id: S1, robot: C2A, path: {unit: mm, start: [100, 80, 2], pieces: [{via: [110, 90, 2], to: [120, 80, 2]}]}}
"""
SPOT = """\
  - name: Door
    cell: C5
    robots: [C5A, C5B]
    process: 21
    chart: spot-uncoated
    programs: {C5A: P3, C5B: P4}
    datum: lower hinge corner
    fixture: F-2
    components:
      - {id: skin, name: Skin, material: DC01, thickness: 1 mm}
      - {id: rib, name: Rib, material: DC01, thickness: 1 mm}
    stacks: [{id: left, sheets: [skin, rib]}]
    weld defaults: {robot: C5A, stack: left, z: 0 in}
    spots:
      - {id: A1, x: 1 in, y: 2 in}
"""
LINE = 23
"""Of the first repeat below the seam."""


@pytest.fixture(scope="module")
def tables() -> Workspace:
    return load_workspace(ROOT)


@pytest.fixture
def load(tmp_path: Path, tables: Workspace) -> Callable[..., SourcedOrder]:
    """Loads an order of the text of its operations."""

    def loaded(*operations: str) -> SourcedOrder:
        folder = tmp_path / "instructions" / "wo-1"
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "order.yaml").write_text(HEAD + "".join(operations), encoding="utf-8")
        return load_order(Workspace(tmp_path, tables.approved, tables.places), "wo-1")

    return loaded


def seams(order: SourcedOrder) -> dict[str, Seam]:
    operation = order.order.operations[0]
    assert isinstance(operation, ArcOperation)
    return {seam.id: seam for seam in operation.seams}


def points(seam: Seam) -> list[tuple[float, ...]]:
    return [
        tuple(map(float, point))
        for point in (seam.path.start, *(p for piece in seam.path.pieces for p in piece.model_dump().values()))
    ]


def test_a_weld_has_the_defaults_of_its_operation_that_it_does_not_give_itself(load: Any) -> None:
    own = "      - {id: S2, robot: C2B, throat: 3 mm, path: {unit: mm, start: [0, 0, 2], pieces: [{to: [9, 0, 2]}]}}\n"
    found = seams(load(ARC, own))
    assert [(s.joint, s.position, str(s.throat)) for s in found.values()] == [
        ("T fillet", "PB", "2.2 millimeter"),
        ("T fillet", "PB", "3.0 millimeter"),
    ]


@pytest.mark.parametrize(
    ("move", "expected"),
    [
        ("step: {x: 10 mm, y: -5 mm}", [(110, 75, 2), (120, 85, 2), (130, 75, 2)]),
        ("step: {x: 1 in}", [(125.4, 80, 2), (135.4, 90, 2), (145.4, 80, 2)]),
        ("mirror: {x: 200 mm}", [(300, 80, 2), (290, 90, 2), (280, 80, 2)]),
        ("mirror: {z: 0 mm}", [(100, 80, -2), (110, 90, -2), (120, 80, -2)]),
        ("turn: {about: Z, at: {x: 100 mm, y: 80 mm}, by: 90°}", [(100, 80, 2), (90, 90, 2), (100, 100, 2)]),
        ("turn: {about: X, at: {y: 80 mm, z: 2 mm}, by: 90°}", [(100, 80, 2), (110, 80, 12), (120, 80, 2)]),
        ("turn: {about: Y, at: {x: 100 mm, z: 2 mm}, by: 90°}", [(100, 80, 2), (100, 90, -8), (100, 80, -18)]),
        ("turn: {about: Z, at: {x: 100 mm, y: 80 mm}, by: -180°}", [(100, 80, 2), (90, 70, 2), (80, 80, 2)]),
        (
            "turn: {about: Z, at: {x: 100 mm, y: 80 mm}, by: 30°}",
            [(100, 80, 2), (103.6603, 93.6603, 2), (117.3205, 90, 2)],
        ),
        ("mirror: {x: 100 mm}, step: {x: 5 mm}", [(105, 80, 2), (95, 90, 2), (85, 80, 2)]),
    ],
)
def test_a_copy_is_mirrored_then_turned_then_moved(load: Any, move: str, expected: list[tuple[float, ...]]) -> None:
    found = seams(load(ARC, f"      - {{repeat: S1, id: S2, {move}}}\n"))
    assert points(found["S2"]) == expected
    assert points(found["S1"]) == [(100, 80, 2), (110, 90, 2), (120, 80, 2)]


def test_each_further_block_of_identifiers_is_one_step_on_and_is_where_the_repeat_is(load: Any) -> None:
    last = "      - {id: S9, robot: C2A, path: {unit: mm, start: [0, 0, 2], pieces: [{to: [9, 0, 2]}]}}\n"
    repeat = "      - {repeat: [S1, S2], ids: [S3, S4, S5, S6], step: {y: 100 mm}, robot: C2B}\n"
    found = seams(load(ARC, "      - {repeat: S1, id: S2, step: {x: 40 mm}}\n", repeat, last))
    assert list(found) == ["S1", "S2", "S3", "S4", "S5", "S6", "S9"]
    assert [float(found[name].path.start[1]) for name in found] == [80, 80, 180, 180, 280, 280, 0]
    assert [float(found[name].path.start[0]) for name in found] == [100, 140, 100, 140, 100, 140, 0]
    assert [found[name].robot for name in found] == ["C2A", "C2A", "C2B", "C2B", "C2B", "C2B", "C2A"]


def test_spots_repeat_in_the_unit_in_which_they_are_written(load: Any) -> None:
    row = "      - {repeat: A1, ids: [A2, A3], step: {x: 25.4 mm}}\n"
    repeat = row + "      - {repeat: [A1, A3], ids: [B1, B3], mirror: {y: 3 in}, robot: C5B}\n"
    operation = load(SPOT, repeat).order.operations[0]
    assert isinstance(operation, SpotOperation)
    assert [(s.id, s.robot, str(s.x), str(s.y), str(s.z)) for s in operation.spots] == [
        ("A1", "C5A", "1.0 inch", "2.0 inch", "0.0 inch"),
        ("A2", "C5A", "2.0 inch", "2.0 inch", "0.0 inch"),
        ("A3", "C5A", "3.0 inch", "2.0 inch", "0.0 inch"),
        ("B1", "C5B", "1.0 inch", "4.0 inch", "0.0 inch"),
        ("B3", "C5B", "3.0 inch", "4.0 inch", "0.0 inch"),
    ]


@pytest.mark.parametrize(
    ("repeat", "place", "words"),
    [
        ("{repeat: S8, id: S2, step: {x: 9 mm}}", ".repeat = 'S8'", "there is no weld of this name above"),
        ("{repeat: S1, id: S2}", ".repeat", "no step, mirror or turn"),
        ("{repeat: S1, step: {x: 9 mm}}", ".id", "the identifiers of the copies are missing"),
        ("{repeat: [S1, S1], ids: [S2, S3, S4], step: {x: 9 mm}}", ".ids", "2 welds are repeated, and 'ids' names 3"),
        ("{repeat: S1, ids: [S2, S3], mirror: {x: 9 mm}}", ".mirror", "lies on the first"),
        ("{repeat: S1, id: S2, mirror: {x: 9 mm, y: 1 mm}}", ".mirror", "a mirror is at one plane"),
        ("{repeat: S1, id: S2, step: {u: 9 mm}}", ".step", "lengths along x, y or z"),
        ("{repeat: S1, id: S2, step: {x: 9}}", ".step.x", "a length needs its unit"),
        ("{repeat: S1, id: S2, step: 9 mm}", ".step", "lengths along x, y or z"),
        ("{repeat: S1, id: S2, turn: {about: W, at: {x: 1 mm}, by: 90°}}", ".turn", "an axis, a place and an angle"),
        ("{repeat: S1, id: S2, turn: {about: Z, at: {x: 1 mm}, by: 90 mm}}", ".turn.by", "'mm' is not a unit of angle"),
        ("{repeat: S1, id: S2, step: {x: 9 mm}, robott: C2B}", ".robott", "did you mean 'robot'?"),
        ("{repeat: S1, ids: [S2, S3], step: {x: 9 mm}, robot: C9X}", ".robot = 'C9X'", "there is no robot"),
        ("{repeat: S1, id: S1, step: {x: 9 mm}}", ".id, copy S1 of S1", "already named"),
    ],
)
def test_a_repeat_that_cannot_be_made_is_reported_once_with_its_line(
    load: Any, refused: Refused, repeat: str, place: str, words: str
) -> None:
    message = refused(lambda: load(ARC, f"      - {repeat}\n"))
    assert f"order.yaml:{LINE}: operations[0].seams[1]{place}" in message
    assert words in message
    assert message.count("->") == 1


GUSSET = "      - {id: gusset, name: Gusset, material: S235JR, thickness: 2 mm}\n"
DRAWN = GUSSET.replace(
    "2 mm}", "2 mm, outlines: [{plane: PLANE, offset: 5 mm, unit: in, points: [[0, 0], [1, 0], [0, 2]]}]}"
)


def with_repeat(plane: str, repeat: str) -> str:
    """Return an operation whose second component, drawn in a plane, is repeated."""
    return ARC.replace(GUSSET, f"{DRAWN.replace('PLANE', plane)}      - {{repeat: gusset, {repeat}}}\n")


def test_a_turn_backwards_by_right_angles_is_exact_too(load: Any) -> None:
    turn = "turn: {about: Z, at: {x: 0 mm}, by: -90°}"
    fine = ARC.replace("start: [100, 80, 2]", "start: [0.12345678, 80, 2]")
    (start, *_) = points(seams(load(fine, f"      - {{repeat: S1, id: S2, {turn}}}\n"))["S2"])
    assert start == (80, -0.12345678, 2)


@pytest.mark.parametrize(
    ("plane", "move", "expected"),
    [
        ("XY", "id: g2, step: {x: 1 in, z: 1 in}", ("XY", 30.4, [(1, 0), (2, 0), (1, 2)])),
        ("XY", "id: g2, mirror: {z: 0 mm}", ("XY", -5, [(0, 0), (1, 0), (0, 2)])),
        ("XZ", "id: g2, mirror: {y: 10 mm}", ("XZ", 15, [(0, 0), (1, 0), (0, 2)])),
        ("YZ", "id: g2, step: {x: 1 mm, y: 1 in}", ("YZ", 6, [(1, 0), (2, 0), (1, 2)])),
        ("XZ", "id: g2, turn: {about: Z, at: {x: 0 mm}, by: 90°}", ("YZ", -5, [(0, 0), (1, 0), (0, 2)])),
        ("XY", "id: g2, turn: {about: X, at: {y: 0 mm}, by: 90°}", ("XZ", -5, [(0, 0), (1, 0), (0, 2)])),
        ("XY", "id: g2, turn: {about: Z, at: {x: 0 mm}, by: -180°}", ("XY", 5, [(0, 0), (-1, 0), (0, -2)])),
        ("XY", "id: g2, turn: {about: Z, at: {x: 0 mm}, by: 60°}", ("XY", 5, [(0, 0), (0.5, 0.8660), (-1.7321, 1)])),
    ],
)
def test_a_component_is_repeated_with_its_outlines(
    load: Any, plane: str, move: str, expected: tuple[str, float, list[tuple[float, float]]]
) -> None:
    components = load(with_repeat(plane, move)).order.operations[0].components
    assert [component.id for component in components] == ["strip", "gusset", "g2"]
    (outline,) = components[2].outlines
    corners = [(float(x), float(y)) for x, y in outline.points]
    assert (outline.plane, outline.offset.m_as("mm")) == (expected[0], pytest.approx(expected[1], abs=1e-4))
    assert corners == [pytest.approx(corner, abs=1e-4) for corner in expected[2]]


@pytest.mark.parametrize(
    ("plane", "repeat", "place", "words"),
    [
        ("XZ", "id: g2, turn: {about: Z, at: {x: 0 mm}, by: 45°}", ".turn", "lies in no plane of the datum"),
        ("XY", "id: g2, step: {x: 1 mm}, material: S999", ".material = 'S999'", "there is no material"),
        ("XY", "id: g2", ".repeat", "no step, mirror or turn"),
        ("XY", "ids: [g2, g3], mirror: {x: 1 mm}", ".mirror", "lies on the first"),
    ],
)
def test_a_component_that_cannot_be_repeated_is_reported_once_where_the_repeat_is_written(  # noqa: PLR0917
    load: Any, refused: Refused, plane: str, repeat: str, place: str, words: str
) -> None:
    message = refused(lambda: load(with_repeat(plane, repeat)))
    assert f"operations[0].components[2]{place}" in message
    assert words in message
    assert message.count("->") == 1


def test_a_tube_that_is_turned_off_its_axis_is_refused_until_the_copy_says_its_own(load: Any, refused: Refused) -> None:
    tube = DRAWN.replace("PLANE", "XY").replace(
        "2 mm, outlines", "2 mm, section: {form: round tube, axis: X}, outlines"
    )
    turn = "      - {repeat: gusset, id: g2, turn: {about: Z, at: {x: 0 mm}, by: 90°}OWN}\n"
    message = refused(lambda: load(ARC.replace(GUSSET, tube + turn.replace("OWN", ""))))
    assert "no longer runs along the axis" in message
    turned = load(ARC.replace(GUSSET, tube + turn.replace("OWN", ", section: {form: round tube, axis: Y}")))
    assert turned.order.operations[0].components[2].section.axis == "Y"


def test_a_fault_of_the_original_is_reported_once_for_all_its_copies(load: Any, refused: Refused) -> None:
    repeat = "      - {repeat: S1, ids: [S2, S3, S4], step: {x: 9 mm}}\n"
    message = refused(lambda: load(ARC.replace("robot: C2A, path", "robot: C9A, path"), repeat))
    assert f"order.yaml:{LINE - 1}: operations[0].seams[0].robot = 'C9A'" in message
    assert message.count("->") == 1
    broken = ARC.replace("start: [100, 80, 2]", "start: [100, 8o, 2]")
    message = refused(lambda: load(broken, repeat))
    assert f"order.yaml:{LINE - 1}: operations[0].seams[0].path.start[1] = '8o'" in message
    assert message.count("->") == 1


def test_a_fault_of_the_defaults_is_reported_once_where_they_are_written(load: Any, refused: Refused) -> None:
    repeat = "      - {repeat: S1, ids: [S2, S3, S4], step: {x: 9 mm}}\n"
    message = refused(lambda: load(ARC.replace("position: PB", "position: PX"), repeat))
    assert f"order.yaml:{LINE - 3}: operations[0].weld defaults.position = 'PX'" in message
    assert message.count("->") == 1
    assert "keys of a weld are expected" in refused(
        lambda: load(
            ARC.replace("weld defaults: {joint: T fillet", "weld defaults: [{joint: T fillet").replace(
                "2.2 mm}", "2.2 mm}]"
            )
        )
    )


def test_a_fault_that_only_a_copy_has_names_the_repeat_and_the_copy(load: Any) -> None:
    order = load(ARC, "      - {repeat: S1, ids: [S2, S3], step: {x: 900 mm}}\n")
    [problem] = refusal("out of reach", "move it", key="operations[0].seams[2].path").problems
    placed = order.placed(problem)
    assert (placed.line, placed.key) == (LINE, "operations[0].seams[1], copy S3 of S1")
    [whole] = refusal("out of reach", "move it", key="operations[0].seams[2]").problems
    assert order.placed(whole).key == "operations[0].seams[1], copy S3 of S1"


COORDINATES = st.decimals(min_value=-5000, max_value=5000, places=3, allow_nan=False).map(lambda each: each + 0)


@given(st.tuples(COORDINATES, COORDINATES, COORDINATES), COORDINATES, st.sampled_from("xyz"))
def test_a_mirror_of_a_mirror_is_the_original(point: Any, plane: Any, axis: str) -> None:
    path = {"unit": "mm", "start": [str(each) for each in point], "pieces": []}
    twice = [
        {"id": "S1", "path": path},
        {"repeat": "S1", "id": "S2", "mirror": {axis: f"{plane} mm"}},
        {"repeat": "S2", "id": "S3", "mirror": {axis: f"{plane} mm"}},
    ]
    welds = written_out({"seams": twice}, "seams", (), Places("order.yaml")).welds
    assert [float(each) for each in welds[2]["path"]["start"]] == [float(each) for each in point]


@given(st.tuples(COORDINATES, COORDINATES, COORDINATES), st.sampled_from("XYZ"), st.integers(1, 12))
def test_turns_that_make_a_whole_circle_end_where_they_began(point: Any, about: str, number: int) -> None:
    path = {"unit": "mm", "start": [str(each) for each in point], "pieces": []}
    ids = [f"T{each}" for each in range(number)]
    turn = {"about": about, "at": {"x": "10 mm", "y": "-3 mm", "z": "7 mm"}, "by": f"{360 / number:.10f}°"}
    items = [{"id": "S1", "path": path}, {"repeat": "S1", "ids": ids, "turn": turn}]
    welds = written_out({"seams": items}, "seams", (), Places("order.yaml")).welds
    assert [float(each) for each in welds[-1]["path"]["start"]] == pytest.approx([float(p) for p in point], abs=2e-4)


def test_the_first_order_of_the_demo_is_the_one_with_every_weld_written_out(tmp_path: Path) -> None:
    name = "lk-2041-service-module"
    tables = load_workspace(ROOT)
    shutil.copytree(ROOT / "instructions" / name, tmp_path / "instructions" / name)
    shutil.copyfile(ROOT / "tests" / "bench" / "sample" / "order.yaml", tmp_path / "instructions" / name / "order.yaml")
    written = load_order(Workspace(tmp_path, tables.approved, tables.places), name).order
    assert load_order(tables, name).order == written
