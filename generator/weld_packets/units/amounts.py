"""Numbers as printed, with their units, in both systems of units; and how they read in one line.

Apart from all that computes with units, which takes long to load.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal

from pydantic import BaseModel, ConfigDict

from weld_packets.units.kinds import KINDS

Direction = Literal["up", "down"]
_IN_TEXTS = ("bar", "lx", "cycle", "cycles", "part", "parts")
"""What follows numbers in texts of tables besides units that a key may have."""
_UNITS = {spelling for kind in KINDS for spelling in kind.spellings if spelling not in {"1", "°"}}
_BEFORE_UNIT = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(sorted(map(re.escape, (*_UNITS, *_IN_TEXTS)), key=len, reverse=True))})(?!\w))"
)


class Plain(BaseModel):  # noqa: PLW1641 - pydantic gives frozen records their hash
    """A frozen record of text, numbers of things, and further records."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    def __eq__(self, other: object) -> bool:
        """Compare the fields alone, of which these records consist: histories compare tens of thousands of them."""
        return self.__class__ is other.__class__ and self.__dict__ == other.__dict__


class Amount(Plain):
    """A number as printed, with its unit, first in the order's system and then in the other one.

    ``second`` and ``second_unit`` are empty where the two systems agree.
    """

    value: str
    unit: str
    second: str = ""
    second_unit: str = ""

    @property
    def first_text(self) -> str:
        """The first number with its unit."""
        return with_unit(self.value, self.unit or "1")

    @property
    def second_text(self) -> str:
        """The second number with its unit; empty where the two systems agree."""
        return with_unit(self.second, self.second_unit or "1") if self.second else ""

    @property
    def text(self) -> str:
        """Both in one line, such as ``4 mm (0.157 in)``."""
        return in_brackets(self.first_text, self.second_text)

    @property
    def in_both(self) -> str:
        """Both in words that do not depend on which system comes first, such as ``0.157 in = 4 mm``."""
        both = ((self.unit, self.value), (self.second_unit, self.second))
        return " = ".join(f"{number} {unit}" for unit, number in sorted(both) if number)


class Span(Plain):
    """An allowed range; an open end is an empty text. In the units of the amount that it belongs to."""

    low: str = ""
    high: str = ""
    second_low: str = ""
    second_high: str = ""
    origin: str = ""

    def text(self, amount: Amount) -> str:
        """Return the range in one line, in both systems."""
        return in_brackets(self.first_text(amount), self.second_text(amount))

    def first_text(self, amount: Amount | None) -> str:
        """Return the range in the first system."""
        return range_text(self.low, self.high, amount.unit if amount else "")

    def second_text(self, amount: Amount) -> str:
        """Return the range in the other system; empty where the two agree."""
        return range_text(self.second_low, self.second_high, amount.second_unit) if amount.second_unit else ""

    def end_text(self, direction: Direction, amount: Amount) -> str:
        """Return one end in one line, in both systems; empty where it is open."""
        end, second = (self.high, self.second_high) if direction == "up" else (self.low, self.second_low)
        return Amount(value=end, unit=amount.unit, second=second, second_unit=amount.second_unit).text if end else ""


def in_brackets(first: str, second: str) -> str:
    """Return ``first (second)``, or ``first`` alone where there is no second."""
    return f"{first} ({second})" if first and second else first


def range_text(low: str, high: str, unit: str) -> str:
    """Return both ends of a range with their unit, or the one that is closed; empty where both are open."""
    unit = unit or "1"
    if low and high:
        return f"{low} to {with_unit(high, unit)}"
    if low:
        return f"at least {with_unit(low, unit)}"
    return f"at most {with_unit(high, unit)}" if high else ""


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
