"""A size of the part with what it may be, as printed."""

from __future__ import annotations

from weld_packets.units import Plain


class SizeLine(Plain):
    """One size that an operation leaves: its nominal, the deviation of its class, and what it may measure.

    ``minimum`` is empty for a form; both are in ``unit`` as decimal text. ``tolerance`` is empty, and ``source`` says
    why, where no class is named or the standard gives none.
    """

    key: str
    name: str
    nominal: str
    tolerance: str
    minimum: str = ""
    maximum: str = ""
    unit: str = ""
    source: str = ""
