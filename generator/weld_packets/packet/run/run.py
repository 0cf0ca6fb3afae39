"""Times and consumables of the whole quantity as printed, what falls due at which part, and what is left fitted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from weld_packets.calculation.results import safe_name
from weld_packets.calculation.trace import Figure
from weld_packets.grouping import grouped
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import ConsumableLine, FittedAtEnd, Packet, RunPlan
from weld_packets.packet.records.settings import Check
from weld_packets.packet.records.values import Value
from weld_packets.packet.run.events import events_note, first_due, run_events, run_rules
from weld_packets.packet.settings.checks import warnings_among
from weld_packets.packet.settings.merging import display_key_without_notes
from weld_packets.packet.settings.values import amount_of, anchor, check_of, printed_value
from weld_packets.planning.records import Event, Left, OrderPlan, Use
from weld_packets.units import Amount, Kind, kinds, plain, significant, with_unit
from weld_packets.wording.english import counted, listed
from weld_packets.wording.phrases import at_count

_ONCE = 1
_DIGITS = 3


def operation_times(plan: OrderPlan, view: OperationView) -> tuple[Value, ...]:
    """Return the times of an operation for one part: each robot, then the operation."""
    operation = plan.operations[view.number - 1]
    robots = (
        _named(figure, robot.robot, f"time-{robot.robot}", view)
        for robot in operation.robots
        for figure in robot.figures
    )
    return (*robots, *(printed_value(figure, view.showing, "time") for figure in operation.figures))


def operation_checks(plan: OrderPlan, view: OperationView) -> tuple[Check, ...]:
    """Return the checks that the times of an operation were put to."""
    operation = plan.operations[view.number - 1]
    verdicts = (*operation.verdicts, *(verdict for robot in operation.robots for verdict in robot.verdicts))
    return tuple(check_of(verdict, view.showing) for verdict in verdicts)


def warned_consumables(plan: OrderPlan, view: OperationView) -> tuple[Value, ...]:
    """Return what an operation takes of each consumable of which something warns, for one part and for the run."""
    here = (view.operation.name, view.cell.id)
    uses = (use for use in plan.uses if (use.operation, use.cell) == here)
    warned = [use for use in uses if any(figure.warnings for figure in use.figures)]
    return tuple(_consumables(warned, {here: view}))


def run_plan(plan: OrderPlan, views: Sequence[OperationView]) -> RunPlan:
    """Return duration, slowest operation, consumables and events of the run."""
    by_place = {(view.operation.name, view.cell.id): view for view in views}
    events = run_events(plan, by_place)
    durations = tuple(printed_value(figure, views[0].showing, "run") for figure in plan.figures)
    return RunPlan(
        values=(*durations, *_consumables(plan.uses, by_place)),
        bottleneck=plan.bottleneck,
        model=plan.model,
        events=events,
        events_note=events_note(plan, events),
        time_per_part=_slowest(plan, views),
        consumables=consumable_lines(plan, by_place),
        rules=run_rules(plan, by_place),
        first_due=first_due(plan),
        fitted_at_end=fitted_at_end(plan.left),
        warnings=warnings_among((), durations, ()),
    )


def _slowest(plan: OrderPlan, views: Sequence[OperationView]) -> Value:
    """Return the time that the slowest operation takes for one part."""
    operation = next(operation for operation in plan.operations if operation.operation == plan.bottleneck)
    return printed_value(operation.figure("operation_time"), views[0].showing, "run")


def _consumables(uses: Sequence[Use], views: Mapping[tuple[str, str], OperationView]) -> Iterator[Value]:
    """Yield the figures of every consumable; robots of an operation share figures that read the same."""
    named = ((use, (use.operation, use.cell, use.what, use.origin, use.not_counted)) for use in uses)
    together = grouped(((*names, *map(display_key_without_notes, use.figures)), use) for use, names in named)
    for same in together.values():
        where = listed(use.robot or use.cell for use in same)
        yield from _use(same[0], views[same[0].operation, same[0].cell], where)


def _use(use: Use, view: OperationView, where: str) -> Iterator[Value]:
    for figure in use.figures:
        value = printed_value(figure, view.showing, _use_place(use, view))
        key = value.anchor.replace("-", "_")
        yield value.model_copy(update={"key": key, "label": f"{value.label}, {where}"})


def _named(figure: Figure, robot: str, place: str, view: OperationView) -> Value:
    value = printed_value(figure, view.showing, place)
    return value.model_copy(update={"key": f"{value.key}_{robot}", "label": f"{value.label}, {robot}"})


# ---------------------------------------------------------------- consumables


def consumable_lines(plan: OrderPlan, views: Mapping[tuple[str, str], OperationView]) -> tuple[ConsumableLine, ...]:
    """Return a line for each consumable; robots of an operation that take the same of it share one."""
    by_line: dict[ConsumableLine, list[str]] = {}
    first: dict[ConsumableLine, str] = {}
    for use in plan.uses:
        line = _line(use, plan.events, views[use.operation, use.cell])
        by_line.setdefault(line, []).append(use.robot)
        first.setdefault(line, anchor(_use_place(use, views[use.operation, use.cell]), use.figures[0].key))
    return tuple(
        line.model_copy(update={"robots": tuple(robot for robot in robots if robot), "anchor": first[line]})
        for line, robots in by_line.items()
    )


def _use_place(use: Use, view: OperationView) -> str:
    """Return the anchor of a consumable's figures on the page of the run's figures."""
    return safe_name("use", view.key, use.robot or use.cell, use.what)


def _line(use: Use, events: Sequence[Event], view: OperationView) -> ConsumableLine:
    one, proof, whole = (use.figure(key) for key in ("per_part", "in_prove_out", "over_run"))
    return ConsumableLine(
        operation=view.key,
        operation_name=use.operation,
        cell=use.cell,
        robots=(),
        what=use.what,
        per_part=_amount(one, view, one.kind),
        over_run=_amount(whole, view, one.kind),
        due=tuple(_due(use, events)),
        anchor="",
        start=_start(use, view),
        in_prove_out=_amount(proof, view, one.kind),
        not_counted=use.not_counted,
    )


def _start(use: Use, view: OperationView) -> str:
    """Return how far one is used before the prove-out, and on what that rests."""
    if not use.start.is_known:
        return use.origin
    used = printed_value(use.figure("used_at_start"), view.showing, "use").text
    done = f"{use.start.dressings} of {counted(use.turns, use.lesser_noun)} done, " if use.turns else ""
    if use.holds is None:
        return f"{done}{used} of the welds to the next one used {use.origin}"
    whole = printed_value(use.holds, view.showing, "use").text
    arc_on = " arc-on time" if use.holds.kind is kinds.DURATION else ""
    return f"{done}{used} of {whole}{arc_on} used {use.origin}"


def _amount(figure: Figure, view: OperationView, kind: Kind) -> Amount:
    """Return an amount that says of what: welds of electrode caps, arc-on time of contact tips."""
    amount = amount_of(figure, view.showing)
    if amount is None:
        raise ValueError(f"{figure.label}: what a run takes is always a number")
    unit = {kinds.NUMBER: "welds", kinds.DURATION: f"{amount.unit} arc-on"}.get(kind, amount.unit)
    return amount.model_copy(update={"unit": unit})


def _due(use: Use, events: Sequence[Event]) -> Iterator[str]:
    place = (use.operation, use.cell, use.robot, use.what)
    here = (each for each in events if (each.operation, each.cell, each.robot, each.supply) == place)
    for what, falling in grouped((each.what, each) for each in here).items():
        times = "once" if len(falling) == _ONCE else counted(len(falling), "time")
        yield f"{what}: {times}, first {at_count(falling[0].part_number, falling[0].when)}"


# ---------------------------------------------------------------- what is left fitted


_SHARES = ("used", "wear", "begun", "proof")
"""Exact shares, which a record keeps as text; what else is left fitted it keeps as it is, under the same names."""


def fitted_at_end(left: Sequence[Left]) -> tuple[FittedAtEnd, ...]:
    """Return what an order leaves fitted as its record keeps it."""
    return tuple(
        FittedAtEnd.model_validate({**vars(each), **_written(each), "share": _per_cent(each.used)}) for each in left
    )


def _written(left: Left) -> dict[str, str]:
    shares = {key: getattr(left, key) for key in _SHARES}
    return {key: "" if share is None else str(share) for key, share in shares.items()}


def left_by_packet(packet: Packet, revision: str) -> tuple[Left, ...]:
    """Return what the released ``revision`` of an order leaves fitted; nothing in records that do not hold it."""
    return tuple(_left(each, packet, revision) for each in packet.run.fitted_at_end)


def _left(each: FittedAtEnd, packet: Packet, revision: str) -> Left:
    kept = each.model_dump(exclude={"share"})
    shares = {"used": Fraction(each.used), "wear": Fraction(each.wear), "proof": Fraction(each.proof or 0)}
    begun = Fraction(each.begun) if each.begun else None
    released = each.revision or (revision if each.order == packet.head.number else "")
    return Left(**{**kept, **shares, "begun": begun, "revision": released})


def _per_cent(used: Fraction) -> str:
    number = Decimal(100) * used.numerator / used.denominator
    return with_unit(plain(significant(number, _DIGITS) if number else number), "%")
