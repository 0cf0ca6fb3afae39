"""Whether what an acceptance rests on was there before it: results, numbers, values read, hold points, changeover."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import seen
from weld_packets.packet.forms import changeover_tasks
from weld_packets.packet.records.forms import Acceptance, RequiredValue, SetUpForm, StepList
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.set_ups.entered import together_of
from weld_packets.revisions.set_ups.from_cell import FROM_PAGE, NOT_EDITED, Of
from weld_packets.revisions.set_ups.record import (
    Accepted,
    ChangeoverDone,
    NumberEntry,
    ResultEntry,
    SetUp,
    StepDone,
    last_readings,
    moment,
)

_STAGES: Mapping[Acceptance, tuple[str, ...]] = {"coupons": ("coupon",), "first-off": ("coupon", "first-off")}
_KINDS: Mapping[Acceptance, tuple[str, ...]] = {"coupons": ("setting",), "first-off": ("setting", "reading")}
_GOOD = ("equal", "in range")
FROM_NOTHING = "set up from nothing, not by the changeover"
"""The deviation by which a page lets somebody set up a cell that its changeover would bring there."""


def acceptance_problems(set_up: SetUp, of: Of) -> Iterator[Problem]:
    """Yield acceptances that were made before what they rest on, by nobody, or twice."""
    by_what = {each.what: each for each in set_up.accepted}
    for index, each in enumerate(set_up.accepted):
        place = f"accepted[{index}]"
        if by_what[each.what] is not each:
            yield unplaced(f"{place}.what", each.what, "is there twice", NOT_EDITED)
        if each.what == "first-off":
            yield from _after_coupons(place, each, by_what.get("coupons"))
        if not seen(each.by):
            yield unplaced(f"{place}.by", "", f"nobody is named who accepted the {each.what}", FROM_PAGE)
        yield from _missing(place, each, set_up, of)


def _after_coupons(place: str, first_off: Accepted, coupons: Accepted | None) -> Iterator[Problem]:
    if coupons is None:
        message = "the first-off is accepted and the coupons are not"
        yield unplaced(f"{place}.what", first_off.what, message, "accept the coupons at their hold point first")
    elif moment(first_off.at) < moment(coupons.at):
        message = f"is before the coupons were accepted at {coupons.at}"
        yield unplaced(f"{place}.at", first_off.at, message, NOT_EDITED)


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
        passed = f"hold point {hold[1]!r} of the {hold[0]} was passed without its tick"
        yield from _undone(place, accepted, done.get(hold), passed, f"hold point {hold[1]!r} was ticked")
    yield from _unfinished(place, accepted, set_up, of.packet)


def _unproved(place: str, accepted: Accepted, key: str, name: str, entry: ResultEntry | None) -> Iterator[Problem]:
    if entry is None:
        message = f"{key} is missing: {name}"
        yield unplaced(f"{place}.what", accepted.what, message, "enter every result, then accept")
    elif entry.verdict != "accepted":
        message = f"{key} is not accepted: {name}"
        yield unplaced(f"{place}.what", accepted.what, message, "correct the cause, prove again, then accept")
    elif moment(entry.at) > moment(accepted.at):
        message = f"is before {key} was entered at {entry.at}"
        yield unplaced(f"{place}.at", accepted.at, message, "accept again, after the results")


def _mismatched(place: str, accepted: Accepted, entry: NumberEntry) -> Problem:
    message = f"{entry.what} of {entry.robot} is {entry.entered!r} in place of {entry.asked!r}"
    return unplaced(f"{place}.what", accepted.what, message, "select the right number and compare it, then accept")


def _uncompared(place: str, accepted: Accepted, set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    compared = {(entry.robot, entry.what, entry.asked) for entry in set_up.numbers}
    for number in form.numbers:
        if (number.robot, number.what, number.number) not in compared:
            message = f"{number.what} {number.number} of {number.robot} was not compared"
            yield unplaced(f"{place}.what", accepted.what, message, "compare it on the page, then accept")


def _unread(place: str, accepted: Accepted, set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield what was accepted though it was not read, or is outside without a deviation that gives the reason.

    The page holds an acceptance back for the same; see ``proof.js``. What was read again last counts.
    """
    excused = {deviation.what for deviation in set_up.deviations if seen(deviation.reason)}
    last = last_readings(set_up.readings)
    values = {value.key: value for value in form.values}
    for value in form.values:
        for robot in value.robots if value.kind in _KINDS[accepted.what] else ():
            entry, name = last.get((value.key, robot)), reading_name(value, robot)
            if entry is None:
                yield unplaced(f"{place}.what", accepted.what, f"{name} was not read", "read it back, then accept")
            elif name not in excused:
                yield from _outside(place, accepted, name, entry.verdict)
    for (key, other, robot), verdict in together_of(set_up.readings, form):
        name = f"{reading_name(values[key], robot)}, beside {values[other].label.lower()}"
        if name not in excused:
            yield from _outside(place, accepted, name, verdict)


def _outside(place: str, accepted: Accepted, name: str, verdict: str) -> Iterator[Problem]:
    if verdict not in _GOOD:
        message = f"{name} is {verdict!r}, and no deviation says why"
        remedy = "set it inside and read it again, or give the reason on the page, then accept"
        yield unplaced(f"{place}.what", accepted.what, message, remedy)


def reading_name(value: RequiredValue, robot: str) -> str:
    """Return what a deviation calls a value of a robot, as the pages write it."""
    schedule = f", weld schedule {value.weld_schedule}" if value.weld_schedule else ""
    return f"{value.label}{schedule}, {robot}"


def _unfinished(place: str, accepted: Accepted, set_up: SetUp, packet: Packet) -> Iterator[Problem]:
    """Yield what an accepted first-off lacks of the changeover that took the place of the set-up, where it is kept."""
    if accepted.what != "first-off" or not set_up.changeover or is_by_set_up(set_up, packet):
        return
    done = {step.key: step for step in set_up.changeover}
    for task in changeover_tasks(packet, set_up.operation):
        name = f"step {task.key!r} of the changeover was"
        yield from _undone(place, accepted, done.get(task.key), f"{name} not done", f"{name} done")


def _undone(
    place: str, accepted: Accepted, step: StepDone | ChangeoverDone | None, missing: str, late: str
) -> Iterator[Problem]:
    """Yield a step that was not done before an acceptance; ``missing`` says that it never was, ``late`` what came."""
    if step is None:
        yield unplaced(f"{place}.what", accepted.what, missing, "do the step and tick it, then accept")
    elif moment(step.done) > moment(accepted.at):
        yield unplaced(f"{place}.at", accepted.at, f"is before {late} at {step.done}", NOT_EDITED)


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
