"""Limits of imperfections."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.figures import Amount
from weld_packets.packet.records.plain import Plain


class WeldLimit(Plain):
    """What a quality level allows of one imperfection at some welds of an operation.

    ``numbers`` are those of ISO 6520-1. ``text`` says the limit with how it comes about; ``size`` is its number, None
    where it is none, or depends on what is measured on the weld. ``of`` names the welds where they are not all.
    """

    key: str
    numbers: tuple[str, ...]
    name: str
    level: str
    text: str
    size: Amount | None = None
    short: bool = False
    of: str = ""
    welds: tuple[str, ...] = ()
    source: str = ""
    standing: Literal["read", "from memory"] = "read"
