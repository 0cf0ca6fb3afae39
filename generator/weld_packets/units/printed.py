"""How a number reads with its unit; apart from all that computes with units, which takes long to load."""

from __future__ import annotations

import re
from functools import lru_cache

from weld_packets.units.kinds import KINDS

_IN_TEXTS = ("bar", "lx", "cycle", "cycles", "part", "parts")
"""What follows numbers in texts of tables besides units that a key may have."""
_UNITS = {spelling for kind in KINDS for spelling in kind.spellings if spelling not in {"1", "°"}}
_BEFORE_UNIT = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(sorted(map(re.escape, (*_UNITS, *_IN_TEXTS)), key=len, reverse=True))})(?!\w))"
)


def with_unit(text: str, unit: str) -> str:
    """Return number and unit as printed: a no-break space between, none before a degree sign of angle."""
    if unit == "1":
        return text
    return f"{text}{unit}" if unit == "°" else f"{text}\N{NO-BREAK SPACE}{unit}"


@lru_cache(maxsize=4096)
def held_to_units(text: str) -> str:
    """Return a text that a person wrote with each number held to the unit that follows it.

    Most steps are on a page, behind a task and on paper, in every order in the same words.
    """
    return _BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", text)
