"""What coupons and the first part of an operation must show, with its sizes, and what of consumables is counted."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from weld_packets.calculation.general_tolerances import Tolerance, tolerance_of
from weld_packets.calculation.results import safe_name
from weld_packets.model.tables.inspection import Inspection
from weld_packets.model.tolerances import NominalSize, ToleranceClasses
from weld_packets.packet.operation.inspections import inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.forms import RequiredResult, ResultChoice, Stage, SupplyCounter
from weld_packets.packet.records.operation import SizeLine
from weld_packets.packet.records.settings import SettingGroup, WeldLimit
from weld_packets.packet.records.values import Value
from weld_packets.planning.records import OrderPlan
from weld_packets.processes.answers import MeasuredSize
from weld_packets.processes.supplies import Supply
from weld_packets.units import Amount, exact, in_unit, plain, rounded, working
from weld_packets.units.digits import HUNDREDTH, STATED_DIGITS, THOUSANDTH
from weld_packets.units.scales import converted
from weld_packets.wording.english import capital, joined, listed, some
from weld_packets.wording.inspection import (
    NO_TOLERANCE,
    accepted_words,
    imperfection_words,
    limit_source,
    limit_words,
    nominal_words,
    tolerance_source,
    tolerance_words,
    welds_of_limits,
)

RESULT_STAGES: tuple[Stage, ...] = ("coupon", "first-off")


def required_results(view: OperationView) -> tuple[RequiredResult, ...]:
    """Return what is measured on coupons and on the first part, and what is judged by eye."""
    results = tuple(result for stage in RESULT_STAGES for result in (*_measured(view, stage), *_seen(view, stage)))
    return (*results, *_size_results(view))


def _measured(view: OperationView, stage: Stage) -> Iterator[RequiredResult]:
    """Yield the sizes, for each robot apart: each welds its own coupon."""
    checks = inspections_at(view, stage)
    for group in view.groups:
        for value in (*group.dialled, *group.derived):
            for measured in view.family.measured_of(value.figure, stage, checks):
                yield from (_size(view, stage, group, value, measured, robot) for robot in group.robots)


def _size(  # noqa: PLR0917 - what is measured, and where
    view: OperationView, stage: Stage, group: SettingGroup, value: Value, measured: MeasuredSize, robot: str
) -> RequiredResult:
    amount = value.amount
    largest = None if amount is None else _with_excess(view, group, value, amount, measured.excess)
    return RequiredResult(
        key=f"{stage}/{group.key}/{value.key}/{safe_name(robot)}",
        stage=stage,
        what=measured.what,
        robot=robot,
        welds=group.title or some(group.welds),
        unit="" if amount is None else amount.unit,
        minimum="" if amount is None else amount.value,
        maximum="" if largest is None else largest,
        accept=value.label,
        source=_source_of(value),
    )


def _source_of(value: Value) -> str:
    """Return what the last step of a calculation that names a document or a place rests on."""
    named = [joined((point.source, point.clause), ", ") or point.origin for point in value.trace]
    return next(filter(None, reversed(named)), "")


def _with_excess(view: OperationView, group: SettingGroup, value: Value, amount: Amount, excess: str) -> str | None:
    """Return the size with the excess over it that an imperfection may have; None where no limit says a number.

    A required size is printed rounded up, which its excess is not to be added to.
    """
    limits = [limit for limit in view.limits if excess and limit.key == excess and _is_of(limit, group)]
    sizes = [limit.size for limit in limits if limit.size is not None]
    if not sizes or len(sizes) < len(limits):
        return None
    most = min(Decimal(each.value if each.unit == amount.unit else each.second) for each in sizes)
    printed, required = Decimal(amount.value), _required(view, group, value, amount.unit)
    if printed <= required:
        return plain(printed + most)
    return plain(rounded(required + most, THOUSANDTH if amount.unit == "in" else HUNDREDTH, ROUND_FLOOR))


def _required(view: OperationView, group: SettingGroup, value: Value, unit: str) -> Decimal:
    """Return the number of a figure of some welds as it was calculated, in a unit."""
    figures = (
        each.figure(value.figure) for each in view.result.settings if not set(group.welds).isdisjoint(each.welds)
    )
    return min(exact(figure.value, unit) for figure in figures if figure.value is not None)


def _is_of(limit: WeldLimit, group: SettingGroup) -> bool:
    return not limit.welds or not set(group.welds).isdisjoint(limit.welds)


def _seen(view: OperationView, stage: Stage) -> Iterator[RequiredResult]:
    """Yield what is judged by eye: every imperfection that a check names with its limit, else the check as a whole."""
    for check in inspections_at(view, stage):
        limits = [limit for limit in view.limits if limit.key in check.limits]
        yield _whole(check, stage)
        yield from _failures(check, view, stage)
        for key in dict.fromkeys(limit.key for limit in limits):
            yield from _imperfections(check, stage, [limit for limit in limits if limit.key == key])


def _whole(check: Inspection, stage: Stage) -> RequiredResult:
    return RequiredResult(
        key=f"{stage}/{check.id}", stage=stage, what=check.what, accept=check.accept, source=check.source
    )


def _failures(check: Inspection, view: OperationView, stage: Stage) -> Iterator[RequiredResult]:
    """Yield how the weld of each coupon failed, where the check requires it: each robot welds its own."""
    for group in view.groups if check.failure_types else ():
        types = view.family.failure_types(view.operation, group.welds, view.approved)
        for robot in group.robots if types else ():
            yield RequiredResult(
                key=f"{stage}/{check.id}/failure-type/{group.key}/{safe_name(robot)}",
                stage=stage,
                what="Failure type",
                robot=robot,
                welds=group.title or some(group.welds),
                accept=f"not accepted: {listed(each.text for each in types if not each.accepted)}",
                source=listed(dict.fromkeys(each.source for each in types)),
                choices=tuple(ResultChoice(text=each.text, accepted=each.accepted) for each in types),
            )


def _imperfections(check: Inspection, stage: Stage, same: list[WeldLimit]) -> Iterator[RequiredResult]:
    """Yield an imperfection: for each size that is allowed a result of its own, else all welds together."""
    if len(same) == 1 or any(limit.size is None for limit in same):
        yield _imperfection(check, stage, same)
        return
    for number, limit in enumerate(same, 1):
        found = _imperfection(check, stage, [limit])
        yield found.model_copy(update={"key": f"{found.key}/{number}"})


def _imperfection(check: Inspection, stage: Stage, same: list[WeldLimit]) -> RequiredResult:
    first = same[0]
    size = first.size if len(same) == 1 else None
    limits = joined(limit_words(limit.of, limit.text) for limit in same)
    return RequiredResult(
        key=f"{stage}/{check.id}/{first.key}",
        stage=stage,
        what=imperfection_words(check.what, first.name),
        welds=welds_of_limits(limit.of for limit in same),
        accept=f"level {first.level}: {limits}",
        source=limit_source(
            first.source, first.numbers, is_from_memory=any(limit.standing == "from memory" for limit in same)
        ),
        found_unit="" if size is None else size.unit,
        found_maximum="" if size is None else size.value,
    )


def supply_counters(plan: OrderPlan, view: OperationView) -> tuple[SupplyCounter, ...]:
    """Return what can be counted of everything that is fitted at the robots and in the cell of an operation."""
    here = (view.operation.name, view.cell.id)
    stock = (supply for supply in plan.stock if (supply.operation, supply.cell) == here)
    return tuple(counter for supply in stock for counter in _counters(supply))


def _counters(supply: Supply) -> Iterator[SupplyCounter]:
    at = {"place": supply.place, "supply": supply.what}
    if supply.recorded is not None and supply.holds is not None:
        key, counts = supply.recorded.key.replace("_", " "), supply.recorded.counts
        amount = plain(exact(supply.holds, supply.run_unit))
        yield SupplyCounter(
            key=f"{supply.place}/{key}", what=f"{capital(key)}, {supply.place}", unit=supply.run_unit, counts=counts,
            whole=amount, **at,
        )  # fmt: skip
    if supply.intervals and supply.lasts:  # nothing lasts a number of welds at a robot that welds none
        yield SupplyCounter(
            key=f"{supply.place}/welds since {supply.lesser_noun}",
            what=f"Welds since the last {supply.lesser_noun}, {supply.place}", unit="welds", counts="worn",
            whole=plain(min(exact(each.value, "1") for each in supply.lasts)), **at,
        )  # fmt: skip
    if supply.turns_key:
        yield SupplyCounter(
            key=f"{supply.place}/{supply.turns_key}",
            what=f"{capital(supply.lesser_noun)}s since the change, {supply.place}", unit="times", counts="turns",
            whole=str(supply.turns), **at,
        )  # fmt: skip


# ---------------------------------------------------------------- sizes of the part


def size_lines(view: OperationView) -> tuple[SizeLine, ...]:
    """Return the sizes that the order lists for an operation, each with its tolerance."""
    classes = view.operation.tolerances or ToleranceClasses()
    table = view.approved.tolerances[0] if view.approved.tolerances else None
    return tuple(
        _line(number, size, None if table is None else tolerance_of(size, classes, table), view)
        for number, size in enumerate(view.operation.sizes, 1)
    )


def _line(number: int, size: NominalSize, found: Tolerance | None, view: OperationView) -> SizeLine:
    key = safe_name("size", str(number), size.name)
    nominal = nominal_words(size.kind, view.length(size.size), "" if size.angle is None else view.stated(size.angle))
    if found is None:
        return SizeLine(key=key, name=size.name, nominal=nominal, tolerance="", source=NO_TOLERANCE)
    unit = "°" if size.kind == "angle" else {"metric": "mm", "US customary": "in"}[view.order.show_first]
    deviation = working(found.deviation, STATED_DIGITS)
    return SizeLine(
        key=key,
        name=size.name,
        nominal=nominal,
        tolerance=tolerance_words(found, f"{deviation}′" if size.kind == "angle" else in_unit(deviation, "mm")),
        minimum="" if found.low is None else _inside(found.low, unit, ROUND_CEILING),
        maximum=_inside(found.high, unit, ROUND_FLOOR),
        unit=unit,
        source=tolerance_source(found),
    )


def _inside(number: Decimal, unit: str, rounding: str) -> str:
    """Return an end in the unit in which it is measured; inches are rounded into what is allowed."""
    return plain(rounded(converted(number, "mm", "in"), THOUSANDTH, rounding) if unit == "in" else number)


def _size_results(view: OperationView) -> Iterator[RequiredResult]:
    """Yield each size that has a tolerance as something to measure on the first part."""
    for line in size_lines(view):
        if line.tolerance:
            yield RequiredResult(
                key=f"first-off/{line.key}",
                stage="first-off",
                what=line.name,
                unit=line.unit,
                minimum=line.minimum,
                maximum=line.maximum,
                accept=accepted_words(line.nominal, line.tolerance),
                source=line.source,
            )
