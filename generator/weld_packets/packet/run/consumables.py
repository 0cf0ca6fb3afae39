"""What the run takes, in a few lines: use for one part and for the order, and what falls due."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.results import safe_name
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Amount, ConsumableLine, Value
from weld_packets.packet.settings.values import anchor, value_of
from weld_packets.planning import Event, OrderPlan, Use
from weld_packets.units import Kind, kinds
from weld_packets.wording.english import counted
from weld_packets.wording.phrases import at_count

_ONCE = 1


def consumable_lines(plan: OrderPlan, views: Mapping[tuple[str, str], OperationView]) -> tuple[ConsumableLine, ...]:
    """Return a line for each consumable; robots of an operation that take the same of it share one."""
    by_line: dict[ConsumableLine, list[str]] = {}
    first: dict[ConsumableLine, str] = {}
    for use in plan.uses:
        line = _line(use, plan.events, views[use.operation, use.cell])
        by_line.setdefault(line, []).append(use.robot)
        first.setdefault(line, anchor(use_place(use, views[use.operation, use.cell]), use.figures[0].key))
    return tuple(
        line.model_copy(update={"robots": tuple(robot for robot in robots if robot), "anchor": first[line]})
        for line, robots in by_line.items()
    )


def use_place(use: Use, view: OperationView) -> str:
    """Return the anchor of a consumable's figures on the page of the run's figures."""
    return safe_name("use", view.key, use.robot or use.cell, use.what)


def _line(use: Use, events: Sequence[Event], view: OperationView) -> ConsumableLine:
    one, whole = use.figure("per_part"), use.figure("over_run")
    return ConsumableLine(
        operation=view.key,
        operation_name=use.operation,
        cell=use.cell,
        robots=(),
        what=use.what,
        per_part=_amount(value_of(one, view.showing, "use"), one.kind),
        over_run=_amount(value_of(whole, view.showing, "use"), one.kind),
        due=tuple(_due(use, events)),
        anchor="",
        start=_start(use, view),
    )


def _start(use: Use, view: OperationView) -> str:
    """Return how far one is used before the first part, and on what that rests."""
    if not use.start.is_known:
        return use.origin
    used = value_of(use.figure("used_at_start"), view.showing, "use").text
    if use.holds is None:
        done = f"{use.start.dressings} of {use.turns} dressings done, "
        return f"{done if use.turns else ''}{used} of the welds to the next one used {use.origin}"
    whole = value_of(use.holds, view.showing, "use").text
    arc_on = " arc-on time" if use.holds.kind is kinds.DURATION else ""
    return f"{used} of {whole}{arc_on} used {use.origin}"


def _amount(value: Value, kind: Kind) -> Amount:
    """Return an amount that says of what: welds of electrode caps, arc-on time of contact tips."""
    if value.amount is None:
        raise ValueError(f"{value.label}: what a run takes is always a number")
    unit = {kinds.NUMBER: "welds", kinds.DURATION: f"{value.amount.unit} arc-on"}.get(kind, value.amount.unit)
    return value.amount.model_copy(update={"unit": unit})


def _due(use: Use, events: Sequence[Event]) -> Iterator[str]:
    place = (use.operation, use.cell, use.robot, use.what)
    found: dict[str, list[Event]] = {}
    for each in events:
        if (each.operation, each.cell, each.robot, each.supply) == place:
            found.setdefault(each.what, []).append(each)
    for what, falling in found.items():
        times = "once" if len(falling) == _ONCE else counted(len(falling), "time")
        yield f"{what}: {times}, first {at_count(falling[0].part_number, falling[0].when)}"
