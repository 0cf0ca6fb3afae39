"""How weld current and weld time of a spot limit each other, in sentences and as a chart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from weld_packets.calculation.results import CurrentAndTime, WeldSettings
from weld_packets.calculation.trace import Figure, Window
from weld_packets.packet.diagrams.load import Load, load_picture
from weld_packets.packet.numbers import inward_digits, printed_unit, set_amount
from weld_packets.packet.records import Picture
from weld_packets.packet.values import Showing, anchor, value_of
from weld_packets.packet.wording import amount_text, joined, window_text
from weld_packets.units import SPELLINGS, exact, from_decimal, magnitude, quantity, with_unit

_CURRENT, _TIME = "weld_current", "weld_time"


def load_lines(settings: WeldSettings, showing: Showing) -> tuple[str, ...]:
    """Return as sentences which currents are allowed at which weld times, and on what that rests; nothing for seams."""
    together = settings.together
    if together is None:
        return ()
    minimum, maximum = _bounds(together)
    return (
        f"Current and weld time together: {joined(_at_times(settings, together, showing))}.",
        f"I²t stays between {minimum} and {with_unit(maximum, 'kA²·s')}: {together.basis} ({together.standing}).",
    )


def load_charts(settings: WeldSettings) -> tuple[Picture, ...]:
    """Return the chart of weld current over weld time; nothing for seams."""
    together = settings.together
    if together is None:
        return ()
    current, time = settings.figure(_CURRENT), settings.figure(_TIME)
    if current.value is None or time.value is None:
        return ()
    minimum, maximum = _bounds(together)
    load = Load(
        time=f"{time.label}, {printed_unit(together.time_unit)}",
        current=f"{current.label}, {printed_unit(together.current_unit)}",
        times=(float(together.times[0]), float(together.times[1])),
        currents=(float(together.currents[0]), float(together.currents[1])),
        minimum=_slope(together, magnitude(together.minimum, "kA²·s")),
        maximum=_slope(together, magnitude(together.maximum, "kA²·s")),
        at=(magnitude(time.value, together.time_unit), magnitude(current.value, together.current_unit)),
        minimum_words=f"weakest pairing: {with_unit(minimum, 'kA²·s')}",
        maximum_words=f"strongest pairing: {with_unit(maximum, 'kA²·s')}",
        set_words=f"{set_amount(current)} and {set_amount(time)}",
    )
    caption = (
        "Below the lower curve a weld may be cold, above the upper one metal may be thrown out. "
        "Stay in the shaded field when you change either."
    )
    return (load_picture(anchor(settings.key, "load"), load, caption),)


def _slope(together: CurrentAndTime, heat: float) -> float:
    """Return a Joule integral as current² times weld time of one pulse, in the units of both dials."""
    one = quantity(1.0, together.current_unit) ** 2.0 * quantity(1.0, together.time_unit) * together.pulses
    return heat / float(one.m_as(SPELLINGS["kA²·s"]))


def _at_times(settings: WeldSettings, together: CurrentAndTime, showing: Showing) -> Iterator[str]:
    time, current = settings.figure(_TIME), settings.figure(_CURRENT)
    for each in together.at:
        low, high = (from_decimal(end, together.current_unit) for end in (each.low, each.high))
        window = Window(low, high, "")
        allowed = window_text(value_of(replace(current, window=window, remarks=(), trace=()), showing, ""))
        at = amount_text(value_of(_at(time, each.time, together.time_unit), showing, ""))
        yield f"at {at}{' as set' if each.time == time.text else ''} {allowed}"


def _at(time: Figure, number: Decimal, unit: str) -> Figure:
    return replace(time, text=number, value=from_decimal(number, unit), window=None, remarks=(), trace=())


def _bounds(together: CurrentAndTime) -> tuple[str, str]:
    """Return both bounds of I²t to three digits, rounded inward."""
    minimum, maximum = (exact(end, "kA²·s") for end in (together.minimum, together.maximum))
    return inward_digits(minimum, ROUND_CEILING), inward_digits(maximum, ROUND_FLOOR)
