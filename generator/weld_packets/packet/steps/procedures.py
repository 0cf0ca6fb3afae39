"""What brings hands into a cell during a run, and how the run goes on or ends: one list each.

Two lists, going in and running again, are written once; the others refer to them as a whole, so that nobody reads ten
times how a gate is opened, and are walked through them all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from weld_packets.model.tables import Inspection, Occasion
from weld_packets.packet.operation.inspections import inspections_for
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout, Procedure
from weld_packets.packet.steps.coupons import coupon_drafts
from weld_packets.packet.steps.entry import (
    count_out_to_automatic,
    lock_out,
    stop_and_open,
    take_lock_off,
    to_automatic,
    to_manual,
)
from weld_packets.packet.steps.lists import printed_steps, shared_out
from weld_packets.packet.steps.prove import PROVED
from weld_packets.packet.steps.run import run_drafts
from weld_packets.packet.steps.welding import judged, makes_fume, plant_checks
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, Called, Draft, Lead, one_by_one
from weld_packets.processes.cell.state import Act, CellState
from weld_packets.processes.family import View, Words, families
from weld_packets.units import as_written
from weld_packets.wording.english import inside, joined, listed

RUNNING = replace(
    PROVED, mode="automatic", reset=True, cycle="running", robots="away", welding="enabled", fixture="part"
)
"""A cell in its run, as the starting list leaves it."""

GO_IN, RUN_AGAIN = "Go in and lock out", "Come out and run again"


def run_lists(
    views: Sequence[OperationView], first_due: str, callouts: Sequence[Callout]
) -> tuple[tuple[Action, ...], tuple[Procedure, ...]]:
    """Return what is done during a run, and every list that it may call for, going in and running again first.

    A message of the run is given once, in the list that has the step which it is about.
    """
    watching = tuple(run_drafts(views, first_due))
    called = {each.key: each for each in called_for(views)}
    messages = shared_out({_WATCHING: watching, **{key: each.drafts for key, each in called.items()}}, callouts)
    lists = tuple(_procedure(each, messages[key]) for key, each in called.items())
    return printed_steps(watching, messages[_WATCHING]), lists


_WATCHING = "during the run"


def called_for(views: Sequence[OperationView]) -> Iterator[Called]:
    """Yield the lists; things that are changed by the same procedure in several cells share one."""
    every = _cells(views)
    yield Called("go-in", GO_IN, every, f"Before hands go to {_hands_at(views)}.", tuple(_go_in(views[0].call)))
    yield Called("run-again", RUN_AGAIN, every, "After every entry, once the lock is off.", tuple(_run_again(views)))
    yield Called(
        "load", "Load the next part", every,
        "Where a cell is loaded through its gate. A loading place with a guard of its own: by its own instruction.",
        tuple(_load()),
    )  # fmt: skip
    for family in families(view.operation.process for view in views):
        yield from family.run_lists([view for view in views if view.family is family], _Kit(views[0].call))
    yield Called(
        "coupon", "Weld and test coupons during the run", every,
        "After any change of a setting, before the next part; and wherever a check asks for a coupon.",
        tuple(_coupons(views)),
    )  # fmt: skip
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
        steps=printed_steps(one_by_one(called.drafts), callouts, start_of(called)),
    )


def _cells(views: Iterable[View]) -> str:
    return listed(dict.fromkeys(view.cell.id for view in views))


# ---------------------------------------------------------------- going in and coming out


def _go_in(call: str) -> Iterator[Draft]:
    yield from stop_and_open(call)
    yield from lock_out("the cell")


def _run_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    for family in families(view.operation.process for view in views):
        yield from family.at_every_restart([view for view in views if view.family is family])
    yield from _extraction(views)
    yield from plant_checks(views[0])
    yield from _out_to_running()


def _extraction(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the fume extraction of the cells that need it; a lock-out and the end of a shift switch it off."""
    cells = _cells(view for view in views if makes_fume(view))
    if cells:
        where = "" if cells == _cells(views) else f" at {cells}"
        yield Draft(
            f"Switch the fume extraction on{where}, its inlet close to the welds.", see="No extraction, no welding."
        )


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
        see="As the accepted first-off part. Check it before the run goes on.",
        topics=("start",),
        acts=(acts.START,),
    )


def _load() -> Iterator[Draft]:
    yield Draft("Let the cycle end.", see="Both robots are at home. Nothing moves.", acts=(acts.CYCLE_STOP,))
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
        "Stand at the gate, count everybody out, and close it.",
        see="Nobody is inside.",
        topics=("start",),
        acts=(acts.LEAVE, acts.COUNT_OUT, acts.CLOSE_GATE),
    )
    yield from to_automatic("Nobody is inside.")
    yield Draft("Press cycle start.", see="Robots, clamps and welds as on the first-off part.", acts=(acts.START,))


def _whole(name: str, drafts: Iterable[Draft]) -> Act:
    return Act(name, takes=tuple(act for draft in drafts for act in draft.acts))


def _lead(key: str, words: str) -> Lead:
    return Lead(page="going-in", anchor=f"list-{key}", words=words)


def _in_first(call: str) -> Draft:
    return Draft(
        f"Go in by the list “{GO_IN}”.",
        see="Every step of it, every time.",
        acts=(_whole(GO_IN, _go_in(call)), acts.ENTER),
        lead=_lead("go-in", GO_IN),
    )


def _out_last(what: str, checks: Iterable[Draft] = ()) -> Iterator[Draft]:
    yield Draft(
        f"Come out by the list “{RUN_AGAIN}”.",
        see="Every step of it, every time.",
        acts=(_whole(RUN_AGAIN, _out_to_running()),),
        lead=_lead("run-again", RUN_AGAIN),
    )
    yield from checks
    yield Draft(f"Write down the part count and {what}.", see="The next order counts from it.")


@dataclass(frozen=True)
class _Kit:
    """What the lists of all families share; ``call`` says whom to call."""

    call: str

    def go_in(self) -> Draft:
        return _in_first(self.call)

    def take_lock_off(self) -> Iterator[Draft]:
        return take_lock_off()

    def run_again(self, what: str, checks: Iterable[Draft] = ()) -> Iterator[Draft]:
        return _out_last(what, checks)

    def checks(self, views: Sequence[Any], occasion: Occasion) -> Iterator[Draft]:
        found = ((each, view) for view in views for each in inspections_for(view, occasion))
        for each in dict.fromkeys((inside(check.what), judged(check, view)) for check, view in found):
            yield Draft(f"Check the next part before the run goes on: {each[0]}.", see=each[1])

    def coupons(self, view: Any) -> Act:
        return _whole("coupons", coupon_drafts(view))

    def cells(self, views: Iterable[View]) -> str:
        return _cells(views)


def _words(views: Sequence[OperationView]) -> list[Words]:
    """Return the words of the families of an order, each once, in the order of the families."""
    every = families(view.operation.process for view in views)
    return list(dict.fromkeys(view.words for family in every for view in views if view.family is family))


def _hands_at(views: Sequence[OperationView]) -> str:
    """Return where hands go during a run: tools first, then what is changed at them."""
    words = _words(views)
    things = [*(tool for each in words for tool in each.tools), *(worn for each in words for worn in each.worn)]
    *most, last = dict.fromkeys(things)
    return f"{', '.join(most)} or {last}" if most else last


# ---------------------------------------------------------------- after a stop, at the end


def _after_stop(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield Draft(
        "Leave the emergency stop pressed until the cause is found.",
        see=f"Anybody hurt: emergency call, first aid. Every time: call {views[0].call}.",
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
    words = _words(views)
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
        acts=(acts.UNLOAD,),
    )
    yield Draft(
        "After a collision, check the tool centre points as in the prove-out.",
        see="If a tool centre point is off, no weld is where the map shows it.",
        acts=(acts.ONE_LIVE, acts.MOVE_HOME, acts.DRIVES_OFF),
    )
    yield Draft("Load the fixture.", see="Every component on its stops, every clamp closed.", acts=(acts.LOAD_PART,))
    yield from _out_last("the stop")


def _end(views: Sequence[OperationView]) -> Iterator[Draft]:
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
    handed = dict.fromkeys(thing for each in _words(views) for thing in each.handed_over)
    yield Draft(
        "Hand over the key and what is fitted.",
        see=f"{', '.join(['Part count', *handed])}: the next order counts from them.",
    )


def _coupons_of_the_shift(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the coupons that the plan of inspections asks for at the start of a shift, where it does."""
    checks = {view.key: (view, each) for view in views for each in inspections_for(view, "shift start")}
    if not checks:
        return
    cells = _cells(view for view, _ in checks.values())
    where = "" if cells == _cells(views) else f" at {cells}"
    accept = dict.fromkeys(_accept(check) for _, check in checks.values())
    first, _ = next(iter(checks.values()))
    yield Draft(
        f"Weld and test the coupons of the shift{where}.",
        see=f"Prove-out from “{COUPONS_BEGIN}” to the coupons' hold point. Accept: {joined(accept)}; "
        "numbers on the page Inspection. Accepted and signed.",
        hold=True,
        acts=(_whole("coupons", coupon_drafts(first)),),
    )


def _accept(check: Inspection) -> str:
    return check.accept.rstrip(".")


def _coupons(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield from stop_and_open(views[0].call)
    yield Draft(
        "Take the part out of the fixture.",
        see="The coupons need its place.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    yield Draft(
        f"Weld and test coupons: prove-out from “{COUPONS_BEGIN}” to the coupons' hold point.",
        see="Accepted and signed.",
        hold=True,
        acts=(_whole("coupons", coupon_drafts(views[0])),),
    )
    yield Draft(
        "Open the gate and load the fixture.",
        see="Every component on its stops, every clamp closed.",
        topics=("parts",),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART),
    )
    yield from _out_last("the change of the setting")


def _start_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    yield Draft("Read the part counter.", see="As it was handed over.")
    yield Draft(
        "Open the gate and go in alone, key in hand.",
        see="Manual, welding inhibited. No lock is left on the cell.",
        acts=(acts.OPEN_GATE, acts.SEND_OUT),
    )
    for family in families(view.operation.process for view in views):
        yield from family.at_the_start([view for view in views if view.family is family])
    yield from _extraction(views)
    coupons = tuple(_coupons_of_the_shift(views))
    yield from coupons
    yield Draft(
        f"{'Open the gate and load' if coupons else 'Load'} the fixture for the next part.",
        see="Every component on its stops, every clamp closed, hands out.",
        topics=("clamps", "parts"),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART) if coupons else (acts.LOAD_PART,),
    )
    yield from _out_last("the start")


_INSIDE = replace(
    RUNNING, mode="manual", gate="open", inside="setter", counted=False, reset=False, cycle="stopped",
    robots="home", welding="inhibited", tools="inside",
)  # fmt: skip
"""A cell with its lock off and the setter inside, the work of a list done."""
_ENDED = replace(_INSIDE, gate="closed", inside="nobody", counted=True, fixture="empty", tools="outside")
"""A cell as the end of a run or shift leaves it."""
_STARTS = {"run-again": _INSIDE, "start-again": _ENDED}
"""Where a list begins that does not begin at a cell that runs."""
