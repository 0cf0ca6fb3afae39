"""Compare two packets of an order so completely that nothing any page prints differs without a line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import SequenceMatcher

from weld_packets.packet.records.operation import OperationSheet, Program
from weld_packets.packet.records.order import ConsumableLine, FittedAtEnd, OrderHead, Packet, RunEvent, RunRule
from weld_packets.packet.records.settings import LegendLine, SettingGroup
from weld_packets.packet.records.steps import Action
from weld_packets.packet.records.values import Value
from weld_packets.packet.settings.checks import warnings_of
from weld_packets.revisions.differences.changes import (
    Added,
    Altered,
    CalculationChanged,
    Change,
    Redrawn,
    Removed,
    Reordered,
    Replaced,
    SettingChanged,
    TableRevisionCited,
)
from weld_packets.revisions.differences.list_items import ITEM_NAMES, Location, field_words
from weld_packets.revisions.differences.trace_reasons import (
    amount_words,
    both_amounts,
    revised_tables,
    trace_reasons,
    with_new_revisions,
)
from weld_packets.revisions.differences.weld_changes import weld_changes
from weld_packets.units import Amount, Plain, Span

_RECORDED_LATER = ("qualification", "procedure", "people")
"""Fields of an operation that records from before them lack."""
_LATER: Mapping[type, tuple[tuple[str, ...], ...]] = {
    OrderHead: (("supervisor",), ("shift_hours",), ("time_zone",), ("copy_days",), ("risk_assessment",)),
    RunEvent: (("supply", "places", "dressing"),),
    RunRule: (("supply",),),
    SettingGroup: (("linked",),),
    ConsumableLine: (("in_prove_out",),),
    FittedAtEnd: (("begun", "dressings_begun", "turns"), ("lesser_noun",), ("proof",)),
}
"""The same of other records: fields that came together, of which the first is empty where a record lacks them."""
_Keyed = dict[tuple[str, int], Plain]
_MINIMUM_IN_COMMON = 0.5
"""Share of words in common from which one sentence counts as the other, reworded."""


def diff(old: Packet, new: Packet) -> tuple[Change, ...]:
    """Return every difference between two packets in the order in which a reader meets them; none for equal ones."""
    changes = list(_fields(old, new, Location()))
    named, cited = _without_citations(changes, old, new)
    return (*_retraced_together(named), *cited)


def _without_citations(changes: list[Change], old: Packet, new: Packet) -> tuple[list[Change], list[Change]]:
    """Return the changes that are more than another revision of a table being named, and one that holds the rest."""
    tables = revised_tables(old, new)
    if not tables:
        return changes, []
    remaining = {path for change in _fields(with_new_revisions(old, tables), new, Location()) for path in change.paths}
    named = [change for change in changes if remaining.intersection(change.paths)]
    paths = tuple(path for change in changes if not remaining.intersection(change.paths) for path in change.paths)
    words = tuple(f"table {table.table} revision {table.before} -> {table.after}" for table in tables)
    return named, [TableRevisionCited((), paths, words)] if paths else []


def _compare(old: object, new: object, at: Location) -> Iterator[Change]:
    if old == new:
        return
    if isinstance(old, tuple) and isinstance(new, tuple):
        yield from _lists(old, new, at)
    elif isinstance(old, Plain) and isinstance(new, Plain):
        yield from _records(old, new, at)
    elif isinstance(old, Plain) or isinstance(new, Plain):
        yield _appeared(old, new, at)
    else:
        yield Altered(at.where, (at.path,), at.what, _scalar(old), _scalar(new))


def _records(old: Plain, new: Plain, at: Location) -> Iterator[Change]:
    match old, new:
        case Value(), Value():
            yield from _values(old, new, at)
        case OperationSheet(), OperationSheet():
            yield from _fields(old, new, at, without={"welds", "geometry", "warnings", *_RECORDED_LATER})
            for name in _RECORDED_LATER:
                if getattr(old, name) is not None:  # what was not recorded then has not changed since
                    yield from _compare(getattr(old, name), getattr(new, name), at.into(name, name))
            yield from _compare(warnings_of(old), warnings_of(new), at.into("warnings", ""))
            yield from weld_changes(old, new, at)
        case Program(), Program() if (old.code, new.code) == (old.number, new.number):
            code = (*at.path, "code")  # says the number once more: one change in two places
            for change in _fields(old, new, at, without={"code"}):
                yield replace(change, paths=(*change.paths, code)) if change.paths[0][-1] == "number" else change
        case Amount(), Amount():
            yield Altered(at.where, (at.path,), at.what, *both_amounts(old, new))
        case Span(), Span():
            yield from _ranges(old, new, at)
        case _:
            together = (names for names in _LATER.get(type(old), ()) if not getattr(old, names[0]))
            yield from _fields(old, new, at, without=[name for names in together for name in names])


def _fields(old: Plain, new: Plain, at: Location, without: Iterable[str] = ()) -> Iterator[Change]:
    for name in type(old).model_fields:
        before, after = getattr(old, name), getattr(new, name)
        if (name == "svg" or (isinstance(old, LegendLine) and name == "sign")) and before != after:
            yield Redrawn(at.where, ((*at.path, name),), at.what)
        elif name not in without:
            words = "" if _are_named(before, after) else field_words(name)
            yield from _compare(before, after, at.into(name, words))


def _values(old: Value, new: Value, at: Location) -> Iterator[Change]:
    because = trace_reasons(old.trace, new.trace)
    if (old.amount, old.outside) != (new.amount, new.outside):
        before, after = _figures(old, new)
        itself = f"{new.label} {before} -> {after}"  # a value that the order gives has no other cause
        causes = tuple(cause for cause in because if cause != itself)
        yield SettingChanged(at.where, (at.path,), new.label, before, after, causes)
    elif because:
        yield CalculationChanged(at.where, (at.path,), (new.label,), because)
    yield from _fields(old, new, at, without={"amount", "outside", "trace"})


def _figures(old: Value, new: Value) -> tuple[str, str]:
    if old.amount and new.amount and old.amount != new.amount:
        return both_amounts(old.amount, new.amount)
    return _figure(old), _figure(new)


def _figure(value: Value) -> str:
    texts = (amount_words(value.amount) if value.amount else "", value.outside)
    return ", ".join(text for text in texts if text) or "(nothing)"


def _ranges(old: Span, new: Span, at: Location) -> Iterator[Change]:
    first, second = _range(old.low, old.high), _range(new.low, new.high)
    if first == second:
        first, second = _range(old.second_low, old.second_high), _range(new.second_low, new.second_high)
    if first != second:
        yield Altered(at.where, (at.path,), at.what, first, second)
    yield from _compare(old.origin, new.origin, at.into("origin", "source"))


def _range(low: str, high: str) -> str:
    return f"{low or 'open'} to {high or 'open'}"


def _appeared(old: object, new: object, at: Location) -> Change:
    kind = Removed if new is None else Added
    detail = new if old is None else old
    words = f" {_brief(detail)}" if isinstance(detail, Amount | Span) else ""
    return kind(at.where, (at.path,), f"{at.what}{words}")


def _brief(shown: Amount | Span) -> str:
    return amount_words(shown) if isinstance(shown, Amount) else _range(shown.low, shown.high)


def _lists(old: Sequence[object], new: Sequence[object], at: Location) -> Iterator[Change]:
    if _are_named(old, new):
        yield from _named_lists(_keyed(old), _keyed(new), at)
    else:
        yield from _text_lists(old, new, at)


def _are_named(*lists: object) -> bool:
    return any(isinstance(items, tuple) and items and type(items[0]) in ITEM_NAMES for items in lists)


def _named_lists(old: _Keyed, new: _Keyed, at: Location) -> Iterator[Change]:
    aliases = _aliases(old, new)
    old = {aliases.get(key, key): item for key, item in old.items()}
    gone = {key: _name(item) for key, item in old.items() if key not in new}
    come = {key: _name(item) for key, item in new.items() if key not in old}
    for key, name in gone.items():
        if name not in come.values():
            yield Removed(at.words, (_below(at, key, old[key]).path,), name)
    for key, item in new.items():
        if key in old:
            yield from _compare(old[key], item, _below(at, key, item))
        elif come[key] not in gone.values():
            yield Added(at.words, (_below(at, key, item).path,), come[key])
    for name in dict.fromkeys(name for name in come.values() if name in gone.values()):
        paths = tuple(_below(at, key, new[key]).path for key, called in come.items() if called == name)
        yield Replaced(at.words, paths, name)
    if [key for key in old if key in new] != [key for key in new if key in old]:
        yield Reordered(at.words, (at.path,), field_words(at.path[-1]))


def _aliases(old: _Keyed, new: _Keyed) -> dict[tuple[str, int], tuple[str, int]]:
    """Return the old keys of items that go by another key now and are still the same thing."""
    aliases: dict[tuple[str, int], tuple[str, int]] = {}
    for key, item in new.items():
        if key not in old:
            free = (was for was in old if was not in new and was not in aliases)
            found = next((was for was in free if _is_still(old[was], item)), None)
            aliases |= {found: key} if found else {}
    return aliases


def _is_still(old: Plain, new: Plain) -> bool:
    """Return whether a renamed operation is in its old place, or a group still has some of its welds."""
    match old, new:
        case OperationSheet(), OperationSheet():
            return old.key == new.key
        case SettingGroup(), SettingGroup():
            return bool(set(old.welds) & set(new.welds))
        case _:
            return False


def _text_lists(old: Sequence[object], new: Sequence[object], at: Location) -> Iterator[Change]:
    """Compare steps and sentences, which are recognised by their text and their place in the sequence."""
    matcher = SequenceMatcher(None, [_text(item) for item in old], [_text(item) for item in new], autojunk=False)
    for _, start, end, other_start, other_end in matcher.get_opcodes():
        before, after = old[start:end], new[other_start:other_end]
        pairs = pair_sentences([_text(item) for item in before], [_text(item) for item in after])
        for index in (index for index in range(len(before)) if index not in pairs.values()):
            number = start + index + 1
            yield Removed(at.words, ((*at.path, str(number)),), _quoted(before[index], number))
        for index, item in enumerate(after):
            number = other_start + index + 1
            if index in pairs:
                yield from _compare(before[pairs[index]], item, at.into(str(number), _numbered(item, number)))
            else:
                yield Added(at.words, ((*at.path, str(number)),), _quoted(item, number))


def _text(item: object) -> str:
    if isinstance(item, tuple):
        return "/".join(item)
    return item.do if isinstance(item, Action) else str(item)


def _numbered(item: object, number: int) -> str:
    return f"step {number}" if isinstance(item, Action) else ""


def _quoted(item: object, number: int) -> str:
    return f"{_numbered(item, number)} “{_text(item)}”".lstrip()


def _keyed(items: Sequence[object]) -> _Keyed:
    keyed: _Keyed = {}
    for item in (item for item in items if isinstance(item, Plain)):
        key = ITEM_NAMES[type(item)].key(item)
        keyed[(key, sum(1 for known in keyed if known[0] == key))] = item
    return keyed


def _below(at: Location, key: tuple[str, int], item: Plain) -> Location:
    step: str = getattr(item, "key", key[0])
    return at.into(step if key[1] == 0 else f"{step}#{key[1] + 1}", _name(item))


def _name(item: Plain) -> str:
    return ITEM_NAMES[type(item)].words(item)


def _scalar(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def _retraced_together(changes: list[Change]) -> list[Change]:
    """Return the changes with those figures of a place in one line that were traced anew for the same reasons."""
    together: dict[object, Change] = {}
    for change in changes:
        place = (change.where, change.because) if isinstance(change, CalculationChanged) else change
        other = together.get(place)
        if isinstance(change, CalculationChanged) and isinstance(other, CalculationChanged):
            labels, paths = (*other.labels, *change.labels), (*other.paths, *change.paths)
            together[place] = CalculationChanged(change.where, paths, labels, change.because)
        else:
            together[place] = change
    return list(together.values())


# ---------------------------------------------------------------- sentences that reword each other


def pair_sentences(before: Sequence[str], after: Sequence[str]) -> dict[int, int]:
    """Return, for the places in ``after`` that have one, the place in ``before`` of the sentence that they reword.

    Passages of one length are taken sentence by sentence. Otherwise sentences are paired, in their order, so that
    the pairs have as many words in common as can be; what has little in common is left alone.
    """
    if len(before) == len(after):
        return {place: place for place in range(len(after))}
    best: dict[tuple[int, int], tuple[float, dict[int, int]]] = {}
    for old in range(len(before) + 1):
        for new in range(len(after) + 1):
            best[old, new] = max(
                _choices(best, old, new, before, after), key=lambda choice: choice[0], default=(0.0, {})
            )
    return best[len(before), len(after)][1]


def _choices(
    best: dict[tuple[int, int], tuple[float, dict[int, int]]],
    old: int,
    new: int,
    before: Sequence[str],
    after: Sequence[str],
) -> list[tuple[float, dict[int, int]]]:
    """Return what pairing the first ``old`` and ``new`` sentences can come to: a pair at the end, or none."""
    choices = [best[place] for place in ((old - 1, new), (old, new - 1)) if place in best]
    if old and new:
        likeness = _likeness(before[old - 1], after[new - 1])
        score, pairs = best[old - 1, new - 1]
        if likeness >= _MINIMUM_IN_COMMON:
            choices.append((score + likeness, {**pairs, new - 1: old - 1}))
    return choices


def _likeness(one: str, other: str) -> float:
    # counts the words that two sentences share; what they say is not read
    return SequenceMatcher(None, one.split(), other.split(), autojunk=False).ratio()
