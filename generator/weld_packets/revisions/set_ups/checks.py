"""Whether a set-up record can be what was done with the release that it names: all is compared and judged anew."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
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
from weld_packets.errors import OutOfRangeError, Problem
from weld_packets.letters import seen, turned_in
from weld_packets.packet.forms import changeover_tasks, set_up_form
from weld_packets.packet.records import OperationSheet, Packet, RequiredResult, RequiredValue, SetUpForm, SupplyCounter
from weld_packets.packet.records.forms import Acceptance, StepList
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.record import moment_text
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.set_ups.record import (
    Accepted,
    ChangeoverDone,
    Counter,
    NumberEntry,
    ReadingEntry,
    Replaced,
    ResultEntry,
    SetterQualified,
    SetUp,
    StepDone,
    last_readings,
    moment,
    moments,
)
from weld_packets.revisions.set_ups.run_record import Run
from weld_packets.revisions.status.status import is_in_force_at

CLOCK_MAY_RUN_AHEAD = timedelta(minutes=5)
"""By how much a device's clock may be before that of the computer that files its record; a choice of ours."""
_STAGES: Mapping[Acceptance, tuple[str, ...]] = {"coupons": ("coupon",), "first-off": ("coupon", "first-off")}
_KINDS: Mapping[Acceptance, tuple[str, ...]] = {"coupons": ("setting",), "first-off": ("setting", "reading")}
_GOOD = ("equal", "in range")
FROM_NOTHING = "set up from nothing, not by the changeover"
"""The deviation by which a page lets somebody set up a cell that its changeover would bring there."""
_Entry = ReadingEntry | NumberEntry | ResultEntry
_Placed = TypeVar("_Placed", bound=_Entry)
_Step = TypeVar("_Step", bound=Hashable)
_FROM_PAGE = "enter it on the page of this revision and save the record anew"
CLOCK = "set the clock of the device, or of this computer"
NOT_EDITED = "file the record as its page saved it; nothing in it is edited"


@dataclass(frozen=True)
class Of:
    """The release that a set-up belongs to: its order's entries, its own, its packet, and the form of its operation."""

    entries: Sequence[RegisterEntry]
    entry: RegisterEntry
    packet: Packet
    sheet: OperationSheet
    form: SetUpForm


def release_of(set_up: SetUp | Run, entries: Sequence[RegisterEntry]) -> RegisterEntry | Problem:
    """Return the entry of the release that a record from a cell names, or why its order has none such."""
    releases = {entry.revision: entry for entry in entries if entry.kind == "release"}
    known = f"name one of: {', '.join(releases)}"
    if not releases:
        return problem("slug", set_up.slug, "no revision of this order is released", "release it, or correct the order")
    if not set_up.revision:
        message = "this was made by a draft, of which no record says what it required"
        return problem("revision", set_up.status, message, "set up and start by a released revision")
    entry = releases.get(set_up.revision)
    if entry is None:
        return problem("revision", set_up.revision, "this order has no such released revision", known)
    if set_up.record_digest != entry.record_digest:
        message = f"is not the record of revision {entry.revision}, which is {short(entry.record_digest)}"
        owner = next((each.revision for each in releases.values() if each.record_digest == set_up.record_digest), "")
        remedy = f"that is revision {owner}: the record was edited" if owner else "take the pages of this plant"
        return problem("record_digest", short(set_up.record_digest), message, remedy)
    return entry


def of_release(
    set_up: SetUp, entries: Sequence[RegisterEntry], entry: RegisterEntry, packet: Packet
) -> Of | list[Problem]:
    """Return what a set-up is compared with, or why it is of no operation of that packet."""
    found = list(head_problems(set_up, entry, packet))
    sheet = next((each for each in packet.operations if each.number == set_up.operation), None)
    if sheet is None:
        numbers = ", ".join(str(each.number) for each in packet.operations)
        message = f"revision {entry.revision} has no such operation"
        found.append(problem("operation", str(set_up.operation), message, f"it has operations {numbers}"))
        return found
    for key, said, released in (
        ("operation_name", set_up.operation_name, sheet.name),
        ("cell", set_up.cell, sheet.cell),
    ):
        if said != released:
            message = f"operation {sheet.number} of revision {entry.revision} has {released!r}"
            found.append(problem(key, said, message, NOT_EDITED))
    return found or Of(entries, entry, packet, sheet, set_up_form(sheet))


def head_problems(set_up: SetUp | Run, entry: RegisterEntry, packet: Packet) -> Iterator[Problem]:
    """Yield where a record from a cell names another packet or order than its release has."""
    if set_up.packet_digest != entry.packet_digest:
        message = f"is not the packet of revision {entry.revision}, which is {short(entry.packet_digest)}"
        yield problem("packet_digest", short(set_up.packet_digest), message, NOT_EDITED)
    if set_up.order != packet.head.number:
        yield problem("order", set_up.order, f"this is order {packet.head.number}", NOT_EDITED)


def text_problems(kept: SetUp | Run) -> Iterator[Problem]:
    """Yield texts that a reader would read as others, since a sign turns what follows round.

    Other signs that nobody sees come with the keyboard of a tablet, and are no reason to lose a record.
    """
    for path, text in _texts(kept.model_dump(mode="json")):
        if sign := turned_in(text):
            yield problem(path, text, f"holds a sign that turns what follows round, {sign}", NOT_EDITED)


def _texts(node: object, path: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(node, str):
        yield path, node
    elif isinstance(node, dict):
        for key, value in node.items():
            yield from _texts(value, f"{path}.{key}" if path else str(key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from _texts(value, f"{path}[{index}]")


def set_up_problems(set_up: SetUp, of: Of, filed: datetime) -> list[Problem]:
    """Return everything in a set-up that cannot be so; ``filed`` is the moment of filing."""
    return [
        *_time_problems(set_up, filed),
        *_status_problems(set_up, of),
        *_step_problems(set_up, of.form),
        *_changeover_problems(set_up, of.packet, filed),
        *_reading_problems(set_up.readings, of.form),
        *_together_problems(set_up, of.form),
        *_number_problems(set_up.numbers, of.form),
        *result_problems(set_up.results, of.form),
        *_replaced_problems(set_up, of.form),
        *_acceptance_problems(set_up, of),
        *_counter_problems(set_up, of.form),
        *qualification_problems(set_up.qualification, of.sheet),
    ]


def problem(key: str, value: str, message: str, remedy: str) -> Problem:
    """Return a problem of a record from a cell, whose file is filled in where it is known."""
    return Problem("", 0, key, value, message, remedy)


# ---------------------------------------------------------------- times and status


def _time_problems(set_up: SetUp, filed: datetime) -> Iterator[Problem]:
    begun = moment(set_up.begun)
    if begun > filed + CLOCK_MAY_RUN_AHEAD:
        yield problem("begun", set_up.begun, f"is after its filing at {moment_text(filed)}", CLOCK)
    ends = [("finished", moment(set_up.finished))] if set_up.finished else []
    for key, at in (*moments(set_up), *ends):
        if at < begun:
            yield problem(key, at.isoformat(), f"is before the set-up was begun at {set_up.begun}", NOT_EDITED)
        elif at > filed + CLOCK_MAY_RUN_AHEAD:
            yield problem(key, at.isoformat(), f"is after its filing at {moment_text(filed)}", CLOCK)
    for index, each in enumerate(set_up.accepted if set_up.finished else ()):
        if moment(each.at) > moment(set_up.finished):
            message = f"is after the set-up was finished at {set_up.finished}"
            yield problem(f"accepted[{index}].at", each.at, message, NOT_EDITED)


def _status_problems(set_up: SetUp, of: Of) -> Iterator[Problem]:
    """Yield the times at which the revision was not in force: those of its acceptances, else of what was done last."""
    if seen(set_up.status_reason):
        return
    acceptances = [moment(each.at) for each in set_up.accepted]
    last = max((at for _, at in moments(set_up)), default=moment(set_up.begun))
    for at in acceptances or [last]:
        if not is_in_force_at(of.entries, of.entry.revision, at):
            message = f"revision {of.entry.revision} was not in force on {at.isoformat()}, and no reason is given"
            remedy = "set up by the revision in force; if it was done for a reason, give it on the page and save anew"
            yield problem("status_reason", set_up.status, message, remedy)
            return


# ---------------------------------------------------------------- what was done and read


def _step_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    known = {(step.list, step.key): step.digest for step in form.steps}
    ticks = [
        (step, (step.list, step.key), f"the {step.list} of this revision has no such step") for step in set_up.steps
    ]
    return _tick_problems("steps", ticks, known)


def _changeover_problems(set_up: SetUp, packet: Packet, filed: datetime) -> Iterator[Problem]:
    """Yield what cannot be so in the changeover of the cell; it is done before the set-up is begun."""
    known = {task.key: task.digest for task in changeover_tasks(packet, set_up.cell)}
    unknown = f"the changeover of cell {set_up.cell} has no such step in this revision"
    yield from _tick_problems("changeover", [(step, step.key, unknown) for step in set_up.changeover], known)
    for index, step in enumerate(set_up.changeover):
        if moment(step.done) > filed + CLOCK_MAY_RUN_AHEAD:
            place = f"changeover[{index}].done"
            yield problem(place, step.done, f"is after its filing at {moment_text(filed)}", CLOCK)


def _tick_problems(
    name: str, ticks: Sequence[tuple[StepDone | ChangeoverDone, _Step, str]], known: Mapping[_Step, str]
) -> Iterator[Problem]:
    """Yield the ticks of a list that are of no step, of one that reads otherwise, or there twice.

    Each comes with its step, and with what is said where there is no such step; ``known`` are the digests of steps.
    """
    seen: set[_Step] = set()
    for index, (tick, step, unknown) in enumerate(ticks):
        place = f"{name}[{index}]"
        digest = known.get(step)
        if digest is None:
            yield problem(f"{place}.key", tick.key, unknown, NOT_EDITED)
        elif digest != tick.digest:
            message = "is the digest of another text than this revision has for the step"
            yield problem(f"{place}.digest", tick.digest, message, "do the step as it now reads and tick it again")
        if step in seen:
            yield problem(f"{place}.key", tick.key, "is there twice", NOT_EDITED)
        seen.add(step)


def _placed(name: str, entries: Sequence[_Placed], *, replaced: bool) -> Iterator[tuple[str, _Placed]]:
    """Yield each entry of a list after its place in the record; what was ``replaced`` has lists of its own."""
    lists = "replaced." if replaced else ""
    return ((f"{lists}{name}[{index}]", entry) for index, entry in enumerate(entries))


def _reading_problems(entries: Sequence[ReadingEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    values = {value.key: value for value in form.values}
    seen: set[tuple[str, str, int]] = set()
    for place, entry in _placed("readings", entries, replaced=replaced):
        value = values.get(entry.value)
        if value is None:
            yield problem(f"{place}.value", entry.value, "this revision requires no such value", _FROM_PAGE)
            continue
        if entry.robot not in value.robots:
            message = f"it is set on {' and '.join(value.robots)}"
            yield problem(f"{place}.robot", entry.robot, message, _FROM_PAGE)
        if entry.unit != value.unit:
            yield problem(f"{place}.unit", entry.unit, f"the unit of this value is {value.unit!r}", _FROM_PAGE)
        yield from _entered_problems(place, entry.entered, entry.number)
        yield from _verdict_problems(place, entry, value)
        if (entry.value, entry.robot, entry.repeat) in seen and not replaced:
            yield problem(f"{place}.value", entry.value, f"is read twice on {entry.robot}", NOT_EDITED)
        seen.add((entry.value, entry.robot, entry.repeat))


def _entered_problems(place: str, entered: str, number: str) -> Iterator[Problem]:
    try:
        read = number_of(entered)
    except OutOfRangeError as error:
        for each in error.problems:
            yield problem(f"{place}.entered", entered, each.message, each.remedy)
    else:
        if read != number:
            yield problem(f"{place}.number", number, f"what was entered, {entered!r}, is {read}", NOT_EDITED)


def range_of(value: RequiredValue) -> Range:
    """Return what an entry of a value is judged by."""
    others = tuple((each.unit, Decimal(each.factor)) for each in value.others)
    return Range(Decimal(value.setting), _end(value.low), _end(value.high), others)


def _end(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _verdict_problems(place: str, entry: ReadingEntry, value: RequiredValue) -> Iterator[Problem]:
    verdict = judge(Decimal(entry.number), range_of(value)).verdict
    if verdict != entry.verdict:
        allowed = f"{value.setting} {value.unit}, allowed {value.low or 'open'} to {value.high or 'open'}"
        message = f"{entry.number} {value.unit} is {verdict!r}: the setting is {allowed}"
        yield problem(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


def _together_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield where values that limit each other are judged otherwise than here, or where one of them is not judged."""
    known = dict(together_of(set_up.readings, form))
    left = dict(known)
    for index, entry in enumerate(set_up.together):
        place = f"together[{index}]"
        pair = (entry.value, entry.other, entry.robot)
        verdict = left.pop(pair, None)
        if verdict is None:
            message = "is there twice" if pair in known else "are no two readings of this record that limit each other"
            yield problem(f"{place}.value", f"{entry.value}, {entry.other}", message, NOT_EDITED)
        elif verdict != entry.verdict:
            message = f"{entry.value} beside {entry.other} on {entry.robot} is {verdict!r}"
            yield problem(f"{place}.verdict", entry.verdict, message, NOT_EDITED)
    for (value, other, robot), verdict in left.items():
        message = f"{value} beside {other} on {robot} is {verdict!r}, and the record does not say so"
        yield problem("together", "", message, "save the record anew from the page of this revision")


def together_of(
    readings: Sequence[ReadingEntry], form: SetUpForm
) -> Iterator[tuple[tuple[str, str, str], LinkedVerdict]]:
    """Yield what the last readings are beside those that limit them: value, other, robot, and the verdict."""
    last = {place: Decimal(entry.number) for place, entry in last_readings(readings).items()}
    for limit in form.limits:
        linked = Linked(limit.power, _end(limit.minimum), _end(limit.maximum))
        for robot in dict.fromkeys(robot for value, robot in last if value == limit.value):
            other = last.get((limit.other, robot))
            if other is not None:
                yield (limit.value, limit.other, robot), judge_together(last[limit.value, robot], other, linked)


def _number_problems(entries: Sequence[NumberEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    known = {(number.robot, number.what, number.number) for number in form.numbers}
    for place, entry in _placed("numbers", entries, replaced=replaced):
        if (entry.robot, entry.what, entry.asked) not in known:
            message = f"this revision has no such {entry.what} on {entry.robot}"
            yield problem(f"{place}.asked", entry.asked, message, _FROM_PAGE)
        verdict = "match" if _compared(entry.entered) == _compared(entry.asked) else "mismatch"
        if verdict != entry.verdict:
            message = f"{entry.entered!r} and {entry.asked!r} are a {verdict}"
            yield problem(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


def _compared(number: str) -> str:
    return number.strip().upper()  # what a person typed or scanned


def result_problems(entries: Sequence[ResultEntry], form: SetUpForm, *, replaced: bool = False) -> Iterator[Problem]:
    """Yield what cannot be so in the results of a set-up, or in those that were ``replaced``."""
    known = {result.key: result for result in form.results}
    seen: set[str] = set()
    for place, entry in _placed("results", entries, replaced=replaced):
        result = known.get(entry.result)
        if result is None:
            yield problem(f"{place}.result", entry.result, "this revision requires no such result", _FROM_PAGE)
        elif result.choices:
            yield from _chosen_problems(place, entry, result)
        elif result.unit:
            yield from _measured_problems(place, entry, result)
        elif entry.number and result.found_unit:
            found = {"unit": result.found_unit, "minimum": "", "maximum": result.found_maximum}
            yield from _measured_problems(place, entry, result.model_copy(update=found))
        elif entry.number:
            yield problem(f"{place}.number", entry.number, "is judged by eye and has no number", NOT_EDITED)
        if entry.result in seen and not replaced:
            yield problem(f"{place}.result", entry.result, "is there twice", NOT_EDITED)
        seen.add(entry.result)


def _replaced_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield what cannot be so in entries that were replaced: each is judged anew and is before the later one."""
    if set_up.replaced is None:
        return
    yield from _reading_problems(set_up.replaced.readings, form, replaced=True)
    yield from _number_problems(set_up.replaced.numbers, form, replaced=True)
    yield from result_problems(set_up.replaced.results, form, replaced=True)
    entries: tuple[_Entry, ...] = (*set_up.readings, *set_up.numbers, *set_up.results)
    later = {_of_entry(entry): entry.at for entry in entries}
    for name in Replaced.model_fields:
        for place, entry in _placed(name, getattr(set_up.replaced, name), replaced=True):
            at = later.get(_of_entry(entry))
            if at is not None and moment(entry.at) > moment(at):
                message = f"is after the entry that replaced it at {at}"
                yield problem(f"{place}.at", entry.at, message, NOT_EDITED)


def _of_entry(entry: _Entry) -> tuple[str | int, ...]:
    """Return what an entry is of: a later one of the same takes its place."""
    match entry:
        case ReadingEntry():
            return entry.value, entry.robot, entry.repeat
        case NumberEntry():
            return entry.robot, entry.what, entry.asked
        case ResultEntry():
            return (entry.result,)


def _chosen_problems(place: str, entry: ResultEntry, result: RequiredResult) -> Iterator[Problem]:
    verdicts = {choice.text: "accepted" if choice.accepted else "not accepted" for choice in result.choices}
    verdict = verdicts.get(entry.entered)
    if entry.number:
        yield problem(f"{place}.number", entry.number, "is chosen and has no number", NOT_EDITED)
    if verdict is None:
        message = "is none of the answers of this revision"
        yield problem(f"{place}.entered", entry.entered, message, f"choose one of: {', '.join(verdicts)}")
    elif verdict != entry.verdict:
        yield problem(f"{place}.verdict", entry.verdict, f"{entry.entered!r} is {verdict!r}", NOT_EDITED)


def _measured_problems(place: str, entry: ResultEntry, result: RequiredResult) -> Iterator[Problem]:
    yield from _entered_problems(place, entry.entered, entry.number)
    if not entry.number:
        return
    inside = is_accepted(Decimal(entry.number), _end(result.minimum), _end(result.maximum))
    verdict = "accepted" if inside else "not accepted"
    if verdict != entry.verdict:
        limits = f"{result.minimum or 'open'} to {result.maximum or 'open'} {result.unit}"
        message = f"{entry.number} {result.unit} is {verdict!r}: the limits are {limits}"
        yield problem(f"{place}.verdict", entry.verdict, message, NOT_EDITED)


# ---------------------------------------------------------------- counters


def counter_of(counter: Counter, form: SetUpForm) -> SupplyCounter | None:
    """Return what a counter of a record counts, by its key or its words; None for one of the plant's own."""
    wanted = counter.what.strip().casefold()  # what a person typed
    found = (each for each in form.counters if wanted in (each.key.casefold(), each.what.casefold()))
    return next(found, None)


def _counter_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    seen: set[str] = set()
    for index, entry in enumerate(set_up.counters):
        counter = counter_of(entry, form)
        if counter is None:
            continue
        place = f"counters[{index}]"
        try:
            number = Decimal(number_of(entry.count))
        except OutOfRangeError as error:
            for each in error.problems:
                yield problem(f"{place}.count", entry.count, each.message, each.remedy)
            continue
        if counter.counts == "left" and number > Decimal(counter.whole):
            message = f"is more than a full one holds, {counter.whole} {counter.unit}"
            yield problem(f"{place}.count", entry.count, message, f"count again, in {counter.unit}")
        if counter.counts in ("worn", "turns") and number != number.to_integral_value():
            yield problem(f"{place}.count", entry.count, "is not a whole number", "count again")
        if counter.key in seen:
            yield problem(f"{place}.what", entry.what, "is there twice", NOT_EDITED)
        seen.add(counter.key)


# ---------------------------------------------------------------- the person


def qualification_problems(named: SetterQualified | None, sheet: OperationSheet) -> Iterator[Problem]:
    """Yield where a record names a qualification that its release does not list for a setter, or another last day.

    One that has expired is no such problem: what was done is filed, and the lists of records say it.
    """
    if named is None:
        return
    setters = sheet.people.setters if sheet.people else ()
    listed = {holder.number: holder.valid_until for holder in setters}
    valid_until = listed.get(named.number)
    if valid_until is None:
        message = "this revision lists no such qualification of a setter"
        yield problem("qualification.number", named.number, message, _FROM_PAGE)
    elif valid_until != named.valid_until:
        message = f"in this revision {named.number} is valid until {valid_until}"
        yield problem("qualification.valid_until", named.valid_until, message, NOT_EDITED)


# ---------------------------------------------------------------- acceptance


def _acceptance_problems(set_up: SetUp, of: Of) -> Iterator[Problem]:
    by_what = {each.what: each for each in set_up.accepted}
    for index, each in enumerate(set_up.accepted):
        place = f"accepted[{index}]"
        if by_what[each.what] is not each:
            yield problem(f"{place}.what", each.what, "is there twice", NOT_EDITED)
        if each.what == "first-off":
            yield from _after_coupons(place, each, by_what.get("coupons"))
        if not seen(each.by):
            yield problem(f"{place}.by", "", f"nobody is named who accepted the {each.what}", _FROM_PAGE)
        yield from _missing(place, each, set_up, of)


def _after_coupons(place: str, first_off: Accepted, coupons: Accepted | None) -> Iterator[Problem]:
    if coupons is None:
        message = "the first-off is accepted and the coupons are not"
        yield problem(f"{place}.what", first_off.what, message, "accept the coupons at their hold point first")
    elif moment(first_off.at) < moment(coupons.at):
        message = f"is before the coupons were accepted at {coupons.at}"
        yield problem(f"{place}.at", first_off.at, message, NOT_EDITED)


def _missing(place: str, accepted: Accepted, set_up: SetUp, of: Of) -> Iterator[Problem]:
    """Yield what an acceptance rests on and is not there, not good, or later than it."""
    results = {entry.result: entry for entry in set_up.results}
    for result in of.form.results:
        if result.stage in _STAGES[accepted.what]:
            name = " of ".join(filter(None, (result.what, result.robot)))
            yield from _unproved(place, accepted, f"result {result.key!r}", name, results.get(result.key))
    for entry in set_up.numbers:
        if entry.verdict == "mismatch":
            yield _mismatched(place, accepted, entry)
    yield from _uncompared(place, accepted, set_up, of.form)
    yield from _unread(place, accepted, set_up, of.form)
    done = {(step.list, step.key): step for step in set_up.steps}
    for hold in _holds(accepted.what, set_up, of):
        step = done.get(hold)
        if step is None:
            message = f"hold point {hold[1]!r} of the {hold[0]} was passed without its tick"
            yield problem(f"{place}.what", accepted.what, message, "do the step and tick it, then accept")
        elif moment(step.done) > moment(accepted.at):
            message = f"is before hold point {hold[1]!r} was ticked at {step.done}"
            yield problem(f"{place}.at", accepted.at, message, NOT_EDITED)
    yield from _unfinished(place, accepted, set_up, of.packet)


def _unfinished(place: str, accepted: Accepted, set_up: SetUp, packet: Packet) -> Iterator[Problem]:
    """Yield what an accepted first-off lacks of the changeover that took the place of the set-up, where it is kept."""
    if accepted.what != "first-off" or not set_up.changeover or is_by_set_up(set_up, packet):
        return
    done = {step.key: step for step in set_up.changeover}
    for task in changeover_tasks(packet, set_up.cell):
        step = done.get(task.key)
        if step is None:
            message = f"step {task.key!r} of the changeover was not done"
            yield problem(f"{place}.what", accepted.what, message, "do the step and tick it, then accept")
        elif moment(step.done) > moment(accepted.at):
            message = f"is before step {task.key!r} of the changeover was done at {step.done}"
            yield problem(f"{place}.at", accepted.at, message, NOT_EDITED)


def _unproved(place: str, accepted: Accepted, key: str, name: str, entry: ResultEntry | None) -> Iterator[Problem]:
    if entry is None:
        message = f"{key} is missing: {name}"
        yield problem(f"{place}.what", accepted.what, message, "enter every result, then accept")
    elif entry.verdict != "accepted":
        message = f"{key} is not accepted: {name}"
        yield problem(f"{place}.what", accepted.what, message, "correct the cause, prove again, then accept")
    elif moment(entry.at) > moment(accepted.at):
        message = f"is before {key} was entered at {entry.at}"
        yield problem(f"{place}.at", accepted.at, message, "accept again, after the results")


def _mismatched(place: str, accepted: Accepted, entry: NumberEntry) -> Problem:
    message = f"{entry.what} of {entry.robot} is {entry.entered!r} in place of {entry.asked!r}"
    return problem(f"{place}.what", accepted.what, message, "select the right number and compare it, then accept")


def _uncompared(place: str, accepted: Accepted, set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    compared = {(entry.robot, entry.what, entry.asked) for entry in set_up.numbers}
    for number in form.numbers:
        if (number.robot, number.what, number.number) not in compared:
            message = f"{number.what} {number.number} of {number.robot} was not compared"
            yield problem(f"{place}.what", accepted.what, message, "compare it on the page, then accept")


def _unread(place: str, accepted: Accepted, set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield what was accepted though it was not read, or is outside without a deviation that gives the reason.

    The page holds an acceptance back for the same; see ``proof.js``. What was read again last counts.
    """
    excused = {deviation.what for deviation in set_up.deviations if seen(deviation.reason)}
    last = last_readings(set_up.readings)
    values = {value.key: value for value in form.values}
    for value in form.values:
        for robot in value.robots if value.kind in _KINDS[accepted.what] else ():
            entry, name = last.get((value.key, robot)), name_of(value, robot)
            if entry is None:
                yield problem(f"{place}.what", accepted.what, f"{name} was not read", "read it back, then accept")
            elif name not in excused:
                yield from _outside(place, accepted, name, entry.verdict)
    for (key, other, robot), verdict in together_of(set_up.readings, form):
        name = f"{name_of(values[key], robot)}, beside {values[other].label.lower()}"
        if name not in excused:
            yield from _outside(place, accepted, name, verdict)


def _outside(place: str, accepted: Accepted, name: str, verdict: str) -> Iterator[Problem]:
    if verdict not in _GOOD:
        message = f"{name} is {verdict!r}, and no deviation says why"
        remedy = "set it inside and read it again, or give the reason on the page, then accept"
        yield problem(f"{place}.what", accepted.what, message, remedy)


def name_of(value: RequiredValue, robot: str) -> str:
    """Return what a deviation calls a value of a robot, as the pages write it."""
    schedule = f", weld schedule {value.weld_schedule}" if value.weld_schedule else ""
    return f"{value.label}{schedule}, {robot}"


def is_by_set_up(set_up: SetUp, packet: Packet) -> bool:
    """Return whether a cell was set up by the steps of its set-up: a changeover of the cell takes their place.

    They count where one of them was done, where somebody said why it was set up from nothing, or where no changeover
    names the cell.
    """
    began = any(step.list == "set-up" for step in set_up.steps)
    from_nothing = any(deviation.what == FROM_NOTHING for deviation in set_up.deviations)
    lines = packet.changeover.lines if packet.changeover else ()
    return began or from_nothing or all(line.cell != set_up.cell for line in lines)


def unrecorded_lines(set_up: SetUp, packet: Packet) -> Iterator[str]:
    """Yield what an accepted first-off rests on that is no part of its record, as in one from before it was kept."""
    is_proved = any(each.what == "first-off" for each in set_up.accepted)
    if is_proved and not set_up.changeover and not is_by_set_up(set_up, packet):
        yield "the cell was changed over: its ticks are on the device, on the page Changeover, and not in this record"


def _holds(what: Acceptance, set_up: SetUp, of: Of) -> Iterator[tuple[StepList, str]]:
    """Yield the hold points before an acceptance and its own; those of the set-up where no changeover took its place.

    The steps of a changeover are in no list of the operation.
    """
    by_set_up = is_by_set_up(set_up, of.packet)
    for step in of.form.steps:
        if step.hold and (step.list == "prove-out" or by_set_up):
            yield step.list, step.key
        if step.accepts == what:
            return
