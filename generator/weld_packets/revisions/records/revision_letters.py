"""Revision letters by ASME Y14.35: letters that cannot be taken for digits, single ones first, then pairs."""

from __future__ import annotations

from weld_packets.errors import refusal

LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""The alphabet without I, O, Q, S, X and Z."""

REVISION_LETTERS: tuple[str, ...] = (*LETTERS, *(first + second for first in LETTERS for second in LETTERS))
"""All 420 revisions in the order in which they are used."""


def next_letter(last: str) -> str:
    """Return the letters after ``last``; the first one after an empty text.

    Raises OutOfRangeError for a text that is not a revision letter, and after the last one.
    """
    following = position(last) + 1 if last else 0
    if following == len(REVISION_LETTERS):
        raise refusal("all revision letters from A to YY are used", "start a new order number", value=last)
    return REVISION_LETTERS[following]


def position(letter: str) -> int:
    """Return the place of ``letter`` in the sequence, from 0.

    Raises OutOfRangeError for a text that is not a revision letter.
    """
    if letter not in REVISION_LETTERS:
        raise refusal(
            "this is not a revision letter", "use A to Y or AA to YY without the letters I, O, Q, S, X, Z", value=letter
        )
    return REVISION_LETTERS.index(letter)
