"""Figures as set and as shown: whole machine steps inside window and range, results rounded to what can be measured."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from functools import cached_property

from generator.errors import OutOfRangeError, refusal
from generator.process.measure import as_written, spelling
from generator.process.trace import Figure, Name, Remark, Rounded, Step, Weight, Window
from generator.units import (
    Quantity,
    exact,
    from_decimal,
    plain,
    significant,
    step_down,
    step_up,
    to_step,
    with_unit,
)


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


def doubts(source: str) -> tuple[Remark, ...]:
    """Return a remark where a table calls its own source memory (a warning) or common practice (a note)."""
    if "from memory" in source.lower():
        return (Remark(Weight.WARNING, source),)
    return (Remark(Weight.NOTE, source),) if "common practice" in source.lower() else ()


def dial(name: Name, wanted: Quantity, window: Window, setting: Setting, trace: tuple[Step, ...]) -> Figure:
    """Return ``wanted`` at the machine's nearest step, with the steps that window and machine both allow.

    Raises OutOfRangeError where the nearest step is outside the machine's range or outside the window.
    """
    text = to_step(wanted, setting.width, setting.unit)
    if setting.low is not None and text < exact(setting.low.at, setting.unit):
        raise _beyond(name, text, setting, "below the least", setting.low)
    if setting.high is not None and text > exact(setting.high.at, setting.unit):
        raise _beyond(name, text, setting, "above the greatest", setting.high)
    settable = _settable(window, setting)
    if not _holds(settable, text, setting.unit):
        raise _off_window(name, wanted, text, window, setting)
    return _set(name, wanted, text, setting, trace, settable)


def set_up_to_step(
    name: Name, wanted: Quantity, setting: Setting, trace: tuple[Step, ...], remarks: tuple[Remark, ...]
) -> Figure:
    """Return a time that no window limits at the next step that is not shorter."""
    text = step_up(wanted, setting.width, setting.unit)
    return replace(_set(name, wanted, text, setting, trace, None), remarks=remarks)


def _set(  # noqa: PLR0917 - the parts of one figure
    name: Name, wanted: Quantity, text: Decimal, setting: Setting, trace: tuple[Step, ...], window: Window | None
) -> Figure:
    rounded = Rounded(wanted, text, setting.unit, setting.width, setting.machine)
    value = from_decimal(text, setting.unit)
    steps = (*trace, rounded)
    return Figure(name.key, name.label, name.symbol, name.kind, setting.unit, value, text, window, setting.width, steps)


def _settable(window: Window, setting: Setting) -> Window:
    """Return the window cut to the machine's range, both ends on a step inside it."""
    unit, width, words = setting.unit, setting.width, [window.origin]
    low = None if window.low is None else step_up(window.low, width, unit)
    high = None if window.high is None else step_down(window.high, width, unit)
    if setting.low is not None and (low is None or low < exact(setting.low.at, unit)):
        low = step_up(setting.low.at, width, unit)
        words.append(f"lower end: {setting.low.origin}")
    if setting.high is not None and (high is None or high > exact(setting.high.at, unit)):
        high = step_down(setting.high.at, width, unit)
        words.append(f"upper end: {setting.high.origin}")
    ends = [None if end is None else from_decimal(end, unit) for end in (low, high)]
    return Window(ends[0], ends[1], "; ".join(words))


def _holds(window: Window, text: Decimal, unit: str) -> bool:
    above = window.low is None or exact(window.low, unit) <= text
    return above and (window.high is None or text <= exact(window.high, unit))


def _beyond(name: Name, text: Decimal, setting: Setting, word: str, bound: Bound) -> OutOfRangeError:
    return refusal(
        f"{name.label} {with_unit(plain(text), setting.unit)} is {word} of {bound.origin}, {as_written(bound.at)}",
        "give the spots to an arm whose gun and cap stand it, or use another schedule",
        value=with_unit(plain(text), setting.unit),
    )


def _off_window(name: Name, wanted: Quantity, text: Decimal, window: Window, setting: Setting) -> OutOfRangeError:
    low, high = (_rough(end, setting.unit) for end in (window.low, window.high))
    return refusal(
        f"{name.label}: {setting.machine} can only be set to {with_unit(plain(text), setting.unit)} for "
        f"{_rough(wanted, setting.unit)}, outside the window {low} to {high} ({window.origin})",
        "use a gun with finer steps, or a schedule with a wider window",
        value=with_unit(plain(text), setting.unit),
    )


def _rough(value: Quantity | None, unit: str) -> str:
    return "open" if value is None else with_unit(plain(significant(exact(value, unit), 4).normalize()), unit)


@dataclass(frozen=True)
class Shown:
    """How a result is shown: in which unit, to which decimal, and in which direction it is rounded."""

    unit: str
    to: Decimal
    rounding: str
    reason: str


LEAST = Shown("mm", Decimal("0.1"), ROUND_CEILING, "rounded up, so that what is measured is never too small")


def rounded_result(
    name: Name,
    result: Quantity,
    shown: Shown,
    trace: tuple[Step, ...],
    *,
    window: Window | None = None,
    remarks: tuple[Remark, ...] = (),
) -> Figure:
    """Return a figure that is read, not dialled, rounded as ``shown`` says; its value is the rounded one."""
    text = to_step(result, shown.to, shown.unit, shown.rounding)
    rounded = Rounded(result, text, shown.unit, shown.to, shown.reason)
    value = from_decimal(text, shown.unit)
    steps = (*trace, rounded)
    return Figure(name.key, name.label, name.symbol, name.kind, shown.unit, value, text, window, None, steps, remarks)
