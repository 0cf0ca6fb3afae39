"""Consumables over a run: what they come to, and at which part each falls due."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from generator.errors import refusal
from generator.plan.due import count_due, due, whole_parts
from generator.plan.records import Event, Use
from generator.plan.supplies import Supply
from generator.process.measure import as_written
from generator.process.readings import as_stated
from generator.process.trace import Figure, Given, Name, Remark, Step, Weight
from generator.units import Kind, Quantity, exact, kinds, magnitude, plain, quantity, significant

MOST_EVENTS = 20_000
"""More of one consumable in one order than this is no list that anybody reads."""
_SUM = "sum over the settings of this row"
_NEW = Remark(Weight.NOTE, "reckoned from a new one at the first part")


def use(supply: Supply, parts: int) -> Use:
    """Return what a run takes of a supply, and how often it is changed.

    Raises OutOfRangeError where that is more often than anybody would.
    """
    times = count_due(supply.wear, parts)
    if times > MOST_EVENTS:
        raise refusal(
            f"{supply.what.lower()} of {supply.arm or supply.cell} would fall due {times} times in {parts} parts",
            "split the order, or check what one spool, container, tip or cap lasts for",
            key="quantity",
            value=parts,
        )
    changes = times // (supply.turns + 1)
    figures = [*_amounts(supply, parts), _parts_between(supply), _count("changes", supply.change, changes, supply)]
    if supply.lesser:
        figures.append(_count("dressings", supply.lesser, times - changes, supply))
    return Use(supply.row, supply.cell, supply.arm, supply.what, tuple(figures))


def events(supply: Supply, parts: int) -> Iterator[Event]:
    """Yield what falls due of a supply, by part number."""
    basis = _basis(supply)
    for number, moment in enumerate(due(supply.wear, parts), 1):
        what = supply.lesser if number % (supply.turns + 1) else supply.change
        yield Event(moment.part, supply.row, supply.arm, what, moment.when, supply.cell, basis, supply.what)


def _amounts(supply: Supply, parts: int) -> Iterator[Figure]:
    one = Name("per_part", f"{supply.what} for one part", "x", supply.kind)
    whole = Name("over_run", f"{supply.what} for the order", "X", supply.kind)
    number = Given("parts", quantity(parts, "1"), "1", "order")
    run = quantity(parts * magnitude(supply.per_part, supply.run_unit), supply.run_unit)
    yield _amount(one, supply.per_part, supply.unit)
    each = Given(one.label, supply.per_part, supply.unit, _SUM)
    yield replace(_amount(whole, run, supply.run_unit), trace=(number, each))


def _amount(name: Name, value: Quantity, unit: str) -> Figure:
    trace = (Given(name.label, value, unit, _SUM),)
    text = _text(value, unit, name.kind)
    return Figure(name.key, name.label, name.symbol, name.kind, unit, value, text, trace=trace)


def _text(value: Quantity, unit: str, kind: Kind) -> Decimal:
    """Return the digits of an amount: counts exactly, everything else with three digits."""
    return as_stated(value, unit) if kind is kinds.NUMBER else significant(exact(value, unit), 3)


def _basis(supply: Supply) -> str:
    number = plain(_text(supply.per_part, supply.unit, supply.kind))
    each = f"{number} {'welds' if supply.unit == '1' else supply.unit} a part"
    lasting = (f"{given.label} {as_written(given.value)} ({given.origin})" for given in supply.lasts)
    return "; ".join((each, *lasting))


def _parts_between(supply: Supply) -> Figure:
    name = Name("parts_between", f"{supply.what}: whole parts between changes", "n", kinds.NUMBER)
    return _whole(name, whole_parts(supply.wear), supply.lasts)


def _count(key: str, action: str, number: int, supply: Supply) -> Figure:
    return _whole(Name(key, f"{action}: times during the run", "N", kinds.NUMBER), number, supply.lasts)


def _whole(name: Name, number: int, trace: tuple[Step, ...]) -> Figure:
    value, text = quantity(number, "1"), Decimal(number)
    return Figure(name.key, name.label, name.symbol, name.kind, "1", value, text, trace=trace, remarks=(_NEW,))
