"""Our own quantity grammar: a decimal number, white space, one unit of the closed list. Nothing is evaluated."""

from __future__ import annotations

import re
from decimal import Decimal

from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.units.kinds import Kind
from weld_packets.units.registry import SPELLINGS, Quantity, registry

_NUMBER = re.compile(r"[+-]?[0-9]{1,12}(\.[0-9]{1,18})?([eE][+-]?[0-9]{1,2})?")
_QUANTITY = re.compile(rf"(?P<number>{_NUMBER.pattern}) *(?P<unit>[^\s0-9+\-.,*][^\s*]*)", re.ASCII)
PATTERN = rf"^{_NUMBER.pattern} *\S+$"
"""The grammar as a regular expression for editors; the unit is checked against its kind by ``parse``."""


def parse(text: str, kind: Kind) -> Quantity:
    """Return the quantity that ``text`` writes, in the unit as written.

    Raises OutOfRangeError without a place when the text is no quantity, its unit is not one of the kind's
    spellings, or its magnitude is absurd for the kind.
    """
    match = _QUANTITY.fullmatch(text.strip())
    if match is None or match["unit"] not in kind.spellings:
        raise _unreadable(text, kind, match["unit"] if match else "")
    return bounded(float(match["number"]), match["unit"], kind, text)


def bounded(magnitude: float, unit: str, kind: Kind, text: str = "") -> Quantity:
    """Return the quantity, refusing one outside the kind's bounds of plausibility."""
    result = registry.Quantity(magnitude, SPELLINGS[unit])
    plain = result.m_as(SPELLINGS[kind.unit])
    if not kind.lowest <= plain <= kind.highest:
        raise refusal(
            f"{kind.name} {plain:g} {kind.unit} is outside {kind.lowest:g} to {kind.highest:g} {kind.unit}",
            "check the number and its unit",
            value=text or f"{magnitude:g} {unit}",
        )
    return result


def parse_number(text: str) -> Decimal:
    """Return the decimal number that ``text`` writes; raise OutOfRangeError for anything else."""
    if _NUMBER.fullmatch(text.strip()) is None:
        raise refusal("not a plain decimal number", "write digits with a decimal point, such as 1.25", value=text)
    return Decimal(text.strip())


def _unreadable(text: str, kind: Kind, unit: str) -> OutOfRangeError:
    offered = ", ".join(kind.spellings)
    if _NUMBER.fullmatch(text.strip()):
        message = f"a {kind.name} needs its unit"
    elif "," in text:
        message = "a comma is not a decimal sign here"
    elif "/" in text.partition(" ")[0]:
        message = "a fraction is not read: write it as a decimal number"
    elif unit:
        message = f"{unit!r} is not a unit of {kind.name}"
    else:
        message = f"not a {kind.name}: a number, a space and a unit are expected"
    number = text.strip() if _NUMBER.fullmatch(text.strip()) else "3"
    examples = " or ".join(f"'{number} {each}'" for each in dict.fromkeys((kind.unit, kind.customary)))
    return refusal(message, f"write it like {examples} (units: {offered})", value=text)
