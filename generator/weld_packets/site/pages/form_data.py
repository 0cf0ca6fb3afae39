"""What an operation's pages hand to their scripts: the form of its set-up, as a script that they share."""

from __future__ import annotations

from weld_packets.packet.records import Control, OperationSheet, Packet
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.site.pages.device_data import changeover_tasks, identity, json_block


def form_data(packet: Packet, control: Control, operation: OperationSheet, form: SetUpForm) -> str:
    """Return the form of an operation, and of which record it is, as a script."""
    data = {
        **identity(packet, control),
        "operation": operation.number,
        "operation_key": operation.key,
        "operation_name": operation.name,
        "cell": operation.cell,
        "process": operation.process,
        "robots": operation.robots,
        "changeover": changeover_tasks(packet, operation),
        **form.model_dump(mode="json"),
    }
    return f"window.packetForm = {json_block(data)}\n"
