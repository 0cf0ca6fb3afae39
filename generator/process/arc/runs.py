"""How many runs a weld needs and how fast the arm travels, from wire fed and weld metal wanted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from math import sqrt

from generator.errors import OutOfRangeError, refusal
from generator.process.arc.melting import balanced_travel_speed, balanced_wire_feed, laid_area
from generator.process.arc.weld_size import area_per_run, throat_from_area
from generator.process.chart import Place, carries, windowed
from generator.process.dial import Setting, at_step, inside, set_to_step
from generator.process.formula import Worked
from generator.process.measure import as_written, in_mm, lengths, same
from generator.process.readings import value_of
from generator.process.spread import share_moved, share_of, share_of_stated
from generator.process.trace import Figure, Lookup, Name, Remark, Weight, Window
from generator.units import (
    Quantity,
    exact,
    from_decimal,
    kinds,
    last_digit,
    magnitude,
    plain,
    quantity,
    shown,
    step_down,
    step_up,
    told_apart,
    with_unit,
)

SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)
ASKED = "the size of weld asked, all other settings as set"
MOST_RUNS = 12
"""More runs than this belong to plate beyond these charts."""
_SHOWN = Decimal("0.01")
"""Step in mm to which throats that a row can make are rounded, inward, so that each one told can be asked for."""


@dataclass(frozen=True)
class Melt:
    """What one run melts: wire feed as set, section of the wire, share of it that becomes weld metal.

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


@dataclass(frozen=True)
class Runs:
    """The number of runs, and the travel speed of each."""

    count: int
    speed: Figure


def laid_share(melt: Melt, speed: Figure, laid: Worked) -> float:
    """Return to which share of itself the cross-section is known that one run lays at a set travel speed."""
    return share_moved(laid, {**melt.shares, "travel_speed": share_of(speed)}, "mm²")


@dataclass(frozen=True)
class _Chart:
    """What the chart allows: travel speed, the throats of one run where stated, and the arm's steps."""

    speed: Lookup
    speeds: Window
    throats: Window | None
    arm: Setting


@dataclass(frozen=True)
class _Try:
    """One number of runs: the speed it needs, the step below that, and why it does not do."""

    count: int
    area: Worked
    speed: Worked
    text: Decimal
    fault: str


def middle_speed(place: Place, arm: Setting) -> Runs:
    """Return one run at the middle of the chart's travel speeds, for a butt weld of which no cap is asked."""
    lookup, window = windowed(place, "travel_speed")
    return Runs(1, set_to_step(SPEED, lookup.result, window, arm, (lookup,)))


def balanced_runs(
    place: Place, arm: Setting, melt: Melt, area: Worked, reinforcement: Quantity, *, asked: Quantity
) -> Runs:
    """Return the smallest number of equal runs whose travel speed lies in the chart's window.

    The speed is rounded down to the arm's step, so that the weld is never smaller than asked.
    ``asked`` is the size as the order states it. Raises OutOfRangeError with it, the speeds of the numbers of runs
    that come nearest and the throats that the row can make.
    """
    lookup, window = windowed(place, "travel_speed")
    throats = windowed(place, "throat")[1] if carries(place, "throat") else None
    chart = _Chart(lookup, window, throats, arm)
    tries = list(_tries(chart, melt, area, reinforcement))
    best = next((tried for tried in tries if not tried.fault), None)
    if best is None:
        raise _no_fit(chart, melt, tries, area, reinforcement, asked=asked)
    trace = (lookup, area, best.area, best.speed)
    allowed = _not_faster(window, best.speed.result)
    figure = at_step(SPEED, best.speed.result, best.text, allowed, arm, trace)
    words = f"above {shown(best.speed.result, arm.unit)} at {as_written(melt.wire_feed)} the weld is smaller than asked"
    return Runs(best.count, replace(figure, remarks=(Remark(Weight.NOTE, words, balanced_travel_speed.source),)))


def _not_faster(window: Window, balanced: Quantity) -> Window:
    if window.high is not None and magnitude(window.high, "mm/s") <= magnitude(balanced, "mm/s"):
        return window
    return Window(window.low, balanced, f"{window.origin}; upper end: {ASKED}")


def enough_wire(feed: Figure, melt: Melt, runs: Runs, area: Worked) -> Figure:
    """Return the wire feed with a window that ends where, at the set speed, the weld would be smaller than asked."""
    run = area_per_run(weld_area=area.result, runs=quantity(runs.count, "1"))
    speed = value_of(runs.speed)
    least = balanced_wire_feed.work(travel_speed=speed, run_area=run, section=melt.section, efficiency=melt.efficiency)
    words = f"below {shown(least.result, feed.unit)} at {as_written(speed)} the weld is smaller than asked"
    remark = Remark(Weight.NOTE, words, balanced_wire_feed.source)
    return replace(feed, window=_not_less(feed, least.result), remarks=(*feed.remarks, remark))


def _not_less(feed: Figure, least: Quantity) -> Window | None:
    window, step = feed.window, feed.step
    if window is None or step is None or window.low is None:
        return window
    low = step_up(least, step, feed.unit)
    if low <= exact(window.low, feed.unit):
        return window
    return Window(from_decimal(low, feed.unit), window.high, f"{window.origin}; lower end: {ASKED}")


def _tries(chart: _Chart, melt: Melt, area: Worked, reinforcement: Quantity) -> Iterator[_Try]:
    """Yield one run, two runs and so on, up to the first that would have to travel too fast."""
    unit, step = chart.arm.unit, chart.arm.width
    for count in range(1, MOST_RUNS + 1):
        run = area_per_run.work(weld_area=area.result, runs=quantity(count, "1"))
        speed = balanced_travel_speed.work(
            wire_feed=melt.wire_feed, section=melt.section, efficiency=melt.efficiency, run_area=run.result
        )
        text = step_down(speed.result, step, unit)
        throat = throat_from_area(weld_area=run.result, reinforcement=reinforcement)
        yield _Try(count, run, speed, text, _fault(chart, text, unit, throat))
        if not _below(text, unit, chart.speeds.high):
            return


def _below(text: Decimal, unit: str, end: Quantity | None) -> bool:
    return end is None or text < exact(end, unit)


def _fault(chart: _Chart, text: Decimal, unit: str, throat: Quantity) -> str:
    if not inside(text, unit, chart.speeds):
        below = _below(text, unit, chart.speeds.low)
        ends = _ends(chart.speeds)
        limit = told_apart(text, exact(ends[0 if below else -1], unit), last_digit(chart.arm.width))[1]
        side = "below" if below else "above"
        return f"{with_unit(plain(text), unit)} is {side} {with_unit(plain(limit), unit)}"
    if chart.throats is not None and not _makes(chart.throats, throat):
        low, high = _ends(chart.throats)
        end = low if in_mm(throat) < in_mm(low) else high
        made, most = lengths(in_mm(throat), in_mm(end), _SHOWN)
        return f"a run of throat {made.text} is {'below' if end is low else 'above'} {most.text}"
    return ""


def _makes(throats: Window, throat: Quantity) -> bool:
    asked = in_mm(throat)
    low, high = (in_mm(end) if end is not None else asked for end in (throats.low, throats.high))
    return low <= asked <= high or same(low, asked) or same(high, asked)


def _no_fit(
    chart: _Chart, melt: Melt, tries: list[_Try], area: Worked, reinforcement: Quantity, *, asked: Quantity
) -> OutOfRangeError:
    faults = "; ".join(f"{_runs(tried.count)}: {tried.fault}" for tried in _nearest(chart, tries))
    throats = "; ".join(_throats_of(count, chart, melt, reinforcement) for count in (1, 2))
    return refusal(
        f"no number of runs fits the chart at wire feed {as_written(melt.wire_feed)}: {faults}",
        f"change the size (this row makes throats of {throats}; a leg is 1.41 times its throat), "
        f"or {_other_wire(chart, melt, tries, area)}",
        value=as_written(asked),
    )


def _nearest(chart: _Chart, tries: list[_Try]) -> list[_Try]:
    """Return the last number of runs that is too slow for the chart, and the first two that are not."""
    slow = [tried for tried in tries if _below(tried.text, chart.arm.unit, chart.speeds.low)]
    return slow[-1:] + tries[len(slow) : len(slow) + 2]


def _other_wire(chart: _Chart, melt: Melt, tries: list[_Try], area: Worked) -> str:
    """Return which wire feed would make the size, unless even the most runs that are tried are too slow for it."""
    if _below(tries[-1].text, chart.arm.unit, chart.speeds.low):
        return f"choose another schedule: more than {MOST_RUNS} runs are beyond this one"
    feeds = " to ".join(shown(_feed(melt, end, area), "m/min") for end in _ends(chart.speeds))
    return f"use a row or schedule with wire feed {feeds} for one run"


def _runs(count: int) -> str:
    return "1 run" if count == 1 else f"{count} runs"


def _ends(window: Window) -> tuple[Quantity, ...]:
    return tuple(end for end in (window.low, window.high) if end is not None)


def _feed(melt: Melt, speed: Quantity, area: Worked) -> Quantity:
    return balanced_wire_feed(
        travel_speed=speed, run_area=area.result, section=melt.section, efficiency=melt.efficiency
    )


def _throats_of(count: int, chart: _Chart, melt: Melt, reinforcement: Quantity) -> str:
    """Return the throats that ``count`` equal runs make, rounded inward.

    They end where the speed window ends, at a whole step of the arm, and where the chart ends the throat of one run.
    """
    ends = []
    for speed in reversed(_usable_speeds(chart)):
        run = laid_area(wire_feed=melt.wire_feed, section=melt.section, efficiency=melt.efficiency, travel_speed=speed)
        ends.append(in_mm(throat_from_area(weld_area=run, reinforcement=reinforcement)))
    if chart.throats is not None:
        low, high = (in_mm(end) for end in _ends(chart.throats))
        ends = [max(ends[0], low), min(ends[1], high)]
    if ends[0] > ends[1]:
        return f"{_runs(count)} none"
    least, most = (quantity(end * sqrt(count), "mm") for end in ends)
    return f"{_runs(count)} {step_up(least, _SHOWN, 'mm')} to {step_down(most, _SHOWN, 'mm')} mm"


def _usable_speeds(chart: _Chart) -> tuple[Quantity, ...]:
    unit, step = chart.arm.unit, chart.arm.width
    slowest, *fastest = _ends(chart.speeds)
    return from_decimal(step_up(slowest, step, unit), unit), *fastest
