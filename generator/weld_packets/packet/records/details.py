"""What a welder must know of a weld besides its settings."""

from __future__ import annotations

from weld_packets.packet.records.plain import Plain


class WeldDetail(Plain):
    """One line of an operation: what it is about, what holds, on what authority; ``of`` names welds if not all.

    ``stated`` is no where no table and no order says it, so that whoever welds must ask.
    """

    key: str
    label: str
    text: str
    source: str = ""
    stated: bool = True
    of: str = ""
    welds: tuple[str, ...] = ()
