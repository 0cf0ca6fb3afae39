"""What the package `processes` hands on: the settings of welds with equal settings, and of a whole operation."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.trace import Detail, Figure, Verdict
from weld_packets.model.trade import Joint, TravelDirection
from weld_packets.units import Kind, Quantity, magnitude, quantity

_UNSAFE = re.compile(r"[^a-z0-9]+")
SizeWord = Literal["required", "target", "largest"]


@dataclass(frozen=True)
class SizeLine:
    """Wire feeds and travel speeds that make welds of one size: the speed is ``slope`` times the feed.

    ``size`` is the throat of a fillet (``kind`` length) or the cross-section of a butt (``kind`` area).
    """

    word: SizeWord
    size: Quantity
    kind: Kind
    slope: float


@dataclass(frozen=True)
class Coupling:
    """How wire feed and travel speed limit each other, as numbers in the units of both dials.

    ``feeds`` and ``speeds`` are what chart and machines allow. Above ``fastest`` times the feed a travel speed makes
    the weld too small, below ``slowest`` times the feed too large; None where nothing limits it.
    """

    feed_unit: str
    speed_unit: str
    feeds: tuple[Decimal, Decimal]
    speeds: tuple[Decimal, Decimal]
    fastest: float | None = None
    slowest: float | None = None
    lines: tuple[SizeLine, ...] = ()


@dataclass(frozen=True)
class CurrentsAtTime:
    """The weld currents that are allowed at one weld time, as numbers in the units of both dials."""

    time: Decimal
    low: Decimal
    high: Decimal


@dataclass(frozen=True)
class CurrentAndTime:
    """How weld current and weld time of a spot limit each other, as numbers in the units of both dials.

    ``times`` and ``currents`` are what chart and machine allow of each. Together they are allowed where the Joule
    integral of all ``pulses`` lies between ``minimum`` and ``maximum``, which rest on ``basis``; ``standing`` says how
    well that is known. ``at`` are examples: the shortest weld time, the one that is set, the longest.
    """

    time_unit: str
    current_unit: str
    times: tuple[Decimal, Decimal]
    currents: tuple[Decimal, Decimal]
    minimum: Quantity
    maximum: Quantity
    pulses: int
    at: tuple[CurrentsAtTime, ...]
    basis: str
    standing: str


@dataclass(frozen=True)
class PassAim:
    """One pass of several: its number, where it lies, where the wire points, what is cleaned before it.

    ``throat`` is that of all passes so far; None for a weld without one.
    """

    number: int
    place: str
    aim: str
    cleaning: str
    throat: Quantity | None


@dataclass(frozen=True)
class SpotKind:
    """What spots have in common that are set the same: their stack, and the thicknesses of its sheets in order."""

    stack: str
    sheets: tuple[Quantity, ...]

    def __hash__(self) -> int:
        """Leave the quantities to equality: to hash one costs more than to compare it."""
        return hash((self.stack, len(self.sheets)))


@dataclass(frozen=True)
class SeamKind:
    """What seams have in common that are set the same: joint, sizes by letter (a, z, b), position, thicknesses."""

    joint: Joint
    sizes: tuple[tuple[str, Quantity], ...]
    position: str
    sheets: tuple[Quantity, ...]

    def __hash__(self) -> int:
        """Leave the quantities to equality: to hash one costs more than to compare it."""
        return hash((self.joint, self.position, len(self.sheets)))


@dataclass(frozen=True)
class NamedKind:
    """What welds of any other family have in common that are set the same, in its own words; and their thicknesses."""

    words: str
    sheets: tuple[Quantity, ...]

    def __hash__(self) -> int:
        """Leave the quantities to equality: to hash one costs more than to compare it."""
        return hash((self.words, len(self.sheets)))


WeldKind = SpotKind | SeamKind | NamedKind


@dataclass(frozen=True)
class WeldSettings:
    """Welds of one robot that have equal settings: one stack, or seams of one joint, position, size and thickness.

    Attributes:
        key: safe name within the operation, such as ``k1-c2a``.
        kind: what they have in common, from which their title is made.
        robot: the robot that welds them.
        welds: identifiers of the seams or spots, in sequence.
        pass_count: number of passes of each seam; 1 for spots.
        dialled: figures that the setter sets, in the order of setting.
        derived: figures that follow, such as heat input or the minimum weld diameter.
        verdicts: checks of these settings against machine, chart and physics.
        weld_schedule: number under which the robot's welding control keeps them; None where the order gives none.
        details: what a welder must know of them besides, in the order of the work.
        coupling: how wire feed and travel speed limit each other; None for spots.
        passes: the passes of a weld of several, in sequence; empty for one.
        pass_source: on what authority the passes lie so.
        together: how weld current and weld time limit each other; None for seams.
        travel_direction: how the torch leans along the seam; None where no torch travels.

    """

    key: str
    kind: WeldKind
    robot: str
    welds: tuple[str, ...]
    pass_count: int
    dialled: tuple[Figure, ...]
    derived: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    weld_schedule: int | None = None
    details: tuple[Detail, ...] = ()
    coupling: Coupling | None = None
    passes: tuple[PassAim, ...] = ()
    pass_source: str = ""
    together: CurrentAndTime | None = None
    travel_direction: TravelDirection | None = None

    def figures(self) -> Iterator[Figure]:
        """Yield all figures, dialled first."""
        yield from self.dialled
        yield from self.derived

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        found = {figure.key: figure for figure in self.figures()}
        return found[key]


@dataclass(frozen=True)
class OperationResult:
    """An operation computed: its groups of settings and the checks of its pattern.

    ``operation`` is a record of the model; its family knows which.
    """

    operation: Any
    settings: tuple[WeldSettings, ...]
    verdicts: tuple[Verdict, ...]


def of_robot(found: OperationResult, robot: str) -> tuple[WeldSettings, ...]:
    """Return the settings of one robot in an operation."""
    return tuple(settings for settings in found.settings if settings.robot == robot)


def total(settings: tuple[WeldSettings, ...], key: str, unit: str) -> Quantity:
    """Return the sum of a figure over settings, such as the arc time of a robot on one part."""
    return quantity(sum(magnitude(value_of(group.figure(key)), unit) for group in settings), unit)


def safe_name(*names: str) -> str:
    """Return names as one address: small letters, digits and single hyphens. Nothing reads them back out of it."""
    return _UNSAFE.sub("-", "-".join(names).lower()).strip("-")
