"""What the schedule of changes asks for before the first part, written out: it is done before the coupons prove it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.model.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps import acts, fitting
from weld_packets.packet.steps.entry import count_out_to_automatic, lock_out, stop_and_open, take_lock_off
from weld_packets.packet.steps.placing import Draft
from weld_packets.planning import Event
from weld_packets.units import as_written


def due_drafts(view: OperationView, due: Iterable[Event]) -> Iterator[Draft]:
    """Yield the steps from a cell that is set up, gate open and in manual, back to that state.

    Hands go in under lock first; power dressing, which wants the gate closed, comes last.
    """
    due = tuple(due)
    powered = [each for each in due if each.dressing and _dressed(view, each) == "power"]
    by_hand = [each for each in due if each not in powered]
    if by_hand:
        yield from lock_out(f"cell {view.cell.id}")
        for each in by_hand:
            yield from _locked(view, each)
        yield from take_lock_off()
        for each in by_hand:
            yield from _energised(view, each)
        yield Draft("Leave the cell with your tools.", see="Nobody is inside.", acts=(acts.LEAVE,))
    if powered:
        yield from count_out_to_automatic()
        for each in powered:
            yield Draft(
                f"Start the dressing program of {each.robot} at the panel, from outside.",
                see="It dresses both caps and returns home. Nobody goes in; no part program is started.",
                topics=("start",),
                acts=(acts.POWER_DRESS,),
            )
        yield from stop_and_open()


def _robot(view: OperationView, event: Event) -> Robot | None:
    return next((robot for robot in view.robots if robot.id == event.robot), None)


def _dressed(view: OperationView, event: Event) -> str:
    robot = _robot(view, event)
    gun = None if robot is None else view.gun(robot)
    return "" if gun is None else gun.dressing


def _locked(view: OperationView, event: Event) -> Iterator[Draft]:
    robot = _robot(view, event)
    cap = None if robot is None else view.cap(robot)
    if robot is None:
        yield fitting.cylinder_shut()
        yield from fitting.gas_locked(view, f"cell {view.cell.id}")
    elif cap is not None and event.dressing:
        yield fitting.dress_by_hand(robot.id, as_written(cap.face))
    elif cap is not None:
        yield from fitting.caps_locked(view, [robot])
    elif event.supply == "Wire":
        yield fitting.old_wire_out(robot.id)
        yield from fitting.spool_locked(view, robot.id)
    else:
        yield from fitting.tip_and_end(view, robot.id, fitting.distance_of([view]))


def _energised(view: OperationView, event: Event) -> Iterator[Draft]:
    robot = _robot(view, event)
    if robot is None:
        yield from fitting.purge_energised(view)
    elif view.cap(robot) is not None and not event.dressing:
        yield from fitting.caps_energised(robot.id)
    elif event.supply == "Wire":
        yield from fitting.wire_energised(view, robot.id, fitting.distance_of([view]))
