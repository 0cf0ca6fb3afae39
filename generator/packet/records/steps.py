"""Steps of work."""

from __future__ import annotations

from typing import Literal

from generator.packet.records.plain import Plain

Section = Literal["", "setup", "prove"]
"""A part of an operation's page."""


class Action(Plain):
    """One step: one action, what to see when it is right, and messages that come before it.

    ``value`` is a setting or fact that the step uses, in large type; ``callouts`` are keys of ``Packet.callouts``.
    ``stage`` is where people stand, and the state of the cell, while the step is done; empty where it does not matter.
    ``row`` and ``section`` are the page, and the place on it, that the step sends its reader to.
    """

    do: str
    see: str = ""
    value: str = ""
    callouts: tuple[str, ...] = ()
    hold: bool = False
    """True where work stops until somebody signs or agrees."""
    stage: str = ""
    row: str = ""
    section: Section = ""


class Procedure(Plain):
    """A list of steps that is called for now and then during a run; ``where`` are the cells or robots, ``when`` why."""

    key: str
    title: str
    where: str
    when: str
    steps: tuple[Action, ...]
