"""Consumables over a run: what they come to, and at which part each falls due."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import repeat

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import as_stated, ordered
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Step, Weight
from weld_packets.errors import refusal
from weld_packets.planning.due import NEW, Begun, Due, due, since_last, times_until, whole_parts
from weld_packets.planning.fitted import begun_by, changes_in, dressings_after, origin_words
from weld_packets.planning.formulas import parts_before_due, used_after_parts, used_after_prove_out
from weld_packets.planning.records import Event, Start, Use
from weld_packets.processes.supplies import Supply
from weld_packets.units import (
    Kind,
    Quantity,
    as_written,
    exact,
    kinds,
    magnitude,
    plain,
    quantity,
    significant,
    with_unit,
)

MAXIMUM_EVENTS = 20_000
"""More of one consumable in one order than this is no list that anybody reads."""
_SUM = "sum over the settings of this operation"
_PLAN = "this plan"
_RATIO = "use for one part, divided by the life of one; for several coatings the sum"


def use(supply: Supply, start: Start, parts: int) -> Use:
    """Return what a run takes of a supply, and how often it is changed.

    Raises OutOfRangeError where that is more often than anybody would.
    """
    times = times_until(supply.wear, parts, begun_by(supply, start), start.renewals)
    if times > MAXIMUM_EVENTS:
        raise refusal(
            f"{supply.what.lower()} of {supply.place} would fall due {times} times in {parts} parts",
            "split the order, or check the life of one in its table",
            key="quantity",
            value=parts,
        )
    return Use(
        operation=supply.operation,
        cell=supply.cell,
        robot=supply.robot,
        what=supply.what,
        figures=(*_amounts(supply, parts), *_fitted(supply, start, parts)),
        start=start,
        origin=origin_words(supply, start),
        holds=_holds(supply),
        turns=supply.turns,
        every=whole_parts(supply.wear),
        lesser_noun=supply.lesser_noun,
        change_time=supply.change_time,
        lesser_time=supply.lesser_time,
        times_source=supply.times_source,
        not_counted=supply.not_counted,
    )


def events(supply: Supply, start: Start, parts: int) -> Iterator[Event]:
    """Yield what falls due of a supply, by part number."""
    basis = _basis(supply, start)
    for number, moment in enumerate(_moments(supply, start, parts), 1):
        dressing = changes_in(supply, start, number) == changes_in(supply, start, number - 1)
        yield Event(
            part_number=moment.part,
            operation=supply.operation,
            robot=supply.robot,
            what=supply.lesser if dressing else supply.change,
            when=moment.when,
            cell=supply.cell,
            basis=basis,
            supply=supply.what,
            word=supply.word,
            dressing=dressing,
        )


def _moments(supply: Supply, start: Start, parts: int) -> Iterator[Due]:
    begun = begun_by(supply, start)
    yield from repeat(Due(0, "after"), begun.before)
    yield from repeat(Due(0, "during"), begun.within)
    yield from due(supply.wear, parts, begun.used, start.renewals)


def _amounts(supply: Supply, parts: int) -> Iterator[Figure]:
    one = Name("per_part", _use(supply, "for one part"), "x", supply.kind)
    proving = Name("in_prove_out", _use(supply, "in the prove-out"), "P", supply.kind)
    whole = Name("over_run", _use(supply, "for the order"), "X", supply.kind)
    yield _amount(one, supply.per_part, supply.unit)
    each = Given(one.label, supply.per_part, supply.unit, _SUM)
    first = Given("one first-off part", supply.per_part, supply.unit, _SUM)
    besides = tuple(Given(use.what, use.amount, supply.unit, use.source) for use in supply.prove_out)
    proved = sum(magnitude(given.value, supply.unit) for given in (first, *besides))
    proof = quantity(proved, supply.unit)
    yield replace(
        _amount(proving, proof, supply.unit),
        trace=(first, *besides),
        remarks=tuple(Remark(Weight.NOTE, f"not counted: {words}") for words in supply.not_counted),
    )
    run = quantity(
        parts * magnitude(supply.per_part, supply.run_unit) + magnitude(proof, supply.run_unit), supply.run_unit
    )
    taken = Given(proving.label, proof, supply.unit, _PLAN)
    yield replace(_amount(whole, run, supply.run_unit), trace=(_given_parts(parts), each, taken))


def _use(supply: Supply, when: str) -> str:
    """Return what is taken of something: of electrode caps so many welds, which have no other unit."""
    return f"{supply.what}: {'welds' if supply.kind is kinds.NUMBER else 'use'} {when}"


def _amount(name: Name, value: Quantity, unit: str) -> Figure:
    trace = (Given(name.label, value, unit, _SUM),)
    text = _text(value, unit, name.kind)
    return name.figure(unit, value, text, trace=trace)


def _text(value: Quantity, unit: str, kind: Kind) -> Decimal:
    """Return the digits of an amount: counts exactly, everything else with three digits."""
    return as_stated(value, unit) if kind is kinds.NUMBER else significant(exact(value, unit), 3)


def _holds(supply: Supply) -> Figure | None:
    """Return what one of a consumable holds, None for electrode caps, which wear by coating."""
    if supply.holds is None:
        return None
    (given,) = supply.lasts
    return ordered(Name("holds", given.label, "C", supply.kind), supply.holds, given.origin)


def _fitted(supply: Supply, start: Start, parts: int) -> Iterator[Figure]:
    """Yield how far one is used before the first part, when the next are due, how often, and how far one is used then.

    The counts are exact; the digits that are printed in their formulas are rounded.
    """
    used = _used_name(supply, "used_at_start", "before the prove-out", "u")
    begun, unit = _of_one(supply, start.used)
    fitted = Given(used.label, begun, unit, origin_words(supply, start))
    yield _used(used, supply, start.used, (fitted,))
    each = Given(_use(supply, "for one part"), supply.per_part, supply.unit, _SUM)
    taken = Given("share of the life of one for one part", _share(supply.wear), "%", _RATIO)
    at_first = begun_by(supply, start)
    yield _used_after_prove_out(supply, start, at_first)
    first, between = whole_parts(supply.wear, at_first.used), whole_parts(supply.wear)
    to_first = Name(
        "parts_to_first", f"{supply.what}: whole parts before the first change in the run", "n", kinds.NUMBER
    )
    trace: tuple[Step, ...] = (fitted, each, *supply.lasts, taken, _lasting(at_first.used, taken, first))
    yield _whole(to_first, first, trace)
    from_one = Name("parts_between", f"{supply.what}: whole parts from one change to the next", "n", kinds.NUMBER)
    yield _whole(from_one, between, (taken, _lasting(NEW, taken, between)))
    run = (_given_parts(parts), _given(to_first, first), _given(from_one, between))
    yield from _times(supply, start, parts, run)
    yield _used_at_end(supply, start, parts, taken)


def _used_after_prove_out(supply: Supply, start: Start, begun: Begun) -> Figure:
    """Return how far one is used before the first part of the run: what was fitted, and what the prove-out took."""
    name = _used_name(supply, "used_at_first", "before the first part of the run", "u_1")
    remarks = (Remark(Weight.NOTE, "renewed before the prove-out, which it would not last"),) if begun.before else ()
    if begun.within and begun.used == NEW:
        renewed = Given("renewed with the first-off part", _share(NEW), "%", _PLAN)
        return _used(name, supply, begun.used, (renewed,), remarks)
    fitted, within = NEW if begun.before else start.used, quantity(begun.within, "1")
    put_in = {"used": _share(fitted), "taken_in_prove_out": _share(supply.proof), "renewed": within}
    return _used(name, supply, begun.used, (Worked(used_after_prove_out, put_in, _share(begun.used)),), remarks)


def _times(supply: Supply, start: Start, parts: int, run: tuple[Given, ...]) -> Iterator[Figure]:
    """Yield how often one is changed during the run, and of electrode caps how often they are dressed."""
    times = times_until(supply.wear, parts, begun_by(supply, start), start.renewals)
    changes = changes_in(supply, start, times)
    if not supply.lesser:
        remarks = tuple(Remark(Weight.NOTE, words) for words in _renewed(supply, start))
        yield _whole(_count("changes", supply.change), changes, run, remarks)
        return
    begun = Name("dressings_at_start", f"{supply.what}: {supply.lesser_noun}s before the prove-out", "d", kinds.NUMBER)
    yield _whole(begun, start.dressings, (_given(begun, start.dressings, origin_words(supply, start)),))
    turns = Name("turns", f"{supply.what}: {supply.lesser_noun}s before a change", "D", kinds.NUMBER)
    trace = (*run, _given(turns, supply.turns, supply.turns_source), _given(begun, start.dressings))
    yield _whole(_count("changes", supply.change), changes, trace)
    yield _whole(_count("dressings", supply.lesser), times - changes, trace)
    end = Name("dressings_at_end", f"{supply.what}: {supply.lesser_noun}s after the last part", "d_N", kinds.NUMBER)
    yield _whole(end, dressings_after(supply.turns, start.dressings, times), trace)


def _used_at_end(supply: Supply, start: Start, parts: int, taken: Given) -> Figure:
    begun, since = since_last(supply.wear, parts, begun_by(supply, start).used, start.renewals)
    used = begun + since * supply.wear
    put_in = {"used": _share(begun), "parts_since": quantity(float(since), "1"), "taken_by_a_part": taken.value}
    name = _used_name(supply, "used_at_end", "after the last part", "u_N")
    return _used(name, supply, used, (taken, Worked(used_after_parts, put_in, _share(used))))


def _lasting(used: Fraction, taken: Given, parts: int) -> Worked:
    return Worked(parts_before_due, {"used": _share(used), "taken_by_a_part": taken.value}, quantity(parts, "1"))


def _share(share: Fraction) -> Quantity:
    return quantity(float(100 * share), "%")


def _given_parts(parts: int) -> Given:
    return Given("parts", quantity(parts, "1"), "1", "order")


def _given(name: Name, number: int, origin: str = _PLAN) -> Given:
    return Given(name.label, quantity(number, "1"), "1", origin)


def _used_name(supply: Supply, key: str, when: str, symbol: str) -> Name:
    of = "share used of the welds between dressings," if supply.holds is None else "used"
    return Name(key, f"{supply.what}: {of} {when}", symbol, kinds.SHARE if supply.holds is None else supply.kind)


def _used(
    name: Name, supply: Supply, used: Fraction, trace: tuple[Step, ...], remarks: tuple[Remark, ...] = ()
) -> Figure:
    value, unit = _of_one(supply, used)
    return name.figure(unit, value, _used_text(value, unit), trace=trace, remarks=remarks)


def _used_text(value: Quantity, unit: str) -> Decimal:
    """Return three digits, or fewer where they say it exactly."""
    number = exact(value, unit)
    rounded = significant(number, 3)
    return as_stated(value, unit) if rounded == number else rounded


def _of_one(supply: Supply, used: Fraction) -> tuple[Quantity, str]:
    """Return a share of one spool, cylinder or tip as an amount; of a dressing interval as the share itself."""
    if supply.holds is None:
        return _share(used), "%"
    return quantity(float(used) * magnitude(supply.holds, supply.run_unit), supply.run_unit), supply.run_unit


def _basis(supply: Supply, start: Start) -> str:
    number = plain(_text(supply.per_part, supply.unit, supply.kind))
    each = f"{number} {'welds' if supply.unit == '1' else supply.unit} a part"
    lasting = (f"{given.label} {as_written(given.value)} ({given.origin})" for given in supply.lasts)
    return "; ".join((each, *lasting, *_proving(supply), _begun(supply, start), *_renewed(supply, start)))


def _renewed(supply: Supply, start: Start) -> Iterator[str]:
    """Yield how often in the run something else brings a new one."""
    if start.renewals:
        times = f"{len(start.renewals)} time{'s' if len(start.renewals) > 1 else ''}"
        yield f"besides, a change of {supply.renewed_with.lower()} brings a new one, {times} in this run"


def _proving(supply: Supply) -> Iterator[str]:
    """Yield what the prove-out takes besides the parts of the run."""
    if supply.proof:
        yield "; ".join(("the prove-out takes one first-off part", *(each.what for each in supply.prove_out)))


def _begun(supply: Supply, start: Start) -> str:
    """Return how far one is used before the prove-out, and on what that rests."""
    if not start.is_known:
        return origin_words(supply, start)
    value, unit = _of_one(supply, start.used)
    done = f"{start.dressings} of {supply.turns} {supply.lesser_noun}s done, " if supply.turns else ""
    return f"{done}{with_unit(plain(_used_text(value, unit)), unit)} used {origin_words(supply, start)}"


def _count(key: str, action: str) -> Name:
    return Name(key, f"{action}: times until the last part", "N", kinds.NUMBER)


def _whole(name: Name, number: int, trace: tuple[Step, ...], remarks: tuple[Remark, ...] = ()) -> Figure:
    return name.figure("1", quantity(number, "1"), Decimal(number), trace=trace, remarks=remarks)
