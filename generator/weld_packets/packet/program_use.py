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
        revision: the released revision that uses it so; empty for an order's files.
        days: first and last day on which that revision is in force, year-month-day; empty: open.

    """

    robot: str
    program: str
    place: str
    coupon: bool = False
    weld_schedule: str = ""
    settings: Mapping[str, str] = field(default_factory=dict)
    welds: int = 0
    places: str = ""
    revision: str = ""
    days: tuple[str, str] = ("", "")

    def meets(self, other: ProgramUse) -> bool:
        """Return whether both are in use on some day."""
        (first, last), (other_first, other_last) = self.days, other.days
        return (not last or other_first <= last) and (not other_last or first <= other_last)


@dataclass(frozen=True)
class ProgramClash:
    """A program of a robot that two orders use otherwise.

    Attributes:
        order: folder of the order at which it is reported.
        other: folder of the order that came before it.
        problem: what is wrong; its file and line are filled in where they are known.
        here: what the order uses the program for.
        there: what the other one uses it for.

    """

    order: str
    other: str
    problem: Problem
    here: ProgramUse
    there: ProgramUse

    @property
    def hinders(self) -> bool:
        """Return whether it must be resolved; two drafts, or a draft and a revision that ends, may be released apart.

        A draft has no day yet on which it takes effect.
        """
        released = [use for use in (self.here, self.there) if use.revision]
        return len(released) > 1 or any(not use.days[1] for use in released)
