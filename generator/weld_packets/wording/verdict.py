"""Procedure, records and verdict of an operation in a line: what lists and cards say of its qualification."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.wording.english import listed

NOT_RECORDED = "not recorded: this revision was released before qualification was recorded"
_ON_CARD = 2
"""Numbers of records that a card has room for."""


def card_words(wps: str, records: Sequence[str], outcome: str | None, text: str) -> str:
    """Return procedure, records and verdict as a card shows them, in a line."""
    procedure = wps or "WPS not stated"
    if outcome is None:
        return f"{procedure}; {text}"
    return f"{procedure}, {_few(records)}: {outcome}"


def _few(records: Sequence[str]) -> str:
    """Return one record or two in full, of more the first with how many there are."""
    if len(records) <= _ON_CARD:
        return listed(records) or "no record"
    return f"{records[0]} and {len(records) - 1} more"
