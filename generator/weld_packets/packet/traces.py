"""From the steps of a calculation to the points of a trace as printed."""

from __future__ import annotations

from functools import singledispatch

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import Figure, Given, Lookup, Rounded, Step
from weld_packets.packet.numbers import (
    STATED_DIGITS,
    as_stated,
    decimal_in,
    printed_unit,
    spelling,
    working,
    working_amount,
)
from weld_packets.packet.records import Amount, PutIn, TracePoint
from weld_packets.units import SPELLINGS, Quantity, plain, with_unit


def trace_point(step: Step, figure: Figure) -> TracePoint:
    """Return one step as printed; a looked-up value is printed in the unit of its ``figure`` where that fits."""
    return _point(step, figure)


@singledispatch
def _point(step: Step, figure: Figure) -> TracePoint:
    raise TypeError(f"{figure.key}: {type(step).__name__} is no step of a trace")


@_point.register
def _given(step: Given, figure: Figure) -> TracePoint:
    symbol = figure.symbol if step.label == figure.label else ""
    stated = working_amount(step.value, step.unit, STATED_DIGITS)
    return TracePoint(form="given", label=step.label, result=stated, origin=step.origin, symbol=symbol)


@_point.register
def _lookup(step: Lookup, figure: Figure) -> TracePoint:
    return TracePoint(
        form="lookup",
        label=step.column,
        result=working_amount(step.result, _unit_for(step.result, figure.unit)),
        table=step.table,
        revision=step.revision,
        source=step.source,
        column=step.column,
        at=as_stated(step.at),
        rows=step.rows,
        values=step.values,
        fraction="" if step.fraction is None else working(step.fraction),
    )


def _unit_for(value: Quantity, wanted: str) -> str:
    fits = bool(value.dimensionality == SPELLINGS[wanted].dimensionality)
    return wanted if fits else spelling(value)


@_point.register
def _worked(step: Worked, _figure: Figure) -> TracePoint:
    formula = step.formula
    numbers = (
        PutIn(
            symbol=entry.symbol,
            name=entry.name.replace("_", " "),
            amount=working_amount(step.given[entry.name], entry.kind.unit),
        )
        for entry in formula.inputs
    )
    return TracePoint(
        form="formula",
        label=formula.name,
        result=working_amount(step.result, formula.result.unit),
        symbol=formula.symbol,
        source=formula.source.document,
        clause=formula.source.clause,
        standing=formula.source.standing.value,
        validity=formula.validity,
        expression=formula.expression,
        numbers=tuple(numbers),
    )


@_point.register
def _rounded(step: Rounded, figure: Figure) -> TracePoint:
    return TracePoint(
        form="rounded",
        label=step.machine,
        result=Amount(value=plain(step.after), unit=printed_unit(step.unit)),
        symbol=figure.symbol,
        at=with_unit(working(decimal_in(step.before, step.unit)), printed_unit(step.unit) or "1"),
        origin=f"step {with_unit(plain(step.step), printed_unit(step.unit) or '1')}",
    )
