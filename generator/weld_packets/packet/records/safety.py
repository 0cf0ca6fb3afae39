"""Safety messages."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.plain import Plain


class OperationFact(Plain):
    """What a message says of some operations, such as their filter shade: ``operations`` by key, ``who`` in words."""

    operations: tuple[str, ...]
    who: str
    text: str


class Callout(Plain):
    """One safety message. ``signs`` are ISO 7010 codes; ``why`` says what in this order made it appear."""

    key: str
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    signs: tuple[str, ...]
    hazard: str
    consequence: str
    avoid: str
    why: str
    source: str
    stages: tuple[str, ...]
    facts: tuple[OperationFact, ...] = ()
