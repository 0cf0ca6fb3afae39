"""Steps before they are printed: what people do, what they see, and what it does to the cell."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from weld_packets.calculation.results import safe_name
from weld_packets.model.tables.machines import Robot
from weld_packets.processes.cell.state import Act

ROBOT = "the robot"
"""As a list that is read for one of several robots names it."""


BY_COUNT = "When the change and dress schedule says so"
"""When a list of a run is called for, as it begins; the page of the run has the schedule under that name."""

AFTER_STOP = "After an emergency stop or a collision"
"""The list that frees and brings home what was stopped off its path, as others refer to it."""

COUPONS_BEGIN = "Go in alone, key and pendant in hand"
"""How the task begins with which a prove-out comes to its coupons; what is due before the run precedes it."""

LOADED = "Every component on its stops, every clamp closed, hands out."
"""What to see of a fixture that is loaded in the course of a run."""


def listed(words: Iterable[str]) -> str:
    """Return ``a``, ``a and b``, or ``a, b and c``."""
    *most, last = [*words] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def names(robots: Iterable[Robot]) -> str:
    """Return the robots as a step names them, such as ``C1A and C1B``."""
    return listed(robot.id for robot in robots)


class Lead(NamedTuple):
    """Where a step leads: a page of the packet, a place on it, and the words of the link."""

    page: str
    anchor: str
    words: str


Entered = Literal["", "settings", "readings", "coupon", "first-off"]
"""What a person enters elsewhere while a task is done: settings, readings, or the results of a stage."""


class Task(NamedTuple):
    """What some steps in a row are together, in the words of who has done them often; it is ticked once.

    ``see`` is how the cell shows that it is right, ``value`` what is needed of numbers and names while it is done.
    ``notes`` are what the operation's own warnings ask for besides.
    """

    key: str
    do: str
    see: str = ""
    value: str = ""
    enter: Entered = ""
    notes: tuple[str, ...] = ()


class Draft(NamedTuple):
    """A step before its messages are placed; ``acts`` is what it does to the cell, in order.

    ``task`` is what it is done under together with the steps beside it; without one it is a task by itself.
    ``key`` says what it is for, not its place or its wording: by it a step that was done is found again in
    a later revision. It is empty in lists of which nobody keeps what was done.
    """

    do: str
    see: str = ""
    value: str = ""
    hold: bool = False
    topics: tuple[str, ...] = ()
    acts: tuple[Act, ...] = ()
    lead: Lead | None = None
    key: str = ""
    task: Task | None = None


def one_by_one(drafts: Iterable[Draft]) -> Iterator[Draft]:
    """Yield steps for a list in which none is gathered into a task."""
    return (draft._replace(task=None) for draft in drafts)


def step_key(what: str, *of: str) -> str:
    """Return the key of a step: what is done, and to or for what."""
    return "-".join(filter(None, (what, safe_name(*of))))


def under(part: str, drafts: Iterable[Draft]) -> Iterator[Draft]:
    """Yield the steps of one part of a list; other parts may have steps and tasks of the same keys."""
    return (
        draft._replace(
            key=f"{part}/{draft.key}",
            task=None if draft.task is None else draft.task._replace(key=f"{part}/{draft.task.key}"),
        )
        for draft in drafts
    )


def as_task(task: Task, drafts: Iterable[Draft]) -> Iterator[Draft]:
    """Yield steps that are done, and ticked, as one task."""
    return (draft._replace(task=task) for draft in drafts)


def counted_keys(drafts: Iterable[Draft]) -> Iterator[Draft]:
    """Yield steps whose words for what they are for may be equal, a second one of a key with its number."""
    found: dict[str, int] = {}
    for draft in drafts:
        number = found[draft.key] = found.get(draft.key, 0) + 1
        yield draft if number == 1 else draft._replace(key=f"{draft.key}-{number}")


@dataclass(frozen=True)
class Called:
    """A list of steps that a run may call for, before it is printed."""

    key: str
    title: str
    where: str
    when: str
    drafts: tuple[Draft, ...]


@dataclass(frozen=True)
class Scope:
    """What of a set-up is to be done.

    Attributes:
        fixture: whether the fixture is changed.
        new: consumables that are fitted anew, each by its word and the robot or cell at which it is fitted.
        wants: whether a setting of a key is set anew.

    """

    fixture: bool
    new: frozenset[tuple[str, str]]
    wants: Callable[[str], bool]

    @property
    def locked(self) -> bool:
        """Whether anything of it needs the cell locked out."""
        return self.fixture or bool(self.new)

    def places(self, word: str) -> frozenset[str]:
        """Return the robots or the cell at which a consumable is fitted anew."""
        return frozenset(place for of, place in self.new if of == word)


@dataclass(frozen=True)
class Due:
    """What falls due of a consumable before the first part; ``lesser`` where it is only dressed or ground."""

    word: str
    robot: str
    lesser: bool
