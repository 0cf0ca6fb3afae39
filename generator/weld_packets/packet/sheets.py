"""Which sheets a weld joins."""

from __future__ import annotations

from weld_packets.model.order import ArcRow, Part, SpotRow


def sheets_of(row: ArcRow | SpotRow, weld: str) -> tuple[Part, ...]:
    """Return the parts that a weld joins, in the order in which the row names them."""
    parts = {part.id: part for part in row.parts}
    return tuple(parts[name] for name in _names(row, weld))


def _names(row: ArcRow | SpotRow, weld: str) -> tuple[str, ...]:
    if isinstance(row, ArcRow):
        return next(seam.parts for seam in row.seams if seam.id == weld)
    stack = next(spot.stack for spot in row.spots if spot.id == weld)
    return next(each.sheets for each in row.stacks if each.id == stack)
