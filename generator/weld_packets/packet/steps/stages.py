"""Tasks and stages: what the single steps of a list are to somebody who has done them often.

A stage is where people stand and in which state the cell is. It follows from what the steps do, and not from how they
are worded: the same walk that holds a list to a safe sequence says where one stage ends and the next begins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from weld_packets.packet.records.steps import Action, Callout, Lead, Task, TaskStage
from weld_packets.processes.cell import drafts as cell
from weld_packets.processes.cell.drafts import Draft
from weld_packets.processes.cell.state import AS_FOUND, CellState, walk

HEAD = 2
"""Maximum number of messages in boxes at the head of a stage; more are not read."""


@dataclass(frozen=True)
class _Group:
    """A task with its steps, and the states of the cell from before its first step to after its last."""

    task: Task
    steps: tuple[Action, ...]
    states: tuple[CellState, ...]


def stages(
    name: str,
    drafts: Sequence[Draft],
    steps: Sequence[Action],
    callouts: Iterable[Callout],
    start: CellState | None,
) -> tuple[TaskStage, ...]:
    """Return the stages of a list from the state ``start``; ``steps`` are its drafts as printed, with their messages.

    Without ``start`` the state of the cell does not matter, and they are one stage. ``name`` begins the keys of the
    stages. Each message that some step has is at the head of the stage of that step where it may kill or maim, and
    otherwise with its task; the DANGER is at the head of every stage of its kind.
    """
    known = {each.key: each for each in callouts}
    if start is None:
        tasks = tuple(_with_messages(group, ()) for group in _groups(drafts, steps, AS_FOUND))
        return (TaskStage(key=name, title="", mode="", tasks=tasks, place=steps[0].place),)
    found = [(_done_in(group.states), group) for group in _groups(drafts, steps, start)]
    parts = [list(part) for _, part in groupby(found, key=lambda each: _kind(each[0]))]
    always = _dangers(parts, known)
    return tuple(
        _stage(f"{name}-{number}", part, known, always.get(_kind(part[0][0]), ()))
        for number, part in enumerate(parts, start=1)
    )


def _groups(drafts: Sequence[Draft], steps: Sequence[Action], state: CellState) -> Iterator[_Group]:
    """Yield the tasks in their order: neighbours of one task, and each step without one by itself."""
    numbered = groupby(enumerate(zip(drafts, steps, strict=True)), key=lambda each: each[1][0].task or each[0])
    for _, same in numbered:
        pairs = [pair for _, pair in same]
        states = [state]
        for draft, _ in pairs:
            state = walk(draft.acts, state)
            states.append(state)
        yield _Group(_task([draft for draft, _ in pairs]), tuple(step for _, step in pairs), tuple(states))


def _task(drafts: Sequence[Draft]) -> Task:
    first = drafts[0]
    named = first.task or cell.Task(first.key, first.do, first.see, first.value)
    lead = first.lead if len(drafts) == 1 else None
    return Task(
        key=named.key,
        do=named.do,
        see=named.see,
        value=named.value,
        hold=any(draft.hold for draft in drafts),
        enter=named.enter,
        notes=named.notes,
        lead=None if lead is None else Lead(**lead._asdict()),
    )


_GUARDED: tuple[Callable[[CellState], bool], ...] = (
    lambda state: state.lock == "on",
    lambda state: state.mode == "automatic",
    lambda state: state.gate == "open",
)
"""States that a task belongs to if any of its steps begins or ends in them; the first that fits."""


def _done_in(states: Sequence[CellState]) -> CellState:
    """Return the state that a task is done in: what leads into a guarded state, or out of it, belongs to it."""
    return next((state for guarded in _GUARDED for state in states if guarded(state)), states[0])


def _kind(state: CellState) -> int:
    """Return which of the guarded states it is; behind the last of them, manual with the gate closed."""
    return next((number for number, guarded in enumerate(_GUARDED) if guarded(state)), len(_GUARDED))


_Part = Sequence[tuple[CellState, _Group]]


def _dangers(parts: Iterable[_Part], known: Mapping[str, Callout]) -> dict[int, tuple[str, ...]]:
    """Return the DANGERs by the kind of stage at whose head each of them is, every time."""
    found: dict[int, dict[str, None]] = {}
    for part in parts:
        for key in _messages(part):
            if known[key].at_head and known[key].word == "DANGER":
                found.setdefault(_kind(part[0][0]), {})[key] = None
    return {kind: tuple(keys) for kind, keys in found.items()}


def _messages(part: _Part) -> Iterator[str]:
    return (key for _, group in part for step in group.steps for key in step.callouts)


def _stage(key: str, part: _Part, known: Mapping[str, Callout], always: Sequence[str]) -> TaskStage:
    state = part[0][0]
    heads = dict.fromkeys((*always, *(key for key in _messages(part) if known[key].at_head)))
    head = tuple(heads)[:HEAD]
    return TaskStage(
        key=key,
        title=_title(part),
        mode=state.mode,
        gate=state.gate,
        lock=state.lock,
        has_key=state.key == "with the setter",
        callouts=head,
        tasks=tuple(_with_messages(group, head) for _, group in part),
        place=part[0][1].steps[0].place,
    )


def _with_messages(group: _Group, head: Sequence[str]) -> Task:
    messages = dict.fromkeys(key for step in group.steps for key in step.callouts if key not in head)
    return group.task.model_copy(update={"callouts": tuple(messages)})


def _title(part: _Part) -> str:
    """Return where people are and what the cell does, in a few words; mode, gate, lock and key are said beside it."""
    state = part[0][0]
    if state.lock == "on":
        return "Locked out"
    if state.mode == "automatic":
        return "All out, cell as found" if state.key == "in the switch" else "All counted out"
    if state.gate == "closed":
        return "All out, cell stopped"
    alone = any(each.live == "one" for _, group in part for each in group.states)
    return "One person inside" if alone else "Inside, energy on"
