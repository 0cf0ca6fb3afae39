"""Units that are read by mistake for another one of the same kind, each with its factor."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from weld_packets.units.digits import plain, printed_unit, trimmed
from weld_packets.units.scales import converted

_MIXED_UP: tuple[tuple[str, ...], ...] = (
    ("A", "kA"),
    ("mm/s", "m/min", "in/min", "cm/min"),
    ("kN", "lbf", "daN", "N"),
    ("ms", "cycles@50Hz", "cycles@60Hz", "s"),
    ("l/min", "ft³/h", "gal/min"),
    ("mm", "in", "cm"),
    ("l", "ft³"),
    ("kg", "lb"),
)
"""Units in which machines and gauges show the same thing; a voltage or an angle is shown in one alone."""


@lru_cache(maxsize=256)
def mixed_up_with(unit: str, beside: str = "") -> tuple[tuple[str, str], ...]:
    """Return, as printed, the units that one printed ``unit`` is mixed up with, each with its factor to it.

    ``beside`` is the other unit printed beside it. Of cycles only those of the mains that one of the two names: at
    another frequency the same number is another time.
    """
    near = {_plural(unit), _plural(beside)}
    for group in _MIXED_UP:
        printed = {printed_unit(each): each for each in group}
        own = printed.pop(_plural(unit), "")
        if own:
            known = {name: each for name, each in printed.items() if not each.startswith("cycles@") or name in near}
            return tuple((name, plain(trimmed(converted(Decimal(1), each, own)))) for name, each in known.items())
    return ()


def _plural(unit: str) -> str:
    """Return a printed unit as it is written after more than one."""
    return unit.replace("cycle at", "cycles at")
