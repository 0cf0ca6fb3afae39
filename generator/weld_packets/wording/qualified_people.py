"""Sentences on qualifications of setters and operators."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from weld_packets.calculation.qualification.people import Needed
from weld_packets.model.tables.people import PersonQualification
from weld_packets.wording.english import listed

STANDARD = "ISO 14732"
_ON_CARD = 3


def needs_words(needed: Needed, standard: str) -> str:
    """Return which qualification the work needs."""
    passes = ", several passes" if needed.several_passes else ""
    return f"{standard}, process {needed.process}{passes}"


def holders_words(numbers: Sequence[str]) -> str:
    """Return who holds it, as many as a card has room for."""
    if not numbers:
        return "nobody"
    more = len(numbers) - _ON_CARD
    return listed(numbers) if more <= 0 else f"{', '.join(numbers[:_ON_CARD])} and {more} more"


def test_words(entry: PersonQualification) -> str:
    """Return what somebody's test was welded with."""
    passes = "one pass" if entry.passes == "one" else "several passes"
    return f"{passes}, {'with a' if entry.sensor else 'no'} sensor"


def person_words(entry: PersonQualification, day: date) -> str:
    """Return somebody's qualification with its last day, and whether that has passed on a day."""
    end = f"expired on {entry.valid_until}" if entry.valid_until < day else f"valid until {entry.valid_until}"
    return f"{entry.id} ({listed(entry.duties)}, process {entry.process}): {end}"
