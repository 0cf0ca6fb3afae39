"""What an operation's pages hand to their scripts: what is asked of it, as a block of data."""

from __future__ import annotations

import json

from markupsafe import Markup

from weld_packets.packet.records import Control, OperationSheet, Packet
from weld_packets.packet.records.asked import Asked


def asked_data(packet: Packet, control: Control, operation: OperationSheet, asked: Asked) -> Markup:
    """Return what is ``asked`` of an operation, and of which record, as JSON that may stand inside an element."""
    released = bool(control.packet_digest)
    head = packet.head
    data = {
        "order": head.number,
        "slug": head.slug,
        "revision": control.revision,
        "status": control.status,
        "record_digest": control.digest if released else "",
        "packet_digest": control.packet_digest or control.digest,
        "operation": operation.number,
        "operation_key": operation.key,
        "operation_name": operation.name,
        "cell": operation.cell,
        "process": operation.process,
        "robots": operation.robots,
        "shift_hours": head.shift_hours,
        "changed_over": _is_changed_over(packet, operation),
        **asked.model_dump(mode="json"),
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c"))  # noqa: S704 - no tag can end the block: the text holds no "<"


def _is_changed_over(packet: Packet, operation: OperationSheet) -> bool:
    """Return whether the changeover of the cell takes the place of the operation's set-up."""
    lines = packet.changeover.lines if packet.changeover else ()
    return any(line.cell == operation.cell for line in lines)
