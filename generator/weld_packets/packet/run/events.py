"""What falls due during a run: in short what recurs, by part count the rest, and from what it is counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from weld_packets.grouping import grouped
from weld_packets.packet.operation.inspections import inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import RunEvent, RunRule
from weld_packets.planning.records import Event, OrderPlan, Origin, Start, Use
from weld_packets.planning.sampling import sample_of
from weld_packets.wording.english import counted, inside, listed
from weld_packets.wording.phrases import at_count

NOTHING_DUE = "Nothing falls due within the quantity."
EVENTS_NOTE = "Calculated counts; change earlier if a gauge, counter or inspection says so."
SOON = 10
"""What is due within this part of the parts that one lasts is better done at set-up: common practice, no source."""
Views = Mapping[tuple[str, str], OperationView]
"""The operations of an order by name and cell."""


class _Recurring(NamedTuple):
    """What recurs, apart from the robots on which it does."""

    operation: str
    cell: str
    text: str
    basis: str
    what: str
    every: int
    turns: tuple[int, ...]
    supply: str


def run_events(plan: OrderPlan, views: Views) -> tuple[RunEvent, ...]:
    """Return what falls due and no rule says; the same on both robots at one count is one event."""
    ruled = {_place(use) for use in plan.uses if _recurs(use)}
    single = (each for each in plan.events if not (each.dressing and _place(each) in ruled))
    together = grouped(
        ((each.part_number, each.operation, each.cell, each.what, each.when, each.basis, each.supply), each)
        for each in single
    )
    due = (*(_event(same, views) for same in together.values()), *_samples(views))
    return tuple(sorted(due, key=lambda event: event.part_number))


def _samples(views: Views) -> Iterator[RunEvent]:
    """Yield each part that a check looks at by the plant's table of sample sizes."""
    for view in views.values():
        for check in inspections_at(view, "in process"):
            found = sample_of(check, view.order.quantity, view.approved.samples)
            for part in found.turns if found is not None and found.row else ():
                yield RunEvent(
                    part_number=part,
                    operation=view.key,
                    operation_name=view.operation.name,
                    cell=view.cell.id,
                    robot="",
                    what=f"Inspect: {inside(check.what)}",
                    basis="" if found is None else found.basis,
                )


def _event(same: Sequence[Event], views: Views) -> RunEvent:
    event = same[0]
    return RunEvent(
        part_number=event.part_number,
        operation=views[event.operation, event.cell].key,
        operation_name=event.operation,
        cell=event.cell,
        robot=listed([each.robot for each in same if each.robot]),
        what=event.what,
        basis=event.basis,
        when=event.when,
        supply=event.supply,
        places=tuple(each.robot or each.cell for each in same),
        dressing=event.dressing,
    )


def first_due(plan: OrderPlan) -> str:
    """Return what falls due first in the run, where and when; empty where nothing does.

    What is due before the first part is done in the prove-out, and not in the run. A further operation of a cell is
    counted from the last part of the one before it.
    """
    begins = {each.cell: each.operation for each in reversed(plan.operations)}
    events = (each for each in plan.events if begins[each.cell] == each.operation)
    first = next((each for each in events if each.part_number), None)
    if first is None:
        return ""
    return f"{inside(first.what)} at {first.robot or first.cell}, {at_count(first.part_number, first.when)}"


def due_soon(plan: OrderPlan, view: OperationView) -> tuple[str, ...]:
    """Return what falls due of an operation so few parts after its start that it is better done at set-up.

    It was used before, and what is left lasts for a small share of the parts that a new one lasts.
    """
    return tuple(_soon(use, event) for use in plan.uses if (event := _first_soon(plan, view, use)) is not None)


def _first_soon(plan: OrderPlan, view: OperationView, use: Use) -> Event | None:
    place = (view.operation.name, view.cell.id)
    if (use.operation, use.cell) != place or not use.start.is_known:
        return None
    here = (*place, use.robot, use.what)
    events = (each for each in plan.events if (each.operation, each.cell, each.robot, each.supply) == here)
    first = min(events, key=lambda each: each.part_number, default=None)
    return first if first is not None and 0 < first.part_number * SOON <= use.every else None


def _soon(use: Use, event: Event) -> str:
    return f"{event.what}, {use.robot or use.cell}, planned {at_count(event.part_number, event.when)}"


def due_at_first(plan: OrderPlan, view: OperationView) -> tuple[Event, ...]:
    """Return what is due at the cell of an operation before its prove-out."""
    here = (each for each in plan.events if (each.operation, each.cell) == (view.operation.name, view.cell.id))
    return tuple(each for each in here if (each.part_number, each.when) == (0, "after"))


def run_rules(plan: OrderPlan, views: Views) -> tuple[RunRule, ...]:
    """Return in a sentence for a robot, or for both where it is the same, what recurs between two changes."""
    together: dict[_Recurring, list[str]] = {}
    for use in (use for use in plan.uses if _recurs(use)):
        events = [each for each in plan.events if _place(each) == _place(use)]
        dressings = [each for each in events if each.dressing]
        if dressings:
            changed = len(dressings) < len(events)
            text = _rule(use.every, dressings, changed=changed)
            turns = tuple(each.part_number for each in dressings)
            first = dressings[0]
            key = _Recurring(use.operation, use.cell, text, first.basis, first.what, use.every, turns, use.what)
            together.setdefault(key, []).append(use.robot)
    return tuple(
        RunRule(
            operation=views[rule.operation, rule.cell].key,
            operation_name=rule.operation,
            cell=rule.cell,
            robots=tuple(robots),
            text=f"{listed(robots)}: {rule.text}",
            basis=rule.basis,
            what=f"{listed(robots)}: {inside(rule.what)}",
            every=rule.every,
            turns=rule.turns,
            supply=rule.supply,
        )
        for rule, robots in together.items()
    )


def _recurs(use: Use) -> bool:
    """Return whether what is due between two changes is due every so many whole parts."""
    return use.every > 0


def _place(of: Use | Event) -> tuple[str, str, str, str]:
    return of.operation, of.cell, of.robot, of.what if isinstance(of, Use) else of.supply


def _rule(every: int, dressings: Sequence[Event], *, changed: bool) -> str:
    what, parts = inside(dressings[0].what), dressings[0].part_number
    first = at_count(parts, "after")
    if len(dressings) == 1:
        return f"{what} once, {first}"
    instead = "; where a change is listed, make the change instead" if changed else ""
    return f"{what} {_every(every)}, {'first' if parts else 'the first time'} {first}{instead}"


def _every(parts: int) -> str:
    return f"every {counted(parts, 'part')}" if parts > 1 else "after every part"


def events_note(plan: OrderPlan, events: Sequence[RunEvent] = ()) -> str:
    """Return how far the counts can be trusted, and in a sentence from what they start."""
    if plan.events:
        return f"{EVENTS_NOTE} Counted from {_counted_from(plan.uses)}."
    return EVENTS_NOTE if events else NOTHING_DUE


def _counted_from(uses: Sequence[Use]) -> str:
    origins = {use.start.origin for use in uses}
    orders = dict.fromkeys(_order(use.start) for use in uses if use.start.origin is Origin.CARRIED)
    parts = [
        *([f"what {listed(orders)} leaves fitted"] if orders else ()),
        *(["what the operation before in the same cell leaves"] if Origin.WITHIN in origins else ()),
        *(["what this order records as fitted"] if origins & {Origin.RECORDED, Origin.RENEWED} else ()),
        *(words for origin, words in _NEW.items() if origin in origins),
    ]
    return f"{listed(parts)}; the list of consumables says which" if len(parts) > 1 else listed(parts)


def _order(start: Start) -> str:
    return f"{start.order} revision {start.revision}" if start.revision else f"{start.order} (from its sources)"


_NEW = {
    Origin.CHANGED: "new ones where they change at the changeover",
    Origin.UNUSED: "new ones where no earlier order used the robot or cell",
    Origin.NONE_NAMED: "new ones, because no previous order is named",
}
