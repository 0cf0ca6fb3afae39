"""What a machine is set to: whole steps inside the allowed range of the chart and the range of the machine."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from functools import cached_property

from weld_packets.calculation.trace import AllowedRange, Figure, Name, Remark, Rounded, Step
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.units import (
    Quantity,
    as_written,
    exact,
    from_decimal,
    plain,
    printed_unit,
    significant,
    spelling,
    step_down,
    step_up,
    to_step,
    with_unit,
)
from weld_packets.units.amounts import range_text

MARGIN = 2
"""How many machine steps a setting lies inside each end of its allowed range, where the range is wide enough."""


@dataclass(frozen=True)
class Bound:
    """One end of what can be set, and what sets it."""

    at: Quantity
    origin: str


@dataclass(frozen=True)
class Setting:
    """What a machine can be set to: its steps, and its ends where it has any."""

    machine: str
    step: Quantity
    low: Bound | None = None
    high: Bound | None = None

    @cached_property
    def unit(self) -> str:
        """The unit that the machine is set in."""
        return spelling(self.step)

    @cached_property
    def width(self) -> Decimal:
        """The step in that unit, written without an exponent."""
        return Decimal(plain(exact(self.step, self.unit)))


def between(machine: str, low: Quantity, high: Quantity, step: Quantity) -> Setting:
    """Return the setting of a machine that itself sets both ends."""
    return Setting(machine, step, Bound(low, machine), Bound(high, machine))


def set_inside(
    name: Name, wanted: Quantity, allowed_range: AllowedRange, setting: Setting, trace: tuple[Step, ...]
) -> Figure:
    """Return the figure at the target step inside an allowed range, never at an end of it: see ``target``.

    Raises OutOfRangeError where the machine cannot reach ``wanted``, or where no step lies inside both ends.
    """
    _refuse_beyond(name, to_step(wanted, setting.width, setting.unit), setting)
    text = target(wanted, allowed_range, setting)
    if text is None:
        width, words = as_written(setting.step), span_words(_cut(allowed_range, setting), setting.unit)
        raise refusal(
            f"{name.label}: no step of {width} of {setting.machine} lies between the ends of "
            f"{words} ({allowed_range.origin}), only at an end or outside",
            f"use a machine with finer steps, or a chart or tolerance whose allowed range is wider than {width}",
            value=with_unit(plain(significant(exact(wanted, setting.unit), 4).normalize()), setting.unit),
        )
    return _set(name, wanted, text, setting, trace, settable(allowed_range, setting))


def target(wanted: Quantity, allowed_range: AllowedRange, setting: Setting) -> Decimal | None:
    """Return the target step of the machine, in its unit, inside an allowed range cut to what it can be set to.

    It is the step nearest to ``wanted`` that lies at least ``MARGIN`` steps inside every end. Where the range is too
    narrow for that, it is the step nearest to its middle; of two, the one nearer to ``wanted``, then the lower one.
    None where the range holds no step, or none but at its ends. An open end asks for no margin.
    """
    width, unit = setting.width, setting.unit
    cut = _cut(allowed_range, setting)
    first = None if cut.low is None else step_up(cut.low, width, unit) + MARGIN * width
    last = None if cut.high is None else step_down(cut.high, width, unit) - MARGIN * width
    if first is None or last is None or first <= last:
        inner = [number for number in (first, last) if number is not None]
        nearest = to_step(wanted, width, unit)
        return nearest if _holds(nearest, first, last) else min(inner, key=lambda end: abs(end - nearest))
    return _nearest_middle(wanted, allowed_range, setting)


def _holds(number: Decimal, first: Decimal | None, last: Decimal | None) -> bool:
    return (first is None or number >= first) and (last is None or number <= last)


def _nearest_middle(wanted: Quantity, allowed_range: AllowedRange, setting: Setting) -> Decimal | None:
    width, unit = setting.width, setting.unit
    low, high = (exact(end, unit) for end in closed_ends(_cut(allowed_range, setting)))
    below = ((low + high) / 2 / width).to_integral_value(rounding=ROUND_FLOOR) * width
    inner = [number.quantize(width) for number in (below, below + width) if low < number < high]
    middle, ideal = (low + high) / 2, exact(wanted, unit)
    return min(inner, key=lambda number: (abs(number - middle), abs(number - ideal), number), default=None)


def closed_ends(allowed_range: AllowedRange) -> tuple[Quantity, Quantity]:
    """Return both ends of an allowed range; raise ValueError with its origin where one is open."""
    if allowed_range.low is None or allowed_range.high is None:
        raise ValueError(allowed_range.origin)
    return allowed_range.low, allowed_range.high


def _cut(allowed_range: AllowedRange, setting: Setting) -> AllowedRange:
    """Return the allowed range cut to the machine's own ends, which need not lie on a step."""
    unit, low, high = setting.unit, allowed_range.low, allowed_range.high
    if setting.low is not None and (low is None or exact(low, unit) < exact(setting.low.at, unit)):
        low = setting.low.at
    if setting.high is not None and (high is None or exact(high, unit) > exact(setting.high.at, unit)):
        high = setting.high.at
    return AllowedRange(low, high, allowed_range.origin)


def at_step(  # noqa: PLR0917 - the parts of one figure
    name: Name, wanted: Quantity, text: Decimal, allowed_range: AllowedRange, setting: Setting, trace: tuple[Step, ...]
) -> Figure:
    """Return the figure at a step already chosen, with the steps that the allowed range and the machine both allow.

    Raises OutOfRangeError where the machine cannot be set to it.
    """
    _refuse_beyond(name, text, setting)
    return _set(name, wanted, text, setting, trace, settable(allowed_range, setting))


def set_up_to_step(
    name: Name, wanted: Quantity, setting: Setting, trace: tuple[Step, ...], remarks: tuple[Remark, ...]
) -> Figure:
    """Return a time that no allowed range limits at the next step that is not shorter."""
    text = step_up(wanted, setting.width, setting.unit)
    return replace(_set(name, wanted, text, setting, trace, None), remarks=remarks)


def set_to_nearest(name: Name, wanted: Quantity, setting: Setting, trace: tuple[Step, ...]) -> Figure:
    """Return a figure that no allowed range limits at the step nearest to ``wanted``."""
    return _set(name, wanted, to_step(wanted, setting.width, setting.unit), setting, trace, None)


def span_words(allowed_range: AllowedRange, unit: str) -> str:
    """Return both ends of an allowed range in words, in the unit in which the machine is set."""
    ends = (allowed_range.low, allowed_range.high)
    low, high = ("" if end is None else plain(significant(exact(end, unit), 4).normalize()) for end in ends)
    return range_text(low, high, printed_unit(unit))


def _set(  # noqa: PLR0917 - the parts of one figure
    name: Name,
    wanted: Quantity,
    text: Decimal,
    setting: Setting,
    trace: tuple[Step, ...],
    allowed_range: AllowedRange | None,
) -> Figure:
    rounded = Rounded(wanted, text, setting.unit, setting.width, setting.machine)
    value = from_decimal(text, setting.unit)
    steps = (*trace, rounded)
    return name.figure(setting.unit, value, text, allowed_range, step=setting.width, trace=steps)


def settable(allowed_range: AllowedRange, setting: Setting) -> AllowedRange:
    """Return the allowed range cut to the machine's, both ends on a step inside it; the origin names what cuts it."""
    unit, width, words = setting.unit, setting.width, [allowed_range.origin]
    low = None if allowed_range.low is None else step_up(allowed_range.low, width, unit)
    high = None if allowed_range.high is None else step_down(allowed_range.high, width, unit)
    if setting.low is not None and (low is None or low < exact(setting.low.at, unit)):
        low = step_up(setting.low.at, width, unit)
        words.append(f"lower end: {setting.low.origin}")
    if setting.high is not None and (high is None or high > exact(setting.high.at, unit)):
        high = step_down(setting.high.at, width, unit)
        words.append(f"upper end: {setting.high.origin}")
    ends = [None if end is None else from_decimal(end, unit) for end in (low, high)]
    return AllowedRange(ends[0], ends[1], "; ".join(words))


def _refuse_beyond(name: Name, text: Decimal, setting: Setting) -> None:
    if setting.low is not None and text < exact(setting.low.at, setting.unit):
        raise _beyond(name, text, setting, "below the minimum", setting.low)
    if setting.high is not None and text > exact(setting.high.at, setting.unit):
        raise _beyond(name, text, setting, "above the maximum", setting.high)


def _beyond(name: Name, text: Decimal, setting: Setting, word: str, bound: Bound) -> OutOfRangeError:
    return refusal(
        f"{name.label} {with_unit(plain(text), setting.unit)} is {word} of {bound.origin}, {as_written(bound.at)}",
        "give the welds to a robot whose equipment reaches it, or use another chart",
        value=with_unit(plain(text), setting.unit),
    )
