"""What brings hands into a cell during a run, and how the run goes on or ends: one list each.

Two lists, going in and running again, are written once; the others refer to them as a whole, so that nobody reads ten
times how a gate is opened, and are walked through them all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from weld_packets.model.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout, Lead, Procedure
from weld_packets.packet.steps import acts, fitting
from weld_packets.packet.steps.entry import (
    count_out_to_automatic,
    lock_out,
    stop_and_open,
    take_lock_off,
    to_automatic,
    to_manual,
)
from weld_packets.packet.steps.placing import Draft, placed, shared_out
from weld_packets.packet.steps.prove import PROVED, coupon_drafts, plant_checks
from weld_packets.packet.steps.run import run_drafts
from weld_packets.packet.steps.state import Act, CellState
from weld_packets.units import as_written
from weld_packets.wording.english import listed
from weld_packets.wording.phrases import call_words

RUNNING = replace(
    PROVED, mode="automatic", reset=True, cycle="running", robots="away", welding="enabled", fixture="part"
)
"""A cell in its run, as the starting list leaves it."""

_ROBOT = "the robot"
"""As a list that is read for one of several robots names it."""
GO_IN, RUN_AGAIN = "Go in and lock out", "Come out and run again"


@dataclass(frozen=True)
class Called:
    """A list before it is printed."""

    key: str
    title: str
    where: str
    when: str
    drafts: tuple[Draft, ...]


def run_lists(
    views: Sequence[OperationView], first_due: str, callouts: Sequence[Callout]
) -> tuple[tuple[Action, ...], tuple[Procedure, ...]]:
    """Return what is done during a run, and every list that it may call for, going in and running again first.

    A message of the run stands once, in the list that has the step which it is about.
    """
    watching = tuple(run_drafts(views, first_due))
    called = {each.key: each for each in called_for(views)}
    messages = shared_out({_WATCHING: watching, **{key: each.drafts for key, each in called.items()}}, callouts)
    lists = tuple(_procedure(each, messages[key]) for key, each in called.items())
    return placed(watching, messages[_WATCHING]), lists


_WATCHING = "during the run"


def called_for(views: Sequence[OperationView]) -> Iterator[Called]:
    """Yield the lists; things that are changed the same way in several cells share one."""
    every = _cells(views)
    yield Called("go-in", GO_IN, every, "Before hands go to gun, torch, feeder, wire, caps or gas.", tuple(_go_in()))
    yield Called("run-again", RUN_AGAIN, every, "After every entry, once the lock is off.", tuple(_run_again(views)))
    yield Called(
        "load", "Load the next part", every,
        "Where a cell is loaded through its gate. A loading place with a guard of its own: by its own instruction.",
        tuple(_load()),
    )  # fmt: skip
    yield from _dressing(views)
    yield from _caps(views)
    yield from _spools(views)
    yield from _tips(views)
    yield from _gas(views)
    yield Called(
        "after-stop", "After an emergency stop or a collision", every,
        "Before anything moves again.", tuple(_after_stop(views)),
    )  # fmt: skip
    yield Called(
        "end", "Stop at the end of the run or the shift", every,
        "The emergency stop is not for this.", tuple(_end(views)),
    )  # fmt: skip
    yield Called(
        "start-again", "Start again after the end of a shift", every,
        "After the list above, by whoever takes over the key.", tuple(_start_again(views)),
    )  # fmt: skip


def start_of(called: Called) -> CellState:
    """Return the state of the cell in which a list begins."""
    return _STARTS.get(called.key, RUNNING)


def _procedure(called: Called, callouts: Sequence[Callout]) -> Procedure:
    return Procedure(
        key=called.key,
        title=called.title,
        where=called.where,
        when=called.when,
        steps=placed(called.drafts, callouts, start_of(called)),
    )


def _cells(views: Iterable[OperationView]) -> str:
    return listed(dict.fromkeys(view.cell.id for view in views))


# ---------------------------------------------------------------- going in and coming out


def _go_in() -> Iterator[Draft]:
    yield from stop_and_open()
    yield from lock_out("the cell")


def _run_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield from plant_checks(views[0])
    yield from _out_to_running()


def _out_to_running() -> Iterator[Draft]:
    yield from count_out_to_automatic()
    yield Draft(
        "Enable welding and full speed override on both robots.",
        see="Both pendants show it.",
        value="welding enabled",
        acts=(acts.ENABLE, acts.FULL_SPEED),
    )
    yield Draft(
        "Select the part programs and read them back from both robots.",
        see="As in the list of programs; not the coupons'.",
        acts=(acts.SELECT_PART,),
    )
    yield Draft(
        "Press cycle start and watch the next part, a hand near the emergency stop.",
        see="As the accepted first part. Check it before the run goes on.",
        topics=("start",),
        acts=(acts.START,),
    )


def _load() -> Iterator[Draft]:
    yield Draft("Let the cycle end.", see="Both robots stand at home. Nothing moves.", acts=(acts.CYCLE_STOP,))
    yield Draft("Open the gate and stay outside.", see="The panel shows all drives off.", acts=(acts.OPEN_GATE,))
    yield to_manual("The key stays with you while anybody is inside.")
    yield Draft(
        "Take the part out with heat-resistant gloves.",
        see="Robots at home, drives off.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    yield Draft(
        "Load the components on their stops, hands out, and close the clamps.",
        see="Every clamp closes, and no gap opens.",
        topics=("clamps", "parts"),
        acts=(acts.ENTER, acts.LOAD_PART),
    )
    yield Draft(
        "Count everybody out with the gate in your hand, and close it.",
        see="Nobody is inside.",
        topics=("start",),
        acts=(acts.LEAVE, acts.COUNT_OUT, acts.CLOSE_GATE),
    )
    yield from to_automatic("Nobody is inside.")
    yield Draft("Press cycle start.", see="Robots, clamps and welds as on the first part.", acts=(acts.START,))


def _whole(name: str, drafts: Iterable[Draft]) -> Act:
    return Act(name, takes=tuple(act for draft in drafts for act in draft.acts))


def _lead(key: str, words: str) -> Lead:
    return Lead(page="going-in", anchor=f"list-{key}", words=words)


def _in_first() -> Draft:
    return Draft(
        "Go in and lock out by the first list of this page.",
        see="Every step of it, every time.",
        acts=(_whole(GO_IN, _go_in()), acts.ENTER),
        lead=_lead("go-in", GO_IN),
    )


def _out_last(what: str) -> Iterator[Draft]:
    yield Draft(
        "Come out and run again by the second list of this page.",
        see="Every step of it, every time.",
        acts=(_whole(RUN_AGAIN, _out_to_running()),),
        lead=_lead("run-again", RUN_AGAIN),
    )
    yield Draft(f"Write down the part count and {what}.", see="The next order counts from it.")


# ---------------------------------------------------------------- electrode caps


def _guns(views: Iterable[OperationView]) -> dict[tuple[str, str], list[tuple[OperationView, Robot]]]:
    """Return the robots with a gun, by electrode cap and way of dressing."""
    found: dict[tuple[str, str], list[tuple[OperationView, Robot]]] = {}
    for view in views:
        for robot in view.robots:
            gun = view.gun(robot)
            if gun is not None:
                found.setdefault((gun.cap, gun.dressing), []).append((view, robot))
    return found


def _dressing(views: Sequence[OperationView]) -> Iterator[Called]:
    for (cap, way), robots in _guns(views).items():
        where = fitting.names(robot for _, robot in robots)
        face = as_written(robots[0][0].approved.caps[cap].face)
        by_hand = way == "hand"
        yield Called(
            f"dress-{way}-{cap}",
            f"Dress electrode caps {'by hand' if by_hand else 'at the power dresser'}",
            where,
            "When the schedule says so, or when caps mushroom. Caps that stick: list after an emergency stop.",
            tuple(_by_hand(face) if by_hand else _by_power(face)),
        )


def _by_hand(face: str) -> Iterator[Draft]:
    yield _in_first()
    yield fitting.dress_by_hand(_ROBOT, face)
    yield from take_lock_off()
    yield Draft(
        "Close the gun of the robot, hands clear.",
        see="The control takes over the new wear of the caps.",
        acts=(acts.ENTER, acts.MEASURE_FORCE),
    )
    yield from _out_last("the dressing")


def _by_power(face: str) -> Iterator[Draft]:
    yield Draft(
        "Stop the cell with cycle stop. The gate stays closed.",
        see="Both robots stand at home.",
        acts=(acts.CYCLE_STOP,),
    )
    yield Draft(
        "Start the dressing program at the panel, from outside.",
        see="The robot dresses both caps and returns home. Nobody goes in.",
        topics=("start",),
        acts=(acts.POWER_DRESS,),
    )
    yield Draft(
        "Select the part programs again and press cycle start.",
        see=f"Look at the first welds. Face {face}, measured at the next entry.",
        acts=(acts.SELECT_PART, acts.START),
    )
    yield Draft("Write down the part count and the dressing.", see="The next order counts from it.")


def _caps(views: Sequence[OperationView]) -> Iterator[Called]:
    shared: dict[str, list[tuple[OperationView, Robot]]] = {}
    for (cap, _), robots in _guns(views).items():
        shared.setdefault(cap, []).extend(robots)
    for cap, robots in shared.items():
        yield Called(
            f"caps-{cap}",
            "Change electrode caps",
            fitting.names(robot for _, robot in robots),
            f"After {views[0].approved.plant.cap_change_after.rstrip('.')}.",
            tuple(_new_caps(robots[0][0], robots[0][1])),
        )


def _new_caps(view: OperationView, robot: Robot) -> Iterator[Draft]:
    yield _in_first()
    yield Draft("Take the part out of the fixture.", see="The coupons need the room.", acts=(acts.UNLOAD,))
    yield from fitting.caps_locked(view, [robot], _ROBOT)
    yield from take_lock_off()
    yield from fitting.caps_energised(_ROBOT)
    yield Draft(
        "Weld and test coupons: prove-out of the cell, from its first step to the coupons' hold point.",
        see="Accepted and signed.",
        hold=True,
        acts=(_whole("coupons", coupon_drafts(view)),),
    )
    yield Draft(
        "Open the gate and load the fixture.",
        see="Every component on its stops, every clamp closed.",
        topics=("parts",),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART),
    )
    yield from _out_last("the cap change")


# ---------------------------------------------------------------- wire and gas


def _wires(views: Iterable[OperationView]) -> dict[str, list[OperationView]]:
    found: dict[str, list[OperationView]] = {}
    for view in views:
        if view.wire is not None:
            found.setdefault(view.wire.id, []).append(view)
    return found


def _robots(views: Iterable[OperationView]) -> list[Robot]:
    return [robot for view in views for robot in view.robots]


def _spools(views: Sequence[OperationView]) -> Iterator[Called]:
    for name, using in _wires(views).items():
        yield Called(
            f"spool-{name}", f"Change a wire spool ({name})", fitting.names(_robots(using)),
            "When the schedule says so, before the end of the wire runs through.", tuple(_new_spool(using)),
        )  # fmt: skip


def _new_spool(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield _in_first()
    yield fitting.old_wire_out(_ROBOT)
    yield from fitting.spool_locked(views[0], _ROBOT)
    yield from take_lock_off()
    yield from fitting.wire_energised(views[0], _ROBOT, fitting.distance_of(views))
    yield from _out_last("the spool change")


def _tips(views: Sequence[OperationView]) -> Iterator[Called]:
    for name, using in _wires(views).items():
        yield Called(
            f"tip-{name}", f"Change a contact tip ({name})", fitting.names(_robots(using)),
            "When the schedule says so, or when the arc stutters.", tuple(_new_tip(using)),
        )  # fmt: skip


def _new_tip(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield _in_first()
    yield fitting.tip_off(_ROBOT)
    yield from fitting.tip_and_end(views[0], _ROBOT, fitting.distance_of(views))
    yield from take_lock_off()
    yield from _out_last("the tip change")


def _gas(views: Sequence[OperationView]) -> Iterator[Called]:
    found: dict[str, list[OperationView]] = {}
    for view in views:
        if view.gas is not None:
            found.setdefault(view.gas.id, []).append(view)
    for name, using in found.items():
        yield Called(
            f"gas-{name}", f"Change the gas cylinder ({name})", _cells(using),
            "When the schedule says so, or when the flow falls.", tuple(_new_cylinder(using[0])),
        )  # fmt: skip


def _new_cylinder(view: OperationView) -> Iterator[Draft]:
    yield _in_first()
    yield fitting.cylinder_shut()
    yield from fitting.gas_locked(view, "the cell")
    yield from take_lock_off()
    yield from fitting.purge_energised(view)
    yield Draft(
        "Read the gas flow at both nozzles with a flow meter.",
        see="As in the settings of the cell. Extraction running.",
        topics=("gas",),
        acts=(acts.ENTER, acts.SUPPLY),
    )
    yield from _out_last("the cylinder change")


# ---------------------------------------------------------------- after a stop, at the end


def _after_stop(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield Draft(
        "Leave the emergency stop pressed until the cause is found.",
        see=f"Anybody hurt: emergency call, first aid. Every time: call "
        f"{call_words(views[0].approved.plant.supervisor)}.",
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
    yield Draft(
        "Free the robot before it moves: open its gun, hands out.",
        see="At a torch that sticks, lock the power source off, cut the wire, then unlock.",
        acts=(acts.MOVE_ONE,),
    )
    yield Draft(
        "Test the enabling device, then bring that robot home at reduced speed.",
        see="Motion stops when you press it fully, and when you let it go.",
        topics=("move",),
        acts=(acts.MOVE_ONE,),
    )
    yield Draft(
        "Bring the other robot home in the same way, then switch all drives off.",
        see="Both show home and drives off.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield Draft(
        "Take the part out and set it aside, marked.",
        see="Inspection decides on it and on the parts since the last check.",
        acts=(acts.UNLOAD,),
    )
    yield Draft(
        "After a collision, check the tool centre points as in the prove-out.",
        see="Else no weld lies where the map shows it.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield Draft("Load the fixture.", see="Every component on its stops, every clamp closed.", acts=(acts.LOAD_PART,))
    yield from _out_last("the stop")


def _end(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield from stop_and_open()
    yield Draft(
        "Take the last part out.",
        see="Marked for the last-off inspection.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    if _wires(views):
        yield Draft(
            "At an arc cell, close the cylinder valve and bleed the regulator.",
            see="Extraction runs until the fume is gone.",
            topics=("gas",),
        )
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
    yield Draft(
        "Hand over the key and what is fitted.",
        see="Part count, dressings since the cap change, wire and gas left: the next order counts from them.",
    )


def _start_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield Draft(
        "Open the gate and go in alone, key in hand.",
        see="Manual, welding inhibited. No lock is left on the cell.",
        acts=(acts.OPEN_GATE, acts.SEND_OUT),
    )
    yield Draft(
        "Load the fixture for the next part.",
        see="Every component on its stops, every clamp closed, hands out.",
        topics=("clamps", "parts"),
        acts=(acts.LOAD_PART,),
    )
    if _wires(views):
        yield Draft(
            "At an arc cell, open the cylinder valve slowly and read the gas flow.",
            see="Within the allowed range of the settings. You stand to one side.",
            topics=("gas",),
        )
    yield from _out_last("the start")
    yield Draft("Read the part counter.", see="As it was handed over.")


_INSIDE = replace(
    RUNNING, mode="manual", gate="open", inside="setter", counted=False, reset=False, cycle="stopped",
    robots="home", welding="inhibited", tools="inside",
)  # fmt: skip
"""A cell with its lock off and the setter inside, the work of a list done."""
_ENDED = replace(_INSIDE, gate="closed", inside="nobody", counted=True, fixture="empty", tools="outside")
"""A cell as the end of a run or shift leaves it."""
_STARTS = {"run-again": _INSIDE, "start-again": _ENDED}
"""Where a list begins that does not begin at a cell that runs."""
