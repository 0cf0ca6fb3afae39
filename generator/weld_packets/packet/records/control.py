"""What document control says of a packet."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.plain import Plain


class Control(Plain):
    """What document control says of a packet; the same packet may be a draft today and in force tomorrow."""

    revision: str
    status: Literal["draft", "in force", "superseded", "withdrawn", "not yet in force"]
    superseded_by: str = ""
    effective_from: str = ""
    author: str = ""
    approver: str = ""
    reason: str = ""
    released_on: str = ""
    digest: str
