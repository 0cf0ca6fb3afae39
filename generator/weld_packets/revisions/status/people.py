"""Names that people typed: what of them is seen, and whether two mean one person."""

from __future__ import annotations

import re
import unicodedata

# A name is typed by people: what nobody sees makes no other person of it.
_UNSEEN = re.compile(
    "[\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f\u2800\u3164"
    "\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufff8\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
"""Default ignorable code points of Unicode (DerivedCoreProperties, from memory), and the blank of braille."""


def seen(text: str) -> str:
    """Return what a reader sees of ``text``: without invisible signs and blank ends."""
    return _UNSEEN.sub("", text).strip()


def has_unseen(text: str) -> bool:
    """Return whether ``text`` holds a sign that nobody sees."""
    return _UNSEEN.search(text) is not None


def meaning(name: str) -> str:
    """Return a name as it is compared: forms of letters, capitals, spaces and invisible signs make no difference."""
    # Spaces as they were typed.
    return " ".join(seen(unicodedata.normalize("NFKC", _UNSEEN.sub("", name))).casefold().split())
