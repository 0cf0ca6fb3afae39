"""What is done at a cell that stopped otherwise than by cycle stop, or lost what it works with, until it runs again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.entry import take_lock_off, to_manual
from weld_packets.packet.steps.run.going_in import in_first, lead_to, out_last, whole_list, words_of
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import AFTER_STOP, LOADED, Draft
from weld_packets.processes.cell.state import Act
from weld_packets.wording.english import as_sentences, capital, joined, listed


def after_stop(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from an emergency stop or a collision to the run."""
    call = views[0].call
    yield Draft(
        "Leave the emergency stop pressed until the cause is found.",
        see="Anybody hurt: emergency call, first aid. Anybody trapped: prop the arm, which drops when its brake is "
        f"released, then free them without drive power, as the robot maker's manual says. Every time: call {call}.",
        acts=(acts.EMERGENCY_STOP,),
    )
    yield Draft(
        "At fire or smoke, set off the alarm, get everybody out and isolate the cell from outside.",
        see="Fume extraction off and gas shut, if you reach them safely. Put a fire out only if you are trained, with "
        f"an extinguisher for live equipment. Nobody goes on before {call} says so.",
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
        see="Only the other one can move. Your escape route is clear.",
        topics=("move",),
        acts=(acts.SEND_OUT, acts.ONE_LIVE),
    )
    yield _freed(views)
    yield Draft(
        "Test the enabling device, then bring that robot home at reduced speed.",
        see=f"Motion stops when you press it fully, and when you let it go. If not, leave and call {call}.",
        topics=("move",),
        acts=(acts.MOVE_ONE,),
    )
    yield Draft(
        "Bring the other robot home by the same steps, then switch all drives off.",
        see="Both show home and drives off.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield set_aside()
    yield Draft(
        "After a collision, look for damage at tools, cables, hoses and fixture.",
        see=f"Drives off. At any damage, call {call}.",
    )
    yield Draft(
        "After a collision, check the tool centre points as in the prove-out.",
        see=f"If one is off, call {call}: the cell is proved out again before the run.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield _loaded(acts.LOAD_PART)
    yield from out_last("the stop")


def _freed(views: Sequence[OperationView]) -> Draft:
    """Return the step that parts a robot from the work; hands go to what may be live, or may close."""
    words = words_of(views)
    freed = joined(each.frees for each in words)
    return Draft(
        f"Free the robot before it moves{': ' if freed else ''}{freed}.",
        see=joined((each.sticks for each in words), " "),
        topics=("enter", "caps"),
        acts=(acts.MOVE_ONE,),
    )


def set_aside() -> Draft:
    """Return the step that takes out a part of which nobody knows whether it is good."""
    return Draft(
        "Take the part out and set it aside, marked.",
        see="No weld is taken up in its middle, nor repaired by the program. Inspection decides on the part and on "
        "those since the last check.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )


def _loaded(*done: Act) -> Draft:
    return Draft("Load the fixture.", see=LOADED, topics=("clamps", "parts"), acts=done)


def after_failure(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from a leak, or from the loss of water, gas, air or extraction, to the run."""
    yield Draft(
        "Stop the cell with cycle stop.",
        see="Both robots are at home. Somebody in danger, a jet of water or air, water at anything electrical: press "
        f"the emergency stop instead, and bring the robots home by “{AFTER_STOP}” after the repair.",
        acts=(acts.CYCLE_STOP,),
    )
    aired = "After a leak of gas, air the cell first: nobody goes in, or into a pit, until the gas is gone."
    valves = [each.shut_at for each in words_of(views) if each.shut_at]
    yield Draft(
        "Shut off what leaks or fails, at its valve outside the cell.",
        see=as_sentences(
            (capital(listed([*valves, "air at its main valve"])), *([aired] if any(view.gas for view in views) else []))
        ),
        topics=("gas",),
    )
    yield in_first(views[0].call)
    yield Draft(
        "Call whoever repairs the fault: for anything electrical, an electrician.",
        see="Each with a lock of their own; no pressure on what is opened. What got wet is dry and tested before it "
        "gets power. No switch, valve or guard is bridged.",
        acts=(acts.ENTER, acts.REACH_IN),
    )
    yield from take_lock_off()
    yield Draft(
        "Open what was shut one after the other, hands clear of clamps and tools.",
        see="Each shows its flow or pressure; no joint leaks. Clamps may move when air comes back.",
        topics=("gas", "clamps"),
        acts=(acts.ENTER, acts.SUPPLY),
    )
    yield set_aside()
    yield _loaded(acts.ENTER, acts.LOAD_PART)
    yield from out_last("the fault")


def after_power_failure(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from a power failure, which finds the robots off their path, to the run."""
    yield Draft(
        "Press the emergency stop and stay outside.",
        see="Power may come back at any moment, and then nothing may move. Clamps may have opened and let a part go.",
        acts=(acts.EMERGENCY_STOP,),
    )
    yield to_manual("The key stays with you.")
    yield Draft(
        "Read every alarm at the panel and on both pendants, once power is back.",
        see=f"Both controls have started, and both robots know where they are. If not, nothing moves: call "
        f"{views[0].call}.",
    )
    yield Draft(
        "Compare settings, speed override and part counter with what was noted before.",
        see="What is lost is set, read back and proved out again before the run.",
        acts=(acts.AT_CONTROLS,),
    )
    yield Draft(
        f"Go on by the list “{AFTER_STOP}”.",
        see="Every step of it.",
        acts=(whole_list(AFTER_STOP, after_stop(views)),),
        lead=lead_to("after-stop", AFTER_STOP),
    )
