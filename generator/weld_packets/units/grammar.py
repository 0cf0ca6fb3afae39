"""Our own quantity grammar: a decimal number, white space, one unit of the closed list. Nothing is evaluated."""

from __future__ import annotations

import re
from decimal import Decimal

from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.units.kinds import Kind
from weld_packets.units.registry import SPELLINGS, Quantity, quantity, registry
from weld_packets.units.registry import magnitude as magnitude_in

_NUMBER = re.compile(r"[+-]?[0-9]{1,12}(\.[0-9]{1,18})?([eE][+-]?[0-9]{1,2})?")
_SMALLEST, _LARGEST = -18, 12
"""Powers of ten of the first digit of a bare number."""
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]{1,4}) )?(?P<over>[0-9]{1,3})/(?P<under>[0-9]{1,3})")
"""A fraction of an inch, with whole inches before it or none."""
_FINEST = 64
"""Rules and drills are marked down to sixty-fourths of an inch."""
_OF_FRACTIONS = ("in", "ft")
"""Units of which a fraction may be written."""
_IN_FRACTIONS = re.compile(rf"(?P<number>{_FRACTION.pattern}) *(?P<unit>{'|'.join(_OF_FRACTIONS)})")
_QUANTITY = re.compile(rf"(?P<number>{_NUMBER.pattern}) *(?P<unit>[^\s0-9+\-.,*][^\s*]*)", re.ASCII)


_WITH_COMMA = re.compile(
    r"(?P<whole>[+-]?[0-9]{1,12}),(?P<part>[0-9]{1,2}|[0-9]{4,18}|(?<=^0,)[0-9]{3}) *(?P<unit>[^\s0-9+\-.,*][^\s*]*)"
)
"""A quantity with one comma that can be nothing but a decimal sign: three digits behind one may be thousands."""


def pattern_of(kind: Kind) -> str:
    """Return the grammar of quantities of a kind as a regular expression for editors, with its units."""
    units = "|".join(re.escape(unit) for unit in kind.spellings)
    return rf"^({_NUMBER.pattern}|([0-9]+ )?[0-9]+/[0-9]+) *({units})$"


_GAUGES = ("ga", "gauge", "gage", "msg")
_MEANT: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("inch", "inches", '"', "inch.", "in."), ("in",)),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mm."), ("mm",)),
    **dict.fromkeys(("feet", "foot", "'"), ("ft",)),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), ("lbf", "lb")),
    **dict.fromkeys(("kg", "kp", "kilopond"), ("kgf",)),
    **dict.fromkeys(("cycle", "cycles", "cyc", "~"), ("cycles@50Hz", "cycles@60Hz")),
    **dict.fromkeys(("sec", "seconds", "secs"), ("s",)),
    **dict.fromkeys(("hr", "hrs", "hours", "hour"), ("h",)),
    **dict.fromkeys(("minutes", "minute", "mins"), ("min",)),
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), ("A",)),
    **dict.fromkeys(("volt", "volts"), ("V",)),
    **dict.fromkeys(("ft3/h", "ft3/hr", "ft³/hr", "cuft/h", "cf/h"), ("cfh",)),
    **dict.fromkeys(("lpm", "litre/min", "l/m"), ("l/min",)),
    **dict.fromkeys(("gpm", "usgpm"), ("gal/min",)),
    **dict.fromkeys(("ipm", "inch/min", "in/m"), ("in/min",)),
    **dict.fromkeys(("mpm",), ("m/min",)),
    **dict.fromkeys(("°", "deg.", "degree", "degrees"), ("°",)),
    **dict.fromkeys(("c", "°c", "celsius"), ("°C",)),
    **dict.fromkeys(("f", "°f", "fahrenheit"), ("°F",)),
    **dict.fromkeys(("db", "dba"), ("dB(A)",)),
    **dict.fromkeys(("percent", "pct"), ("%",)),
    **dict.fromkeys(("hertz", "cps"), ("Hz",)),
}
"""What is written for a unit elsewhere, in small letters, with the units that it may mean here."""


def parse(text: str, kind: Kind) -> Quantity:
    """Return the quantity that ``text`` writes, in the unit as written.

    Raises OutOfRangeError without a place when the text is no quantity, its unit is not one of the kind's
    spellings, or its magnitude is absurd for the kind.
    """
    fraction = _IN_FRACTIONS.fullmatch(text.strip())
    if fraction and fraction["unit"] in kind.spellings:
        return bounded(float(parse_fraction(fraction["number"])), fraction["unit"], kind, text)
    match = _QUANTITY.fullmatch(text.strip())
    if match is None or match["unit"] not in kind.spellings:
        raise _unreadable(text, kind, match["unit"] if match else "")
    return bounded(float(match["number"]), match["unit"], kind, text)


def is_fraction_of(unit: str, text: str) -> bool:
    """Return whether ``text`` is written as a fraction of a unit, such as ``3/16`` or ``1 1/2`` of inches."""
    return unit in _OF_FRACTIONS and _FRACTION.fullmatch(text.strip()) is not None


def parse_fraction(text: str) -> Decimal:
    """Return the exact decimal of a fraction of an inch; raise OutOfRangeError for one that no rule is marked with."""
    match = _FRACTION.fullmatch(text.strip())
    under = int(match["under"]) if match else 0
    if match is None or under not in (2, 4, 8, 16, 32, _FINEST) or int(match["over"]) >= under:
        remedy = "write a proper fraction of halves to sixty-fourths, such as 3/16 in, or a decimal number"
        raise refusal("this is not a fraction of an inch", remedy, value=text)
    return Decimal(match["whole"] or 0) + Decimal(match["over"]) / under


def bounded(magnitude: float, unit: str, kind: Kind, text: str = "") -> Quantity:
    """Return the quantity, refusing one outside the kind's bounds of plausibility."""
    result = quantity(magnitude, unit)
    plain = magnitude_in(result, kind.unit)
    if not kind.lowest <= plain <= kind.highest:
        raise refusal(
            _beyond(magnitude, unit, kind) or f"{kind.name} {plain:g} {kind.unit} is outside {_reach(kind, kind.unit)}",
            "check the number and its unit",
            value=text or f"{magnitude:g} {unit}",
        )
    return result


def _beyond(magnitude: float, unit: str, kind: Kind) -> str:
    """Return what is wrong with a number of the kind's US customary unit, empty for one of another unit."""
    if kind.customary == kind.metric or SPELLINGS[unit] != SPELLINGS[kind.customary]:
        return ""
    return f"{kind.name} {magnitude:g} {unit} is outside {_reach(kind, unit)}"


def _reach(kind: Kind, unit: str) -> str:
    ends = (registry.Quantity(end, SPELLINGS[kind.unit]).m_as(SPELLINGS[unit]) for end in (kind.lowest, kind.highest))
    texts = (f"{end:g}" if unit == kind.unit else f"{Decimal(f'{end:.3g}'):f}" for end in ends)
    return f"{' to '.join(texts)} {unit}"


def parse_number(text: str) -> Decimal:
    """Return the decimal number that ``text`` writes; raise OutOfRangeError for anything else."""
    if _NUMBER.fullmatch(text.strip()) is None:
        raise refusal("not a plain decimal number", "write digits with a decimal point, such as 1.25", value=text)
    number = Decimal(text.strip())
    if number and not _SMALLEST <= number.adjusted() <= _LARGEST:
        raise refusal("this number is beyond anything measured", "check its digits and its exponent", value=text)
    return number


def _unreadable(text: str, kind: Kind, unit: str) -> OutOfRangeError:
    offered = ", ".join(kind.spellings)
    meant = meant_unit(unit, kind)
    if _NUMBER.fullmatch(text.strip()):
        message = f"a {kind.name} needs its unit"
    elif "," in text:
        message = "a comma is not a decimal sign here"
    elif "/" in text and _of_inches(text, kind):
        message = "this is not a fraction of an inch"
    elif "/" in text.partition(" ")[0]:
        message = "fractions are read of inches alone"
    elif unit:
        message = f"{unit!r} is not a unit of {kind.name}"
    else:
        message = f"not a {kind.name}: a number, a space and a unit are expected"
    number = text.strip() if _NUMBER.fullmatch(text.strip()) else "3"
    examples = " or ".join(f"'{number} {each}'" for each in dict.fromkeys((kind.unit, kind.customary)))
    if "/" in text and _of_inches(text, kind):
        examples = "'3/16 in', '1 1/4 in' with a blank behind the whole inches, or '3 mm'"
    elif "/" in text.partition(" ")[0] and "in" in kind.spellings:
        examples = f"'{text.partition(' ')[0]} in' or '3 {kind.unit}'"
    if (read := _with_point(text, kind)) or meant:
        meant = read or meant
    hint = f"did you mean {meant}? " if meant else ""
    return refusal(message, f"{hint}write it like {examples} (units: {offered})", value=text)


def _of_inches(text: str, kind: Kind) -> bool:
    """Return whether a text ends in inches, where they may be given."""
    unit = text.rpartition(" ")[2]
    return unit in _OF_FRACTIONS and unit in kind.spellings


def _with_point(text: str, kind: Kind) -> str:
    """Return a quantity of a kind that is written with one decimal comma as it is written with a point, in quotes.

    Three digits after the comma may be meant as thousands; then nothing is offered.
    """
    match = _WITH_COMMA.fullmatch(text.strip())
    if match is None or match["unit"] not in kind.spellings:
        return ""
    return f"'{match['whole']}.{match['part']} {match['unit']}'"


def meant_unit(unit: str, kind: Kind) -> str:
    """Return the unit of a kind that somebody who wrote ``unit`` meant, in quotes; nothing where none is near."""
    if unit.lower() in _GAUGES and "in" in kind.spellings:
        return "the thickness in inches (a gauge is read as the thickness of a component alone, such as '11 ga')"
    words = _MEANT.get(unit.lower(), ())
    found = [
        each
        for each in (*words, *kind.spellings)
        if each in kind.spellings and (each in words or each.lower() == unit.lower())
    ]
    return " or ".join(f"'{each}'" for each in dict.fromkeys(found))
