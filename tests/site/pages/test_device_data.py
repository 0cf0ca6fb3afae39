"""What page scripts learn of an order from its own pages."""

from __future__ import annotations

import json

from weld_packets.packet.records.order import Control, Packet, RunRule
from weld_packets.site.pages.device_data import order_data


def test_the_order_s_data_names_its_operations_and_what_falls_due(packet: Packet, control: Control) -> None:
    rule = RunRule(
        operation="operation-1",
        operation_name="Front panel",
        cell="C1",
        robots=("R11",),
        text="R11: dress the caps every 20 parts",
        basis="",
        what="R11: dress the caps",
        every=20,
        turns=(0, 20, 40),
    )
    with_rule = packet.model_copy(update={"run": packet.run.model_copy(update={"rules": (rule,)})})
    data = json.loads(order_data(with_rule, control.model_copy(update={"packet_digest": "ab"})))
    assert [(each["number"], each["page"]) for each in data["operations"]] == [
        (1, "operation-1.html"),
        (2, "operation-2.html"),
    ]
    assert (data["record_digest"], data["packet_digest"]) == (control.digest, "ab")
    assert [(each["at"], each["what"]) for each in data["run"]["events"]] == [(60, "Front panel, R11: dress the caps")]
    [known] = data["run"]["rules"]
    assert (known["what"], known["every"], known["turns"]) == ("Front panel, R11: dress the caps", 20, [20, 40])


def test_a_draft_is_known_by_its_packet_alone(packet: Packet) -> None:
    data = json.loads(order_data(packet, Control(revision="", status="draft", digest="cd")))
    assert (data["record_digest"], data["packet_digest"], data["status"]) == ("", "cd", "draft")


def test_no_text_of_an_order_ends_its_block_of_data(packet: Packet, control: Control) -> None:
    operation = packet.operations[0].model_copy(update={"name": "</script><b>"})
    text = order_data(packet.model_copy(update={"operations": (operation,)}), control)
    assert "<" not in text
    assert json.loads(text)["operations"][0]["name"] == "</script><b>"
