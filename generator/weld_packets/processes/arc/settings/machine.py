"""Ratings of the power source, the wire and the torch: duty, current of the wire, load voltage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import ROUND_FLOOR
from math import floor
from typing import TypeVar

from weld_packets.calculation.countermeasures import KEEP_CURRENT, POLARITY, SECTION, TORCH_DUTY
from weld_packets.calculation.formula import Current, Formula, Share, Source, Standing, Worked, formula
from weld_packets.calculation.readings import beside, result
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Verdict, Weight, warned
from weld_packets.errors import refusal
from weld_packets.model.processes import arc_process
from weld_packets.model.tables.machines import ArcSource, DutyPoint, Torch, TorchRating
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import (
    Quantity,
    as_written,
    exact,
    exceeds,
    is_between,
    kinds,
    magnitude,
    plain,
    quantity,
    rounded,
    shown,
    with_unit,
)
from weld_packets.units.digits import WHOLE

DUTY = Name("allowed_duty", "Permissible duty cycle of the power source", "X", kinds.SHARE)
LOAD_VOLTAGE = Name("load_voltage", "Conventional load voltage", "U_2", kinds.VOLTAGE)
_DUTY = Source("IEC 60974-1", "duty cycle over 10 min at 40 °C; heating with the square of the current")
SPREAD = Source("spread of published charts about 14 V + 0.05 I", "5 V", Standing.COMMON_PRACTICE)
VOLTAGE_SPREAD = 5.0
_POLARITY = Source("published guides on polarity, read: solid wire in shielding gas on the positive pole alone")
_UPPER_END = ", the upper end of its allowed range,"
_Rating = TypeVar("_Rating", DutyPoint, TorchRating)
HEATING = Source("IEC 60974-7", "heating of a torch with the square of the current", Standing.FROM_MEMORY)


@formula(
    "min(100, X_1 * (I_1 / I)**2)",
    symbol="X",
    source=_DUTY,
    validity="from the rating point whose current is next above",
    X_1="rated_share",
    I_1="rated_current",
    I="welding_current",
)
def allowed_duty(*, rated_share: Share, rated_current: Current, welding_current: Current) -> Share:
    """Return the share of ten minutes for which a power source may give a current; at most all of it."""


def duty(
    machine: ArcSource, current: Quantity, plant: Plant, highest: Quantity | None = None
) -> tuple[Figure, Verdict]:
    """Return the share of ten minutes that the source may give a current, and its check against the planned share.

    ``highest`` is the upper end of the allowed range of the current. The share is that of this end where the source is
    rated for it: a setter may go there. Where that is less than planned, it warns up to which current it is enough.
    The rating plate's point next above a current decides. Raises OutOfRangeError for a set current outside the
    source's range, above the highest rated current, and where the source is rated for a smaller share than planned.
    """
    _check_current(machine, current)
    point = _point_above(machine, current)
    planned = plant.duty_planning_share
    share = _allowed(point, current).result
    if exceeds(magnitude(planned, "%"), magnitude(share, "%")):
        raise refusal(
            f"{machine.name} is rated at {shown(current, 'A')} for {_beside(share, planned)} of ten minutes, "
            f"{as_written(planned)} is planned",
            "use a power source with a higher rating or a thinner weld, or plan a smaller share in the table of plant",
            value=shown(current, "A"),
        )
    top = highest if highest is not None and exceeds(_amperes(highest), _amperes(current)) else current
    above = rating_above(machine.duty, top)
    at, rated = (current, point) if above is None else (top, above)
    worked = _allowed(rated, at)
    plate = f"rating plate of {machine.name}"
    before = (Given("rated share", rated.share, "%", plate), Given("rated current", rated.current, "A", plate))
    text = rounded(exact(worked.result, "%"), WHOLE, ROUND_FLOOR)  # a maximum
    figure = replace(result(DUTY, worked, before=before), text=text)
    verdict = Verdict("duty", machine.name, "", passed=True, source=str(allowed_duty.source))
    end = "," if top is current else _UPPER_END
    if above is not None and not exceeds(magnitude(planned, "%"), magnitude(worked.result, "%")):
        words = f"{with_unit(plain(text), '%')} allowed at {shown(top, 'A')}{end} {as_written(planned)} planned"
        return figure, replace(verdict, said=words)
    found = "not at all" if above is None else f"for {_beside(worked.result, planned)} of ten minutes"
    words = f"rated {found} at {shown(top, 'A')}{end} {as_written(planned)} planned"
    words = f"{words}; {_enough(machine.duty, planned, current)}"
    return figure, replace(verdict, said=words, passed=None, warns=True, countermeasure=KEEP_CURRENT)


def _allowed(rating: DutyPoint | TorchRating, current: Quantity) -> Worked:
    return allowed_duty.work(rated_share=rating.share, rated_current=rating.current, welding_current=current)


def _beside(share: Quantity, planned: Quantity) -> str:
    return with_unit(plain(beside(share, planned, "%", WHOLE)[0]), "%")


def _enough(ratings: Sequence[_Rating], planned: Quantity, current: Quantity) -> str:
    """Return up to which whole current, from one that is enough on, ratings allow the planned share."""
    amperes, whole = _amperes(current), floor(_amperes(current))
    while (above := rating_above(ratings, quantity(whole + 1.0, "A"))) is not None:
        share = _allowed(above, quantity(whole + 1.0, "A")).result
        if exceeds(magnitude(planned, "%"), magnitude(share, "%")):
            break
        whole += 1
    return f"enough up to {shown(quantity(max(amperes, float(whole)), 'A'), 'A')}"


def _check_current(machine: ArcSource, current: Quantity) -> None:
    if not is_between(_amperes(machine.current_from), _amperes(current), _amperes(machine.current_to)):
        raise refusal(
            f"{machine.name} gives {as_written(machine.current_from)} to {as_written(machine.current_to)}, "
            f"the chart needs {shown(current, 'A')}",
            "use a robot with a power source that gives it, or another chart",
            value=shown(current, "A"),
        )


def _point_above(machine: ArcSource, current: Quantity) -> DutyPoint:
    point = rating_above(machine.duty, current)
    if point is None:
        rated = as_written(maximum(machine.duty))
        raise refusal(
            f"{machine.name} is rated to {rated}, the chart needs {shown(current, 'A')}",
            "use a power source with a higher rating",
            value=shown(current, "A"),
        )
    return point


def rating_above(ratings: Sequence[_Rating], current: Quantity) -> _Rating | None:
    """Return the rating whose current is next above one, of equal currents the largest share; None above all."""
    above = [rating for rating in ratings if not exceeds(_amperes(current), _amperes(rating.current))]
    return min(above, key=lambda rating: (_amperes(rating.current), -magnitude(rating.share, "%")), default=None)


def maximum(ratings: Sequence[DutyPoint] | Sequence[TorchRating]) -> Quantity:
    """Return the highest current of some ratings."""
    return max((rating.current for rating in ratings), key=_amperes)


def wire_current(group: SeamGroup, current: Quantity) -> Verdict:
    """Return whether the current lies in the range of the wire; outside it warns, since such ranges vary by maker."""
    wire = group.wire
    passed = is_between(_amperes(wire.current_from), _amperes(current), _amperes(wire.current_to))
    takes = f"{as_written(wire.current_from)} to {as_written(wire.current_to)}"
    text = f"{shown(current, 'A')} is {'within' if passed else 'outside'} the {takes} of this wire"
    if passed:
        return Verdict("wire_current", wire.designation, text, passed, wire.current_source)
    return warned("wire_current", wire.designation, text, wire.current_source, SECTION)


def polarity(group: SeamGroup) -> Iterator[Verdict]:
    """Yield a warning for a wire whose stated polarity is not the one at which its kind is welded."""
    usual, stated = arc_process(group.process).usual_polarity, group.wire.polarity
    if usual is not None and stated not in (usual, None):
        text = f"{stated}, and gas-shielded solid wire is welded {usual}: the arc is unstable, the fusion poor"
        yield warned("polarity", group.wire.designation, text, str(_POLARITY), POLARITY)


def load_voltage(formula: Formula, current: Quantity, voltage: Quantity, known: float = 0.0) -> Figure:
    """Return the test voltage of a power source at the current, with a warning where the setting is far off.

    ``formula`` is that of the kind of power source; ``known`` is the share of itself to which the current is known.
    """
    worked = formula.work(welding_current=current)
    apart = magnitude(voltage, "V") - magnitude(worked.result, "V")
    remarks = [Remark(Weight.NOTE, "a test load of the power source, for comparison only")]
    if abs(apart) > VOLTAGE_SPREAD:
        words = f"the set arc voltage is {abs(apart):.1f} V {'above' if apart > 0 else 'below'} it"
        remarks.append(Remark(Weight.WARNING, words, SPREAD, SECTION))
    return result(LOAD_VOLTAGE, worked, shares={"welding_current": known}, remarks=tuple(remarks))


def _amperes(value: Quantity) -> float:
    return magnitude(value, "A")


def torch_duty(group: SeamGroup, current: Quantity, plant: Plant, highest: Quantity | None = None) -> Iterator[Verdict]:
    """Yield whether the torch is rated for a current for the share of ten minutes that the plant plans.

    The rating for the gas of the operation that is next above the current decides; nothing is checked of a torch that
    the table does not describe, or not for this gas. Raises OutOfRangeError above the highest rated current. A share
    between two ratings follows from a rule that is from memory: it warns and refuses nothing. Where the torch is
    enough for the set current and not for ``highest``, the upper end of its allowed range, it warns up to which it is.
    """
    torch = group.machine.torch
    if torch is None:
        return
    ratings = [rating for rating in torch.ratings if group.gas.id in rating.gases]
    if not ratings:
        text = f"the table of machines states no rating of this torch under {group.gas.id}"
        yield Verdict("torch_duty", torch.name, text, passed=None, source=torch.source, countermeasure=TORCH_DUTY)
        return
    verdict = _verdict(torch, _next_above(torch, ratings, current, group.gas.id), current, plant)
    if verdict.warns or highest is None or not exceeds(_amperes(highest), _amperes(current)):
        yield verdict
        return
    above = rating_above(ratings, highest)
    if above is None:
        text = (
            f"rated to {as_written(maximum(ratings))}, and {shown(highest, 'A')} is the upper end of the allowed range"
        )
        verdict = replace(verdict, said=text, passed=None, warns=True)
    else:
        verdict = _verdict(torch, above, highest, plant, _UPPER_END)
    if verdict.warns:
        text = f"{verdict.text}; {_enough(ratings, plant.duty_planning_share, current)}"
        verdict = replace(verdict, said=text, countermeasure=KEEP_CURRENT)
    yield verdict


def _next_above(torch: Torch, ratings: list[TorchRating], current: Quantity, gas: str) -> TorchRating:
    rating = rating_above(ratings, current)
    if rating is None:
        raise refusal(
            f"{torch.name} is rated to {as_written(maximum(ratings))} under {gas}, "
            f"the chart needs {shown(current, 'A')}",
            "use a robot with a torch of a higher rating, or a thinner weld",
            value=shown(current, "A"),
        )
    return rating


def _verdict(torch: Torch, rating: TorchRating, current: Quantity, plant: Plant, end: str = "") -> Verdict:
    planned = plant.duty_planning_share
    rated = f"rated {as_written(rating.current)} at {as_written(rating.share)}"
    if magnitude(rating.share, "%") >= magnitude(planned, "%"):
        text = f"{shown(current, 'A')}{end} for {as_written(planned)} of ten minutes; {rated}"
        return Verdict("torch_duty", torch.name, text, passed=True, source=torch.source)
    share = _allowed(rating, current).result
    at = f"at {shown(current, 'A')}{end or ','}"
    text = f"{_beside(share, planned)} of ten minutes {at} {as_written(planned)} planned; {rated}"
    verdict = Verdict("torch_duty", torch.name, text, passed=True, source=str(HEATING))
    if not exceeds(magnitude(planned, "%"), magnitude(share, "%")):
        return verdict
    return replace(verdict, passed=None, warns=True, countermeasure=TORCH_DUTY)
