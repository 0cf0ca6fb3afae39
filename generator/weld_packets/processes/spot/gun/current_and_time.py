"""Current and weld time of a spot set together: inside both ranges of the chart, and inside what its I²t bounds leave.

A chart prints a range of current and a range of weld time. Both at their low ends make a cold weld, both at their high
ends cause expulsion. What is allowed together lies between the weakest and the strongest pairing in which only one of
the two is at the end of its range.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from weld_packets.calculation.chart import Place, read_range
from weld_packets.calculation.dial import Setting, closed_ends, set_inside, settable
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import result, value_of
from weld_packets.calculation.results import CurrentAndTime, CurrentsAtTime
from weld_packets.calculation.trace import AllowedRange, Figure, Lookup, Name
from weld_packets.processes.spot.formulas import (
    current_of_joule_integral,
    joule_integral,
    strongest_pairing,
    time_of_joule_integral,
    weakest_pairing,
)
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.units import Quantity, exact, from_decimal, kinds, magnitude, quantity, spelling, to_step

CURRENT = Name("weld_current", "Weld current", "I", kinds.SPOT_CURRENT)
WELD_TIME = Name("weld_time", "Weld time", "t_w", kinds.TIME)
JOULE_INTEGRAL = Name("joule_integral", "Joule integral I²t", "J", kinds.JOULE_INTEGRAL)
BASIS = "the chart's weakest and strongest pairing of current and weld time, only one of them at the end of its range"
STANDING = "own reading of the chart, which prints no weldability lobe"
_ROUNDS = 4
"""Setting one of the two moves the range of the other; after so many turns neither has ever moved again."""


@dataclass(frozen=True)
class Bounds:
    """What a row of a chart allows of current and weld time, and of both together."""

    current: Lookup
    currents: AllowedRange
    time: Lookup
    times: AllowedRange
    pulses: Quantity
    weakest: Worked
    strongest: Worked

    def currents_at(self, time: Quantity) -> AllowedRange:
        """Return the currents that are allowed at a weld time."""
        ends = [
            current_of_joule_integral(joule_integral=bound, pulses=self.pulses, weld_time=time)
            for bound in (self.weakest.result, self.strongest.result)
        ]
        return _narrowed(self.currents, ends[0], ends[1], "at this weld time")

    def times_at(self, current: Quantity) -> AllowedRange:
        """Return the weld times that are allowed at a current."""
        ends = [
            time_of_joule_integral(joule_integral=bound, pulses=self.pulses, weld_current=current)
            for bound in (self.weakest.result, self.strongest.result)
        ]
        return _narrowed(self.times, ends[0], ends[1], "at this current")


@dataclass(frozen=True)
class Together:
    """Current and weld time as set, the Joule integral of a spot, and what else may be set together."""

    current: Figure
    time: Figure
    heat: Figure
    allowed: CurrentAndTime


def bounds_of(place: Place, pulses: int) -> Bounds:
    """Return the bounds of a place in a chart; raise OutOfRangeError where it states no range of current or time."""
    current, currents = read_range(place, "current")
    time, times = read_range(place, "weld_time")
    number = quantity(float(pulses), "1")
    (low, high), (short, long) = closed_ends(currents), closed_ends(times)
    minimum = weakest_pairing.work(
        pulses=number, minimum_current=low, middle_current=current.result, shortest_time=short, middle_time=time.result
    )
    maximum = strongest_pairing.work(
        pulses=number, maximum_current=high, middle_current=current.result, longest_time=long, middle_time=time.result
    )
    return Bounds(current, currents, time, times, number, minimum, maximum)


def set_together(place: Place, pulses: int, tools: Tools) -> Together:
    """Return current and weld time, each inside what the other leaves of its range.

    Raises OutOfRangeError where the gun cannot be set so.
    """
    bounds = bounds_of(place, pulses)
    dial, clock = tools.current(), tools.time()
    time = set_inside(WELD_TIME, bounds.time.result, bounds.times, clock, (bounds.time,))
    current = _current(bounds, time, dial)
    for _ in range(_ROUNDS):
        found = set_inside(WELD_TIME, bounds.time.result, bounds.times_at(value_of(current)), clock, (bounds.time,))
        if found.text == time.text:
            break
        time, current = found, _current(bounds, found, dial)
    at = Decimal(0) if found.text is None else found.text
    return Together(current, found, _heat(bounds, current, found), _allowed(bounds, dial, clock, at))


def _current(bounds: Bounds, time: Figure, dial: Setting) -> Figure:
    return set_inside(CURRENT, bounds.current.result, bounds.currents_at(value_of(time)), dial, (bounds.current,))


def _narrowed(allowed_range: AllowedRange, low: Quantity, high: Quantity, where: str) -> AllowedRange:
    """Return an allowed range cut to what the Joule integral leaves; the origin says which end that cuts, and where."""
    first, last = closed_ends(allowed_range)
    words, unit = [allowed_range.origin], spelling(first)
    if exact(low, unit) > exact(first, unit):
        first = quantity(magnitude(low, unit), unit)
        words.append(f"lower end: I²t {where}")
    if exact(high, unit) < exact(last, unit):
        last = quantity(magnitude(high, unit), unit)
        words.append(f"upper end: I²t {where}")
    return AllowedRange(first, last, "; ".join(words))


def _heat(bounds: Bounds, current: Figure, time: Figure) -> Figure:
    worked = joule_integral.work(pulses=bounds.pulses, weld_current=value_of(current), weld_time=value_of(time))
    allowed_range = AllowedRange(bounds.weakest.result, bounds.strongest.result, f"{BASIS}; {STANDING}")
    return result(JOULE_INTEGRAL, worked, before=(bounds.weakest, bounds.strongest), allowed_range=allowed_range)


def _allowed(bounds: Bounds, dial: Setting, clock: Setting, at: Decimal) -> CurrentAndTime:
    """Return what may be set together: the currents at the shortest weld time, at the one set, and at the longest."""
    times, currents = (
        _steps(allowed_range, setting) for allowed_range, setting in ((bounds.times, clock), (bounds.currents, dial))
    )
    found = (
        CurrentsAtTime(time, *_steps(bounds.currents_at(from_decimal(time, clock.unit)), dial))
        for time in dict.fromkeys((times[0], at, times[1]))
    )
    return CurrentAndTime(
        time_unit=clock.unit,
        current_unit=dial.unit,
        times=times,
        currents=currents,
        minimum=bounds.weakest.result,
        maximum=bounds.strongest.result,
        pulses=int(bounds.pulses.magnitude),
        at=tuple(each for each in found if each.low <= each.high),
        basis=BASIS,
        standing=STANDING,
    )


def _steps(allowed_range: AllowedRange, setting: Setting) -> tuple[Decimal, Decimal]:
    """Return the first and the last step of a machine inside a range that is closed at both ends."""
    low, high = closed_ends(settable(allowed_range, setting))
    return to_step(low, setting.width, setting.unit), to_step(high, setting.width, setting.unit)
