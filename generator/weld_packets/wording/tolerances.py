"""Sentences on the sizes of a part and their general tolerances."""

from __future__ import annotations

from weld_packets.calculation.general_tolerances import Tolerance
from weld_packets.model.tolerances import SizeKind

NO_TOLERANCE = "the order names no class for it, or the standard gives no value at this size"


def nominal_words(kind: SizeKind, size: str, angle: str) -> str:
    """Return what the nominal is: a length, a form over its longer side, an angle with its shorter leg."""
    if kind == "linear":
        return size
    if kind == "angle":
        return f"{angle}, shorter leg {size}"
    return f"{kind} over {size}"


def tolerance_words(found: Tolerance, deviation: str) -> str:
    """Return the deviation with its class: plus and minus of a length or an angle, a maximum of a form."""
    return (
        f"at most {deviation} (class {found.letter})" if found.low is None else f"± {deviation} (class {found.letter})"
    )


def tolerance_source(found: Tolerance) -> str:
    """Return standard and editions, and whether the value was not read."""
    memory = "; this value is from memory" if found.memory else ""
    return f"{found.table.standard}:{'/'.join(found.table.editions)}, class {found.letter}{memory}"


def accepted_words(nominal: str, tolerance: str) -> str:
    """Return nominal and tolerance in a line."""
    return f"{nominal}, {tolerance}"
