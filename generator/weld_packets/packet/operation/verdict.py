"""What an operation's sheet says of its qualification, in a line; computes nothing."""

from __future__ import annotations

from weld_packets.packet.records.qualification import Qualification
from weld_packets.wording.verdict import NOT_RECORDED, card_words


def qualification_words(found: Qualification | None) -> str:
    """Return procedure, records and verdict of an operation in a line."""
    if found is None:
        return NOT_RECORDED
    return card_words(found.wps, found.numbers, found.outcome, found.text)
