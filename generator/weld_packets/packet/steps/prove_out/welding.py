"""Around the welding of coupons and first-off part: one robot live, checks, speed, and out of the cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from weld_packets.grouping import grouped
from weld_packets.model.tables.inspection import Inspection
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.materials import ROOM
from weld_packets.packet.operation.inspections import accepted
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import welds_of
from weld_packets.packet.steps.entry import stop_and_open, wait_outside
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Task, as_task, step_key
from weld_packets.units import exact
from weld_packets.wording.english import as_sentences, capital, first_sentence, joined, listed


def only_live(robot: Robot, other: Robot) -> Iterator[Draft]:
    """Yield what leaves one robot alone able to move, the other at home with its drives off."""
    yield Draft(
        f"Switch the drives of {other.id} off, at its home position.",
        see=f"{other.id} shows home and drives off. Only {robot.id} can move.",
        topics=("move",),
        acts=(acts.ONE_LIVE,),
        key=step_key("drives-off", other.id),
    )


def sides(view: OperationView) -> list[str]:
    """Return the sides of the robots that weld."""
    return [robot.side for robot, _ in welding_robots(view)]


def one_by_one(view: OperationView) -> tuple[tuple[Robot, Robot], tuple[Robot, Robot]]:
    """Return each robot with the one that stands still while it moves."""
    first, second = view.robots
    return (first, second), (second, first)


def welding_robots(view: OperationView) -> Iterator[tuple[Robot, Robot]]:
    """Yield each robot that welds, with the one that stands still meanwhile."""
    return ((robot, other) for robot, other in one_by_one(view) if welds_of(view, robot.id))


def drives_off() -> Draft:
    """Return what leaves both robots at home, where nothing can move them."""
    return Draft(
        "Switch the drives of both robots off, at home.",
        see="Both show home and drives off.",
        acts=(acts.DRIVES_OFF,),
        key="drives-off",
    )


def low_speed() -> Draft:
    """Return the override for dry cycles in automatic."""
    return Draft(
        "Set a low speed override on both robots.",
        see="Both pendants show it.",
        acts=(acts.LOW_SPEED,),
        key="low-speed",
    )


def full_speed() -> Draft:
    """Return the override for welding."""
    return Draft(
        "Restore full speed override on both robots.",
        see="Both pendants show 100 %.",
        acts=(acts.FULL_SPEED,),
        key="full-speed",
    )


def before_welding(view: OperationView) -> Iterator[Draft]:
    """Yield what is looked at before anything welds: gas or water, fume extraction, and what the plant adds."""
    opened, fume = tuple(view.family.opened(view)), makes_fume(view)
    does = (
        f"open {view.words.opened}" if opened else "",
        "switch the fume extraction on" if fume else "",
        "make the plant's checks" if view.approved.plant.start_checks else "",
    )
    task = Task(
        "make-ready",
        f"{capital(joined(does, ', '))}.",
        joined(("No extraction, no welding." if fume else "", *map(_short, view.approved.plant.start_checks)), " "),
        joined(dict.fromkeys(draft.value for draft in opened)),
    )
    yield from as_task(task, (*opened, *_ready_to_weld(view)))


def _short(check: str) -> str:
    """Return a check of the plant as a task says it: what to do, without what to see then."""
    return as_sentences([first_sentence(check)[0]])


def _ready_to_weld(view: OperationView) -> Iterator[Draft]:
    if makes_fume(view):
        yield Draft(
            "Switch the fume extraction on, its inlet close to the welds.",
            see=f"{view.cell.extraction.rstrip('.')}. No extraction, no welding.",
            topics=("weld",),
            key="fume-extraction",
        )
    yield from plant_checks(view)


def preheated(view: OperationView, what: str) -> Iterator[Draft]:
    """Yield the preheat of ``what`` is welded next, last before the cell is closed; none up to that of a room."""
    warm = (
        (value.text, group)
        for group, value in view.values("working_temperature")
        if value.amount is not None and Decimal(value.amount.value) > exact(ROOM, value.amount.unit)
    )
    for minimum, groups in grouped(warm).items():
        joints = "" if len(groups) == len(view.groups) else listed(group.name for group in groups)
        yield Draft(
            f"Preheat {what} and measure its temperature beside each seam.",
            see=capital(joined((joints, "still as warm when the arc starts, else preheated again"))),
            value=f"at least {minimum}",
            key=step_key("preheat", groups[0].key),
        )


def makes_fume(view: OperationView) -> bool:
    """Return whether an operation needs fume extraction: by its process, or by a coating of its components."""
    return bool(view.family.makes_fume) or any(material.coating != "none" for material in view.materials)


def plant_checks(view: OperationView) -> Iterator[Draft]:
    """Yield what the plant's table adds to look at before anything welds."""
    for check in view.approved.plant.start_checks:
        do, see = first_sentence(check)
        yield Draft(do, see=see, key=step_key("plant", do))


def welding_on() -> Draft:
    """Return what lets the programs weld."""
    return Draft(
        "Enable welding on both robots.",
        see="Both pendants show it. Nobody is inside.",
        value="welding enabled",
        acts=(acts.ENABLE,),
        key="enable-welding",
    )


def out_of_the_cell(view: OperationView, what: str, meanwhile: str) -> Iterator[Draft]:
    """Yield the steps that take out what a running cell has welded and leave it stopped with its gate closed."""
    task = Task(
        "take-out",
        f"Stop the cell, open the gate, take the key, inhibit welding. Take the {what} out, close the gate.",
        f"Robots at home and drives off before you go in; if not, nobody goes in: call {view.call}. "
        "Heat-resistant gloves.",
        "manual, welding inhibited",
    )
    taken = Draft(
        f"Take the {what} out with heat-resistant gloves.",
        see="Robots at home, drives off, clamps open.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
        key="take-out",
    )
    yield from as_task(task, (*stop_and_open(view.call), taken, wait_outside(f"while {meanwhile}")))


def judged(check: Inspection, view: OperationView) -> str:
    """Return how a check is made and what it accepts, with every limit."""
    return _judged(check, view, view.limit_lines(check.limits))


def proved(check: Inspection, view: OperationView) -> str:
    """Return how a check of a prove-out is made; its limits of imperfections are beside the results to be entered."""
    return _judged(check, view, (BESIDE_RESULTS,) if view.limit_lines(check.limits) else ())


BESIDE_RESULTS = "the limits are beside the results in the set-up record, on paper under Results"


def _judged(check: Inspection, view: OperationView, limits: Sequence[str]) -> str:
    return f"{check.how.rstrip('.')}. Accept: {accepted(check, view, limits)}."
