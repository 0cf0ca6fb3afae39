"""Whether the ticks of a set-up and of the changeover before it are of steps that its release has, as they read."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import TypeVar

from weld_packets.errors import Problem, unplaced
from weld_packets.packet.forms import changeover_tasks
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.record import moment_text
from weld_packets.revisions.set_ups.from_cell import CLOCK, CLOCK_MAY_RUN_AHEAD, NOT_EDITED
from weld_packets.revisions.set_ups.record import ChangeoverDone, SetUp, StepDone, moment

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
