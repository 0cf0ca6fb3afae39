"""Starting the run of a cell that is proved: loaded, tools out, everybody counted out, read back, started."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import CellStart
from weld_packets.packet.records.steps import Callout
from weld_packets.packet.steps.entry import count_out_to_automatic
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import PROVED
from weld_packets.packet.steps.prove_out.welding import before_welding, preheated
from weld_packets.packet.steps.stages import stages
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import LOADED, Draft, Task, as_task
from weld_packets.wording.english import joined


def cell_start(view: OperationView, callouts: tuple[Callout, ...]) -> CellStart:
    """Return the list of an operation's cell with its stages."""
    drafts = tuple(start_drafts(view))
    steps = printed_steps(drafts, callouts, PROVED)
    return CellStart(
        operation=view.key,
        steps=steps,
        stages=stages(f"start-{view.number}", drafts, steps, callouts, PROVED),
    )


def start_drafts(view: OperationView) -> Iterator[Draft]:
    """Yield the steps from an accepted first-off part to the running cell."""
    yield Draft(
        "Check that inspection has accepted the first-off part.",
        see=f"Signed at the end of the prove-out of {view.operation.name}.",
        hold=True,
        key="accepted",
    )
    loaded = Task(
        "load",
        "Open the gate, see that no lock is left, load the fixture.",
        f"{LOADED} If a lock is left, leave it on and call {view.call}.",
    )
    yield from as_task(loaded, _loaded(view))
    yield from before_welding(view)
    yield from preheated(view, "the first part of the run")
    yield from count_out_to_automatic()
    programs = joined((f"{robot.id} = {view.operation.programs[robot.id]}" for robot in view.robots), " · ")
    enabled = Task(
        "enable",
        f"Enable welding, read the part programs back, set the part counter to 0 of {view.order.quantity}.",
        "Full speed override. The part's programs, not the coupons'. A run that goes on keeps its count.",
        programs,
    )
    yield from as_task(enabled, _enabled(view, programs))
    yield Draft(
        "Press cycle start and watch the first part of the run, a hand near the emergency stop.",
        see="Robots, clamps and welds as on the first-off part.",
        topics=("weld", "start"),
        acts=(acts.START,),
        key="start",
    )


def _loaded(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        "Open the gate and check that no lock is left on the cell.",
        see=f"If a lock is left, leave it on and call {view.call}.",
        acts=(acts.OPEN_GATE, acts.ENTER),
        key="open-gate",
    )
    yield Draft(
        "Load the fixture for the first part of the run.",
        see=f"{LOADED} Both robots at home.",
        topics=("parts", "clamps"),
        acts=(acts.LOAD_PART,),
        key="load",
    )


def _enabled(view: OperationView, programs: str) -> Iterator[Draft]:
    yield Draft(
        "Enable welding on both robots.",
        see="Both pendants show it, at full speed override.",
        value="welding enabled",
        acts=(acts.ENABLE,),
        key="enable-welding",
    )
    yield Draft(
        "Read the part programs back from both robots.",
        see="The part's programs, not the coupons'.",
        value=programs,
        acts=(acts.SELECT_PART,),
        key="read-programs",
    )
    yield Draft(
        "Set the part counter and read it back.",
        see="It counts the parts of the run: no coupon, no first-off part. A run that goes on keeps its count.",
        value=f"0 of {view.order.quantity}",
        key="part-counter",
    )
