"""What an operation's card says beside its settings: what is fitted and clamped, what is worn."""

from __future__ import annotations

from weld_packets.packet.records.values import Fact
from weld_packets.units import Plain


class SettersCard(Plain):
    """What a setter looks at before and while the values are set.

    ``clamps`` are in the order in which they close. ``fitted`` names wire and gas, or caps, with what each is; the
    note says at which robot, where the two differ. ``worn`` is what must be worn at the cell, ``shade`` the filter
    shade where an arc burns.
    """

    clamps: tuple[str, ...] = ()
    fitted: tuple[Fact, ...] = ()
    worn: tuple[str, ...] = ()
    shade: str = ""
