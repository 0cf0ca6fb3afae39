"""The procedure specification of an operation: every item of the list, what is stated, and what nobody states."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.calculation.qualification.values import Case, Terms
from weld_packets.packet.records.operation import ProcedureSheet
from weld_packets.packet.records.order import Packet
from weld_packets.processes.answers import ProcedureItem
from weld_packets.processes.family import family_of


@pytest.fixture(scope="module")
def packet(demo_packets: dict[str, Packet]) -> Packet:
    return demo_packets["lk-2063-coastal-column"]


def sheet(packet: Packet, number: int) -> ProcedureSheet:
    found = packet.operations[number - 1].procedure
    assert found is not None
    return ProcedureSheet.model_validate_json(found.model_dump_json().replace("\N{NO-BREAK SPACE}", " "))


def stated(of: ProcedureSheet, label: str) -> list[tuple[str, str]]:
    (item,) = [item for item in of.items if item.label == label]
    return [(line.of, line.text) for line in item.lines]


def test_every_item_of_the_list_is_on_the_sheet_in_its_order(packet: Packet) -> None:
    for number, operation in enumerate(packet.operations, 1):
        items = family_of(operation.process).procedure.items
        assert [(item.clause, item.label) for item in sheet(packet, number).items] == [
            (item.clause, item.label) for item in items
        ]


def test_the_clauses_read_of_iso_15609_1_are_all_there(packet: Packet) -> None:
    clauses = {item.clause for item in sheet(packet, 1).items}
    read = {"4.2", "4.3.1", "4.3.2", *(f"4.4.{number}" for number in range(1, 12))}
    assert clauses == {*read, ""}  # the clauses after 4.4.11 are not known
    assert sheet(packet, 1).source.endswith("the clauses after 4.4.11 are not known")


def test_the_sheet_of_spots_says_the_sequence_the_wear_of_the_caps_and_how_a_spot_may_fail(packet: Packet) -> None:
    spots = sheet(packet, 2)
    assert [(of, text.count(", ") + 1) for of, text in stated(spots, "Welds in sequence")] == [("C8A", 22), ("C8B", 30)]
    assert [text for _, text in stated(spots, "Dressing and change of the caps")] == [
        "dressed every 150 welds on hot-dip zinc", "changed after 30 dressings"
    ]  # fmt: skip
    ((of, text),) = stated(spots, "Failure type in the test")
    assert of == "stacks front, back and rail and stacks triple-front and triple-back"
    assert text.partition("; ")[2] == "not accepted: interface"
    assert text.startswith("good: symmetric plug, asymmetric plug, partial plug, ")
    assert [item.label for item in spots.items if not item.lines] == [
        "Surface, cleaning, waiting time", "Permitted gap", "Calibration of the force", "Upslope, downslope",
        "Control of the current: mode", "Penetration", "Indentation, surface class",
        "Treatment after welding",
    ]  # fmt: skip


def test_a_strength_that_cannot_be_calculated_says_what_is_missing_and_where_it_goes(packet: Packet) -> None:
    assert stated(sheet(packet, 2), "Strength of a spot") == [
        ("", "cannot be calculated: the table of materials has no 'tensile strength' of DX51D-Z275")
    ]


def test_a_travel_angle_says_push_or_drag_as_its_number_does_not(demo_packets: dict[str, Packet]) -> None:
    assert stated(sheet(demo_packets["lk-2063-coastal-column"], 1), "Torch angles") == [
        ("", "Work angle: 45°"), ("", "Travel angle: 10° push")
    ]  # fmt: skip
    downward = stated(sheet(demo_packets["lk-2041-service-module"], 2), "Torch angles")
    assert ("T fillet a 2.2 mm, PG, 2 mm + 2 mm", "Travel angle: 10° drag") in downward


def test_what_an_item_says_besides_has_its_label(packet: Packet) -> None:
    beams = sheet(packet, 1)
    assert ("", "Root gap: at most 0.0236 in (0.60 mm)") in stated(beams, "Joint, throat, leg, gap")
    assert stated(beams, "Preheat")[0] == (
        "", "Preheat: not calculated: the method does not cover this joint; the temperature of the components applies"
    )  # fmt: skip
    assert [text for _, text in stated(beams, "Tacks")] == ["none: the clamps hold"]  # an item of one detail


def test_records_of_welds_with_one_title_are_distinguished_by_their_welds(packet: Packet) -> None:
    named = [of for of, _ in stated(sheet(packet, 1), "Qualification record (WPQR)")]
    assert [of.partition("(")[2] for of in named] == ["", "K1, K2, K3 … K6 (6))", "N1, N2)"]


def test_what_order_and_tables_say_nothing_of_has_no_line(packet: Packet) -> None:
    silent = [item.label for item in sheet(packet, 1).items if not item.lines]
    assert silent == [
        "Edge preparation, cleaning", "Weave: amplitude, frequency, dwell, width", "Backing gas",
        "Filler: maker, trade name", "Handling of the filler: drying, holding", "Preheat maintenance", "Post-heating",
        "Heat treatment after welding",
    ]  # fmt: skip


def test_what_cannot_be_of_the_welds_does_not_apply_instead_of_being_unsaid(demo_packets: dict[str, Packet]) -> None:
    """No fillet has a groove, and only a pulsed arc has pulse data; what is not known of an arc is not stated."""

    def of(folder: str, number: int) -> set[str]:
        items = sheet(demo_packets[folder], number).items
        return {item.label for item in items if [line.text for line in item.lines] == ["does not apply"]}

    grooves = {"Groove: root face, angle", "Back gouging: method, depth, shape", "Backing: material, size"}
    assert of("lk-2063-coastal-column", 1) == {*grooves, "Pulse data"}
    assert of("lk-2063-coastal-column", 2) == set()  # spots
    for packet in demo_packets.values():
        for operation in packet.operations:
            butts = any("butt" in group.title for group in operation.groups)
            assert of(packet.head.slug, operation.number).isdisjoint(grooves) or not butts


@pytest.mark.parametrize(
    ("has", "applies"),
    [
        ({"transfer mode": Terms(("pulsed",))}, True),
        ({"transfer mode": Terms(("spray",))}, False),
        ({"transfer mode": None}, True),  # nobody says it
        ({}, True),  # an arc that melts no wire
    ],
)
def test_an_item_applies_to_welds_that_have_its_word_or_of_which_it_is_not_known(has: Any, *, applies: bool) -> None:
    item = ProcedureItem("", "Pulse data", of_welds={"transfer mode": ("pulsed",)})
    assert item.applies_to(Case(("W1",), "fillet", has)) is applies


def test_the_heat_input_is_computed_between_the_ends_of_the_allowed_ranges(packet: Packet) -> None:
    low = 0.8 * 26.4 * 254 / 8.128 / 1000  # k U I / v at the lower ends, and the fastest speed, 19.2 in/min
    high = 0.8 * 29.3 * 282 / 6.604 / 1000  # at the upper ends, and the slowest speed, 15.6 in/min
    (_, text), *_ = stated(sheet(packet, 1), "Heat input, by the allowed ranges")
    assert (round(low, 4), round(high, 4)) == (0.66, 1.0009)  # 16.76 and 25.42 kJ/in, rounded inward
    assert text == "16.8 kJ/in (0.66 kJ/mm) to 25.4 kJ/in (1 kJ/mm)"


def test_passes_temperatures_and_records_are_stated_by_weld(packet: Packet) -> None:
    one = sheet(packet, 1)
    assert stated(one, "Passes in sequence")[0] == (
        "T fillet a 0.215 in",
        "1. root, at the root; 2. over the first pass, at the upper toe of the first pass",
    )
    assert ("T fillet a 0.215 in, PB, 0.25 in + 0.25 in", "WPQR-135-07, ISO 15614-1:2017+A1:2019, level 2") in stated(
        one, "Qualification record (WPQR)"
    )
    materials = dict(stated(one, "Parent materials and groups"))
    assert materials["Anchor base 24 x 4 and Boss, diameter 1.5"] == "S235JR plate and strip, EN 10025-2, group 1.1"


def test_it_is_preliminary_while_a_weld_is_not_inside_and_names_its_test_piece(packet: Packet) -> None:
    assert [sheet(packet, number).preliminary for number in (1, 2, 3, 4)] == [True, True, False, True]
    (piece,) = sheet(packet, 2).test_pieces
    assert piece.welds[:2] == ("A03", "A07")
    assert "weld current 10 kA to 13 kA" in piece.weld
    assert "none; WPQR-21-06 is nearest and does not cover it" in [
        text for _, text in stated(sheet(packet, 2), "Qualification record (WPQR)")
    ]


def test_each_kind_of_joint_is_drawn_once_with_its_sizes_and_passes(packet: Packet) -> None:
    pictures = sheet(packet, 1).pictures
    assert [picture.description for picture in pictures] == [
        "T fillet, 0.25 in and 0.25 in, z 0.305 in, a 0.215 in, 2 passes",
        "T fillet, 0.25 in and 0.25 in, z 0.220 in, a 0.155 in",
    ]
    assert [picture.title for picture in sheet(packet, 2).pictures] == [
        "Stacks front, back: 0.036 in + 0.042 in",
        "Stacks triple-front, triple-back: 0.036 in + 0.042 in + 0.06 in",
        "Stack rail: 0.036 in + 0.036 in",
    ]


def test_a_record_that_may_cover_welds_is_not_said_to_leave_them_out(packet: Packet) -> None:
    texts = [text for _, text in stated(sheet(packet, 4), "Qualification record (WPQR)")]
    assert texts == ["cannot be decided; WPQR-135-12 is nearest"]
