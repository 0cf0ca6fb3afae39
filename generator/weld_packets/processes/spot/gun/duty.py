"""How often and how hard a gun works: time under force, spots a minute, duty, equivalent continuous current."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import Shown, rounded_result
from weld_packets.calculation.results import CurrentAndTime
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Name
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.processes.spot.formulas import (
    current_on_time,
    duty_cycle,
    equivalent_permanent_current,
    fastest_spot_rate,
    maximum_spot_rate,
    time_of_joule_integral,
    time_under_force,
)
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.units import Quantity, as_written, exact, from_decimal, kinds, plain, quantity, with_unit
from weld_packets.units.digits import HUNDREDTH, TENTH, WHOLE
from weld_packets.units.scales import quantum_of

TIME_UNDER_FORCE = Name("time_under_force", "Time under force", "t_F", kinds.TIME)
SPOT_RATE = Name("fastest_spot_rate", "Fastest spot rate", "r", kinds.RATE)
DUTY = Name("duty_cycle", "Duty cycle of the gun", "X", kinds.SHARE)
PERMANENT = Name("equivalent_permanent_current", "Equivalent continuous current (thermal)", "I_p", kinds.SPOT_CURRENT)
MAXIMUM_RATE = Name("maximum_spot_rate", "Maximum spot rate of the gun", "r_max", kinds.RATE)
_UP = "rounded up, to the safe side"
_MILLISECOND = Shown("ms", WHOLE, ROUND_HALF_EVEN, "shown to 1 ms")
_RATE_UP = Shown("1/min", WHOLE, ROUND_CEILING, _UP)
_RATE_DOWN = Shown("1/min", WHOLE, ROUND_FLOOR, "rounded down, to the safe side")
_SHARE_UP = Shown("%", TENTH, ROUND_CEILING, _UP)
_CURRENT_UP = Shown("kA", HUNDREDTH, ROUND_CEILING, _UP)


@dataclass(frozen=True)
class Sequence:
    """One spot as it is set: times, pulses and current."""

    squeeze: Quantity
    upslope: Quantity
    weld: Quantity
    pulses: int
    cool: Quantity
    hold: Quantity
    current: Quantity


def duty_figures(spot: Sequence, tools: Tools) -> tuple[Figure, ...]:
    """Return time under force, spot rate, duty, equivalent permanent current and maximum spot rate of a gun.

    The spot rate leaves out the travel between spots, so that duty and heating are never found too low.
    Raises OutOfRangeError where the gun's maximum duty or its permanent current is passed.
    """
    on_time, force, rate, duty, heat = _works(spot, tools)
    maximum = maximum_spot_rate.work(
        permanent_current=tools.gun.permanent_current, weld_current=spot.current, current_on_time=on_time.result
    )
    most, continuous = tools.gun.maximum_duty, tools.gun.permanent_current
    figures = (
        rounded_result(TIME_UNDER_FORCE, force.result, _MILLISECOND, (force,)),
        rounded_result(SPOT_RATE, rate.result, _RATE_UP, (_times(tools), rate)),
        rounded_result(
            DUTY, duty.result, _as_fine(_SHARE_UP, most), (on_time, duty), allowed_range=_maximum(most, tools)
        ),
        rounded_result(
            PERMANENT,
            heat.result,
            _as_fine(_CURRENT_UP, continuous),
            (heat,),
            allowed_range=_maximum(continuous, tools),
        ),
        rounded_result(MAXIMUM_RATE, maximum.result, _RATE_DOWN, (maximum,)),
    )
    _refuse_above_ranges(figures, tools)
    return figures


def _works(spot: Sequence, tools: Tools) -> tuple[Worked, Worked, Worked, Worked, Worked]:
    """Return the current-on time of a spot, its time under force, spot rate, duty and equivalent permanent current."""
    pulses = quantity(float(spot.pulses), "1")
    on_time = current_on_time.work(upslope_time=spot.upslope, pulses=pulses, weld_time=spot.weld)
    force = time_under_force.work(
        squeeze_time=spot.squeeze,
        upslope_time=spot.upslope,
        pulses=pulses,
        weld_time=spot.weld,
        cool_time=spot.cool,
        hold_time=spot.hold,
    )
    rate = fastest_spot_rate.work(
        time_under_force=force.result, gun_time=tools.robot.weld_overhead, move_time=tools.robot.approach
    )
    duty = duty_cycle.work(current_on_time=on_time.result, spot_rate=rate.result)
    heat = equivalent_permanent_current.work(weld_current=spot.current, duty_cycle=duty.result)
    return on_time, force, rate, duty, heat


@dataclass(frozen=True)
class Load:
    """How hard a gun works with one pair of current and weld time; named as the figures are."""

    duty_cycle: Quantity
    equivalent_permanent_current: Quantity


def worked_hardest(spot: Sequence, allowed: CurrentAndTime, tools: Tools) -> Iterator[Load]:
    """Yield how hard a gun works at the pairs of current and weld time among which its hardest is.

    Duty grows with the weld time. Heating grows with it too while the largest current may be set, and falls where the
    Joule integral lets only less be set: the longest time at the largest current is the hardest of all.
    """
    highest = from_decimal(allowed.currents[1], allowed.current_unit)
    limit = time_of_joule_integral(
        joule_integral=allowed.maximum, pulses=quantity(float(allowed.pulses), "1"), weld_current=highest
    )
    pairs = [
        (from_decimal(each.time, allowed.time_unit), from_decimal(each.high, allowed.current_unit))
        for each in allowed.at
    ]
    first, last = (from_decimal(end, allowed.time_unit) for end in allowed.times)
    if first <= limit <= last:
        pairs.append((limit, highest))
    for time, current in pairs:
        *_, duty, heat = _works(replace(spot, weld=time, current=current), tools)
        yield Load(duty.result, heat.result)


def _times(tools: Tools) -> Given:
    both = tools.robot.weld_overhead + tools.robot.approach
    return Given("gun and move time", both, "s", f"robot {tools.robot.id}: {tools.robot.times_source}")


def _maximum(limit: Quantity, tools: Tools) -> AllowedRange:
    return AllowedRange(None, limit, f"rating of gun {tools.gun.id}")


def _as_fine(shown: Shown, limit: Quantity) -> Shown:
    """Return how a result is shown that is rounded up beside a limit: so fine that rounding alone never passes it."""
    return replace(shown, to=min(shown.to, quantum_of(exact(limit, shown.unit))))


def _refuse_above_ranges(figures: tuple[Figure, ...], tools: Tools) -> None:
    gathering = Gathering()
    for figure in figures:
        if figure.allowed_range is None or figure.text is None or figure.allowed_range.high is None:
            continue
        with gathering.step():
            _refuse_above(figure, figure.text, figure.allowed_range.high, tools)
    gathering.finish(OutOfRangeError)


def _refuse_above(figure: Figure, text: Decimal, maximum: Quantity, tools: Tools) -> None:
    if text > exact(maximum, figure.unit):
        found = with_unit(plain(text), figure.unit)
        raise refusal(
            f"{figure.label} {found} is above the rating of gun {tools.gun.id}, {as_written(maximum)}",
            "share the spots with the other robot, slow the robot down in the table of machines, or use a stronger gun",
            value=found,
        )
