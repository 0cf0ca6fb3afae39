"""By how much a size of the part may deviate, by the general tolerances of its classes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal

from weld_packets.model.tolerances import Band, GeneralTolerances, NominalSize, ToleranceClasses
from weld_packets.units import exact
from weld_packets.units.digits import HUNDREDTH, in_band

MINUTES = 60


@dataclass(frozen=True)
class Tolerance:
    """What a size may be, in mm or degrees: ``low`` and ``high`` inclusive; a form has no lower end.

    ``deviation`` is as the standard prints it, in mm, of an angle in minutes. ``memory`` is whether it was not read.
    """

    low: Decimal | None
    high: Decimal
    deviation: Decimal
    letter: str
    memory: bool
    table: GeneralTolerances


def tolerance_of(size: NominalSize, classes: ToleranceClasses, table: GeneralTolerances) -> Tolerance | None:
    """Return the tolerance of a size; None where the drawing names no class for it, or the standard gives none."""
    letter = classes.linear if size.kind in ("linear", "angle") else classes.form
    bands: Sequence[Band] = {"linear": table.linear, "angle": table.angular}.get(size.kind, table.form)
    at = exact(size.size, "mm")
    band = next((band for band in bands if in_band(at, band.over, band.up_to)), None)
    if letter is None or band is None:
        return None
    memory, value = letter in band.memory, getattr(band, letter)
    if size.kind == "angle":
        nominal = Decimal(0) if size.angle is None else exact(size.angle, "°")
        degrees = (value / MINUTES).quantize(HUNDREDTH, ROUND_DOWN)  # rounded into what is allowed
        return Tolerance(nominal - degrees, nominal + degrees, value, letter, memory, table)
    deviation = exact(value, "mm")
    if size.kind != "linear":
        return Tolerance(None, deviation, deviation, letter, memory, table)
    nominal = exact(size.size, "mm")
    return Tolerance(nominal - deviation, nominal + deviation, deviation, letter, memory, table)
