"""How two dials limit each other, and the passes of a weld of several, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from itertools import chain
from types import MappingProxyType
from typing import Literal

from weld_packets.calculation.results import Coupling, CurrentAndTime, SizeLine, SizeWord, WeldSettings
from weld_packets.calculation.trace import AllowedRange, Figure
from weld_packets.packet.records.settings import LinkedLimit, PassLine
from weld_packets.packet.settings.values import Showing, amount_of, printed_value
from weld_packets.units import exact, from_decimal, kinds, limit_digits, printed_unit, rounded, with_unit
from weld_packets.units.digits import HUNDREDTH, TENTH, Rounding, plain, trimmed
from weld_packets.units.scales import converted
from weld_packets.wording.english import capital, joined

CURRENT, TIME = "weld_current", "weld_time"


def load_lines(settings: WeldSettings, showing: Showing) -> tuple[str, ...]:
    """Return as sentences which currents are allowed at which weld times, and on what that rests; nothing for seams."""
    together = settings.together
    if together is None:
        return ()
    minimum, maximum = joule_bounds(together)
    return (
        f"Current and weld time together: {joined(_at_times(settings, together, showing))}.",
        f"I²t stays between {minimum} and {with_unit(maximum, 'kA²·s')}: {together.basis} ({together.standing}).",
    )


def _at_times(settings: WeldSettings, together: CurrentAndTime, showing: Showing) -> Iterator[str]:
    time, current = settings.figure(TIME), settings.figure(CURRENT)
    for each in together.at:
        low, high = (from_decimal(end, together.current_unit) for end in (each.low, each.high))
        allowed_range = AllowedRange(low, high, "")
        allowed = printed_value(
            replace(current, allowed_range=allowed_range, remarks=(), trace=()), showing, ""
        ).allowed
        at = printed_value(_at(time, each.time, together.time_unit), showing, "").text
        yield f"at {at}{' as set' if each.time == time.text else ''} {allowed}"


def _at(time: Figure, number: Decimal, unit: str) -> Figure:
    return replace(time, text=number, value=from_decimal(number, unit), allowed_range=None, remarks=(), trace=())


def joule_bounds(together: CurrentAndTime) -> tuple[str, str]:
    """Return both bounds of I²t to three digits, rounded inward."""
    minimum, maximum = (exact(end, "kA²·s") for end in (together.minimum, together.maximum))
    return limit_digits(minimum, ROUND_CEILING), limit_digits(maximum, ROUND_FLOOR)


FEED, SPEED = "wire_feed_speed", "travel_speed"
_READING = "welding_current"
_LINKED_DIGITS = 5
"""Significant digits of a limit that is judged by: finer than a machine step, coarser than the noise of a float."""
_SPREAD = {kinds.LENGTH: 0.013, kinds.AREA: 0.05}
"""To which both are known: a hundredth of a millimetre or a thousandth of an inch, a tenth of a square millimetre."""
_ROUNDING: Mapping[SizeWord, str] = MappingProxyType({"required": ROUND_CEILING, "largest": ROUND_FLOOR})


def coupled_lines(settings: WeldSettings, showing: Showing) -> tuple[str, ...]:
    """Return as sentences how fast and how slow a robot may travel for a wire feed; nothing without a required size."""
    coupling = settings.coupling
    if coupling is None:
        return ()
    sizes = {line.word: size_text(line, showing) for line in coupling.lines}
    found = []
    if coupling.fastest is not None:
        number = limit_digits(Decimal(repr(coupling.fastest)), ROUND_FLOOR)
        words = f"a faster weld is smaller than the {sizes['required']} required"
        found.append(f"Travel speed at most {number} × wire feed speed ({_units(coupling)}): {words}.")
    if coupling.slowest is not None:
        number = limit_digits(Decimal(repr(coupling.slowest)), ROUND_CEILING)
        words = f"a slower weld is larger than the {sizes['largest']} allowed"
        found.append(f"Travel speed at least {number} × wire feed speed ({_units(coupling)}): {words}.")
    reading = next((figure for figure in settings.derived if figure.key == _READING), None)
    if reading is not None and reading.allowed_range is not None:
        words = printed_value(reading, showing, "").allowed
        found.append(f"Keep the wire feed where the displayed current stays within {words}.")
    return tuple(found)


def linked_limits(equal: Sequence[WeldSettings]) -> tuple[LinkedLimit, ...]:
    """Return as numbers how settings limit each other, the strictest of welds that share a weld schedule."""
    found: dict[tuple[str, str], LinkedLimit] = {}
    for each in chain.from_iterable(map(_linked, equal)):
        pair = (each.value, each.other)
        found[pair] = _stricter(found[pair], each) if pair in found else each
    return tuple(found.values())


def _linked(settings: WeldSettings) -> Iterator[LinkedLimit]:
    coupling, together = settings.coupling, settings.together
    if coupling is not None and (coupling.slowest, coupling.fastest) != (None, None):
        low, high = (None if end is None else Decimal(repr(end)) for end in (coupling.slowest, coupling.fastest))
        yield _limit(SPEED, FEED, 1, low, high)
    if together is not None:
        in_dials = converted(Decimal(1), "kA", together.current_unit) ** 2 * converted(
            Decimal(1), "s", together.time_unit
        )
        low, high = (exact(end, "kA²·s") * in_dials / together.pulses for end in (together.minimum, together.maximum))
        yield _limit(TIME, CURRENT, -2, low, high)


def _limit(value: str, other: str, power: Literal[1, -2], low: Decimal | None, high: Decimal | None) -> LinkedLimit:
    return LinkedLimit(
        value=value,
        other=other,
        power=power,
        minimum=_widened(low, ROUND_FLOOR),
        maximum=_widened(high, ROUND_CEILING),
    )


def _widened(end: Decimal | None, rounding: Rounding) -> str:
    """Return an end without its float noise, and outside it: the ends of printed ranges, whole steps, stay allowed."""
    if end is None:
        return ""
    return plain(trimmed(end.quantize(Decimal(1).scaleb(end.adjusted() - _LINKED_DIGITS + 1), rounding)))


def _stricter(one: LinkedLimit, other: LinkedLimit) -> LinkedLimit:
    low = max(filter(None, (one.minimum, other.minimum)), key=Decimal, default="")
    high = min(filter(None, (one.maximum, other.maximum)), key=Decimal, default="")
    return one.model_copy(update={"minimum": low, "maximum": high})


def pass_lines(settings: WeldSettings, showing: Showing) -> Iterator[PassLine]:
    """Yield the passes of a weld of several, in sequence."""
    for each in settings.passes:
        throat = "" if each.throat is None else size_text(SizeLine("target", each.throat, kinds.LENGTH, 0.0), showing)
        yield PassLine(
            number=each.number, place=each.place, aim=capital(each.aim), cleaning=capital(each.cleaning), throat=throat
        )


def _units(coupling: Coupling) -> str:
    return f"{printed_unit(coupling.speed_unit)} for {printed_unit(coupling.feed_unit)}"


def size_text(line: SizeLine, showing: Showing) -> str:
    """Return a throat to a hundredth of a millimetre, or a cross-section to a tenth, in the order's first unit.

    What is required is rounded up and the largest allowed down, as limits are.
    """
    last = HUNDREDTH if line.kind is kinds.LENGTH else TENTH
    rounding = _ROUNDING.get(line.word, ROUND_HALF_EVEN)
    text, spread = rounded(exact(line.size, line.kind.metric), last, rounding), _SPREAD[line.kind]
    figure = Figure("size", "", "", line.kind, line.kind.metric, line.size, text, spread=spread, rounding=rounding)
    amount = amount_of(figure, showing)
    return "" if amount is None else amount.first_text
