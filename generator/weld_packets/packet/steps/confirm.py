"""What is compared before anything moves, all of it from outside the fence: order, cell, pair, process, programs."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.processes.cell.drafts import Draft, Task, as_task
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.wording.english import joined


def confirm_steps(view: OperationView, callouts: tuple[Callout, ...]) -> tuple[Action, ...]:
    """Return the steps that confirm an operation; the last one holds until all agree."""
    return printed_steps(confirm_drafts(view), callouts, AS_FOUND)


def confirm_drafts(view: OperationView) -> Iterator[Draft]:
    """Yield what is compared; it is the first task of a set-up."""
    task = Task(
        "confirm",
        "Compare status, order, cell, robots, process and programs with this packet.",
        f"IN FORCE, and all agree. Only then may anything move; if not, stop and call {view.call}.",
        joined((view.order.order, view.cell.id, _programs(view)), " · "),
    )
    yield from as_task(task, _compared(view))


def _programs(view: OperationView) -> str:
    return joined((f"{robot.id} = {view.operation.programs[robot.id]}" for robot in view.robots), " · ")


def _compared(view: OperationView) -> Iterator[Draft]:
    order = view.order
    yield Draft(
        "Read revision and status at the head of this page.",
        see=f"It must read IN FORCE. With any other status, stop and call {view.call}.",
        key="confirm-status",
    )
    yield Draft(
        "Compare the order number with the work order.",
        see=f"{order.part.number}, {order.part.name}",
        value=order.order,
        key="confirm-order",
    )
    yield Draft(
        "Compare the cell with the plate on its gate.", see=view.cell.name, value=view.cell.id, key="confirm-cell"
    )
    yield Draft(
        "Compare both robots with the plates on their bases, from outside the fence.",
        see=joined(f"{robot.side}: {robot.name}" for robot in view.robots),
        value=joined((f"{robot.side} = {robot.id}" for robot in view.robots), " · "),
        key="confirm-robots",
    )
    yield Draft(
        "Compare the process with the equipment on both robots, from outside the fence.",
        see=f"Both robots: {view.family.carried(view)}",
        value=view.process,
        key="confirm-process",
    )
    yield Draft(
        "Compare the program numbers with the work order.",
        see="Each robot has its own number.",
        value=_programs(view),
        key="confirm-programs",
    )
    yield Draft(
        "Confirm that all of the above agree.",
        see=f"Only then may anything move. If anything differs, stop and call {view.call}.",
        hold=True,
        key="confirm-all",
    )
