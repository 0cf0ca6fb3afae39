"""What page scripts know of an order (its operations, what falls due in its run) and of an operation (its form)."""

from __future__ import annotations

import json

from markupsafe import Markup

from weld_packets.packet.forms import changeover_tasks, run_form
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.pages.operation_pages import operation_page


def order_data(packet: Packet, control: Control) -> Markup:
    """Return the JSON of an order for the scripts of its own pages; no text in it can end the block."""
    data = {
        **identity(packet, control),
        "operations": [_operation(packet, operation) for operation in packet.operations],
        "run": run_form(packet).model_dump(mode="json"),
    }
    return _json_block(data)


def identity(packet: Packet, control: Control) -> dict[str, str]:
    """Return of which order and record a page is, as scripts compare it with what a device keeps."""
    head = packet.head
    return {
        "slug": head.slug,
        "order": head.number,
        "revision": control.revision,
        "status": control.status,
        "record_digest": control.digest if control.packet_digest else "",
        "packet_digest": control.packet_digest or control.digest,
        "shift_hours": head.shift_hours,
        "time_zone": head.time_zone,
    }


def _json_block(data: object) -> Markup:
    """Return ``data`` as JSON for a script element."""
    return Markup(json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c"))  # noqa: S704 - no tag can end the block: the text holds no "<"


def _operation(packet: Packet, operation: OperationSheet) -> dict[str, object]:
    return {
        "changeover": [task.model_dump() for task in changeover_tasks(packet, operation.number)],
        "number": operation.number,
        "name": operation.name,
        "cell": operation.cell,
        "page": operation_page(operation),
    }


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
        "changeover": [task.model_dump() for task in changeover_tasks(packet, operation.number)],
        **form.model_dump(mode="json"),
    }
    return f"window.packetForm = {_json_block(data)}\n"
