"""Steps of work, and the safety messages that stand before them."""

from __future__ import annotations

from typing import Literal

from weld_packets.units import Plain


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
