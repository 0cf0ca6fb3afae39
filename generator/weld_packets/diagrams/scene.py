"""What a diagram is drawn from: plain lengths in mm in the fixture datum (X right, Y away, Z up), and text as shown."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from weld_packets.geometry.arcs import arc_points
from weld_packets.geometry.vectors import Point

Side = Literal["A", "B"]
JointForm = Literal["T", "lap", "corner", "butt", "flare-bevel"]
_STEP = math.radians(6.0)
"""Largest angle between two points by which a bend is drawn."""


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight piece of a path, to a point."""

    end: Point


@dataclass(frozen=True, slots=True)
class Bend:
    """A circular piece of a path, through ``via`` to ``end``."""

    via: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Trail:
    """A path: where it starts, then its pieces."""

    start: Point
    pieces: tuple[Straight | Bend, ...]

    @property
    def end(self) -> Point:
        """Where it stops."""
        return self.pieces[-1].end

    def points(self) -> list[Point]:
        """Return points along the path, close enough to be joined by straight lines; ends and vias are among them."""
        known = [self.start]
        for piece in self.pieces:
            known += (
                [piece.end] if isinstance(piece, Straight) else arc_points(known[-1], piece.via, piece.end, _STEP)[1:]
            )
        return known


@dataclass(frozen=True, slots=True)
class Outline:
    """The closed outline of a component."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class SpotPoint:
    """One spot weld: its number in its robot's sequence and its mark on the drawing.

    ``stack`` names the sheets that it joins, ``size`` is its nominal diameter as shown; both empty when unknown.
    ``setting`` counts the different settings of the operation, from 0; ``schedule`` is its weld schedule, if numbered.
    """

    sequence: int
    label: str
    side: Side
    at: Point
    stack: str = ""
    size: str = ""
    process: str = ""
    """Its ISO 4063 number."""
    setting: int = 0
    schedule: str = ""


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One arc seam: its number in its robot's sequence, what its symbol and its torch detail say; angles in degrees.

    ``size`` is what is written before the symbol (such as a3 or z4), empty for a butt. ``travel_angle`` is how far the
    torch leans out of square along the seam, positive when the arc points forward (push), negative for drag.
    None angles were not asked for and are not drawn.
    """

    sequence: int
    label: str
    side: Side
    trail: Trail
    joint: JointForm
    size: str
    process: str
    position: str
    work_angle: float | None = None
    travel_angle: float | None = None
    stick_out: str = ""
    """The distance from contact tip to work as shown, empty when unknown."""
    passes: int = 1
    gap: str = ""
    """The gap of a butt as shown, empty when the order has none."""
    overlap: float = 0.0
    """Millimetres by which a closed seam runs on over its start by order or plant, 0 where neither says it."""


@dataclass(frozen=True, slots=True)
class Lengths:
    """How lengths are written: ``text`` takes mm; ``unit_length`` is one unit of the first system in mm."""

    text: Callable[[float], str]
    unit_length: float = 1.0

    @property
    def unit_words(self) -> str:
        """The unit of the first system as a caption names it."""
        return "mm" if self.unit_length == 1 else "inches"


@dataclass(frozen=True, slots=True)
class Scene:
    """What all diagrams of an operation share. ``key`` starts the ids on the page; ``robots`` names A and B.

    ``weld`` is what its family calls a weld, ``undrawn`` names the components for which the order has no outline,
    ``waits`` says who goes first where the robots share a place.
    """

    key: str
    datum: str
    robots: tuple[str, str]
    outlines: tuple[Outline, ...]
    lengths: Lengths
    weld: str
    undrawn: tuple[str, ...] = ()
    waits: tuple[str, ...] = ()
