"""Limits of imperfections: what a quality level allows of one at the thickness and size of a weld."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.model.tables.inspection import Imperfection, ImperfectionLimit, Imperfections, MeasuredBy
from weld_packets.model.trade import QualityLevel
from weld_packets.units import Quantity, exact, in_mm, quantity
from weld_packets.units.digits import in_band

FACE_OF_FLAT_FILLET = 2.0
"""Width of the flat face of an equal-leg fillet over its throat: leg and face each grow by the root of 2."""


@dataclass(frozen=True)
class Measures:
    """What the limits of a weld are shares of; ``throat`` is None for a butt, ``face_width`` where it is not known."""

    thickness: Quantity
    throat: Quantity | None
    face_width: Quantity | None
    passes: int

    def of(self, what: MeasuredBy) -> Quantity | None:
        """Return what a limit is a share of; None where only the finished weld shows it."""
        known: dict[MeasuredBy, Quantity | None] = {
            "thickness": self.thickness,
            "throat": self.throat,
            "weld thickness": self.throat or self.thickness,
            "face width": self.face_width,
            "root width": None,
        }
        return known[what]


@dataclass(frozen=True)
class LevelLimit:
    """What a quality level allows of an imperfection of a weld, and the number by which it was asked for."""

    number: str
    imperfection: Imperfection
    limit: ImperfectionLimit
    measures: Measures

    @property
    def size(self) -> Quantity | None:
        """The largest size that is allowed; None where it is no size, or a share of what is not known yet."""
        return size_allowed(self.limit, self.measures.of(self.imperfection.share_of))

    @property
    def source(self) -> str:
        """Who says so, with number and level, and that it was not read where it was not."""
        return f"{self.imperfection.source}: {self.number}, level {self.limit.level}{doubt_of(self.limit)}"


def level_limit(number: str, table: Imperfections | None, level: QualityLevel, measures: Measures) -> LevelLimit | None:
    """Return what a level allows of the imperfection of an ISO 6520-1 number; None where no source gives it."""
    imperfection = numbered(number, table)
    limit = None if imperfection is None else limit_at(imperfection, level, measures)
    return None if imperfection is None or limit is None else LevelLimit(number, imperfection, limit, measures)


def measures_of_fillet(*, thickness: Quantity, throat: Quantity, passes: int) -> Measures:
    """Return the measures of a fillet, its face taken as flat."""
    return Measures(thickness, throat, quantity(FACE_OF_FLAT_FILLET * in_mm(throat), "mm"), passes)


def measures_of_butt(*, thickness: Quantity, cap_width: Quantity | None, passes: int) -> Measures:
    """Return the measures of a butt with full penetration; its face is known where the order requires a cap."""
    return Measures(thickness, None, cap_width, passes)


def numbered(number: str, table: Imperfections | None) -> Imperfection | None:
    """Return the imperfection of an ISO 6520-1 number; None where the table has none of it, or the plant no table."""
    entries = () if table is None else table.entries
    return next((entry for entry in entries if number in entry.numbers), None)


def limit_at(imperfection: Imperfection, level: QualityLevel, measures: Measures) -> ImperfectionLimit | None:
    """Return the limit that holds for a weld; None where no source gives one for its thickness."""
    at = exact(measures.thickness, "mm")
    passes = "one" if measures.passes == 1 else "several"
    fitting = (
        limit
        for limit in imperfection.limits
        if limit.level == level and in_band(at, limit.over, limit.up_to) and limit.passes in (None, passes)
    )
    return next(fitting, None)


def doubt_of(limit: ImperfectionLimit) -> str:
    """Return what follows the source of a limit that was not read; nothing where it was."""
    return ", from memory" if limit.from_memory else ""


def size_allowed(limit: ImperfectionLimit, measured: Quantity | None) -> Quantity | None:
    """Return the largest size that a limit allows; None where it is no size, or a share of what is not known yet."""
    if limit.plus is None and limit.share is None:
        return None
    if limit.share is not None and measured is None:
        return None
    plus = 0.0 if limit.plus is None else in_mm(limit.plus)
    part = 0.0 if limit.share is None or measured is None else float(limit.share) * in_mm(measured)
    maximum = plus + part
    return quantity(maximum if limit.at_most is None else min(maximum, in_mm(limit.at_most)), "mm")
