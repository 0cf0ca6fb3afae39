"""Proving a cell before the run: coupons first, then the first-off part; every program dry before it welds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import PairSheet
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.steps.entry import count_out_to_automatic, lock_out, stop_and_open, take_lock_off
from weld_packets.packet.steps.prove_out.coupons import coupon_drafts
from weld_packets.packet.steps.prove_out.first_part import first_part_drafts
from weld_packets.planning.records import Event
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Due, Task, as_task, step_key, under
from weld_packets.processes.cell.state import AS_FOUND, CellState, walk

SET_UP = walk(
    (
        *(acts.CYCLE_STOP, acts.TRY_EMERGENCY_STOP, acts.OPEN_GATE, acts.TAKE_KEY, acts.INHIBIT),
        *(acts.ENTER, acts.UNLOAD, acts.LEAVE),
    ),
    AS_FOUND,
)
"""A cell as a set-up leaves it: gate open, manual, key in hand, welding inhibited, the fixture empty."""


@dataclass(frozen=True)
class Before:
    """What the prove-out of an operation takes into account besides its settings.

    Attributes:
        due: what is due before the run.
        warnings: those of the operation.
        pair: how its robots keep apart, with the interlocks to be proved; None where that is not at hand.

    """

    due: tuple[Event, ...] = ()
    warnings: tuple[OperationWarning, ...] = ()
    pair: PairSheet | None = None


_NOTHING = Before()


def prove_drafts(view: OperationView, before: Before = _NOTHING) -> Iterator[Draft]:
    """Yield the steps from a cell that is set up to an accepted first-off part."""
    yield from under("due", _due_drafts(view, before.due))
    yield from coupon_drafts(view, before.warnings)
    yield from first_part_drafts(view, before.warnings, before.pair)


def _due_drafts(view: OperationView, due: Iterable[Event]) -> Iterator[Draft]:
    """Yield what is due before the first part, from a cell that is set up, gate open and in manual, back to that state.

    Hands go in under lock first; what is done from outside, with the gate closed, comes last.
    """
    things = [Due(each.word, each.robot, each.dressing) for each in due]
    family = view.family
    outside = {each: tuple(family.due_outside(view, each)) for each in things}
    by_hand = [each for each in things if not outside[each]]
    if by_hand:
        yield from lock_out(f"cell {view.cell.id}")
        for each in by_hand:
            yield from under(_of(each), family.due_locked(view, each))
        yield from take_lock_off()
        for each in by_hand:
            yield from under(_of(each), family.due_energised(view, each))
        yield Draft("Leave the cell with your tools.", see="Nobody is inside.", acts=(acts.LEAVE,), key="leave")
    if any(outside.values()):
        yield from count_out_to_automatic()
        *most, last = (draft for each in things for draft in under(_of(each), outside[each]))
        yield from most
        task = Task(
            "last-outside",
            f"{last.do} Then stop the cell, open the gate, take the key, inhibit welding.",
            f"{last.see} Robots at home, drives off at the open gate; if not, nobody goes in: call {view.call}.",
            "manual, welding inhibited",
        )
        yield from as_task(task, (last, *stop_and_open(view.call)))


def _of(due: Due) -> str:
    """Return what a step is for that something due before the first part asks for."""
    return step_key(due.word, due.robot, "between changes" if due.lesser else "changed")


PROVED: CellState = replace(
    walk((acts.OPEN_GATE, acts.SEND_OUT, acts.LEAVE, acts.COUNT_OUT, acts.SELECT_PART, acts.CLOSE_GATE), SET_UP),
    stepped=frozenset(f"{program} {side}" for program in ("coupon", "part") for side in "AB"),
    coupons="accepted",
    first_part="accepted",
)
"""A cell as a prove-out leaves it: gate closed, manual, key in hand, welding inhibited, the fixture empty."""
