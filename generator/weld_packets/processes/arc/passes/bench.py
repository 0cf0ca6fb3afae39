"""What a weld is made with, and the cross-sections that it must have: slopes and regions of feed and speed."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import AllowedRange
from weld_packets.processes.arc.melting import balanced_travel_speed
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.passes.feed_and_speed import OVER, Region, Slopes
from weld_packets.processes.arc.size.weld_size import throat_from_area
from weld_packets.units import Quantity, in_mm, is_between, magnitude


@dataclass(frozen=True)
class Sections:
    """Cross-sections of a weld: required, target, and the largest that is allowed with what says so.

    ``over`` is the share of the target by which the weld may be larger.
    """

    required: Worked
    target: Worked
    largest: Quantity | None = None
    largest_origin: str = ""
    over: float = OVER


@dataclass(frozen=True)
class Bench:
    """What a weld is made with: the dials of wire feed and travel speed, the wire, and the chart's throats of a pass.

    ``counts`` are the numbers of passes that the chart is for, one among them.
    """

    feed: Dial
    speed: Dial
    section: Quantity
    efficiency: Quantity
    throats: AllowedRange | None = None
    counts: tuple[int, ...] = (1,)

    def slope(self, area: Quantity) -> float:
        """Return the steps of travel speed for a step of wire feed that deposit a cross-section in one pass."""
        speed = balanced_travel_speed(
            wire_feed=self.feed.quantity(1), section=self.section, efficiency=self.efficiency, pass_area=area
        )
        return magnitude(speed, self.speed.setting.unit) / float(self.speed.setting.width)

    def region(self, sections: Sections, count: int) -> Region:
        """Return what chart, machines and size allow of each of ``count`` equal passes."""
        largest = None if sections.largest is None else self.slope(sections.largest / float(count))
        slopes = Slopes(
            self.slope(sections.required.result / float(count)),
            self.slope(sections.target.result / float(count)),
            largest,
        )
        return Region(self.feed.steps, self.speed.steps, slopes, self.feed.target_steps, sections.over)

    def per_unit(self, slope: float) -> float:
        """Return a slope in units of travel speed for a unit of wire feed, as both machines are set."""
        return slope * float(self.speed.setting.width) / float(self.feed.setting.width)

    def carries(self, sections: Sections, count: int) -> bool:
        """Return whether the chart makes a pass as large as each of ``count`` equal ones."""
        if self.throats is None:
            return True
        wanted = in_mm(throat_of_pass(sections.required, count))
        low, high = (in_mm(end) for end in (self.throats.low, self.throats.high) if end is not None)
        return is_between(low, wanted, high)


def throat_of_pass(required: Worked, count: int) -> Quantity:
    """Return the throat of one of equal passes of a fillet, by the factor of reinforcement of the whole."""
    reinforcement = required.given["reinforcement"]
    return throat_from_area(weld_area=required.result / float(count), reinforcement=reinforcement)
