"""What one pass melts and deposits."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import share_moved, share_of, share_of_stated
from weld_packets.calculation.trace import Figure
from weld_packets.processes.arc.melting import nominal_area
from weld_packets.units import Quantity


@dataclass(frozen=True)
class Melt:
    """What one pass melts: wire feed as set, section of the wire, share of it that becomes weld metal.

    ``known`` is the share of itself to which the wire feed is set.
    """

    wire_feed: Quantity
    section: Quantity
    efficiency: Quantity
    known: float = 0.0

    @property
    def shares(self) -> dict[str, float]:
        """To which share of themselves wire feed and efficiency are known."""
        return {"wire_feed": self.known, "efficiency": share_of_stated(self.efficiency, "%")}


def nominal_share(melt: Melt, speed: Figure, nominal: Worked) -> float:
    """Return to which share of itself the cross-section is known that one pass deposits at a set travel speed."""
    return share_moved(nominal, {**melt.shares, "travel_speed": share_of(speed)}, "mm²")


def nominal_by(wire_feed: Quantity, melt: Melt, travel_speed: Quantity) -> Worked:
    """Return the cross-section that one pass deposits at a feed and a speed."""
    return nominal_area.work(
        wire_feed=wire_feed, section=melt.section, efficiency=melt.efficiency, travel_speed=travel_speed
    )
