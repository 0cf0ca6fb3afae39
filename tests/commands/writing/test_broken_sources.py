"""Deliberately broken sources through the real command: status, file and line, key, value, and what to do about it."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ORDER = "instructions/wo-1/order.yaml"
POINTS = "instructions/wo-1/points.csv"
SPOT = "tables/spot_uncoated.yaml"
CAPS = "tables/caps.yaml"


def line_of(path: Path, text: str) -> int:
    lines = path.read_text(encoding="utf-8").split("\n")
    [found] = [number for number, line in enumerate(lines, start=1) if text in line]
    return found


# what is broken; file; what is there, what a mistake makes of it; the text on the line named; what the message says
BROKEN = [
    (
        "a coordinate that no drawing has",
        ORDER,
        "[400, 300]",
        "[400, -1e99]",
        "-1e99",
        "operations[1].components[0].outlines[0].points[2][1] = '-1e99'",
        "beyond anything measured",
    ),
    (
        "a coordinate beyond 100 m",
        ORDER,
        "start: [103, 79, 2]",
        "start: [100001, 79, 2]",
        "100001",
        "operations[0].seams[0].path.start[0] = '100001'",
        "from -100000 to 100000",
    ),
    (
        "a coordinate beyond 100 m in its unit",
        ORDER,
        "[{unit: mm, points: [[0, 0], [400, 0], [400, 300]",
        "[{unit: m, points: [[0, 0], [400, 0], [400, 300]",
        "unit: m, points: [[0, 0], [400, 0]",
        "operations[1].components[0].outlines[0].points[1] = '400, 0'",
        "more than 100 m from the datum",
    ),
    (
        "a torch on its back",
        ORDER,
        "throat: 2.2 mm",
        "throat: 2.2 mm\n        work angle: 176 °",
        "work angle",
        "operations[0].seams[0].work angle = '176 °'",
        "from 5 to 85",
    ),
    (
        "a torch along its seam",
        ORDER,
        "throat: 2.2 mm",
        "throat: 2.2 mm\n        travel angle: -61 °",
        "travel angle",
        "operations[0].seams[0].travel angle = '-61 °'",
        "from -60 to 60",
    ),
    (
        "two names that differ by capitals",
        ORDER,
        "name: Door",
        "name: FRAME",
        "FRAME",
        "operations[1].name = 'FRAME'",
        "differs by capitals only from 'Frame'",
    ),
    (
        "misspelt key",
        ORDER,
        "throat: 2.2",
        "troat: 2.2",
        "troat",
        "operations[0].seams[0].troat = '2.2 mm'",
        "did you mean 'throat'?",
    ),
    (
        "no unit",
        ORDER,
        "throat: 2.2 mm",
        "throat: 2.2",
        "throat: 2.2",
        "operations[0].seams[0].throat = '2.2'",
        "write it like '2.2 mm'",
    ),
    (
        "decimal comma",
        ORDER,
        "throat: 2.2 mm",
        "throat: 2,2 mm",
        "throat",
        "operations[0].seams[0].throat = '2,2 mm'",
        "write it like",
    ),
    (
        "unit of another kind",
        ORDER,
        "throat: 2.2 mm",
        "throat: 2.2 kN",
        "throat",
        "operations[0].seams[0].throat",
        "units: mm, cm",
    ),
    (
        "weld below nothing",
        ORDER,
        "throat: 2.2 mm",
        "throat: -2.2 mm",
        "throat",
        "operations[0].seams[0].throat = '-2.2 mm'",
        "above 0 mm",
    ),
    (
        "throat that no run makes",
        ORDER,
        "throat: 2.2 mm",
        "throat: 9 mm",
        "throat",
        "operations[0].seams[0].throat",
        "change the size",
    ),
    (
        "unknown material",
        ORDER,
        "id: gusset, name: Gusset, material: S235JR",
        "id: gusset, name: Gusset, material: S235",
        "id: gusset",
        "operations[0].components[1].material = 'S235'",
        "did you mean 'S235JR'?",
    ),
    (
        "sheet beyond its material",
        ORDER,
        "Gusset, material: S235JR, thickness: 2 mm",
        "Gusset, material: S235JR, thickness: 40 mm",
        "id: gusset",
        "operations[0].components[1].thickness = '40 mm'",
        "check the thickness",
    ),
    (
        "sheet beyond the chart",
        ORDER,
        "S235JR, thickness: 2 mm",
        "S235JR, thickness: 4 mm",
        "- id: G1",
        "operations[0].seams[0] = '4 mm'",
        "a chart is never extrapolated",
    ),
    (
        "robot of another cell",
        ORDER,
        "robots: [C2A, C2B]",
        "robots: [C2A, C3B]",
        "robots: [C2A",
        "operations[0].robots[1] = 'C3B'",
        "are: C2A, C2B",
    ),
    (
        "two processes in an operation",
        ORDER,
        "process: 135",
        "process: [135, 21]",
        "process: [",
        "operations[0].process",
        "an operation for each process",
    ),
    (
        "seams and spots in an operation",
        ORDER,
        "    seams:",
        "    spots: []\n    seams:",
        "spots: []",
        "operations[0].spots",
        "an operation of its own",
    ),
    (
        "program forgotten",
        ORDER,
        "{C2A: P1, C2B: P2}",
        "{C2A: P1}",
        "{C2A: P1}",
        "operations[0].programs",
        "add 'C2B: ...'",
    ),
    ("date that is not", ORDER, "2026-12-04", "2026-02-31", "due:", "due = '2026-02-31'", "year-month-day"),
    ("no part to make", ORDER, "quantity: 20", "quantity: 0", "quantity", "quantity = '0'", "correct the quantity"),
    (
        "follows itself",
        ORDER,
        "quantity: 20",
        "quantity: 20\nprevious order: wo-1",
        "previous",
        "previous order = 'wo-1'",
        "allowed",
    ),
    (
        "alias",
        ORDER,
        "components: [gusset, strip]",
        "parts: &two [gusset, strip]",
        "&two",
        "operations[0].seams[0].parts = '&two'",
        "delete the anchor",
    ),
    ("text that turns round", ORDER, "title: Panel", "title: \u202ePanel", "title: \u202e", "'U+202E'", "delete it"),
    ("tab", ORDER, "quantity: 20", "quantity:\t20", "quantity", "'quantity:\\t20'", "YAML wants spaces"),
    (
        "file from elsewhere",
        ORDER,
        "welds: points.csv",
        "welds: ../wo-2/points.csv",
        "welds:",
        "operations[1].welds",
        "into the same folder",
    ),
    ("list without units", POINTS, "x (mm)", "x", "id,robot", "header = 'x'", "write 'x (mm)'"),
    ("letter for a digit", POINTS, "112,80,0", "112,8O,0", "8O", "y = '8O'", "digits with a decimal point"),
    (
        "spot off the sheet",
        POINTS,
        "112,30,0",
        "212,30,0",
        "212,30",
        "operations[1].spots[0] = 'A1'",
        "correct the spot's point",
    ),
    ("spots too close", POINTS, "112,80,0", "112,40,0", "112,40", "operations[1].spots[1]", "move one of the two"),
    ("same spot twice", POINTS, "A2,C5A", "A1,C5A", "112,80", "operations[1].spots[1].id = 'A1'", "its own name"),
    ("beyond the robot", POINTS, "112,30,0", "112,30,9000", "9000", "operations[1].spots[0]", "reaches"),
    ("table that nobody approved", CAPS, "approved:", "aproved:", "aproved:", "aproved", "did you mean 'approved'?"),
    (
        "gap between bands",
        SPOT,
        "[0.8, 1.0, 5,",
        "[0.85, 1.0, 5,",
        "[0.85",
        "rows[2].over",
        "begin where the one before it ends",
    ),
]


@pytest.mark.parametrize(
    ("file", "old", "new", "finds", "key", "word"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN]
)
def test_a_broken_source_is_reported_with_its_place_and_what_to_do(
    workshop: Path, run: Callable[..., Any], *, file: str, old: str, new: str, finds: str, key: str, word: str
) -> None:
    path = workshop / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    answer = run("check")
    assert answer.status == 1
    assert "Traceback" not in answer.errors
    place = f"{file}:{line_of(path, finds)}: {key}"
    [message] = [part for part in answer.errors.split("\n" + file) if place.removeprefix(file) in part][:1]
    assert word in message
    assert answer.out == ""


def test_amperes_for_kiloamperes_in_a_chart_are_reported_with_the_bound_and_its_source(
    workshop: Path, run: Callable[..., Any]
) -> None:
    path = workshop / SPOT
    path.write_text(path.read_text(encoding="utf-8").replace("current from: kA", "current from: A"), encoding="utf-8")
    answer = run("check")
    assert answer.status == 1
    line = line_of(path, "[0.4, 0.6")
    assert answer.errors.startswith(f"{SPOT}:{line}: rows[0].current from = '4 A'")
    assert "is not plausible" in answer.errors
    assert "ISO 14373" in answer.errors


def test_the_unbroken_workspace_is_good(run: Callable[..., Any]) -> None:
    answer = run("check")
    assert (answer.status, answer.errors) == (0, "")


BYTES = [
    ("UTF-16", lambda data: data.decode().encode("utf-16"), "save it as UTF-8"),
    ("Windows-1252", lambda data: data.replace(b"Strip", b"Stre\xefb"), "save the file as UTF-8"),
    ("a zero byte", lambda data: data.replace(b"Strip", b"Str\x00p"), "delete it"),
    ("nothing", lambda data: data[:0], "write its content"),
    (
        "brackets without end",
        lambda data: data.replace(b"quantity: 20", b"quantity: " + b"[" * 3000),
        "check the brackets",
    ),
    ("a list", lambda _: b"- a\n", "begin with a key"),
]


@pytest.mark.parametrize(("change", "word"), [case[1:] for case in BYTES], ids=[case[0] for case in BYTES])
def test_an_order_file_of_other_bytes_is_reported(
    workshop: Path, run: Callable[..., Any], change: Callable[[bytes], bytes], word: str
) -> None:
    path = workshop / ORDER
    path.write_bytes(change(path.read_bytes()))
    answer = run("check")
    assert answer.status == 1
    assert answer.errors.startswith(ORDER)
    assert word in answer.errors


@pytest.mark.parametrize("name", ["con", "My order", "WO-2", "a.b", "wo_2", "-x", "x" * 65])
def test_a_folder_that_cannot_be_an_address_is_reported(workshop: Path, run: Callable[..., Any], name: str) -> None:
    (workshop / "instructions" / "wo-1").rename(workshop / "instructions" / name)
    answer = run("check")
    assert answer.status == 1
    assert answer.errors.startswith(f"instructions/{name}:\n")
    assert "lower-case letters" in answer.errors


@pytest.mark.parametrize("angles", ["work angle: 5 °", "work angle: 85 °", "travel angle: -60 °", "travel angle: 60 °"])
def test_angles_up_to_their_bounds_are_good(workshop: Path, run: Callable[..., Any], angles: str) -> None:
    path = workshop / ORDER
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("throat: 2.2 mm", f"throat: 2.2 mm\n        {angles}"), encoding="utf-8")
    assert run("check").status == 0


@pytest.mark.parametrize(("due", "said"), [("1900-01-01", True), ("2026-11-28", True), ("2026-11-29", False)])
def test_a_due_date_that_has_passed_is_reported_before_the_first_release(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, due: str, *, said: bool
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1795946400")  # 2026-11-29, 10:00
    path = workshop / ORDER
    path.write_text(path.read_text(encoding="utf-8").replace("due: 2026-12-04", f"due: {due}"), encoding="utf-8")
    answer = run("check")
    assert (f"wo-1: due: {due} has passed before anything was released" in answer.out) is said
    assert answer.status == 0


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes")
def test_a_pipe_in_place_of_another_order_holds_no_command_up(workshop: Path, run: Callable[..., Any]) -> None:
    (workshop / "instructions" / "wo-2").mkdir()
    os.mkfifo(workshop / "instructions" / "wo-2" / "order.yaml")
    assert "wo-1: OK" in run("check", "T-1").out
    answer = run("build")
    assert "built 1, unchanged 0" in answer.out
    assert "instructions/wo-2/order.yaml" in answer.errors
