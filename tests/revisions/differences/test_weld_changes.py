from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import WeldGeometry
from weld_packets.revisions.differences.changes import WeldChanged
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.differences.weld_changes import distance

Leaf = Callable[..., Packet]
ROW = ("operations", 0)


def said(old: Packet, new: Packet) -> list[str]:
    return [str(change) for change in diff(old, new)]


def raw(items: Any) -> list[Any]:
    return [json.loads(item.model_dump_json()) for item in items]


def seam(*pieces: tuple[str, ...]) -> WeldGeometry:
    return WeldGeometry(key="w1", robot="R1", side="A", form="seam", pieces=pieces, label="A1")


def test_a_moved_spot_says_how_far(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*ROW, "geometry", 1, "pieces"), [["43", "4", "0"]])
    new = leaf(new, (*ROW, "welds", 1, "cells", 2), "43")
    (change,) = diff(packet, new)
    assert isinstance(change, WeldChanged)
    assert str(change) == "operation 2: weld s2 moved 5.0 mm; 40/0/0 -> 43/4/0; x, mm 40 -> 43"
    assert change.paths == (("operations", "operation-2", "geometry", "s2"),)


@pytest.mark.parametrize(("x", "far"), [("40.15", "0.2"), ("40.1", "0.1"), ("40.04", "0.04"), ("40.004", "0.004")])
def test_a_move_is_stated_to_a_tenth_and_a_smaller_one_with_its_own_digits(
    packet: Packet, leaf: Leaf, x: str, far: str
) -> None:
    new = leaf(packet, (*ROW, "geometry", 1, "pieces"), [[x, "0", "0"]])
    (change,) = diff(packet, new)
    assert f"weld s2 moved {far} mm" in str(change)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (seam(("0", "0", "0"), ("10", "0", "0")), seam(("0", "0", "0"), ("10", "3", "4")), "5.0"),
        (seam(("0", "0", "0"), ("5", "5", "0", "10", "0", "0")), seam(("0", "0", "1"), ("5", "7", "0", "10", "0", "0")),
         "2.0"),
        (seam(("0", "0", "0")), seam(("0.03", "0", "0")), "0.03"),
        (seam(("0", "0", "0")), seam(("0", "0", "0")), ""),
        (seam(("0", "0", "0"), ("10", "0", "0")), seam(("0", "0", "0")), ""),
        (seam(("0", "0", "0"), ("10", "0", "0")), seam(("0", "0", "0"), ("5", "5", "0", "10", "0", "0")), ""),
        (seam(("0", "0", "0")), seam(("left", "0", "0")), ""),
    ],
)  # fmt: skip
def test_the_distance_is_that_of_the_point_that_moved_farthest(
    old: WeldGeometry, new: WeldGeometry, expected: str
) -> None:
    assert distance(old, new) == expected


def test_a_path_with_other_pieces_is_drawn_anew(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*ROW, "geometry", 0, "pieces"), [["10", "0", "0"], ["20", "0", "0"]])
    assert said(packet, new) == ["operation 2: weld s1 path drawn anew: 10/0/0 -> 10/0/0 - 20/0/0"]


def test_added_and_removed_welds_say_robot_and_place_and_renumber_the_rest_in_one_line(
    packet: Packet, leaf: Leaf
) -> None:
    geometry, lines = raw(packet.operations[0].geometry), raw(packet.operations[0].welds)
    moved_up = geometry[1] | {"label": "A1"}
    new = leaf(packet, (*ROW, "geometry"), [moved_up, geometry[2]])
    new = leaf(new, (*ROW, "welds"), [lines[1], lines[2]])
    assert said(packet, new) == [
        "operation 2: weld s1 removed, was robot R3, at 10/0/0 mm",
        "operation 2: renumbered: s2 A2 -> A1",
    ]
    assert said(new, packet) == [
        "operation 2: weld s1 added, robot R3, at 10/0/0 mm",
        "operation 2: renumbered: s2 A1 -> A2",
    ]


def test_a_weld_given_to_the_other_robot_says_so(packet: Packet, leaf: Leaf) -> None:
    new = leaf(leaf(packet, (*ROW, "geometry", 2, "robot"), "R3"), (*ROW, "geometry", 2, "side"), "A")
    assert said(packet, new) == ["operation 2: weld s3 robot R4 -> R3; side B -> A"]


def test_welds_in_another_order_are_said(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*ROW, "geometry"), raw(packet.operations[0].geometry)[::-1])
    assert said(packet, new) == ["operation 2: welds in another order"]


def test_a_line_with_other_columns_is_said_whole(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*ROW, "welds", 0, "cells"), ["s1"])
    assert said(packet, new) == ["operation 2: weld s1 line s1 | R3 | 10 -> s1"]


def test_a_cell_without_a_head_is_said_by_its_number(packet: Packet, leaf: Leaf) -> None:
    old = leaf(packet, (*ROW, "weld_columns"), ["No."])
    new = leaf(old, (*ROW, "welds", 0, "cells", 2), "12")
    assert said(old, new) == ["operation 2: weld s1 column 3 10 -> 12"]


def test_a_weld_whose_place_is_stated_once_only_says_so(packet: Packet, leaf: Leaf) -> None:
    new = leaf(packet, (*ROW, "geometry"), raw(packet.operations[0].geometry)[:2])
    assert said(packet, new) == ["operation 2: weld s3 its place is not stated in both"]
    other = leaf(new, (*ROW, "welds", 2, "cells", 2), "71")
    assert said(new, other) == ["operation 2: weld s3 x, mm 70 -> 71"]


def test_a_weld_with_a_line_alone_is_added_without_a_place(packet: Packet, leaf: Leaf) -> None:
    lines = raw(packet.operations[0].welds)
    new = leaf(packet, (*ROW, "welds"), [*lines, lines[0] | {"key": "s4"}])
    assert said(packet, new) == ["operation 2: weld s4 added, robot (not given), at (not given)"]


def test_a_new_column_of_the_table_is_no_change_of_a_weld(packet: Packet, leaf: Leaf) -> None:
    operation = packet.operations[0]
    wider = leaf(packet, (*ROW, "weld_columns"), ["length, mm", *operation.weld_columns])
    wider = leaf(wider, (*ROW, "welds"), [{**line, "cells": ["12", *line["cells"]]} for line in raw(operation.welds)])
    assert not [change for change in diff(packet, wider) if "weld s" in str(change)]
    moved = leaf(wider, (*ROW, "welds", 1, "cells", 3), "43")
    (change,) = [change for change in diff(packet, moved) if "weld s" in str(change)]
    assert str(change) == "operation 2: weld s2 x, mm 40 -> 43"
