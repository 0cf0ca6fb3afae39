"""From a computed figure to a value as printed: amount, allowed range, step, remarks and trace."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Literal, assert_never

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import value_of as number_of
from weld_packets.calculation.results import safe_name
from weld_packets.calculation.sentences import sentence
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Lookup, Rounded, Step, Verdict, Weight
from weld_packets.calculation.trace import Remark as ProcessRemark
from weld_packets.packet.records.settings import Check
from weld_packets.packet.records.values import PutIn, Remark, TracePoint, Value
from weld_packets.units import (
    SPELLINGS,
    Amount,
    Quantity,
    Span,
    SystemOfUnits,
    as_written,
    exact,
    from_decimal,
    plain,
    printed_unit,
    rounded,
    spelling,
    with_unit,
    working,
)
from weld_packets.units.digits import HUNDREDTH, STATED_DIGITS, TENTH, THOUSANDTH, WHOLE
from weld_packets.units.scales import (
    Ends,
    Scale,
    converted,
    free_scale,
    inward,
    known_scale,
    minimum_amount,
    plain_in,
    stepped_scale,
    working_amount,
)
from weld_packets.wording.calculations import formula_label, input_label
from weld_packets.wording.english import capital
from weld_packets.wording.phrases import outside_text

_LOST_OF_END = Decimal("0.005")
_FINER = (WHOLE, TENTH, HUNDREDTH, THOUSANDTH)


@dataclass(frozen=True)
class Showing:
    """How an operation's numbers are shown: the system of units printed first, and the mains frequency in Hz."""

    first: SystemOfUnits
    mains: int


def printed_value(figure: Figure, showing: Showing, place: str, of: str = "") -> Value:
    """Return a figure as printed; ``place`` begins its anchor on the calculation page, ``of`` says what it is for."""
    scale, ends = _scaled(figure, showing)
    key = f"{figure.key}--{safe_name(of)}" if of else figure.key
    return Value(
        key=key,
        figure=figure.key,
        label=capital(f"{figure.label} ({of})" if of else figure.label),
        symbol=figure.symbol,
        anchor=anchor(place, key),
        amount=_amount(figure, scale, ends, showing),
        outside=outside_text(sentence(figure.outside, showing.first)),
        window=None if figure.allowed_range is None or ends is None else _span(figure.allowed_range, ends, scale),
        step=None if figure.step is None else _step(figure.step, scale),
        remarks=tuple(_remark(remark, showing.first) for remark in figure.remarks),
        trace=tuple(trace_point(step, figure) for step in figure.trace),
    )


def amount_of(figure: Figure, showing: Showing) -> Amount | None:
    """Return the number of a figure as printed, without all that goes with it; None where it has none."""
    if figure.text is None:
        return None
    return _amount(figure, *_scaled(figure, showing), showing)


def largest_allowed(figure: Figure, showing: Showing) -> tuple[Quantity, Amount] | None:
    """Return the largest value that a page lets a setter choose, as a number and as printed; None without a number.

    It is the end of the allowed range, rounded inward as the page shows it, or the value itself where nothing above it
    is allowed.
    """
    if figure.text is None:
        return None
    scale, ends = _scaled(figure, showing)
    if ends is None or ends.own.high is None or ends.own.high < figure.text:
        own, second = figure.text, _second(figure, figure.text, scale, ends)
    else:
        own, second = ends.own.high, None if ends.other is None else ends.other.high
    return from_decimal(own, scale.own), scale.amount(own, second)


def anchor(place: str, key: str) -> str:
    """Return the place of a figure on its page."""
    return f"{place}-{key}".replace("_", "-").lower()


def _scale(figure: Figure, showing: Showing) -> Scale:
    if figure.step is not None:
        return _fine_enough(figure, stepped_scale(figure.kind, figure.unit, figure.step, showing.mains))
    text = Decimal(0) if figure.text is None else figure.text
    if figure.spread is not None:
        return known_scale(figure.kind, figure.unit, Decimal(figure.spread), text, showing.first, showing.mains)
    return free_scale(figure.kind, figure.unit, text, showing.first, showing.mains)


def _fine_enough(figure: Figure, scale: Scale) -> Scale:
    """Return a scale that shows a setting at an end of its range inside it in the other unit too."""
    allowed_range, text = figure.allowed_range, figure.text
    if allowed_range is None or text is None or not scale.other:
        return scale
    own = _own_ends(figure, allowed_range, scale)
    second = rounded(converted(text, scale.own, scale.other), scale.other_quantum)
    outside = text in {own.low, own.high} and _true(allowed_range, scale).hold(second) != second
    return scale._replace(other_quantum=scale.other_quantum / 10) if outside else scale


@dataclass(frozen=True)
class _BothEnds:
    own: Ends
    other: Ends | None


def _scaled(figure: Figure, showing: Showing) -> tuple[Scale, _BothEnds | None]:
    """Return the scale on which a figure is shown, and the ends of its allowed range there, if it has one."""
    scale = _scale(figure, showing)
    return scale, None if figure.allowed_range is None else _ends(figure, figure.allowed_range, scale)


def _ends(figure: Figure, allowed_range: AllowedRange, scale: Scale) -> _BothEnds:
    own = _own_ends(figure, allowed_range, scale)
    other = _other_ends(own, allowed_range, scale) if scale.other else None
    return _BothEnds(own, other and _at_the_value(figure, own, other, scale))


def _true(allowed_range: AllowedRange, scale: Scale) -> Ends:
    """Return the ends of a range in the other unit, rounded inward."""
    return inward(allowed_range.low, allowed_range.high, scale.other, scale.other_quantum)


def _other_ends(own: Ends, allowed_range: AllowedRange, scale: Scale) -> Ends:
    """Return the ends in the other unit as conversions of those shown beside them, so that both read as one range.

    The nearest number is taken where it is within the true range, else the next one inside.
    """
    true = _true(allowed_range, scale)
    low, high = (
        None if end is None else rounded(converted(end, scale.own, scale.other), scale.other_quantum)
        for end in (own.low, own.high)
    )
    return Ends(
        low if low is None or true.low is None else max(low, true.low),
        high if high is None or true.high is None else min(high, true.high),
    )


def _at_the_value(figure: Figure, own: Ends, other: Ends, scale: Scale) -> Ends:
    """Return the converted ends, an end that is the value itself with the same conversion as that value.

    A setting is then shown at that end, which lies within the true range. The sizes of what is fitted are nominal: one
    that is an end of its range is shown as any other.
    """
    if figure.text is None or (figure.step is not None and own.low != own.high):
        return other
    same = rounded(converted(figure.text, scale.own, scale.other), scale.other_quantum)
    return Ends(same if own.low == figure.text else other.low, same if own.high == figure.text else other.high)


def _own_ends(figure: Figure, allowed_range: AllowedRange, scale: Scale) -> Ends:
    if figure.step is not None:
        return inward(allowed_range.low, allowed_range.high, scale.own, figure.step)
    tries = [inward(allowed_range.low, allowed_range.high, scale.own, scale.quantum * finer) for finer in _FINER]
    return next((ends for ends in tries if _are_near(ends, figure, allowed_range, scale.own)), tries[-1])


def _are_near(ends: Ends, figure: Figure, allowed_range: AllowedRange, unit: str) -> bool:
    """Return whether rounded ends still hold the value, and are within half a per cent of the true ones."""
    pairs = ((ends.low, allowed_range.low), (ends.high, allowed_range.high))
    near = (
        abs(shown - exact(true, unit)) <= abs(shown) * _LOST_OF_END
        for shown, true in pairs
        if shown is not None and true is not None
    )
    return (figure.text is None or ends.hold(figure.text) == figure.text) and all(near)


def _amount(figure: Figure, scale: Scale, ends: _BothEnds | None, showing: Showing) -> Amount | None:
    if figure.text is None:
        return None
    if figure.minimum:
        return minimum_amount(number_of(figure), showing.first)
    return scale.amount(figure.text, _second(figure, figure.text, scale, ends))


def _second(figure: Figure, own: Decimal, scale: Scale, ends: _BothEnds | None) -> Decimal | None:
    """Return the number in the other unit: of what is set, its own digits; of anything else, the value unrounded."""
    if not scale.other:
        return None
    unrounded = _unrounded(figure)
    if unrounded is None or figure.step is not None:
        number = converted(own, scale.own, scale.other)
    else:
        number = exact(unrounded, scale.other)
    second = rounded(number, scale.other_quantum, figure.rounding)
    return ends.other.hold(second) if ends and ends.other else second


def _unrounded(figure: Figure) -> Quantity | None:
    """Return the value of a figure as it was before its last step rounded it: each unit rounds once, from there."""
    last = figure.trace[-1] if figure.trace else None
    return last.before if isinstance(last, Rounded) else figure.value


def _span(allowed_range: AllowedRange, ends: _BothEnds, scale: Scale) -> Span:
    own, other = ends.own, ends.other or Ends(None, None)
    texts = [(_text(low, unit), _text(high, unit)) for low, high, unit in (
        (_read(own.low, scale), _read(own.high, scale), scale.own), (other.low, other.high, scale.other),
    )]  # fmt: skip
    (low, high), (second_low, second_high) = texts if scale.own_first else reversed(texts)
    return Span(low=low, high=high, second_low=second_low, second_high=second_high, origin=allowed_range.origin)


def _read(end: Decimal | None, scale: Scale) -> Decimal | None:
    return None if end is None else scale.read(end)


def _step(step: Decimal, scale: Scale) -> Amount:
    small = None
    if scale.other:
        width = converted(step, scale.own, scale.other) - converted(Decimal(0), scale.own, scale.other)
        small = rounded(width, scale.other_quantum / 10)
    return scale.amount(step, small)


def _text(number: Decimal | None, unit: str) -> str:
    return "" if number is None else plain_in(number, unit)


@lru_cache(maxsize=512)
def _remark(remark: ProcessRemark, first: SystemOfUnits) -> Remark:
    """Return a remark as printed; a warning concerns the setter, whatever else it is."""
    act = remark.countermeasure
    return Remark(
        weight=remark.weight.value,
        text=sentence(remark.said, first),
        source=str(remark.source or ""),
        reader="setter" if remark.weight is Weight.WARNING else remark.reader,
        do="" if act is None else sentence(act.do, first),
        stage="" if act is None else act.stage,
    )


def trace_point(step: Step, figure: Figure) -> TracePoint:
    """Return one step as printed; a looked-up value is printed in the unit of its ``figure`` where that fits."""
    match step:
        case Given():
            return _given(step, figure)
        case Lookup():
            return _lookup(step, figure)
        case Worked():
            return _worked(step)
        case Rounded():
            return _rounded(step, figure)
        case _:
            assert_never(step)


def _given(step: Given, figure: Figure) -> TracePoint:
    symbol = figure.symbol if step.label == figure.label else ""
    stated = working_amount(step.value, step.unit, STATED_DIGITS)
    return TracePoint(form="given", label=step.label, result=stated, origin=step.origin, symbol=symbol)


def _lookup(step: Lookup, figure: Figure) -> TracePoint:
    return TracePoint(
        form="lookup",
        label=step.column,
        result=working_amount(step.result, _unit_for(step.result, figure.unit)),
        table=step.table,
        revision=step.revision,
        source=step.source,
        column=step.column,
        at=as_written(step.at),
        rows=step.rows,
        values=step.values,
        fraction="" if step.fraction is None else working(step.fraction),
    )


def _unit_for(value: Quantity, wanted: str) -> str:
    fits = bool(value.dimensionality == SPELLINGS[wanted].dimensionality)
    return wanted if fits else spelling(value)


def _worked(step: Worked) -> TracePoint:
    formula = step.formula
    numbers = (
        PutIn(
            symbol=entry.symbol,
            name=input_label(entry.name),
            amount=working_amount(step.given[entry.name], entry.kind.unit),
        )
        for entry in formula.inputs
    )
    return TracePoint(
        form="formula",
        label=formula_label(formula.name),
        result=working_amount(step.result, formula.result.unit),
        symbol=formula.symbol,
        source=formula.source.document,
        clause=formula.source.clause,
        standing=formula.source.standing.value,
        validity=formula.validity,
        expression=formula.expression,
        numbers=tuple(numbers),
    )


def _rounded(step: Rounded, figure: Figure) -> TracePoint:
    return TracePoint(
        form="rounded",
        label=step.machine,
        result=Amount(value=plain(step.after), unit=printed_unit(step.unit)),
        symbol=figure.symbol,
        at=with_unit(working(exact(step.before, step.unit)), printed_unit(step.unit) or "1"),
        origin=f"step {with_unit(plain(step.step), printed_unit(step.unit) or '1')}",
    )


def set_text(figure: Figure) -> str:
    """Return what is set in the unit of its own dial alone."""
    return with_unit(plain(figure.text or Decimal(0)), printed_unit(figure.unit) or "1")


# ---------------------------------------------------------------- verdicts


def check_of(verdict: Verdict, showing: Showing) -> Check:
    """Return a verdict as printed; one that failed never reaches a packet."""
    if verdict.passed is False:
        raise ValueError(f"{verdict.subject}: a failed check must be refused before the packet: {verdict.text}")
    act = verdict.countermeasure
    return Check(
        subject=verdict.subject,
        text=sentence(verdict.said, showing.first),
        outcome=_outcome(verdict),
        source=verdict.source,
        do="" if act is None else sentence(act.do, showing.first),
        stage="" if act is None else act.stage,
    )


def _outcome(verdict: Verdict) -> Literal["passed", "not checked", "warning"]:
    if verdict.passed:
        return "passed"
    return "warning" if verdict.warns else "not checked"
