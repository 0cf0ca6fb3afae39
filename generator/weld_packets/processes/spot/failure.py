"""How a spot fails when a coupon is peeled or chiselled, and which of it is good.

Symmetric and asymmetric plug, partial plug and interface failure were read in an extract of ISO 10447:2015; the other
types of ISO 14329 are from memory.
"""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.processes.family import FailureType
from weld_packets.units import Quantity, in_mm, magnitude

THICK, STRONG = 1.5, 590.0
"""From memory: above 1.5 mm, or in sheet of 590 N/mm² or more, an interface failure is judged by its fused area."""
_READ = "ISO 10447:2015"
_MEMORY = "ISO 14329 from memory"
_GOOD = (
    FailureType("symmetric plug", accepted=True, source=_READ),
    FailureType("asymmetric plug", accepted=True, source=_READ),
    FailureType("partial plug", accepted=True, source=_READ),
    FailureType("mixed plug and interface", accepted=True, source=_MEMORY),
    FailureType("tear at the edge of the nugget", accepted=True, source=_MEMORY),
)
_INTERFACE = FailureType("interface", accepted=False, source=_READ)
_JUDGED = FailureType("interface, fused area large enough", accepted=True, source=_MEMORY)


def failure_types(thicknesses: Sequence[Quantity], strengths: Sequence[Quantity | None]) -> tuple[FailureType, ...]:
    """Return the types for a stack. An interface failure is good only in sheets where thickness or strength explain it.

    The thinner sheet decides, and the weaker one; a strength that nobody states explains nothing. The size of a plug is
    a result of its own.
    """
    known = [magnitude(strength, "N/mm²") for strength in strengths if strength is not None]
    strong = len(known) == len(strengths) and min(known) >= STRONG
    explained = strong or min(in_mm(thickness) for thickness in thicknesses) > THICK
    return (*_GOOD, _INTERFACE, *((_JUDGED,) if explained else ()))
