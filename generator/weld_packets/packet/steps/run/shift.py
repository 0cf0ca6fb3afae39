"""How a run ends and goes on with other people: the end of a run or a shift, a cell handed over, the next shift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.operation.inspections import inspections_for
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.entry import gate_tested, stop_and_open, to_manual, tried
from weld_packets.packet.steps.run.going_in import coupons_as_a_whole, extraction, out_last, words_of
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, LOADED, Draft
from weld_packets.processes.family import by_family
from weld_packets.processes.view import cells_of
from weld_packets.units import as_written
from weld_packets.wording.english import joined


def end(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps that end a run or a shift: the cell empty and stopped, a fire watch, the handing over."""
    yield from stop_and_open(views[0].call)
    yield Draft(
        "Take the last part out.",
        see="Marked for the last-off inspection.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    for family, own in by_family(views):
        yield from family.at_the_end(own)
    yield Draft(
        "Leave the cell with your tools, everybody counted out, and close the gate.",
        see="Manual, welding inhibited. No lock of yours is left on it.",
        acts=(acts.LEAVE, acts.COUNT_OUT, acts.CLOSE_GATE),
    )
    yield Draft(
        "Keep a fire watch after the last weld.",
        see="Somebody stays who can see where sparks may have gone, with an extinguisher.",
        value=as_written(views[0].approved.plant.fire_watch),
        topics=("fire",),
    )
    handed = dict.fromkeys(thing for each in words_of(views) for thing in each.handed_over)
    yield Draft(
        "Hand over the key and what is fitted, from hand to hand.",
        see=f"{', '.join(['Part count', *handed])}: the next order counts from them. Where nobody takes over, to "
        f"{views[0].call}.",
    )


def handed_over(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps by which a locked-out cell goes to somebody else; it is at no moment without a lock."""
    yield Draft(
        "Leave the cell, everybody with you, and show who takes over what is done and what is open.",
        see="Which steps are done, what is fitted, which tools are inside. As many locks as people.",
        acts=(acts.LEAVE,),
    )
    yield Draft(
        "Let the one who takes over put on their own lock first.",
        see="Before yours comes off: the cell is never without a lock.",
        acts=(acts.SECOND_LOCK,),
    )
    yield Draft(
        "Take your lock off and hand over the key of the mode switch, from hand to hand.",
        see=f"Only your own. A lock that somebody left stays on: call {views[0].call}.",
        acts=(acts.HAND_OVER,),
    )
    yield tried("Let the one who takes over try both robots with the enabling device, then a clamp.")


def start_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from the end of a shift to the run of the next one."""
    yield Draft("Read the part counter.", see="As it was handed over.")
    yield from _safeguards_tested(views[0])
    yield Draft(
        "Go in alone, key in hand.",
        see="Manual, welding inhibited.",
        acts=(acts.SEND_OUT,),
    )
    for family, own in by_family(views):
        yield from family.at_the_start(own)
    yield from extraction(views)
    coupons = tuple(_coupons_of_the_shift(views))
    yield from coupons
    yield Draft(
        f"{'Open the gate and load' if coupons else 'Load'} the fixture for the next part.",
        see=LOADED,
        topics=("clamps", "parts"),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART) if coupons else (acts.LOAD_PART,),
    )
    yield from out_last("the start")


def _safeguards_tested(view: OperationView) -> Iterator[Draft]:
    """Yield the test of emergency stop and gate, from a cell that somebody else has left, gate closed and in manual."""
    test = view.approved.plant.emergency_stop_test
    only = f"Left out where one is noted for this {test.every}. " if test is not None and test.every != "shift" else ""
    said = (
        "The plant states no interval: test it at every shift."
        if test is None
        else f"Every {test.every}, {test.source}."
    )
    yield Draft(
        "Open the gate, look into the whole cell, then close it.",
        see=f"Nobody is inside and no tool. A lock that is left stays on: call {view.call}.",
        acts=(acts.OPEN_GATE, acts.COUNT_OUT, acts.CLOSE_GATE),
    )
    yield Draft(
        "Turn the mode switch to automatic, take the key, reset from outside, and do not press cycle start.",
        see="You see the whole cell. The panel shows automatic and drives on.",
        topics=("start",),
        acts=(acts.TO_AUTOMATIC, acts.RESET),
    )
    yield Draft(
        "Press the emergency stop at the panel, release it, then reset again.",
        see=f"{only}The drives drop out, and come back only at the reset. Nothing moves. If not, nobody goes in: call "
        f"{view.call}. {said}",
        acts=(acts.TRY_EMERGENCY_STOP, acts.RESET),
    )
    yield gate_tested(view.call)
    yield to_manual("Both pendants show manual. The key stays with you.")


def _coupons_of_the_shift(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the coupons that the plan of inspections asks for at the start of a shift, where it does."""
    checks = {view.key: (view, each) for view in views for each in inspections_for(view, "shift start")}
    if not checks:
        return
    cells = cells_of(view for view, _ in checks.values())
    where = "" if cells == cells_of(views) else f" at {cells}"
    accept = dict.fromkeys(check.accept.rstrip(".") for _, check in checks.values())
    first, _ = next(iter(checks.values()))
    yield Draft(
        f"Weld and test the coupons of the shift{where}.",
        see=f"Prove-out from “{COUPONS_BEGIN}” to the coupons' hold point. Accept: {joined(accept)}; "
        "numbers on the page Inspection. Accepted and signed.",
        hold=True,
        acts=(coupons_as_a_whole(first),),
    )
