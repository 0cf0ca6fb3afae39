"""Going into a cell that runs and coming out of it again: two lists, written once, to which all others refer.

So nobody reads ten times how a gate is opened; the other lists are walked through their steps all the same. Two that
several lists share stand here too: the next part loaded through the gate, and coupons in the middle of a run.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.entry import count_out_to_automatic, lock_out, stop_and_open, to_automatic, to_manual
from weld_packets.packet.steps.prove_out.coupons import coupon_drafts
from weld_packets.packet.steps.prove_out.welding import makes_fume, plant_checks
from weld_packets.processes.answers import FamilyWords
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, LOADED, Draft, Lead
from weld_packets.processes.cell.state import Act
from weld_packets.processes.family import by_family
from weld_packets.processes.view import cells_of

GO_IN, RUN_AGAIN = "Go in and lock out", "Come out and run again"


def words_of(views: Sequence[OperationView]) -> list[FamilyWords]:
    """Return the words of the families of an order, each once, in the order of the families."""
    return list(dict.fromkeys(view.words for _, own in by_family(views) for view in own))


def go_in(call: str) -> Iterator[Draft]:
    """Yield the steps from a cell that runs to the locked-out cell; ``call`` says whom to call."""
    yield from stop_and_open(call)
    yield from lock_out("the cell")


def run_again(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps from a cell without its lock, the setter inside, to the next part."""
    for family, own in by_family(views):
        yield from family.at_every_restart(own)
    yield from extraction(views)
    yield from plant_checks(views[0])
    yield from _out_to_running()


def extraction(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the fume extraction of the cells that need it; a lock-out and the end of a shift switch it off."""
    cells = cells_of(view for view in views if makes_fume(view))
    if cells:
        where = "" if cells == cells_of(views) else f" at {cells}"
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


def load_next() -> Iterator[Draft]:
    """Yield the steps that take a part out of a cell that is loaded through its gate, and load the next."""
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


def whole_list(name: str, drafts: Iterable[Draft]) -> Act:
    """Return what all steps of a list do, as one act of the step that refers to it."""
    return Act(name, takes=tuple(act for draft in drafts for act in draft.acts))


def lead_to(key: str, words: str) -> Lead:
    """Return the link to a list of the page that holds them all."""
    return Lead(page="going-in", anchor=f"list-{key}", words=words)


def in_first(call: str) -> Draft:
    """Return the step that goes in by the list for it."""
    return Draft(
        f"Go in by the list “{GO_IN}”.",
        see="Every step of it, every time.",
        acts=(whole_list(GO_IN, go_in(call)), acts.ENTER),
        lead=lead_to("go-in", GO_IN),
    )


def out_last(what: str, checks: Iterable[Draft] = ()) -> Iterator[Draft]:
    """Yield the steps that come out by the list for it, ``checks``, and the note of ``what`` was done."""
    yield Draft(
        f"Come out by the list “{RUN_AGAIN}”.",
        see="Every step of it, every time.",
        acts=(whole_list(RUN_AGAIN, _out_to_running()),),
        lead=lead_to("run-again", RUN_AGAIN),
    )
    yield from checks
    yield Draft(f"Write down the part count and {what}.", see="The next order counts from it.")


def coupons(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps that weld and test coupons in the middle of a run."""
    yield from stop_and_open(views[0].call)
    yield from coupons_and_load(views[0])
    yield from out_last("the change of the setting")


def coupons_and_load(view: OperationView, made_ready: Iterable[Draft] = ()) -> Iterator[Draft]:
    """Yield how the fixture is emptied for coupons, their proving by the prove-out, and the part loaded after them.

    ``made_ready`` is what comes before the coupons, with the fixture empty.
    """
    yield Draft(
        "Take the part out of the fixture.",
        see="The coupons need its place.",  # and the clamps need their air to open
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
    yield from made_ready
    yield Draft(
        f"Weld and test coupons: prove-out from “{COUPONS_BEGIN}” to the coupons' hold point.",
        see="Accepted and signed.",
        hold=True,
        acts=(coupons_as_a_whole(view),),
    )
    yield Draft(
        "Open the gate and load the fixture.",
        see=LOADED,
        topics=("clamps", "parts"),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART),
    )


def coupons_as_a_whole(view: OperationView) -> Act:
    """Return the act of proving the coupons of an operation."""
    return whole_list("coupons", coupon_drafts(view))
