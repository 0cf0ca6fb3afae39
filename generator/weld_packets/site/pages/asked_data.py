"""What an operation's pages hand to their scripts: what is asked of it, as a script that they share."""

from __future__ import annotations

from weld_packets.packet.records import Control, OperationSheet, Packet
from weld_packets.packet.records.asked import Asked
from weld_packets.site.pages.device_data import changeover_tasks, identity, json_block


def asked_data(packet: Packet, control: Control, operation: OperationSheet, asked: Asked) -> str:
    """Return what is ``asked`` of an operation, and of which record, as a script."""
    data = {
        **identity(packet, control),
        "operation": operation.number,
        "operation_key": operation.key,
        "operation_name": operation.name,
        "cell": operation.cell,
        "process": operation.process,
        "robots": operation.robots,
        "changeover": changeover_tasks(packet, operation),
        **asked.model_dump(mode="json"),
    }
    return f"window.packetAsked = {json_block(data)}\n"
