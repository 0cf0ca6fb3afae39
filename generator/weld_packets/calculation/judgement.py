"""Judge what somebody read at a machine against a setting and its allowed range; the pages' scripts judge the same.

Everything is exact decimal arithmetic on what was typed, so that a page and the program cannot differ in a last digit.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Context, Decimal
from typing import Literal

from weld_packets.errors import refusal

ReadingVerdict = Literal["equal", "in range", "low", "high", "implausible"]
LinkedVerdict = Literal["in range", "low", "high"]
FAR_OFF = Decimal("1.5")
"""An entry further off the nearer end of its range than this factor may be of another unit; a choice of ours.

The nearest units are 2.1 apart (l/min and ft³/h) and 2.4 (mm/s and in/min), from setting to setting.
"""
_SPACES = "\t\n\v\f\r \xa0\u1680\u2028\u2029\u202f\u205f\u3000\ufeff" + "".join(map(chr, range(0x2000, 0x200B)))
"""What a script trims: the white space and line ends of ECMAScript."""
_NUMBER = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,9})?")
_EXACT = Context(prec=64)
"""Wide enough for the product of an entry of 18 digits with any factor."""


@dataclass(frozen=True)
class Range:
    """A setting with its allowed range; an open end is None. ``others`` are units with their factors to its own."""

    setting: Decimal
    low: Decimal | None
    high: Decimal | None
    others: tuple[tuple[str, Decimal], ...] = ()

    def holds(self, number: Decimal) -> bool:
        """Return whether a number lies inside, both ends included."""
        return (self.low is None or number >= self.low) and (self.high is None or number <= self.high)


@dataclass(frozen=True)
class Judgement:
    """What became of an entry.

    Attributes:
        verdict: ``equal`` to the setting, ``in range``, ``low``, ``high``, or ``implausible``.
        outside: how far it lies outside the nearer end, in the unit of the setting; 0 inside.
        unit: the unit in which it was probably read; empty unless it is implausible.

    """

    verdict: ReadingVerdict
    outside: Decimal = Decimal(0)
    unit: str = ""


def number_of(entered: str) -> str:
    """Return the number that somebody typed, with a decimal point; raise OutOfRangeError for anything else.

    A decimal comma or point, and spaces around it. Nothing that is read back is below zero. A sign of thousands is
    refused: it looks like a decimal comma.
    """
    text = entered.strip(_SPACES)
    if _NUMBER.fullmatch(text) is None:
        raise refusal("not a number", f"{_hint(text)}, such as 3.2 or 3,2", value=entered)
    return text.replace(",", ".")


def _hint(text: str) -> str:
    if not text:
        return "enter what the machine shows"
    if text.startswith((".", ",")):
        return "write the zero before the decimal sign"
    if len(re.findall(r"[.,]", text)) > 1:
        return "write no sign of thousands"
    return "write digits with one decimal comma or point and no unit"


def judge(number: Decimal, allowed: Range) -> Judgement:
    """Return what an entry in the unit of the setting is.

    Outside the range it is implausible where it is off the nearer end by more than a factor of ``FAR_OFF`` and would
    lie inside, had it been read in one of the other units: the first of them that fits is named.
    """
    if number == allowed.setting:
        return Judgement("equal")
    if allowed.holds(number):
        return Judgement("in range")
    below = allowed.low is not None and number < allowed.low
    end = allowed.low if below else allowed.high
    if end is None:
        raise ValueError(number)  # a range that is open at both ends holds every number
    outside = abs(_EXACT.subtract(number, end))
    far = number * FAR_OFF < end if below else number > end * FAR_OFF
    fitting = (unit for unit, factor in allowed.others if allowed.holds(_EXACT.multiply(number, factor)))
    unit = next(fitting, "") if far else ""
    if unit:
        return Judgement("implausible", outside, unit)
    return Judgement("low" if below else "high", outside)


@dataclass(frozen=True)
class Linked:
    """How far one value may go beside another: from ``low`` to ``high`` times the other to a power."""

    power: Literal[1, -2]
    low: Decimal | None
    high: Decimal | None


def judge_together(number: Decimal, other: Decimal, limit: Linked) -> LinkedVerdict:
    """Return what a value is beside the other one, both ends included; exact, without a division."""
    if limit.power == 1:
        left, right = number, other
    else:
        left, right = _EXACT.multiply(number, _EXACT.multiply(other, other)), Decimal(1)
    if limit.low is not None and left < _EXACT.multiply(limit.low, right):
        return "low"
    return "high" if limit.high is not None and left > _EXACT.multiply(limit.high, right) else "in range"


def is_accepted(number: Decimal, minimum: Decimal | None, maximum: Decimal | None) -> bool:
    """Return whether a measured result lies inside its limits, both ends included; an open end is None."""
    return (minimum is None or number >= minimum) and (maximum is None or number <= maximum)
