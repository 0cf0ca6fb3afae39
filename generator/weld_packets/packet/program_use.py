"""What orders use the programs of robots for; light to import, for builds in which nothing changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from weld_packets.errors import Problem


@dataclass(frozen=True)
class ProgramUse:
    """What an order uses a robot's program for.

    Attributes:
        robot: the robot; each robot's controller has program numbers of its own.
        program: the program's number.
        place: key path in the order.
        coupon: whether it welds coupons; else it welds the part.
        weld_schedule: number of the weld schedule that a coupon program calls; empty where it has none.
        settings: what is set under that, by key of the setting, in words that do not depend on which system of units
            comes first.
        welds: number of welds of the part that the program makes.
        places: digest of their places, in the order of welding.

    """

    robot: str
    program: str
    place: str
    coupon: bool = False
    weld_schedule: str = ""
    settings: Mapping[str, str] = field(default_factory=dict)
    welds: int = 0
    places: str = ""


@dataclass(frozen=True)
class ProgramClash:
    """A program of a robot that two orders use otherwise.

    Attributes:
        order: folder of the order at which it is reported.
        other: folder of the order that came before it.
        problem: what is wrong; its file and line are filled in where they are known.

    """

    order: str
    other: str
    problem: Problem
