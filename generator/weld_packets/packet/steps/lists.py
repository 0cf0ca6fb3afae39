"""Lists of steps as printed: each step with its messages and its state of the cell; and what warnings ask for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from weld_packets.grouping import grouped
from weld_packets.model.trade import WarningStage
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.records.steps import Action, Callout, Lead
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, counted_keys, step_key
from weld_packets.processes.cell.state import Act, CellState, stage_words, walk
from weld_packets.wording.english import joined

TOPIC_SIGNS: dict[str, frozenset[str]] = {
    "enter": frozenset({"M021", "P031", "W012"}),
    "caps": frozenset({"W019", "W024", "P010", "P015"}),
    "clamps": frozenset({"W024"}),
    "wire": frozenset({"W022", "W025"}),
    "gas": frozenset({"W029", "W041", "M046"}),
    "parts": frozenset({"W022", "M009"}),
    "move": frozenset({"W018", "W019", "W024"}),
    "start": frozenset({"W018", "P004"}),
    "weld": frozenset({"W027", "M019", "M017", "W071", "M003", "W087", "W006", "P007", "P014", "M004", "M013"}),
    "hot": frozenset({"W017"}),
    "fire": frozenset({"P003"}),
}
"""What a step is about, with the ISO 7010 signs of the messages that belong before it."""


def printed_steps(
    drafts: Iterable[Draft], callouts: Sequence[Callout], start: CellState | None = None, place: str = ""
) -> tuple[Action, ...]:
    """Return the steps with each message before the step that is most about it, else before the very first step.

    From the state ``start`` the steps are walked through what they do to the cell, and each says in which state of the
    cell it is done. ``place`` heads steps at several cells. Raises UnsafeSequenceError where a step asks for a state
    that the ones before it have not made.
    """
    drafts = tuple(drafts)
    before = grouped((_step_for(drafts, callout), callout.key) for callout in callouts)
    stages = [""] * len(drafts) if start is None else _stages(drafts, start)
    return tuple(
        Action(
            do=draft.do,
            see=draft.see,
            value=draft.value,
            hold=draft.hold,
            callouts=tuple(before.get(index, ())),
            stage=stages[index],
            lead=None if draft.lead is None else Lead(**draft.lead._asdict()),
            place=place,
            key=draft.key,
            task="" if draft.task is None else draft.task.key,
        )
        for index, draft in enumerate(drafts)
    )


def _stages(drafts: Sequence[Draft], state: CellState) -> list[str]:
    stages = []
    for draft in drafts:
        stages.append(stage_words(state))
        state = walk(draft.acts, state)
    return stages


def near(drafts: Sequence[Draft], callouts: Iterable[Callout]) -> list[Callout]:
    """Return the messages that some step of a list is about."""
    return [callout for callout in callouts if _best(drafts, callout)[0]]


def shared_out(lists: Mapping[str, Sequence[Draft]], callouts: Iterable[Callout]) -> dict[str, list[Callout]]:
    """Return the messages by the key of the list that holds the step which is most about each.

    Lists of the same kind have equal steps, and each of them gets the message; without any such step the first does.
    """
    found: dict[str, list[Callout]] = {key: [] for key in lists}
    first = next(iter(lists))
    for callout in callouts:
        near = {key: _best(drafts, callout) for key, drafts in lists.items()}
        best = max(near.values())
        keys = [key for key, nearness in near.items() if nearness == best]
        for key in [first] if near[first] == best else keys:
            found[key].append(callout)
    return found


def _best(drafts: Sequence[Draft], callout: Callout) -> tuple[int, float]:
    signs = frozenset(callout.signs)
    return max(_nearness(draft.topics, signs) for draft in drafts)


def _step_for(drafts: Sequence[Draft], callout: Callout) -> int:
    """Return the step that shares most signs with the message, the narrower topic first, the earlier step first."""
    signs = frozenset(callout.signs)
    return max(range(len(drafts)), key=lambda index: (*_nearness(drafts[index].topics, signs), -index))


@lru_cache(maxsize=4096)
def _nearness(topics: tuple[str, ...], signs: frozenset[str]) -> tuple[int, float]:
    shared = ((len(TOPIC_SIGNS[topic] & signs), 1 / len(TOPIC_SIGNS[topic])) for topic in topics)
    return max((found for found in shared if found[0]), default=(0, 0.0))


_HANDS_IN: Mapping[str, tuple[Act, ...]] = {"loading": (acts.MEASURE_LOADED,)}
"""What is done to the cell for the warnings of a stage at which hands go into the joint."""


def steps_of_warnings(warnings: Iterable[OperationWarning], stage: WarningStage) -> Iterator[Draft]:
    """Yield what some warnings ask for at a stage, with what each is about."""
    to_do = (warning for warning in warnings if warning.do and warning.stage == stage)
    return counted_keys(_step_of(warning) for warning in to_do)


def _step_of(warning: OperationWarning) -> Draft:
    return Draft(
        warning.do,
        see=joined((warning.sentence, warning.place), " "),
        acts=_HANDS_IN.get(warning.stage, ()),
        key=step_key("warning", *warning.about, *warning.groups),
    )
