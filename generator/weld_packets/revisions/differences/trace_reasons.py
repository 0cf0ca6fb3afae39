"""Why a figure differs, read from its two traces: the causes, and consequences only where there is none."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import is_
from typing import NamedTuple, TypeVar, cast

from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.values import PutIn, TableUse, TracePoint
from weld_packets.units import Amount, Plain

_FIELDS = {
    "column": "column", "at": "at", "fraction": "fraction", "source": "source", "origin": "from", "symbol": "symbol",
    "expression": "formula", "clause": "clause", "validity": "validity", "standing": "standing",
}  # fmt: skip
_CONSEQUENCES = {"rounded": {"at", "symbol"}, "lookup": {"fraction"}}
_Item = TypeVar("_Item")


class _Pair(NamedTuple):
    old: TracePoint
    new: TracePoint


def trace_reasons(old: Sequence[TracePoint], new: Sequence[TracePoint]) -> tuple[str, ...]:
    """Return what differs between two traces of one figure; empty only where they are the same."""
    pairs, gone, fresh = _paired(old, new)
    changed = [pair for pair in pairs if pair.old != pair.new]
    results = {(pair.old.result, pair.new.result) for pair in changed}
    causes = [reason for pair in changed for reason in _causes(pair, results)]
    causes += [f"now also from {_named(point)}" for point in fresh]
    causes += [f"no longer from {_named(point)}" for point in gone]
    return tuple(dict.fromkeys(causes or [_consequence(pair) for pair in changed] or _order(old, new)))


def amount_words(amount: Amount) -> str:
    """Return an amount as printed first."""
    return f"{amount.value} {amount.unit}".strip()


def both_amounts(old: Amount, new: Amount) -> tuple[str, str]:
    """Return two amounts that differ: the unit once where it is the same, the second system where only that differs."""
    if (old.value, old.unit) == (new.value, new.unit):
        return _with_second(old), _with_second(new)
    return (old.value if old.unit == new.unit else amount_words(old)), amount_words(new)


def _with_second(amount: Amount) -> str:
    second = f"{amount.second} {amount.second_unit}".strip()
    return f"{amount_words(amount)} ({second})" if second else amount_words(amount)


def _paired(
    old: Sequence[TracePoint], new: Sequence[TracePoint]
) -> tuple[list[_Pair], list[TracePoint], list[TracePoint]]:
    before, after = _by_name(old), _by_name(new)
    pairs = [_Pair(before[name], after[name]) for name in after if name in before]
    gone = [point for name, point in before.items() if name not in after]
    return pairs, gone, [point for name, point in after.items() if name not in before]


def _by_name(points: Sequence[TracePoint]) -> dict[tuple[str, str, int], TracePoint]:
    named: dict[tuple[str, str, int], TracePoint] = {}
    for point in points:
        label = "" if point.form == "rounded" else point.label
        turn = sum(1 for name in named if name[:2] == (point.form, label))
        named[(point.form, label, turn)] = point
    return named


def _causes(pair: _Pair, results: set[tuple[Amount, Amount]]) -> Iterator[str]:
    old, new = pair
    details = [*_own_cause(pair), *_field_differences(pair), *_number_differences(pair, results)]
    if new.form == "lookup" and (details or _table_words(old) != _table_words(new)):
        yield ", ".join([_table_difference(old, new), *details])
    elif details:
        yield f"{new.label}: {', '.join(details)}" if new.form == "formula" else ", ".join(details)


def _own_cause(pair: _Pair) -> Iterator[str]:
    old, new = pair
    if new.form == "given" and old.result != new.result:
        before, after = both_amounts(old.result, new.result)
        yield f"{new.label} {before} -> {after}"
    elif new.form == "given":
        yield from ([new.label] if old != new else [])
    elif new.form == "lookup" and old.values != new.values:
        yield f"values {_listed(old.values)} -> {_listed(new.values)}"
    elif new.form == "rounded" and old.label != new.label:
        yield f"machine {old.label} -> {new.label}"


def _field_differences(pair: _Pair) -> Iterator[str]:
    skipped = _CONSEQUENCES.get(pair.new.form, set())
    for name, words in _FIELDS.items():
        before, after = getattr(pair.old, name), getattr(pair.new, name)
        if before != after and name not in skipped:
            yield f"{words} {before or '(nothing)'} -> {after or '(nothing)'}"


def _number_differences(pair: _Pair, results: set[tuple[Amount, Amount]]) -> Iterator[str]:
    before = {number.symbol: number for number in pair.old.numbers}
    after = {number.symbol: number for number in pair.new.numbers}
    for symbol in (symbol for symbol in before if symbol not in after):
        yield f"no longer {before[symbol].name}"
    for symbol, number in after.items():
        yield from _number_difference(before.get(symbol), number, results)


def _number_difference(old: PutIn | None, new: PutIn, results: set[tuple[Amount, Amount]]) -> Iterator[str]:
    if old is None:
        yield f"now also {new.name} {amount_words(new.amount)}"
    elif old.amount != new.amount and (old.amount, new.amount) not in results:
        before, after = both_amounts(old.amount, new.amount)
        yield f"{new.name} {before} -> {after}"
    elif old.name != new.name:
        yield f"{old.name} is now called {new.name}"


def _table_difference(old: TracePoint, new: TracePoint) -> str:
    rows = f"row {_listed(old.rows)}"
    if old.rows != new.rows:
        rows = f"{rows} -> {_listed(new.rows)}"
    if old.table != new.table:
        return f"table {old.table} rev {old.revision} -> table {new.table} rev {new.revision}, {rows}"
    revision = old.revision if old.revision == new.revision else f"{old.revision} -> {new.revision}"
    return f"table {new.table} rev {revision}, {rows}"


def _table_words(point: TracePoint) -> tuple[object, ...]:
    return point.table, point.revision, point.rows


def _listed(texts: Sequence[str]) -> str:
    return " to ".join(texts) or "(none)"


def _consequence(pair: _Pair) -> str:
    old, new = pair
    if new.form == "rounded" and old.model_copy(update={"result": new.result}) == new:
        # Wire feed and travel speed are chosen together, so the step may move though what was read did not.
        return "set at another step of its allowed range: {} -> {}".format(*both_amounts(old.result, new.result))
    before, after = (_read(point) for point in pair)
    return f"{pair.new.label} {before} -> {after}"


def _read(point: TracePoint) -> str:
    parts = [point.at, point.fraction, point.symbol, _with_second(point.result)]
    return " ".join(part for part in parts if part)


def _order(old: Sequence[TracePoint], new: Sequence[TracePoint]) -> list[str]:
    return [] if list(old) == list(new) else ["its steps in another order"]


def _named(point: TracePoint) -> str:
    if point.form == "lookup":
        return f"{_table_difference(point, point)}, {point.label}"
    return f"{point.label} {amount_words(point.result)}"


# ---------------------------------------------------------------- revisions of tables


@dataclass(frozen=True)
class Revised:
    """A table that both packets drew on, in another revision."""

    table: str
    before: str
    after: str


def revised_tables(old: Packet, new: Packet) -> tuple[Revised, ...]:
    """Return the tables that have another revision in ``new``."""
    before = {use.table: use.revision for use in old.tables}
    return tuple(
        Revised(use.table, before[use.table], use.revision)
        for use in new.tables
        if before.get(use.table, use.revision) != use.revision
    )


_LEAVES = (str, int, type(None))


def with_new_revisions(packet: Packet, tables: Sequence[Revised]) -> Packet:
    """Return ``packet`` as it would read if it named the new revisions of ``tables`` and nothing else had changed.

    A revision is in the list of tables, which is compared by itself, and at each look-up of a calculation.
    """
    after = {table.table: table.after for table in tables}
    return _with_revisions(packet, after)


def _with_revisions(item: _Item, after: Mapping[str, str]) -> _Item:
    """Return ``item`` itself where it names none of them: most of a packet does not, and is then equal at a glance."""
    if isinstance(item, _LEAVES):  # asked first, since pydantic answers for its own records in ten times as long
        return item
    if isinstance(item, tuple):
        several = tuple(_with_revisions(each, after) for each in item)
        return item if all(map(is_, several, item)) else cast("_Item", several)
    if isinstance(item, TracePoint):
        revision = after.get(item.table, item.revision)
        return item if revision == item.revision else item.model_copy(update={"revision": revision})
    if isinstance(item, TableUse) or not isinstance(item, Plain):
        return item
    changed = {
        name: fresh
        for name, each in item.__dict__.items()
        if not isinstance(each, _LEAVES) and (fresh := _with_revisions(each, after)) is not each
    }
    return item.model_copy(update=changed) if changed else item
