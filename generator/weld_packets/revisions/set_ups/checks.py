"""Whether a set-up record can be what was done with the release that it names: all is compared and judged anew."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import TypeVar

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import seen
from weld_packets.packet.forms import changeover_tasks
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.record import moment_text
from weld_packets.revisions.set_ups.acceptance import acceptance_problems
from weld_packets.revisions.set_ups.counters import counter_problems
from weld_packets.revisions.set_ups.entered import (
    compared_problems,
    reading_problems,
    replaced_problems,
    result_problems,
    together_problems,
)
from weld_packets.revisions.set_ups.from_cell import CLOCK, CLOCK_MAY_RUN_AHEAD, FROM_PAGE, NOT_EDITED, Of
from weld_packets.revisions.set_ups.record import ChangeoverDone, SetterQualified, SetUp, StepDone, moment, moments
from weld_packets.revisions.status.status import is_in_force_at


def set_up_problems(set_up: SetUp, of: Of, filed: datetime) -> list[Problem]:
    """Return everything in a set-up that cannot be so; ``filed`` is the moment of filing."""
    return [
        *_time_problems(set_up, filed),
        *_status_problems(set_up, of),
        *step_problems(set_up, of.form),
        *changeover_problems(set_up, of.packet, filed),
        *reading_problems(set_up.readings, of.form),
        *together_problems(set_up, of.form),
        *compared_problems(set_up.numbers, of.form),
        *result_problems(set_up.results, of.form),
        *replaced_problems(set_up, of.form),
        *acceptance_problems(set_up, of),
        *counter_problems(set_up, of.form),
        *setter_problems(set_up.qualification, of.sheet),
    ]


def _time_problems(set_up: SetUp, filed: datetime) -> Iterator[Problem]:
    begun = moment(set_up.begun)
    if begun > filed + CLOCK_MAY_RUN_AHEAD:
        yield unplaced("begun", set_up.begun, f"is after its filing at {moment_text(filed)}", CLOCK)
    ends = [("finished", moment(set_up.finished))] if set_up.finished else []
    for key, at in (*moments(set_up), *ends):
        if at < begun:
            yield unplaced(key, at.isoformat(), f"is before the set-up was begun at {set_up.begun}", NOT_EDITED)
        elif at > filed + CLOCK_MAY_RUN_AHEAD:
            yield unplaced(key, at.isoformat(), f"is after its filing at {moment_text(filed)}", CLOCK)
    for index, each in enumerate(set_up.accepted if set_up.finished else ()):
        if moment(each.at) > moment(set_up.finished):
            message = f"is after the set-up was finished at {set_up.finished}"
            yield unplaced(f"accepted[{index}].at", each.at, message, NOT_EDITED)


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
            yield unplaced("status_reason", set_up.status, message, remedy)
            return


def setter_problems(named: SetterQualified | None, sheet: OperationSheet) -> Iterator[Problem]:
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
        yield unplaced("qualification.number", named.number, message, FROM_PAGE)
    elif valid_until != named.valid_until:
        message = f"in this revision {named.number} is valid until {valid_until}"
        yield unplaced("qualification.valid_until", named.valid_until, message, NOT_EDITED)


_Step = TypeVar("_Step", bound=Hashable)


def step_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield what cannot be so in the steps of a set-up."""
    known = {(step.list, step.key): step.digest for step in form.steps}
    ticks = [
        (step, (step.list, step.key), f"the {step.list} of this revision has no such step") for step in set_up.steps
    ]
    return _tick_problems("steps", ticks, known)


def changeover_problems(set_up: SetUp, packet: Packet, filed: datetime) -> Iterator[Problem]:
    """Yield what cannot be so in the changeover of the cell; it is done before the set-up is begun."""
    known = {task.key: task.digest for task in changeover_tasks(packet, set_up.operation)}
    unknown = f"the changeover of cell {set_up.cell} has no such step in this revision"
    yield from _tick_problems("changeover", [(step, step.key, unknown) for step in set_up.changeover], known)
    for index, step in enumerate(set_up.changeover):
        if moment(step.done) > filed + CLOCK_MAY_RUN_AHEAD:
            place = f"changeover[{index}].done"
            yield unplaced(place, step.done, f"is after its filing at {moment_text(filed)}", CLOCK)


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
            yield unplaced(f"{place}.key", tick.key, unknown, NOT_EDITED)
        elif digest != tick.digest:
            message = "is the digest of another text than this revision has for the step"
            yield unplaced(f"{place}.digest", tick.digest, message, "do the step as it now reads and tick it again")
        if step in seen:
            yield unplaced(f"{place}.key", tick.key, "is there twice", NOT_EDITED)
        seen.add(step)
