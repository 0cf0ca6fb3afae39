"""The two units of a number, and to which digit it is shown in each: machine steps, sizes on a drawing, limits."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from functools import lru_cache
from typing import Any, NamedTuple

from weld_packets.units import kinds
from weld_packets.units.amounts import Amount
from weld_packets.units.digits import (
    HUNDREDTH,
    RESULT_DIGITS,
    TENTH,
    THOUSANDTH,
    WHOLE,
    WORKING_DIGITS,
    Rounding,
    exact,
    last_digit,
    plain,
    printed_unit,
    rounded,
    significant,
    spelling,
    stated,
    trimmed,
    working,
)
from weld_packets.units.kinds import Kind, SystemOfUnits
from weld_packets.units.registry import SPELLINGS, Quantity, quantity, registry

LOST_SHARE = Decimal("0.6")
"""The quantum of a converted number is at most this share of the step, so rounding moves it by 0.3 of a step."""
_WRITTEN_OF_STEP = 2
"""Digits of a step, such as 0.25, up to which each of its numbers is shown with all of its decimals."""
_CUSTOMARY = frozenset(
    (
        *("in", "ft", "in²", "lbf", "in/min", "ipm", "in/s", "kJ/in"),
        *("ft³/h", "cfh", "scfh", "ft³", "gal/min", "lb", "lb/h", "lb/in³", "°F", "ksi"),
    )
)
_INCHES = ("in", "ft")
_MAXIMUM_KEPT = 4096
"""An order adds some three hundred: enough for what it asks for again, and little beside what the tables take."""
_AMOUNTS: dict[tuple[Any, ...], Amount] = {}
_MIXED_UP: tuple[tuple[str, ...], ...] = (
    ("A", "kA"),
    ("mm/s", "m/min", "in/min", "cm/min"),
    ("kN", "lbf", "daN", "N"),
    ("ms", "cycles@50Hz", "cycles@60Hz", "s"),
    ("l/min", "ft³/h", "gal/min"),
    ("mm", "in", "cm"),
    ("l", "ft³"),
    ("kg", "lb"),
)
"""Units in which machines and gauges show the same thing; a voltage or an angle is shown in one alone."""


class Scale(NamedTuple):
    """The two units of a figure, and to which digit it is known in each.

    ``own`` is the unit of the machine or the reader and exact; ``other`` is empty where the other system has none.
    ``own_first`` says which of the two is printed large.
    """

    own: str
    quantum: Decimal
    other: str
    other_quantum: Decimal
    own_first: bool

    def read(self, own: Decimal) -> Decimal:
        """Return the exact number with the digits that are read of it: marks of 1/16 in are 0.5 and 0.5625, not 0.5000.

        A step of one or two digits keeps its decimals; the decimals of a finer part of the unit would say too much.
        """
        return own if _is_written_out(self.quantum) else trimmed(own)

    def amount(self, own: Decimal, second: Decimal | None) -> Amount:
        """Return the exact number and its rounded conversion in the order of printing."""
        pair = [_printed(self.read(own), self.own), ("", "") if second is None else _printed(second, self.other)]
        if not self.own_first:
            pair.reverse()
        (value, unit), (small, small_unit) = pair
        return _amount(value, unit, small, small_unit)


@lru_cache
def _is_written_out(step: Decimal) -> bool:
    return len(step.normalize().as_tuple().digits) <= _WRITTEN_OF_STEP


@dataclass(frozen=True)
class Ends:
    """The two ends of a range in one unit; an open end is None."""

    low: Decimal | None
    high: Decimal | None

    def hold(self, number: Decimal) -> Decimal:
        """Return ``number``, or the nearer end where rounding has pushed it past one."""
        if self.low is not None and number < self.low:
            return self.low
        return self.high if self.high is not None and number > self.high else number


def inward(low: Quantity | None, high: Quantity | None, unit: str, quantum: Decimal) -> Ends:
    """Return both ends in ``unit``, each rounded into the range, never out of it."""
    return Ends(
        None if low is None else rounded(exact(low, unit), quantum, ROUND_CEILING),
        None if high is None else rounded(exact(high, unit), quantum, ROUND_FLOOR),
    )


# ---------------------------------------------------------------- conversion


@lru_cache(maxsize=_MAXIMUM_KEPT)
def converted(number: Decimal, unit: str, other: str) -> Decimal:
    """Return a number of ``unit`` in the ``other`` unit, without float noise."""
    return exact(registry.Quantity(float(number), SPELLINGS[unit]), other)


def quantum_of(number: Decimal) -> Decimal:
    """Return one unit of the last digit of ``number``, never above 1."""
    exponent = number.as_tuple().exponent
    return Decimal(1).scaleb(min(int(exponent), 0))


@lru_cache(maxsize=4096)
def quantum_elsewhere(quantum: Decimal, unit: str, other: str) -> Decimal:
    """Return the power of ten to which a number known to ``quantum`` of ``unit`` is rounded in the ``other`` unit."""
    width = converted(quantum, unit, other) - converted(Decimal(0), unit, other)
    return Decimal(1).scaleb((abs(width) * LOST_SHARE).adjusted())


def other_unit(kind: Kind, unit: str, mains_hz: int) -> str:
    """Return the unit of the other system; nothing where both systems use the same."""
    if unit.startswith("cycles@"):
        return "ms"
    if unit == "ms" and kind is kinds.TIME:
        return cycles if (cycles := f"cycles@{mains_hz}Hz") in SPELLINGS else ""
    if kind.metric == kind.customary:
        return ""
    return kind.metric if unit in _CUSTOMARY else kind.customary


def _own_is_first(kind: Kind, unit: str, first: SystemOfUnits) -> bool:
    return kind.metric == kind.customary or ((unit in _CUSTOMARY) == (first == "US customary"))


# ---------------------------------------------------------------- scales


@lru_cache(maxsize=4096)
def stepped_scale(kind: Kind, unit: str, step: Decimal, mains_hz: int) -> Scale:
    """Return the scale of a figure that is dialled in steps; what the machine can be set to is printed first.

    Times in cycles and milliseconds go by the mains frequency in Hz.
    """
    other = other_unit(kind, unit, mains_hz)
    other_quantum = quantum_elsewhere(step, unit, other) if other else Decimal(1)
    if other.startswith("cycles@"):
        other_quantum = max(other_quantum, TENTH)
    if unit.startswith("cycles@"):  # a whole number of cycles is exact, and controls count whole milliseconds
        other_quantum = min(other_quantum, WHOLE)
    return Scale(unit, step, other, other_quantum, own_first=True)


def free_scale(kind: Kind, unit: str, text: Decimal, first: SystemOfUnits, mains_hz: int) -> Scale:
    """Return the scale of a figure without steps: as many significant digits in the other unit as in its own.

    A size below one inch goes to the thousandth, as the trade writes it, and one written in inches to 0.01 mm.
    """
    quantum = quantum_of(text)
    other = other_unit(kind, unit, mains_hz)
    number = converted(text, unit, other) if other else Decimal(0)
    if not number and not text:
        return Scale(unit, quantum, other, Decimal(1), _own_is_first(kind, unit, first))
    if not number or not text:
        return stepped_scale(kind, unit, quantum, mains_hz)._replace(own_first=_own_is_first(kind, unit, first))
    digits = _honest_digits(text)
    other_quantum = Decimal(1).scaleb(significant(number, digits).adjusted() - digits + 1)
    if other == "in" and abs(number) < 1:
        other_quantum = min(other_quantum, THOUSANDTH)
    if unit == "in" and abs(text) < 1:
        other_quantum = min(other_quantum, HUNDREDTH)
    return Scale(unit, quantum, other, other_quantum, _own_is_first(kind, unit, first))


def known_scale(  # noqa: PLR0917 - the figure, and how it is to be shown
    kind: Kind, unit: str, spread: Decimal, text: Decimal, first: SystemOfUnits, mains_hz: int
) -> Scale:
    """Return the scale of a figure that is known to a ``spread`` of its own unit: to its last digit in both units."""
    other = other_unit(kind, unit, mains_hz)
    width = abs(converted(spread, unit, other) - converted(Decimal(0), unit, other)) if other else Decimal(0)
    number = converted(text, unit, other) if other else Decimal(0)
    maximum = Decimal(1).scaleb(number.adjusted()) if number else Decimal(1)
    other_quantum = min(last_digit(width), maximum) if width else Decimal(1)
    return Scale(unit, quantum_of(text), other, other_quantum, _own_is_first(kind, unit, first))


def _honest_digits(text: Decimal) -> int:
    """Return the significant digits of a number; zeros at the end of a whole number count only up to three."""
    written = len(text.as_tuple().digits)
    if quantum_of(text) < 1:
        return written
    return min(written, max(len(text.normalize().as_tuple().digits), RESULT_DIGITS))


# ---------------------------------------------------------------- amounts


def sheet_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return a nominal length as written, and in the other system to a hundredth of a mm or a thousandth of an inch.

    Below a tenth of an inch it has three decimals, as wire and sheet are sold: 0.040 in.
    """
    return _written_amount(value, first, ROUND_HALF_EVEN)


def _written_amount(value: Quantity, first: SystemOfUnits, rounding: Rounding) -> Amount:
    unit = spelling(value)
    inches = unit in _INCHES
    other, quantum = ("mm", HUNDREDTH) if inches else ("in", THOUSANDTH)
    small = rounded(exact(value, other), quantum, rounding)
    scale = Scale(unit, quantum, other, quantum, inches == (first == "US customary"))
    own = trimmed(stated(exact(value, unit)))
    if unit == "in" and abs(own) < TENTH and own == rounded(own, THOUSANDTH):
        own = rounded(own, THOUSANDTH)
    return scale.amount(own, small)


def stated_amount(value: Quantity, kind: Kind, first: SystemOfUnits, mains_hz: int) -> Amount:
    """Return a quantity as a table states it, and in the other system with as many significant digits, at least two.

    One digit would make 6 l/min, which is 1.6 gal/min, into 2 gal/min.
    """
    unit = spelling(value)
    number = trimmed(stated(exact(value, unit)))
    scale = free_scale(kind, unit, number, first, mains_hz)
    if not scale.other:
        return scale.amount(number, None)
    second = exact(value, scale.other)
    two_digits = Decimal(1).scaleb(significant(second, 2).adjusted() - 1)
    return scale.amount(number, rounded(second, min(scale.other_quantum, two_digits)))


def limit_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return the largest size that is allowed, never rounded up: to a hundredth of a mm, a thousandth of an inch."""
    return _size_amount(value, first, ROUND_FLOOR)


def minimum_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return the smallest size that is allowed, never rounded down: to a hundredth of a mm, a thousandth of an inch.

    One that its own unit has in so few decimals, in inches in one more, is as written: 3/16 in is 0.1875 in (4.77 mm).
    """
    unit = spelling(value)
    number = exact(value, unit)
    is_written = rounded(number, THOUSANDTH / 10 if unit in _INCHES else HUNDREDTH) == number
    return (_written_amount if is_written else _size_amount)(value, first, ROUND_CEILING)


def _size_amount(value: Quantity, first: SystemOfUnits, rounding: Rounding) -> Amount:
    metric = trimmed(rounded(exact(value, "mm"), HUNDREDTH, rounding))
    small = rounded(exact(value, "in"), THOUSANDTH, rounding)
    return Scale("mm", HUNDREDTH, "in", THOUSANDTH, first == "metric").amount(metric, small)


def speed_limit_amount(value: Quantity, first: SystemOfUnits) -> Amount:
    """Return the largest speed that is allowed, never rounded up: to a whole mm/s, a tenth of an inch per second."""
    metric = rounded(exact(value, "mm/s"), Decimal(1), ROUND_FLOOR)
    small = rounded(exact(value, "in/s"), Decimal("0.1"), ROUND_FLOOR)
    return Scale("mm/s", Decimal(1), "in/s", Decimal("0.1"), first == "metric").amount(metric, small)


def working_amount(value: Quantity, unit: str, digits: int = WORKING_DIGITS) -> Amount:
    """Return a quantity between two steps of a calculation."""
    key = (value.magnitude, unit, digits, *value.unit_items())
    found = _AMOUNTS.get(key)
    if found is None:
        if len(_AMOUNTS) >= _MAXIMUM_KEPT:
            _AMOUNTS.clear()
        found = _AMOUNTS[key] = Amount(value=working(exact(value, unit), digits), unit=printed_unit(unit))
    return found


def measured_amount(millimetres: float, last: Decimal, first: SystemOfUnits) -> Amount:
    """Return a measured length in mm, known to ``last`` of a millimetre; in inches as well where they come first."""
    value = quantity(millimetres, "mm")
    metric = plain(rounded(exact(value, "mm"), last))
    if first == "metric":
        return Amount(value=metric, unit="mm")
    inches = plain(rounded(exact(value, "in"), last_digit(converted(last, "mm", "in"))))
    return Amount(value=inches, unit="in", second=metric, second_unit="mm")


def plain_in(number: Decimal, unit: str) -> str:
    """Return a number of a unit as text; cycles and milliseconds are whole where they can be."""
    return plain(trimmed(number) if unit == "ms" or unit.startswith("cycles@") else number)


def _printed(number: Decimal, unit: str) -> tuple[str, str]:
    """Return a number and its unit as printed, the unit in the singular for one."""
    text, words = plain_in(number, unit), printed_unit(unit)
    return text, words.replace("cycles", "cycle") if text == "1" else words


@lru_cache(maxsize=_MAXIMUM_KEPT)
def _amount(value: str, unit: str, second: str, second_unit: str) -> Amount:
    return Amount(value=value, unit=unit, second=second, second_unit=second_unit)


# ---------------------------------------------------------------- units that are mixed up


@lru_cache(maxsize=256)
def mixed_up_with(unit: str, beside: str = "") -> tuple[tuple[str, str], ...]:
    """Return, as printed, the units that one printed ``unit`` is mixed up with, each with its factor to it.

    ``beside`` is the other unit printed beside it. Of cycles only those of the mains that one of the two names: at
    another frequency the same number is another time.
    """
    near = {_plural(unit), _plural(beside)}
    for group in _MIXED_UP:
        printed = {printed_unit(each): each for each in group}
        own = printed.pop(_plural(unit), "")
        if own:
            known = {name: each for name, each in printed.items() if not each.startswith("cycles@") or name in near}
            return tuple((name, plain(trimmed(converted(Decimal(1), each, own)))) for name, each in known.items())
    return ()


def _plural(unit: str) -> str:
    """Return a printed unit as it is written after more than one."""
    return unit.replace("cycle at", "cycles at")
