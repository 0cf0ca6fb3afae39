"""What the schedule of changes asks for before the first part, written out: it is done before the coupons prove it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.entry import count_out_to_automatic, lock_out, stop_and_open, take_lock_off
from weld_packets.planning import Event
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Due, Task, as_task, step_key, under


def due_drafts(view: OperationView, due: Iterable[Event]) -> Iterator[Draft]:
    """Yield the steps from a cell that is set up, gate open and in manual, back to that state.

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
