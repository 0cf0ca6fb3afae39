"""Whether values, numbers and results of a set-up are those that its release requires; each is judged anew."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import TypeVar

from weld_packets.calculation.judgement import (
    Linked,
    LinkedVerdict,
    Range,
    is_accepted,
    judge,
    judge_together,
    number_of,
)
from weld_packets.errors import OutOfRangeError, Problem, unplaced
from weld_packets.packet.records.forms import RequiredResult, RequiredValue, SetUpForm
from weld_packets.revisions.set_ups.from_cell import FROM_PAGE, NOT_EDITED
from weld_packets.revisions.set_ups.record import (
    NumberEntry,
    ReadingEntry,
    ReplacedEntries,
    ResultEntry,
    SetUp,
    last_readings,
    moment,
)

_Entry = ReadingEntry | NumberEntry | ResultEntry
_Placed = TypeVar("_Placed", bound=_Entry)


def reading_problems(entries: Sequence[ReadingEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    """Yield what cannot be so in the readings of a set-up, or in those that were ``replaced``."""
    values = {value.key: value for value in form.values}
    seen: set[tuple[str, str, int]] = set()
    for place, entry in _placed("readings", entries, replaced=replaced):
        value = values.get(entry.value)
        if value is None:
            yield unplaced(f"{place}.value", entry.value, "this revision requires no such value", FROM_PAGE)
            continue
        if entry.robot not in value.robots:
            message = f"it is set on {' and '.join(value.robots)}"
            yield unplaced(f"{place}.robot", entry.robot, message, FROM_PAGE)
        if entry.unit != value.unit:
            yield unplaced(f"{place}.unit", entry.unit, f"the unit of this value is {value.unit!r}", FROM_PAGE)
        yield from _entered_problems(place, entry.entered, entry.number)
        yield from _verdict_problems(place, entry, value)
        if (entry.value, entry.robot, entry.repeat) in seen and not replaced:
            yield unplaced(f"{place}.value", entry.value, f"is read twice on {entry.robot}", NOT_EDITED)
        seen.add((entry.value, entry.robot, entry.repeat))


def _verdict_problems(place: str, entry: ReadingEntry, value: RequiredValue) -> Iterator[Problem]:
    verdict = judge(Decimal(entry.number), range_of(value)).verdict
    if verdict != entry.verdict:
        allowed = f"{value.setting} {value.unit}, allowed {value.low or 'open'} to {value.high or 'open'}"
        message = f"{entry.number} {value.unit} is {verdict!r}: the setting is {allowed}"
        yield unplaced(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


def together_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield where values that limit each other are judged otherwise than here, or where one of them is not judged."""
    known = dict(together_of(set_up.readings, form))
    left = dict(known)
    for index, entry in enumerate(set_up.together):
        place = f"together[{index}]"
        pair = (entry.value, entry.other, entry.robot)
        verdict = left.pop(pair, None)
        if verdict is None:
            message = "is there twice" if pair in known else "are no two readings of this record that limit each other"
            yield unplaced(f"{place}.value", f"{entry.value}, {entry.other}", message, NOT_EDITED)
        elif verdict != entry.verdict:
            message = f"{entry.value} beside {entry.other} on {entry.robot} is {verdict!r}"
            yield unplaced(f"{place}.verdict", entry.verdict, message, NOT_EDITED)
    for (value, other, robot), verdict in left.items():
        message = f"{value} beside {other} on {robot} is {verdict!r}, and the record does not say so"
        yield unplaced("together", "", message, "save the record anew from the page of this revision")


def compared_problems(entries: Sequence[NumberEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    """Yield what cannot be so in the numbers that were compared, or in those that were ``replaced``."""
    known = {(number.robot, number.what, number.number) for number in form.numbers}
    for place, entry in _placed("numbers", entries, replaced=replaced):
        if (entry.robot, entry.what, entry.asked) not in known:
            message = f"this revision has no such {entry.what} on {entry.robot}"
            yield unplaced(f"{place}.asked", entry.asked, message, FROM_PAGE)
        verdict = "match" if _compared(entry.entered) == _compared(entry.asked) else "mismatch"
        if verdict != entry.verdict:
            message = f"{entry.entered!r} and {entry.asked!r} are a {verdict}"
            yield unplaced(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


def _compared(number: str) -> str:
    return number.strip().upper()  # what a person typed or scanned


def result_problems(entries: Sequence[ResultEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    """Yield what cannot be so in the results of a set-up, or in those that were ``replaced``."""
    known = {result.key: result for result in form.results}
    seen: set[str] = set()
    for place, entry in _placed("results", entries, replaced=replaced):
        result = known.get(entry.result)
        if result is None:
            yield unplaced(f"{place}.result", entry.result, "this revision requires no such result", FROM_PAGE)
        elif result.choices:
            yield from _chosen_problems(place, entry, result)
        elif result.unit:
            yield from _measured_problems(place, entry, result)
        elif entry.number and result.found_unit:
            found = {"unit": result.found_unit, "minimum": "", "maximum": result.found_maximum}
            yield from _measured_problems(place, entry, result.model_copy(update=found))
        elif entry.number:
            yield unplaced(f"{place}.number", entry.number, "is judged by eye and has no number", NOT_EDITED)
        if entry.result in seen and not replaced:
            yield unplaced(f"{place}.result", entry.result, "is there twice", NOT_EDITED)
        seen.add(entry.result)


def _chosen_problems(place: str, entry: ResultEntry, result: RequiredResult) -> Iterator[Problem]:
    verdicts = {choice.text: "accepted" if choice.accepted else "not accepted" for choice in result.choices}
    verdict = verdicts.get(entry.entered)
    if entry.number:
        yield unplaced(f"{place}.number", entry.number, "is chosen and has no number", NOT_EDITED)
    if verdict is None:
        message = "is none of the answers of this revision"
        yield unplaced(f"{place}.entered", entry.entered, message, f"choose one of: {', '.join(verdicts)}")
    elif verdict != entry.verdict:
        yield unplaced(f"{place}.verdict", entry.verdict, f"{entry.entered!r} is {verdict!r}", NOT_EDITED)


def _measured_problems(place: str, entry: ResultEntry, result: RequiredResult) -> Iterator[Problem]:
    yield from _entered_problems(place, entry.entered, entry.number)
    if not entry.number:
        return
    inside = is_accepted(Decimal(entry.number), end_of(result.minimum), end_of(result.maximum))
    verdict = "accepted" if inside else "not accepted"
    if verdict != entry.verdict:
        limits = f"{result.minimum or 'open'} to {result.maximum or 'open'} {result.unit}"
        message = f"{entry.number} {result.unit} is {verdict!r}: the limits are {limits}"
        yield unplaced(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


def _entered_problems(place: str, entered: str, number: str) -> Iterator[Problem]:
    try:
        read = number_of(entered)
    except OutOfRangeError as error:
        for each in error.problems:
            yield unplaced(f"{place}.entered", entered, each.message, each.remedy)
    else:
        if read != number:
            yield unplaced(f"{place}.number", number, f"what was entered, {entered!r}, is {read}", NOT_EDITED)


def replaced_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield what cannot be so in entries that were replaced: each is judged anew and is before the later one."""
    if set_up.replaced is None:
        return
    yield from reading_problems(set_up.replaced.readings, form, replaced=True)
    yield from compared_problems(set_up.replaced.numbers, form, replaced=True)
    yield from result_problems(set_up.replaced.results, form, replaced=True)
    entries: tuple[_Entry, ...] = (*set_up.readings, *set_up.numbers, *set_up.results)
    later = {_of_entry(entry): entry.at for entry in entries}
    for name in ReplacedEntries.model_fields:
        for place, entry in _placed(name, getattr(set_up.replaced, name), replaced=True):
            at = later.get(_of_entry(entry))
            if at is not None and moment(entry.at) > moment(at):
                message = f"is after the entry that replaced it at {at}"
                yield unplaced(f"{place}.at", entry.at, message, NOT_EDITED)


def _of_entry(entry: _Entry) -> tuple[str | int, ...]:
    """Return what an entry is of: a later one of the same takes its place."""
    match entry:
        case ReadingEntry():
            return entry.value, entry.robot, entry.repeat
        case NumberEntry():
            return entry.robot, entry.what, entry.asked
        case ResultEntry():
            return (entry.result,)


def _placed(name: str, entries: Sequence[_Placed], *, replaced: bool) -> Iterator[tuple[str, _Placed]]:
    """Yield each entry of a list after its place in the record; what was ``replaced`` has lists of its own."""
    lists = "replaced." if replaced else ""
    return ((f"{lists}{name}[{index}]", entry) for index, entry in enumerate(entries))


# ---------------------------------------------------------------- the verdicts by the ranges and limits of a form


def range_of(value: RequiredValue) -> Range:
    """Return what an entry of a value is judged by."""
    others = tuple((each.unit, Decimal(each.factor)) for each in value.others)
    return Range(Decimal(value.setting), end_of(value.low), end_of(value.high), others)


def end_of(text: str) -> Decimal | None:
    """Return an end of a range as a form writes it; None where it is open."""
    return Decimal(text) if text else None


def together_of(
    readings: Sequence[ReadingEntry], form: SetUpForm
) -> Iterator[tuple[tuple[str, str, str], LinkedVerdict]]:
    """Yield what the last readings are beside those that limit them: value, other, robot, and the verdict."""
    last = {place: Decimal(entry.number) for place, entry in last_readings(readings).items()}
    for limit in form.limits:
        linked = Linked(limit.power, end_of(limit.minimum), end_of(limit.maximum))
        for robot in dict.fromkeys(robot for value, robot in last if value == limit.value):
            other = last.get((limit.other, robot))
            if other is not None:
                yield (limit.value, limit.other, robot), judge_together(last[limit.value, robot], other, linked)
