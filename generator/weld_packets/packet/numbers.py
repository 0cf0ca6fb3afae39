"""Numbers as the packet prints them: honest digits, both systems of units, windows rounded inward."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from functools import lru_cache
from typing import Any, Literal, TypeVar

from weld_packets.calculation.trace import Figure
from weld_packets.model.trade import SystemOfUnits
from weld_packets.packet.records import Amount
from weld_packets.units import (
    SPELLINGS,
    Kind,
    Quantity,
    exact,
    kinds,
    last_digit,
    plain,
    quantity,
    registry,
    significant,
    to_last,
    with_unit,
)

WORKING_DIGITS = 4
"""Significant digits of a number between two steps of a calculation."""
STATED_DIGITS = 5
"""Digits up to which a number that a source states is printed in full; a longer one was computed."""
WHOLE_DIGITS = 3
LOST_SHARE = Decimal("0.6")
"""The quantum of a converted number is at most this share of the step, so rounding moves it by 0.3 of a step."""
_ONE = Decimal(1)
THOUSANDTH = Decimal("0.001")
HUNDREDTH = Decimal("0.01")
_CUSTOMARY = frozenset(
    (
        *("in", "ft", "in²", "lbf", "in/min", "ipm", "in/s", "kJ/in"),
        *("ft³/h", "cfh", "ft³", "gal/min", "lb", "lb/h", "°F", "ksi"),
    )
)
_PRINTED_UNIT = {
    "1": "", "1/min": "per minute", "cycles@50Hz": "cycles at 50 Hz", "cycles@60Hz": "cycles at 60 Hz",
    "ml/100g": "ml/100 g",
}  # fmt: skip
_SPELLED: dict[tuple[Any, ...], str] = {
    tuple(registry.Quantity(1, unit).unit_items()): text for text, unit in reversed(SPELLINGS.items())
}


def spelling(value: Quantity) -> str:
    """Return how a source spells the unit of ``value``."""
    return _SPELLED[tuple(value.unit_items())]


_MAXIMUM_KEPT = 65536
_Kept = TypeVar("_Kept")
_DECIMALS: dict[tuple[Any, ...], Decimal] = {}


def decimal_in(value: Quantity, unit: str) -> Decimal:
    """Return the magnitude in ``unit`` as a decimal without float noise."""
    key = (value.magnitude, unit, *value.unit_items())
    found = _DECIMALS.get(key)
    if found is None:
        found = _keep(_DECIMALS, key, exact(value, unit))
    return found


def _keep(kept: dict[tuple[Any, ...], _Kept], key: tuple[Any, ...], value: _Kept) -> _Kept:
    """Return ``value`` after keeping it; a full memory starts anew, so that it stays bounded."""
    if len(kept) >= _MAXIMUM_KEPT:
        kept.clear()
    kept[key] = value
    return value


@lru_cache(maxsize=65536)
def converted(number: Decimal, unit: str, other: str) -> Decimal:
    """Return a number of ``unit`` in the ``other`` unit, without float noise."""
    return decimal_in(registry.Quantity(float(number), SPELLINGS[unit]), other)


def printed_unit(unit: str) -> str:
    """Return a unit as printed beside its number; nothing for a plain number."""
    return _PRINTED_UNIT.get(unit, unit)


def quantum_of(number: Decimal) -> Decimal:
    """Return one unit of the last digit of ``number``, never above 1."""
    exponent = number.as_tuple().exponent
    return Decimal(1).scaleb(min(int(exponent), 0))


@lru_cache(maxsize=4096)
def quantum_elsewhere(quantum: Decimal, unit: str, other: str) -> Decimal:
    """Return the power of ten to which a number known to ``quantum`` of ``unit`` is rounded in the ``other`` unit."""
    width = converted(quantum, unit, other) - converted(Decimal(0), unit, other)
    return Decimal(1).scaleb((abs(width) * LOST_SHARE).adjusted())


def rounded(number: Decimal, quantum: Decimal, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    """Return ``number`` as a whole number of ``quantum``, with the digits of ``quantum``."""
    whole = (number / quantum).to_integral_value(rounding=rounding) * quantum
    return whole.quantize(quantum) if quantum < _ONE else whole.quantize(_ONE)


def working(number: Decimal, digits: int = WORKING_DIGITS) -> str:
    """Return a number between two steps as text: whole or of few ``digits`` as it is, else four significant digits."""
    full = len(number.as_tuple().digits) <= digits or number == number.to_integral_value()
    return plain(_trimmed(number if full else significant(number, WORKING_DIGITS)))


def _trimmed(number: Decimal) -> Decimal:
    whole = number.to_integral_value()
    return whole if number == whole else number.normalize()


def working_amount(value: Quantity, unit: str, digits: int = WORKING_DIGITS) -> Amount:
    """Return a quantity between two steps of a calculation."""
    key = (value.magnitude, unit, digits, *value.unit_items())
    found = _AMOUNTS.get(key)
    if found is None:
        amount = Amount(value=working(decimal_in(value, unit), digits), unit=printed_unit(unit))
        found = _keep(_AMOUNTS, key, amount)
    return found


_AMOUNTS: dict[tuple[Any, ...], Amount] = {}


def as_stated(value: Quantity) -> str:
    """Return number and unit as a source wrote them."""
    unit = spelling(value)
    return with_unit(working(decimal_in(value, unit), STATED_DIGITS), printed_unit(unit) or "1")


def _printed(number: Decimal, unit: str) -> tuple[str, str]:
    """Return a number and its unit as printed; one cycle is no cycles."""
    text, words = plain_in(number, unit), printed_unit(unit)
    return text, words.replace("cycles", "cycle") if text == "1" else words


def plain_in(number: Decimal, unit: str) -> str:
    """Return a number of a unit as text; cycles are whole where they can be."""
    return plain(_trimmed(number) if unit.startswith("cycles@") else number)


@dataclass(frozen=True)
class Scale:
    """The two units of a figure, and to which digit it is known in each.

    ``own`` is the unit of the machine or the reader and exact; ``other`` is empty where the other system has none.
    ``own_first`` tells which of the two is printed large.
    """

    own: str
    quantum: Decimal
    other: str
    other_quantum: Decimal
    own_first: bool

    def amount(self, own: Decimal, second: Decimal | None) -> Amount:
        """Return the exact number and its rounded conversion in the order of printing."""
        pair = [_printed(own, self.own), ("", "") if second is None else _printed(second, self.other)]
        if not self.own_first:
            pair.reverse()
        (value, unit), (small, small_unit) = pair
        return _amount(value, unit, small, small_unit)


@lru_cache(maxsize=16384)
def _amount(value: str, unit: str, second: str, second_unit: str) -> Amount:
    return Amount(value=value, unit=unit, second=second, second_unit=second_unit)


@lru_cache(maxsize=4096)
def stepped_scale(kind: Kind, unit: str, step: Decimal, mains: int) -> Scale:
    """Return the scale of a figure that is dialled in steps; what the machine can be set to is printed first.

    Times in cycles and milliseconds go by the ``mains`` frequency in Hz.
    """
    other = other_unit(kind, unit, mains)
    other_quantum = quantum_elsewhere(step, unit, other) if other else Decimal(1)
    if other.startswith("cycles@"):
        other_quantum = max(other_quantum, Decimal("0.1"))
    return Scale(unit, step, other, other_quantum, own_first=True)


def free_scale(kind: Kind, unit: str, text: Decimal, first: SystemOfUnits, mains: int) -> Scale:
    """Return the scale of a figure without steps: as many significant digits in the other unit as in its own.

    A size below one inch goes to the thousandth, as shops write it, and one written in inches to 0.01 mm.
    """
    quantum = quantum_of(text)
    other = other_unit(kind, unit, mains)
    number = converted(text, unit, other) if other else Decimal(0)
    if not number and not text:
        return Scale(unit, quantum, other, Decimal(1), _own_is_first(kind, unit, first))
    if not number or not text:
        return replace(stepped_scale(kind, unit, quantum, mains), own_first=_own_is_first(kind, unit, first))
    digits = _honest_digits(text)
    other_quantum = Decimal(1).scaleb(significant(number, digits).adjusted() - digits + 1)
    if other == "in" and abs(number) < 1:
        other_quantum = min(other_quantum, THOUSANDTH)
    if unit == "in" and abs(text) < 1:
        other_quantum = min(other_quantum, HUNDREDTH)
    return Scale(unit, quantum, other, other_quantum, _own_is_first(kind, unit, first))


def known_scale(  # noqa: PLR0917 - the figure, and how it is to be shown
    kind: Kind, unit: str, spread: Decimal, text: Decimal, first: SystemOfUnits, mains: int
) -> Scale:
    """Return the scale of a figure that is known to a ``spread`` of its own unit: to its last digit in both units."""
    other = other_unit(kind, unit, mains)
    width = abs(converted(spread, unit, other) - converted(Decimal(0), unit, other)) if other else Decimal(0)
    number = converted(text, unit, other) if other else Decimal(0)
    maximum = Decimal(1).scaleb(number.adjusted()) if number else Decimal(1)
    other_quantum = min(last_digit(width), maximum) if width else Decimal(1)
    return Scale(unit, quantum_of(text), other, other_quantum, _own_is_first(kind, unit, first))


def _honest_digits(text: Decimal) -> int:
    """Return the significant digits of a number; noughts at the end of a whole number count only up to three."""
    written = len(text.as_tuple().digits)
    if quantum_of(text) < 1:
        return written
    return min(written, max(len(text.normalize().as_tuple().digits), WHOLE_DIGITS))


def _own_is_first(kind: Kind, unit: str, first: SystemOfUnits) -> bool:
    return kind.metric == kind.customary or ((unit in _CUSTOMARY) == (first == "US customary"))


def other_unit(kind: Kind, unit: str, mains: int) -> str:
    """Return the unit of the other system; nothing where both systems use the same."""
    if unit.startswith("cycles@"):
        return "ms"
    if unit == "ms" and kind is kinds.TIME:
        return cycles if (cycles := f"cycles@{mains}Hz") in SPELLINGS else ""
    if kind.metric == kind.customary:
        return ""
    return kind.metric if unit in _CUSTOMARY else kind.customary


@dataclass(frozen=True)
class Ends:
    """The two ends of a window in one unit; an open end is None."""

    low: Decimal | None
    high: Decimal | None

    def hold(self, number: Decimal) -> Decimal:
        """Return ``number``, or the nearer end where rounding has pushed it past one."""
        if self.low is not None and number < self.low:
            return self.low
        return self.high if self.high is not None and number > self.high else number


def inward(low: Quantity | None, high: Quantity | None, unit: str, quantum: Decimal) -> Ends:
    """Return both ends in ``unit``, each rounded into the window, never out of it."""
    return Ends(
        None if low is None else rounded(decimal_in(low, unit), quantum, ROUND_CEILING),
        None if high is None else rounded(decimal_in(high, unit), quantum, ROUND_FLOOR),
    )


def sheet_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return a nominal length as written, and in the other system to a hundredth of a mm or a thousandth of an inch."""
    unit = spelling(value)
    inches = unit in ("in", "ft")
    other, quantum = ("mm", Decimal("0.01")) if inches else ("in", THOUSANDTH)
    small = rounded(decimal_in(value, other), quantum)
    scale = Scale(unit, quantum, other, quantum, inches == (first == "US customary"))
    return scale.amount(_trimmed(decimal_in(value, unit)), small)


def stated_amount(value: Quantity, kind: Kind, first: SystemOfUnits, mains: int) -> Amount:
    """Return a quantity as a table states it, and in the other system with as many significant digits, at least two.

    One digit would make 6 l/min, which is 1.6 gal/min, into 2 gal/min.
    """
    unit = spelling(value)
    number = _trimmed(decimal_in(value, unit))
    scale = free_scale(kind, unit, number, first, mains)
    if not scale.other:
        return scale.amount(number, None)
    second = converted(number, unit, scale.other)
    two_digits = Decimal(1).scaleb(significant(second, 2).adjusted() - 1)
    return scale.amount(number, rounded(second, min(scale.other_quantum, two_digits)))


def limit_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return the greatest size that is allowed, never rounded up: to a hundredth of a mm, a thousandth of an inch."""
    metric = _trimmed(rounded(decimal_in(value, "mm"), HUNDREDTH, ROUND_FLOOR))
    small = rounded(decimal_in(value, "in"), THOUSANDTH, ROUND_FLOOR)
    return Scale("mm", HUNDREDTH, "in", THOUSANDTH, first == "metric").amount(metric, small)


def inward_digits(number: Decimal, rounding: Literal["ROUND_FLOOR", "ROUND_CEILING"]) -> str:
    """Return a limit to three digits, rounded into what is allowed; whole numbers keep all of theirs."""
    last = Decimal(1).scaleb(min(number.adjusted() - WHOLE_DIGITS + 1, 0))
    return plain(number.quantize(last, rounding=rounding))


def set_amount(figure: Figure) -> str:
    """Return what is set in the unit of its own dial alone."""
    return with_unit(plain(figure.text or Decimal(0)), printed_unit(figure.unit) or "1")


def inches(millimetres: float, last: Decimal) -> str:
    """Return a measured length in inches, known to ``last`` of a millimetre."""
    digit = last_digit(converted(last, "mm", "in"))
    return with_unit(plain(to_last(decimal_in(quantity(millimetres, "mm"), "in"), digit)), "in")


def both(amount: Amount) -> str:
    """Return an amount in one line: the first number with its unit, the second in brackets."""
    head = with_unit(amount.value, amount.unit or "1")
    return f"{head} ({with_unit(amount.second, amount.second_unit or '1')})" if amount.second else head
