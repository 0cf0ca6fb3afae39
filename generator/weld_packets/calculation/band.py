"""Bands of a table: each is over one size and up to and including another, so that two that meet share none."""

from __future__ import annotations

from decimal import Decimal

from weld_packets.units import Quantity, exact


def in_band(at: Decimal, over: Quantity | None, up_to: Quantity | None) -> bool:
    """Return whether a length in mm is over one end of a band and up to and including the other; None is open.

    All three are decimals without float noise: 0.007 in comes out beside 0.1778 mm, and is the end of a band there.
    """
    return (over is None or at > exact(over, "mm")) and (up_to is None or at <= exact(up_to, "mm"))
