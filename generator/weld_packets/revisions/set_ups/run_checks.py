"""Whether the record of a run can be what was done by the releases that it names, and what of it is overdue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import seen
from weld_packets.packet.records.forms import RunForm, StartList
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.record import moment_text
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.set_ups.from_cell import CLOCK, CLOCK_MAY_RUN_AHEAD, NOT_EDITED
from weld_packets.revisions.set_ups.record import moment
from weld_packets.revisions.set_ups.run_record import EventDone, Run, Start, run_moments
from weld_packets.revisions.status.status import is_in_force_at


@dataclass(frozen=True)
class OfRun:
    """The releases of the order of a run, oldest first, and the form of a run of each, by its revision."""

    entries: Sequence[RegisterEntry]
    forms: Mapping[str, RunForm]
    quantity: int


def run_problems(run: Run, of: OfRun, filed: datetime) -> list[Problem]:
    """Return everything in the record of a run that cannot be so; ``filed`` is the moment of filing."""
    return [
        *_time_problems(run, filed),
        *_end_problems(run),
        *(each for at, start in enumerate(run.starts) for each in _start_problems(f"starts[{at}]", start, of)),
        *_count_problems(run, of),
        *_event_problems(run, of),
    ]


def _time_problems(run: Run, filed: datetime) -> Iterator[Problem]:
    begun = moment(run.begun)
    for key, at in (("begun", begun), *run_moments(run)):
        if at < begun:
            yield unplaced(key, at.isoformat(), f"is before the run was begun at {run.begun}", NOT_EDITED)
        elif at > filed + CLOCK_MAY_RUN_AHEAD:
            yield unplaced(key, at.isoformat(), f"is after its filing at {moment_text(filed)}", CLOCK)


def _end_problems(run: Run) -> Iterator[Problem]:
    """Yield where a record says that its run had ended although something was done later, or that it had not."""
    if run.ended is None:
        if run.saved_during == run.id:
            message = "a record that was saved during a run has an identifier of its own"
            yield unplaced("saved_during", run.saved_during, message, NOT_EDITED)
        return
    if run.saved_during:
        yield unplaced("saved_during", run.saved_during, "says that the run had not ended", NOT_EDITED)
    ended = moment(run.ended.at)
    for key, at in run_moments(run):
        if at > ended:
            yield unplaced(key, at.isoformat(), f"is after the end of the run at {run.ended.at}", NOT_EDITED)


def _start_problems(place: str, start: Start, of: OfRun) -> Iterator[Problem]:
    form = of.forms.get(start.revision)
    entry = next((each for each in of.entries if (each.kind, each.revision) == ("release", start.revision)), None)
    if form is None or entry is None:
        message = "this order has no such released revision"
        yield unplaced(f"{place}.revision", start.revision, message, "start by a released revision")
        return
    if start.record_digest != entry.record_digest:
        message = f"is not the record of revision {entry.revision}, which is {short(entry.record_digest)}"
        yield unplaced(f"{place}.record_digest", short(start.record_digest), message, "take the pages of this plant")
        return
    found = next((each for each in form.starts if each.list == start.list), None)
    if found is None:
        message = f"revision {start.revision} has no such list of a start"
        yield unplaced(f"{place}.list", start.list, message, NOT_EDITED)
        return
    if (start.operation, start.cell) != (found.operation, found.cell):
        message = f"that list starts operation {found.operation} in cell {found.cell}"
        yield unplaced(f"{place}.operation", f"{start.operation}, {start.cell}", message, NOT_EDITED)
    if not seen(start.status_reason) and not is_in_force_at(of.entries, start.revision, moment(start.at)):
        message = f"revision {start.revision} was not in force on {start.at}, and no reason is given"
        yield unplaced(f"{place}.status_reason", start.status, message, "start by the revision in force")
    yield from _tick_problems(place, start, found)


def _tick_problems(place: str, start: Start, form: StartList) -> Iterator[Problem]:
    """Yield where the list was not ticked whole, as it says: a start is kept once all of it is done."""
    known = {tick.key: tick.digest for tick in form.ticks}
    for at, tick in enumerate(start.ticks):
        if known.get(tick.key) != tick.digest:
            message = f"revision {start.revision} has no such step in that list"
            yield unplaced(f"{place}.ticks[{at}].key", tick.key, message, NOT_EDITED)
    keys = [tick.key for tick in start.ticks]
    for key in known:
        if keys.count(key) != 1:
            message = f"step {key!r} is ticked {keys.count(key)} times"
            yield unplaced(f"{place}.ticks", key, message, "tick every step of the list once, then start")
    last = max((moment(tick.done) for tick in start.ticks), default=None)
    if last is not None and moment(start.at) != last:
        yield unplaced(f"{place}.at", start.at, "is not when the last step of the list was ticked", NOT_EDITED)


def _count_problems(run: Run, of: OfRun) -> Iterator[Problem]:
    cells = {start.cell for form in of.forms.values() for start in form.starts}
    for at, each in enumerate(run.counts):
        if each.cell and each.cell not in cells:
            message = "no released revision of this order starts that cell"
            yield unplaced(f"counts[{at}].cell", each.cell, message, NOT_EDITED)
        if int(each.count) > of.quantity:
            yield unplaced(f"counts[{at}].count", each.count, f"the order has {of.quantity} parts", "count again")
        if at and moment(each.at) < moment(run.counts[at - 1].at):
            yield unplaced(f"counts[{at}].at", each.at, "is before the count above it", NOT_EDITED)


def _event_problems(run: Run, of: OfRun) -> Iterator[Problem]:
    known = _known(of)
    seen: set[tuple[str, int]] = set()
    for at, each in enumerate(run.events):
        place = f"events[{at}]"
        if known.get((each.key, each.due)) != each.what:
            message = "no released revision of this order has that due at that part count"
            yield unplaced(f"{place}.what", f"{each.what}, {each.due}", message, NOT_EDITED)
        if int(each.at_count) > of.quantity:
            yield unplaced(f"{place}.at_count", each.at_count, f"the order has {of.quantity} parts", "count again")
        if (each.key, each.due) in seen:
            yield unplaced(f"{place}.key", each.what, f"was done twice for part {each.due}", NOT_EDITED)
        seen.add((each.key, each.due))


def _known(of: OfRun) -> dict[tuple[str, int], str]:
    """Return what is due at which count, by any revision: what was done before a revision stays done."""
    once = {(event.key, event.at): event.what for form in of.forms.values() for event in form.events}
    turns = {(rule.key, turn): rule.what for form in of.forms.values() for rule in form.rules for turn in rule.turns}
    return once | turns


def done_late(event: EventDone) -> int:
    """Return by how many parts something was done after its count; negative where it was done before."""
    return int(event.at_count) - event.due


# ---------------------------------------------------------------- what is overdue


@dataclass(frozen=True)
class Overdue:
    """What was due ``at`` a part count of a cell, and by how many parts its last count is past it."""

    what: str
    cell: str
    at: int
    by: int


def overdue_of(run: Run, form: RunForm) -> tuple[Overdue, ...]:
    """Return what is overdue at the last part count of its cell, first due first.

    Of what recurs it is the latest turn alone, as on the page. A cell that has not started has nothing due; where no
    start is noted, nothing says which have.
    """
    started = {start.cell for start in run.starts}
    found = (one for one in _open(run, form) if not started or one.cell in started)
    return tuple(sorted((one for one in found if one.by > 0), key=lambda one: one.at))


def _open(run: Run, form: RunForm) -> Iterator[Overdue]:
    done = {(event.key, event.due) for event in run.events}
    for event in form.events:
        if (event.key, event.at) not in done:
            yield Overdue(event.what, event.cell, event.at, run.last_count(event.cell) - event.at)
    for rule in form.rules:
        count = run.last_count(rule.cell)
        last = max((turn for turn in rule.turns if turn < count), default=0)
        if last and (rule.key, last) not in done:
            yield Overdue(rule.what, rule.cell, last, count - last)
