"""Steps of work, and the safety messages before them."""

from __future__ import annotations

from typing import Literal

from weld_packets.units import Plain

Entered = Literal["", "settings", "readings", "coupon", "first-off"]
"""What is entered on another page before a task is done: settings, readings, or the results of a stage."""


class Lead(Plain):
    """Where a step sends its reader: a page of the packet by its key, a place on it, and what it is called."""

    page: str
    anchor: str
    words: str


class Action(Plain):
    """One step: one action, what to see when it is right, and messages that come before it.

    ``value`` is a setting or fact that the step uses, in large type; ``callouts`` are keys of ``Packet.callouts``.
    ``stage`` is where people stand, and the state of the cell, while the step is done; empty where it does not matter.
    """

    do: str
    see: str = ""
    value: str = ""
    callouts: tuple[str, ...] = ()
    hold: bool = False
    """True where work stops until somebody signs or agrees."""
    stage: str = ""
    lead: Lead | None = None
    place: str = ""
    """Where the step is done, as a heading, in a list that goes from cell to cell."""
    key: str = ""
    """What the step is for: unique in a set-up or prove-out, and the same in every revision; empty elsewhere."""
    task: str = ""
    """The key of the task under which it is ticked; empty in lists whose steps are ticked one by one, or not at all."""


class Task(Plain):
    """What some steps in a row are together: one tick, a sentence, what to see when it is right, its large value.

    The steps behind it name it by its key. ``notes`` are what warnings of the operation ask for besides. ``callouts``
    are keys of messages that are given in a sentence here. ``enter`` says what is entered elsewhere before it is done.
    """

    key: str
    do: str
    see: str = ""
    value: str = ""
    hold: bool = False
    enter: Entered = ""
    notes: tuple[str, ...] = ()
    callouts: tuple[str, ...] = ()
    lead: Lead | None = None


class TaskStage(Plain):
    """Tasks that are done in one place and in one state of the cell, which ``title`` and the next four say.

    Where the state of the cell does not matter, title and mode are empty.
    ``callouts`` are keys of the messages at its head: what kills there, at most two. ``place`` is the cell in a list
    that goes from cell to cell.
    """

    key: str
    title: str
    mode: Literal["automatic", "manual", ""]
    gate: Literal["closed", "open"] = "closed"
    lock: Literal["off", "on"] = "off"
    has_key: bool = False
    callouts: tuple[str, ...] = ()
    tasks: tuple[Task, ...]
    place: str = ""


class Procedure(Plain):
    """A list of steps that is called for now and then during a run; ``where`` are the cells or robots, ``when`` why."""

    key: str
    title: str
    where: str
    when: str
    steps: tuple[Action, ...]


class OperationFact(Plain):
    """What a message says of some operations, such as their filter shade: ``operations`` by key, ``who`` in words."""

    operations: tuple[str, ...]
    who: str
    text: str


class Callout(Plain):
    """One safety message. ``signs`` are ISO 7010 codes; ``why`` says what in this order made it appear."""

    key: str
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    signs: tuple[str, ...]
    hazard: str
    consequence: str
    avoid: str
    why: str
    source: str
    stages: tuple[str, ...]
    facts: tuple[OperationFact, ...] = ()
    at_head: bool = False
    """True where it is a box at the head of the stage of work to which it applies, and not a sentence."""
