"""Where the safety messages of a stage stand: before the step that brings the danger."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from generator.packet.records import Action, Callout

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
}
"""What a step is about, with the ISO 7010 signs of the messages that belong before it."""


@dataclass(frozen=True)
class Draft:
    """A step before its messages are placed."""

    do: str
    see: str = ""
    value: str = ""
    hold: bool = False
    topics: tuple[str, ...] = field(default=())


def placed(drafts: Iterable[Draft], callouts: Sequence[Callout]) -> tuple[Action, ...]:
    """Return the steps with each message before the step that is most about it, else before the very first step."""
    drafts = tuple(drafts)
    before: dict[int, list[str]] = {}
    for callout in callouts:
        before.setdefault(_step_for(drafts, callout), []).append(callout.key)
    return tuple(
        Action(do=draft.do, see=draft.see, value=draft.value, hold=draft.hold, callouts=tuple(before.get(index, ())))
        for index, draft in enumerate(drafts)
    )


def _step_for(drafts: Sequence[Draft], callout: Callout) -> int:
    """Return the step that shares most signs with the message, the narrower topic first, the earlier step first."""
    signs = frozenset(callout.signs)
    return max(range(len(drafts)), key=lambda index: (*_nearness(drafts[index].topics, signs), -index))


@lru_cache(maxsize=4096)
def _nearness(topics: tuple[str, ...], signs: frozenset[str]) -> tuple[int, float]:
    shared = ((len(TOPIC_SIGNS[topic] & signs), 1 / len(TOPIC_SIGNS[topic])) for topic in topics)
    return max((found for found in shared if found[0]), default=(0, 0.0))
