"""The plan of a pair: who waits where for whom, how near the tools come, and what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from weld_packets.planning.pair.approach import Nearest
from weld_packets.planning.pair.blocks import Place, Started, Timed, ends_of
from weld_packets.planning.pair.interlocks import Interlock


@dataclass(frozen=True)
class Clearance:
    """How near two tool centre points may come, in µm: both keep-out radii and the margin of the cell.

    ``slack`` is added to it for what chords of circles and whole micrometres leave out. ``sources`` are where radii,
    margin and waiting places are from, each once.
    """

    radii: tuple[int, int]
    margin: int
    slack: int = 0
    sources: tuple[str, ...] = ()

    @property
    def required(self) -> int:
        """What the tables require."""
        return sum(self.radii) + self.margin

    @property
    def kept(self) -> int:
        """What the plan keeps."""
        return self.required + self.slack


@dataclass(frozen=True)
class Wait:
    """A wait of a robot in ms, before its block ``before``; at its waiting place or at the weld made last."""

    robot: int
    before: int
    start: int
    lasts: int
    place: Literal["weld", "waiting place"]


@dataclass(frozen=True)
class PairPlan:
    """Two robots in one cell under interlocks; robots are 0 and 1 in the order of ``names``.

    Attributes:
        names: both robots.
        clearance: the minimum distance that is kept.
        waiting: both waiting places.
        timed: the blocks of each robot and their starts, as they run under the interlocks.
        interlocks: by number, from 1 in this order.
        waits: in the order of their starts.
        nearest: the closest approach over the cycle.
        is_best: whether no timing of this sequence is sooner; else the search gave up with retreats.

    """

    names: tuple[str, str]
    clearance: Clearance
    waiting: tuple[Place, Place]
    timed: Timed
    interlocks: tuple[Interlock, ...]
    waits: tuple[Wait, ...]
    nearest: Nearest
    is_best: bool = True

    @property
    def ends(self) -> int:
        """When both robots are back at their waiting places, in ms."""
        return ends_of(self.timed)

    def busy(self, robot: int) -> int:
        """Return the ms in which a robot moves and welds."""
        return sum(block.block.lasts for block in self.timed[robot])

    def waited(self, robot: int) -> int:
        """Return the ms that a robot waits before it is back at its waiting place."""
        return sum(wait.lasts for wait in self.waits if wait.robot == robot)

    def started(self, robot: int, place: int) -> Started:
        """Return a block of a robot."""
        return self.timed[robot][place]


@dataclass(frozen=True)
class NotChecked:
    """Why the distance of two robots was not looked at."""

    missing: tuple[str, ...]
