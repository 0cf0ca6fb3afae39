"""From the previous order to this one."""

from __future__ import annotations

from weld_packets.packet.records.plain import Plain
from weld_packets.packet.records.steps import Action


class ChangeLine(Plain):
    """One line of the changeover sheet for a cell: what was, what will be; ``stays`` where they agree."""

    cell: str
    what: str
    before: str
    after: str
    stays: bool
    do: str = ""


class Changeover(Plain):
    """What to change from the previous order, and what stays; ``basis`` is what of that order was compared."""

    previous_order: str
    previous_title: str
    lines: tuple[ChangeLine, ...]
    steps: tuple[Action, ...]
    basis: str = ""
