"""How a run stops and goes on: after an emergency stop, at the end of it or of a shift, and with coupons in between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.operation.inspections import inspections_for
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.coupons import coupon_drafts
from weld_packets.packet.steps.entry import stop_and_open, to_manual
from weld_packets.packet.steps.going_in import cells_of, extraction, out_last, whole_list
from weld_packets.processes.answers import FamilyWords
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, LOADED, Draft
from weld_packets.processes.family import families
from weld_packets.units import as_written
from weld_packets.wording.english import joined


def words_of(views: Sequence[OperationView]) -> list[FamilyWords]:
    """Return the words of the families of an order, each once, in the order of the families."""
    every = families(view.operation.process for view in views)
    return list(dict.fromkeys(view.words for family in every for view in views if view.family is family))


def after_stop(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from an emergency stop or a collision to the run."""
    yield Draft(
        "Leave the emergency stop pressed until the cause is found.",
        see="Anybody hurt: emergency call, first aid. Anybody trapped: free them without drive power, as the robot "
        f"maker's manual says. Every time: call {views[0].call}.",
        acts=(acts.EMERGENCY_STOP,),
    )
    yield Draft("Open the gate and stay outside.", see="All drives are off.", acts=(acts.OPEN_GATE_OFF_PATH,))
    yield to_manual("Both pendants show manual.")
    yield Draft(
        "Select dry run (welding inhibited) on both robots, then release the emergency stop.",
        see="Nothing moves.",
        value="welding inhibited",
        acts=(acts.INHIBIT,),
    )
    yield Draft(
        "Go in alone, key and pendant in hand, the drives of one robot off.",
        see="Only the other one can move.",
        topics=("move",),
        acts=(acts.SEND_OUT, acts.ONE_LIVE),
    )
    words = words_of(views)
    freed = joined(each.frees for each in words)
    yield Draft(
        f"Free the robot before it moves{': ' if freed else ''}{freed}.",
        see=joined((each.sticks for each in words), " "),
        acts=(acts.MOVE_ONE,),
    )
    yield Draft(
        "Test the enabling device, then bring that robot home at reduced speed.",
        see="Motion stops when you press it fully, and when you let it go.",
        topics=("move",),
        acts=(acts.MOVE_ONE,),
    )
    yield Draft(
        "Bring the other robot home by the same steps, then switch all drives off.",
        see="Both show home and drives off.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield Draft(
        "Take the part out and set it aside, marked.",
        see="Inspection decides on it and on the parts since the last check.",
        topics=("hot",),
        acts=(acts.UNLOAD,),
    )
    yield Draft(
        "After a collision, check the tool centre points as in the prove-out.",
        see="If a tool centre point is off, no weld is where the map shows it.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield Draft("Load the fixture.", see=LOADED, topics=("clamps", "parts"), acts=(acts.LOAD_PART,))
    yield from out_last("the stop")


def end(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps that end a run or a shift: the cell empty and stopped, a fire watch, the handing over."""
    yield from stop_and_open(views[0].call)
    yield Draft(
        "Take the last part out.",
        see="Marked for the last-off inspection.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    for family in families(view.operation.process for view in views):
        yield from family.at_the_end([view for view in views if view.family is family])
    yield Draft(
        "Leave the cell with your tools, everybody counted out, and close the gate.",
        see="Manual, welding inhibited.",
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
        "Hand over the key and what is fitted.",
        see=f"{', '.join(['Part count', *handed])}: the next order counts from them.",
    )


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
        acts=(whole_list("coupons", coupon_drafts(first)),),
    )


def coupons(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps that weld and test coupons in the middle of a run."""
    yield from stop_and_open(views[0].call)
    yield cleared_for_coupons()
    yield Draft(
        f"Weld and test coupons: prove-out from “{COUPONS_BEGIN}” to the coupons' hold point.",
        see="Accepted and signed.",
        hold=True,
        acts=(whole_list("coupons", coupon_drafts(views[0])),),
    )
    yield Draft(
        "Open the gate and load the fixture.",
        see=LOADED,
        topics=("clamps", "parts"),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART),
    )
    yield from out_last("the change of the setting")


def cleared_for_coupons() -> Draft:
    """Return the step that makes room for coupons; the clamps need their air to open."""
    return Draft(
        "Take the part out of the fixture.",
        see="The coupons need its place.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )


def start_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from the end of a shift to the run of the next one."""
    yield Draft("Read the part counter.", see="As it was handed over.")
    yield Draft(
        "Open the gate and go in alone, key in hand.",
        see="Manual, welding inhibited. No lock is left on the cell.",
        acts=(acts.OPEN_GATE, acts.SEND_OUT),
    )
    for family in families(view.operation.process for view in views):
        yield from family.at_the_start([view for view in views if view.family is family])
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
