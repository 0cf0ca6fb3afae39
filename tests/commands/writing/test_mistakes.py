"""Mistakes that engineers make in their first orders: each is one message, which says what to write instead."""
# ruff: noqa: E501 - one mistake is one line

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.commands.writing.init import starter_files

ORDER = "instructions/sr-1-seed-tray-rack/order.yaml"
LIST = "instructions/sr-1-seed-tray-rack/p.csv"
SPOT_CHART = "tables/spot_uncoated_points.yaml"
MACHINES, GASES, MATERIALS, WIRES = (f"tables/{name}.yaml" for name in ("machines", "gases", "materials", "wires"))
SPOTS = "    spots:                              # in the order in which each robot welds them\n"
FROM_LIST = (ORDER, SPOTS, "    welds: p.csv\n    spots_:\n")
HEAD = "id,robot,stack,x (in),y (in),z (in)\n"
Check = Callable[..., str]


@pytest.fixture
def check(started: Callable[..., Path], capsys: Any) -> Check:
    """Starts a plant in US customary units, makes a mistake in a file of it, and returns what check prints."""

    def checked(*mistakes: tuple[str, str, str], status: int = 1) -> str:
        plant = started(mistakes)
        capsys.readouterr()
        assert main(["--root", str(plant), "check"]) == status
        return str(capsys.readouterr().err)

    return checked


ROBOTS = "robots: [W1A, W1B] "
MISTAKES = [
    # ---- units
    ("gauge in a table", MATERIALS, "thickness to: 0.135 in", "thickness to: 10 ga", ("entries[0].thickness to = '10 ga'", "did you mean the thickness in inches")),
    ("fraction of thirds", ORDER, "leg: 0.13 in", "leg: 1/3 in", ("seams[0].leg = '1/3 in'", "halves to sixty-fourths")),
    ("fraction of mm", ORDER, "leg: 0.13 in", "leg: 1/8 mm", ("seams[0].leg = '1/8 mm'", "fractions are read of inches alone")),
    ("fraction with a hyphen", ORDER, "leg: 0.13 in", "leg: 1-1/8 in", ("seams[0].leg = '1-1/8 in'", "write it like '3/16 in', '1 1/4 in' with a blank")),
    ("pounds of force", MACHINES, "force to: 1000 lbf", "force to: 1000 lb", ("guns[0].force to = '1000 lb'", "did you mean 'lbf'?")),
    ("cycles of no mains", MACHINES, "time step: 1 cycles@60Hz", "time step: 1 cycles", ("guns[0].time step", "did you mean 'cycles@50Hz' or 'cycles@60Hz'?")),
    ("gallons", MACHINES, "1.5 gal/min", "1.5 gpm", ("guns[0].cooling flow", "did you mean 'gal/min'?")),
    ("inch in words", ORDER, "thickness: 0.12 in", "thickness: 0.12 inch", ("components[0].thickness", "did you mean 'in'?")),
    ("capitals", ORDER, "thickness: 0.12 in", "thickness: 3 MM", ("components[0].thickness", "did you mean 'mm'?")),
    ("cycles of other mains", MACHINES, "time step: 1 cycles@60Hz", "time step: 1 cycles@50Hz", ("guns[0].time step", "write cycles@60Hz")),
    # ---- lengths in the order's own system, and all welds of one mistake in one message
    ("flange too narrow", ORDER, "[14.4, 3.2], [14.4, 4.8], [1.6, 4.8]", "[14.4, 3.2], [14.4, 4.1], [1.6, 4.1]", ("spots[0] = '0.100 in'", "spot A1 is 0.100\N{NO-BREAK SPACE}in (2.5\N{NO-BREAK SPACE}mm) from the edge of Stiffener; at least 0.2")),
    ("robot too short for all spots", MACHINES, "base: [4, -32, -12]\n    base unit: in\n    reach: 65 in\n    equipment: G-W2A", "base: [4, -32, -12]\n    base unit: in\n    reach: 36 in\n    equipment: G-W2A", ("spots[0] = '37.98 in'", "(likewise A2 37.")),
    ("leg above the chart", ORDER, "leg: 0.13 in", "leg: 0.5 in", ("seams[0].leg = '0.5 in'", "this chart makes legs of 0.1")),
    # ---- keys
    ("part of a key", SPOT_CHART, "  thickness ratio: 3", "  ratio: 3", ("stack limits.ratio = '3'", "did you mean 'thickness ratio'?")),
    ("missing key", SPOT_CHART, "governing thickness: thinnest outside\n", "", (": governing thickness", "(which sheet of a stack gives the thickness of the chart)")),
    ("needed key without a value", ORDER, "title: Seed tray rack, first order", "title:", (": title", "only a key that may be left out can be deleted instead")),
    ("needed key with an empty text", ORDER, "title: Seed tray rack, first order", 'title: ""', (": title", "write it; only a key that may be left out")),
    ("keys for a list", ORDER, "          - {unit: in, points: [[0, 0], [16, 0]", "          {unit: in, points: [[0, 0], [16, 0]", ("components[0].outlines", "write '- ' before the first key")),
    # ---- words
    ("TIG", ORDER, 'process: "135"', "process: TIG", ("operations[0].process = 'TIG'", "write 141 (TIG welding with solid filler) or 142")),
    ("GMAW", ORDER, 'process: "135"', "process: GMAW", ("operations[0].process = 'GMAW'", "write 131 (MIG welding with solid wire), 135")),
    ("plasma", ORDER, 'process: "135"', 'process: "15"', ("operations[0].process = '15'", "this process is not covered")),
    ("TIG in a plant without its tables", ORDER, 'process: "135"', 'process: "141"', ("operations[0].process = '141'", "'tungsten chart' and of kind 'tungsten electrodes'")),
    ("2F", ORDER, "position: PB   ", "position: 2F   ", ("seams[0].position = '2F'", "2F of AWS is PB here")),
    ("1F", ORDER, "position: PB   ", "position: 1F   ", ("seams[0].position = '1F'", "1F of AWS is PA here")),
    ("3F", ORDER, "position: PB   ", "position: 3f   ", ("seams[0].position = '3f'", "3F of AWS is PF upward or PG downward here")),
    ("4F", ORDER, "position: PB   ", "position: 4F   ", ("seams[0].position = '4F'", "4F of AWS is PD here")),
    ("1G", ORDER, "position: PB   ", "position: 1G   ", ("seams[0].position = '1G'", "1G of AWS is PA here")),
    ("2G", ORDER, "position: PB   ", "position: 2G   ", ("seams[0].position = '2G'", "2G of AWS is PC here")),
    ("4G", ORDER, "position: PB   ", "position: 4G   ", ("seams[0].position = '4G'", "4G of AWS is PE here")),
    ("D1.1", ORDER, "quality: C", "quality: AWS D1.1", ("operations[0].quality = 'AWS D1.1'", "criteria of another code are not covered")),
    ("misspelt key", ORDER, "quantity: 100", "quantitiy: 100", ("quantitiy = '100'", "did you mean 'quantity'?")),
    ("misspelt key of a seam", ORDER, "        joint: T fillet", "        jiont: T fillet", ("seams[0].jiont", "did you mean 'joint'?")),
    # ---- pairs
    ("pair from two cells", ORDER, ROBOTS, "robots: [W1A, W2B] ", ("operations[0].robots[1] = 'W2B'", "in cell 'W2', not in 'W1'")),
    ("pair of another process", ORDER, ROBOTS, "robots: [W2A, W2B] ", ("operations[0].robots = 'W2A, W2B'", "both robots are in another cell, 'W2'")),
    ("robot of a pair misspelt", ORDER, ROBOTS, "robots: [W1A, W9B] ", ("operations[0].robots[1] = 'W9B'", "there is no robot of this name")),
    ("robot of a weld misspelt", ORDER, "robot: W1B", "robot: W9B", ("seams[1].robot = 'W9B'", "did you mean 'W1B'?")),
    ("one robot", ORDER, ROBOTS, "robots: [W1A] ", ("operations[0].robots[1]", "a pair of robots, and one is named")),
    ("all welds on one robot", ORDER, "robot: W1B", "robot: W1A", ("coupon programs.W1B", "robot W1B welds nothing in this operation")),
    # ---- geometry
    ("arc by its centre", ORDER, "- {to: [5.8, 2.34, 0.12]}", "- {centre: [4, 2, 0], to: [5.8, 2.34, 0.12]}", ("pieces[0].centre", "allowed: to, via")),
    ("spot outside both sheets", ORDER, "x: 2.4 in, y: 4 in", "x: 20 in, y: 4 in", ("spots[0] = 'A1'", "outside the outline of Shelf sheet and of Stiffener")),
    ("stiffener too short", ORDER, "[[1.6, 3.2], [14.4, 3.2], [14.4, 4.8], [1.6, 4.8]]", "[[1.6, 3.2], [1.7, 3.2], [1.7, 4.8], [1.6, 4.8]]", ("components[1] = 'stiffener'", "8 spots are outside the outline of Stiffener")),
    ("outline in another unit", ORDER, "{unit: in, points: [[1.6, 3.2]", "{unit: mm, points: [[1.6, 3.2]", ("outlines[0].unit", "the whole drawing of component Stiffener is 25.4 times too small")),
    ("path in another unit", ORDER, "unit: in\n          start: [2.2, 2.34", "unit: mm\n          start: [2.2, 2.34", ("seams[0].path.unit = 'mm'", "write 'unit: in' for the path")),
    ("seam in the air", ORDER, "start: [2.2, 2.34, 0.12]", "start: [2.2, 2.34, 8.12]", ("seams[0].path = 'S1'", "runs through the air")),
    # ---- sizes and tables
    ("leg larger than the chart", ORDER, "leg: 0.13 in", "leg: 0.5 in", ("seams[0].leg = '0.5 in'", "the chart does not make this size")),
    ("wire of another diameter", WIRES, "diameter: 0.040 in", "diameter: 0.045 in", ("operations[0].seams[0]", "no arc chart fits a T fillet")),
    ("four sheets", ORDER, "sheets: [shelf, stiffener]", "sheets: [shelf, stiffener, shelf, stiffener]", ("stacks[0].sheets", "at most 3 sheets are welded by one spot")),
    ("part and coupon by one program", ORDER, "{W1A: {1: T1A}", "{W1A: {1: P1A}", ("coupon programs.W1A.1 = 'P1A'", "welds the part with this program")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "old", "new", "words"), [each[1:] for each in MISTAKES], ids=[each[0] for each in MISTAKES]
)
def test_a_mistake_is_one_message_with_its_place_and_what_to_write(
    check: Check, file: str, old: str, new: str, words: tuple[str, str]
) -> None:
    message = check((file, old, new))
    place, remedy = words
    assert message.count("\n    -> ") == 1
    assert place in message
    assert remedy in message
    assert message.endswith("1 problem\n")


@pytest.mark.parametrize(
    ("name", "header", "words"),
    [
        ("column without its unit", HEAD.replace("x (in)", "x"), ("= 'x'", "this column needs a unit")),
        ("unit in words", HEAD.replace("y (in)", "y (inch)"), ("= 'y (inch)'", "did you mean 'in'? write 'y (in)'")),
        ("column of notes", HEAD.replace("z (in)", "z (in),note"), ("= 'note'", "this is not a column of this list")),
    ],
)
def test_a_mistake_in_the_header_of_a_list_is_one_message(
    check: Check, name: str, header: str, words: tuple[str, str]
) -> None:
    row = "A1,W2A,rib,2,4,0" + ",x" * (header.count(",") - HEAD.count(","))
    message = check(FROM_LIST, (LIST, "", f"{header}{row}\n"))
    assert f"p.csv:1: header {words[0]}" in message, name
    assert words[1] in message
    assert message.count("p.csv") == 1


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("thickness: 0.12 in", "thickness: 11 ga"),
        ("thickness: 0.12 in", "thickness: 1/8 in"),
        ("leg: 0.13 in", "leg: 1/8 in"),
    ],
)
def test_gauges_and_fractions_are_read(check: Check, old: str, new: str) -> None:
    assert "problem" not in check((ORDER, old, new), status=0)


def test_a_gauge_of_coated_sheet_is_not_guessed(check: Check) -> None:
    coated = (MATERIALS, "base: low-carbon steel", "base: low-carbon steel\n    coating: hot-dip zinc")
    message = check(coated, (ORDER, "thickness: 0.04 in", "thickness: 20 ga"))
    assert (
        "components[0].thickness = '20 ga'\n    a gauge of coated or stainless sheet is another thickness, and no table of "
        "the plant gives it\n    -> write the thickness that the supplier states, or a table 'kind: sheet gauges'"
    ) in message
    assert "components[0].thickness = '2 ga'\n    the manufacturers' standard gauge has the numbers 3 to 30" in check(
        (ORDER, "thickness: 0.12 in", "thickness: 2 ga")
    )


def test_a_gauge_in_which_the_material_is_not_supplied_is_quoted_as_it_was_typed(check: Check) -> None:
    message = check(
        (ORDER, "thickness: 0.12 in", "thickness: 9 gauge"), (ORDER, "thickness: 0.12 in", "thickness: 0.2 in")
    )
    listed = "A1008-CS is listed from 0.015 in to 0.135 in"
    assert f"components[0].thickness = '9 ga'\n    9 ga is 0.1495 in; {listed}\n" in message
    assert f"components[1].thickness = '0.2 in'\n    {listed}\n" in message


def test_one_cycle_and_standard_cubic_feet_are_units(check: Check) -> None:
    one = (MACHINES, "time step: 1 cycles@60Hz", "time step: 1 cycle@60Hz")
    check(one, (GASES, "17 cfh", "17 scfh"), (MATERIALS, "density: 7.85 g/cm³", "density: 0.2836 lb/in³"), status=0)


def test_tables_and_orders_are_corrected_in_one_round(check: Check) -> None:
    message = check((GASES, "group: ISO", "grup: ISO"), (ORDER, "fixture: F-1", "fixtur: F-1"))
    assert "tables/gases.yaml" in message
    assert "operations[0].fixtur" in message
    assert message.endswith("2 problems\n")


def test_rows_that_cannot_be_read_hide_no_other_mistake_of_their_table(check: Check) -> None:
    message = check((SPOT_CHART, "form: points", "form: lines"), (SPOT_CHART, "cap face: in", "cap face: inch"))
    assert "form = 'lines'" in message
    assert "columns.cap face = 'inch'" in message
    assert message.endswith("2 problems\n")


def test_an_order_that_follows_a_wrong_one_does_not_repeat_its_faults(check: Check) -> None:
    order = starter_files("US customary", "both", "60")[ORDER]
    second = order.replace("order: SR-1", "order: SR-2").replace("P1", "P3").replace("P2", "P4").replace("T1", "T3")
    second = second.replace("T2", "T4").replace(
        "revision intent", "previous order: sr-1-seed-tray-rack\nrevision intent"
    )
    path = "instructions/sr-2-next/order.yaml"
    message = check((path, "", second), (ORDER, "leg: 0.13 in", "leg: 0.5 in"))
    assert message.count("\n    -> ") == 1
