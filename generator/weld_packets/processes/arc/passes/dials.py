"""What is dialled for an arc weld, in whole steps, and the cross-sections that both dials have to make."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from weld_packets.calculation.dial import Setting, closed_ends, span_words
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import AllowedRange, Name, Remark, Step
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.processes.arc.melting import balanced_travel_speed
from weld_packets.processes.arc.passes.feed_and_speed import OVER, Region, Slopes, Steps
from weld_packets.processes.arc.size.formulas import throat_from_area
from weld_packets.units import Quantity, as_written, from_decimal, in_mm, is_between, magnitude, step_down, step_up


@dataclass(frozen=True)
class Dial:
    """One thing that is dialled: what a chart gives of it, and what the machine can be set to.

    ``middle`` is where the chart means it to be; ``trace`` says how that came about. ``aims`` is the range in which it
    may be set at first, where that is less than the whole one.
    """

    name: Name
    middle: Quantity
    allowed_range: AllowedRange
    setting: Setting
    trace: tuple[Step, ...]
    remarks: tuple[Remark, ...] = ()
    aims: AllowedRange | None = None

    def quantity(self, steps: int) -> Quantity:
        """Return a number of steps as a quantity."""
        return from_decimal(self.number(steps), self.setting.unit)

    def number(self, steps: int) -> Decimal:
        """Return a number of steps in the unit of the machine."""
        return self.setting.width * steps

    @cached_property
    def steps(self) -> Steps:
        """The steps that both chart and machine allow.

        Raises OutOfRangeError where no step lies inside the chart's range, where the machine does not reach it, and
        where no step is left but the ends.
        """
        found = self._steps_in(self.allowed_range)
        if found.inner().high < found.inner().low:
            raise self._too_fine("no step but the ends", self.allowed_range)
        return found

    @cached_property
    def target_steps(self) -> Steps:
        """The steps at which it may be set at first; raises OutOfRangeError where there are none."""
        whole = self.steps
        return whole if self.aims is None else self._steps_in(self.aims)

    def _steps_in(self, allowed_range: AllowedRange) -> Steps:
        first, last = closed_ends(allowed_range)
        charted = Steps(self._first_from(first), self._last_up_to(last))
        if charted.high < charted.low:
            raise self._too_fine("no step", allowed_range)
        low, high = self.setting.low, self.setting.high
        found = Steps(
            charted.low if low is None else max(charted.low, self._first_from(low.at)),
            charted.high if high is None else min(charted.high, self._last_up_to(high.at)),
        )
        if found.high < found.low:
            words = span_words(allowed_range, self.setting.unit)
            raise refusal(
                f"{self.name.label} {words} ({allowed_range.origin}) is outside what "
                f"{self.setting.machine} can be set to",
                "give the welds to a robot whose equipment reaches it, or use another chart",
                value=words,
            )
        return found

    def _first_from(self, end: Quantity) -> int:
        return int(step_up(end, self.setting.width, self.setting.unit) / self.setting.width)

    def _last_up_to(self, end: Quantity) -> int:
        return int(step_down(end, self.setting.width, self.setting.unit) / self.setting.width)

    def nearest(self) -> Decimal:
        """Return the number nearest to the middle that lies well inside what chart and machine allow."""
        inner, aims = self.steps.inner(), self.target_steps
        inner = Steps(max(inner.low, aims.low), min(inner.high, aims.high))
        if inner.high < inner.low:
            raise self._too_fine("no step but the ends", self.allowed_range)
        middle = magnitude(self.middle, self.setting.unit) / float(self.setting.width)
        return self.number(min(range(inner.low, inner.high + 1), key=lambda step: abs(step - middle)))

    def _too_fine(self, what: str, allowed_range: AllowedRange) -> OutOfRangeError:
        words = span_words(allowed_range, self.setting.unit)
        return refusal(
            f"{self.name.label}: {what} of {as_written(self.setting.step)} of {self.setting.machine} lies inside "
            f"{words} ({allowed_range.origin})",
            "use a machine with finer steps, or a chart with a wider range",
            value=words,
        )


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
class Dials:
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
