from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action

STEP_WORDS = 20
"""A step is no longer than this."""
LONG_NUMBER = re.compile(r"\d\.0*[1-9]\d{5,}|\d(?:\.\d+)?e[+-]\d+", re.IGNORECASE)


@pytest.fixture(scope="module")
def packets(demo_packets: dict[str, Packet]) -> tuple[Packet, ...]:
    return tuple(demo_packets.values())


def _steps(packet: Packet) -> Iterator[Action]:
    for operation in packet.operations:
        yield from (*operation.confirm, *operation.set_up, *operation.prove)
    yield from (*packet.start, *packet.run_steps)
    if packet.changeover is not None:
        yield from packet.changeover.steps


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            if key not in ("svg", "expression", "formulas"):
                yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def test_every_step_of_the_demo_begins_with_a_verb_and_is_short(
    packets: tuple[Packet, ...], verbs: frozenset[str]
) -> None:
    for step in (step for packet in packets for step in _steps(packet)):
        assert step.do.split()[0] in verbs, step.do
        assert len(step.do.split()) <= STEP_WORDS, step.do


def test_no_text_of_the_demo_shows_the_digits_of_a_float(packets: tuple[Packet, ...]) -> None:
    found = [text for packet in packets for text in _texts(packet.model_dump(mode="json")) if LONG_NUMBER.search(text)]
    assert found == []


def test_a_limit_and_a_required_size_have_one_text_in_the_whole_order(demo_packets: dict[str, Packet]) -> None:
    """0.6 mm is 0.02362 in; 0.023 would be another limit, and 0.024 a wider gap. What is left of a throat likewise."""
    text = " ".join(_texts(demo_packets["lk-2063-coastal-column"].operations[0].model_dump(mode="json")))
    text = text.replace("\N{NO-BREAK SPACE}", " ")
    assert set(re.findall(r"0\.02[34]\d* in \([\d.]+ mm\)", text)) == {"0.0236 in (0.60 mm)"}
    assert set(re.findall(r"0\.215 in \([\d.]+ mm\)", text)) == {"0.215 in (5.47 mm)"}  # required: 5.461 mm, up
    assert set(re.findall(r"0\.19[5-9]\d* in \([\d.]+ mm\)", text)) == {"0.198 in (5.0 mm)"}


def test_demo_packets_survive_json_unchanged(packets: tuple[Packet, ...]) -> None:
    assert all(Packet.model_validate_json(packet.model_dump_json()) == packet for packet in packets)


def test_every_set_value_lies_in_its_window_in_both_systems(packets: tuple[Packet, ...]) -> None:
    for value in (
        value
        for packet in packets
        for operation in packet.operations
        for group in operation.groups
        for value in group.dialled
    ):
        if value.amount is None or value.window is None:
            continue
        ends = ((value.amount.value, value.window.low, value.window.high),
                (value.amount.second, value.window.second_low, value.window.second_high))  # fmt: skip
        for now, low, high in ends:
            assert not low or float(low) <= float(now), value.anchor
            assert not high or float(now) <= float(high), value.anchor


def test_every_weld_of_the_demo_is_in_exactly_one_group_of_its_operation(packets: tuple[Packet, ...]) -> None:
    for operation in (operation for packet in packets for operation in packet.operations):
        grouped = sorted(weld for group in operation.groups for weld in group.welds)
        assert grouped == sorted(line.key for line in operation.welds)


def test_operations_with_welds_in_several_planes_are_also_shown_pictorially(packets: tuple[Packet, ...]) -> None:
    titles = {operation.name: [picture.title for picture in operation.pictures] for operation in packets[0].operations}
    assert titles["Service door"] == ["Spot map", "Spots, pictorial view"]
    assert titles["Foot strips"] == ["Seam map", "Seams, pictorial view", "Torch attitude"]
    assert titles["Base frame"] == ["Seam map", "Torch attitude"]


def test_every_line_of_consumables_leads_to_a_figure_of_the_run(packets: tuple[Packet, ...]) -> None:
    for packet in packets:
        anchors = [value.anchor for value in packet.run.values]
        assert len(anchors) == len(set(anchors))
        assert {line.anchor for line in packet.run.consumables} <= set(anchors)


def test_robots_with_equal_figures_share_them(packets: tuple[Packet, ...]) -> None:
    labels = [value.label for value in packets[0].run.values]
    assert "Wire: use for one part, C1A and C1B" in labels
    assert "Electrode caps: welds for one part, C5A" in labels
    assert "Gas: use for one part, C1" in labels


def test_nobody_is_asked_for_drips_where_the_cooling_water_stays_shut(packets: tuple[Packet, ...]) -> None:
    lists = [list(_steps(packet)) for packet in packets] + [
        list(procedure.steps) for packet in packets for procedure in packet.procedures
    ]
    dripping = [step for steps in lists for step in steps if "drip" in step.see]
    assert dripping
    assert [step.do for step in dripping if "cooling water" not in step.do] == []
