"""Two robots on one part: how near they come, who goes first, who waits."""

from __future__ import annotations

from weld_packets.packet.records.plain import Plain
from weld_packets.packet.records.welds import Picture


class InterlockLine(Plain):
    """One signal between two robots: ``first`` releases, ``second`` requests before it goes on.

    ``wait`` is for how long the second one waits in a cycle as planned; empty where it comes later anyway.
    """

    number: int
    first: str
    release_after: str
    second: str
    request_before: str
    proof: str
    wait: str = ""


class PairSheet(Plain):
    """How the two robots of an operation keep out of each other's way; ``pictures`` are for the calculation page.

    Where the tables say too little, only ``distance`` and ``limits`` are there: that it was not checked, and why.
    """

    is_checked: bool
    distance: str
    waits: tuple[str, ...] = ()
    interlocks: tuple[InterlockLine, ...] = ()
    limits: str = ""
    pictures: tuple[Picture, ...] = ()
