"""The first-off part of a prove-out: loaded, stepped through dry, welded and inspected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.model.tables.machines import Robot
from weld_packets.packet.operation.inspections import inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import welds_of
from weld_packets.packet.records.forms import ACCEPT, FIRST_OFF
from weld_packets.packet.records.operation import PairSheet
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.steps.entry import count_out_to_automatic
from weld_packets.packet.steps.lists import steps_of_warnings
from weld_packets.packet.steps.prove_out.welding import (
    drives_off,
    full_speed,
    low_speed,
    one_by_one,
    only_live,
    out_of_the_cell,
    preheated,
    proved,
    welding_on,
)
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Task, as_task, step_key, under
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import counted, inside, joined
from weld_packets.wording.phrases import gauge_words


def first_part_drafts(
    view: OperationView, warnings: tuple[OperationWarning, ...], pair: PairSheet | None
) -> Iterator[Draft]:
    """Yield the steps from accepted coupons to an accepted first-off part; ``pair`` is how its robots keep apart."""
    yield from under("first-part-dry", _dry(view, warnings))
    yield from under("first-part", _welded(view, pair))
    yield from under(FIRST_OFF, _inspected(view, warnings))


def _dry(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    clamps, measured = view.operation.clamps, tuple(steps_of_warnings(warnings, "loading"))
    loaded = Task(
        "load",
        "Go in alone, measure and load the components, close the clamps in order, hands out.",
        "Each on its stops, no gap opens. The panel shows every component present, every clamp closed.",
        " → ".join(clamps),
        notes=tuple(draft.do for draft in measured),
    )
    yield from as_task(loaded, (_gone_in(), *load(view), *measured))
    robots, checks = one_by_one(view), tuple(steps_of_warnings(warnings, "dry run"))
    for robot, other in robots:
        is_last = robot is robots[-1][0]
        task = Task(
            step_key("part-program", robot.id),
            f"Step {robot.id} alone through its part program."
            f"{' Then switch both drives off, at home.' if is_last else ''}",
            f"{_passed(view, robot)}. {other.id} at home, drives off.",
            view.operation.programs[robot.id],
            notes=tuple(draft.do for draft in checks) if is_last else (),
        )
        last = (*checks, drives_off()) if is_last else ()
        yield from as_task(task, (*only_live(robot, other), *_dry_run(view, robot, other), *last))


def _gone_in() -> Draft:
    return Draft(
        "Open the gate and go in alone, key in hand.",
        see="Both robots at home, drives off; manual, welding inhibited.",
        topics=("move",),
        acts=(acts.OPEN_GATE, acts.SEND_OUT),
        key="go-in",
    )


def load(view: OperationView) -> Iterator[Draft]:
    """Yield the loading of the fixture, each component measured, each clamp in its order."""
    for component in view.operation.components:
        material = view.material(component)
        coating = "" if material.coating == "none" else f", {material.coating} coating"
        gauge = f", {gauge_words(component.gauge)}" if component.gauge else ""
        thickness = sheet_amount(component.thickness, view.order.show_first).text
        yield Draft(
            f"Measure the thickness of {inside(component.name)}, then load it.",
            see=f"{material.designation}{coating}{gauge}; clean, dry, seated on its stops",
            value=f"{thickness} {material.id}",
            topics=("parts",),
            acts=_LOADED if component is view.operation.components[-1] else (),
            key=step_key("load", component.id),
        )
    coldest: dict[str, str] = {}
    for each, value in view.values("working_temperature"):
        coldest.setdefault(value.text, each.key)
    for minimum, group in coldest.items():
        yield Draft(
            "Measure the temperature of the components.",
            see="Dry. Warm and dry what is colder or wet before it is welded.",
            value=f"at least {minimum}",
            key=step_key("temperature", group),
        )
    yield from _clamps(view.operation.clamps)
    yield Draft(
        "Read the component and clamp signals at the panel.",
        see="Every component present, every clamp closed.",
        key="part-signals",
    )


_LOADED = (acts.LOAD_PART,)


def _clamps(clamps: Sequence[str]) -> Iterator[Draft]:
    shut = "No gap opens between the components."
    if not clamps:
        yield Draft("Close every clamp, hands out.", see=shut, topics=("clamps",), key="clamps")
    for number, clamp in enumerate(clamps, start=1):
        see = shut if number == len(clamps) else "It is fully closed."
        yield Draft(
            f"Close clamp {number} of {len(clamps)}, hands out.",
            see=see,
            value=clamp,
            topics=("clamps",),
            key=f"clamp-{number}",
        )


def _dry_run(view: OperationView, robot: Robot, other: Robot) -> Iterator[Draft]:
    number = view.operation.programs[robot.id]
    yield Draft(
        f"Select the part program on {robot.id}.",
        see=f"The pendant of {robot.id} shows {number}.",
        value=number,
        acts=(acts.SELECT_PART,),
        key=step_key("select-program", robot.id),
    )
    welds = welds_of(view, robot.id)
    which = f", {welds[0]} to {welds[-1]}" if welds else ""
    yield Draft(
        f"Step {robot.id} through its part program.",
        see=joined((_passed(view, robot, which), f"{other.id} stands still", view.words.closing if welds else "")),
        value=number,
        topics=("move",),
        acts=(acts.step_through("part", robot.side),),
        key=step_key("step-through", robot.id),
    )


def _passed(view: OperationView, robot: Robot, which: str = "") -> str:
    """Return what a robot does in its part program; one that welds nothing runs it beside the other all the same."""
    welds, words = welds_of(view, robot.id), view.words
    if not welds:
        return "It welds nothing, and ends at home"
    return f"{counted(len(welds), words.weld)} in the order of the map{which}, {words.stops} on its place"


def _welded(view: OperationView, pair: PairSheet | None) -> Iterator[Draft]:
    yield from preheated(view, "the part")
    yield from count_out_to_automatic()
    locks = () if pair is None else pair.interlocks
    many = f", then one for each of {counted(len(locks), 'interlock')}" if locks else ""
    task = Task(
        "dry-cycles",
        f"Run one dry cycle of both robots{many}, low speed, hand at the emergency stop.",
        f"{_apart(pair)} Both end at home.",
        " + ".join(view.operation.programs[robot.id] for robot in view.robots),
    )
    yield from as_task(task, _dry_cycles(pair))
    weld = Task(
        "weld",
        "Weld the first-off part at full speed and watch from outside.",
        "Nobody inside. Every weld is there; both robots end at home.",
        "welding enabled",
    )
    yield from as_task(weld, (full_speed(), welding_on(), _weld_part()))


def _dry_cycles(pair: PairSheet | None) -> Iterator[Draft]:
    yield low_speed()
    yield Draft(
        "Press cycle start: one dry cycle of both robots, hand at the emergency stop.",
        see=f"{_apart(pair)} Both end at home.",
        topics=("start",),
        acts=(acts.dry_cycle("part", "AB"),),
        key="dry-cycle",
    )
    for lock in () if pair is None else pair.interlocks:
        yield Draft(
            f"Press cycle start: one dry cycle for interlock {lock.number}. Hold {lock.first} before "
            f"{lock.release_after}.",
            see=f"{lock.second} stops before {lock.request_before} and goes on only after {lock.first} has gone on. "
            "Both end at home.",
            value=f"interlock {lock.number}",
            topics=("start",),
            acts=(acts.dry_cycle("part", "AB"),),
            key=f"interlock-{lock.number}",
        )


def _weld_part() -> Draft:
    return Draft(
        "Press cycle start, weld the first-off part and watch from outside.",
        see="Every weld is there. Both robots end at home.",
        topics=("weld", "start"),
        acts=(acts.FIRST_PART,),
        key="weld",
    )


def _inspected(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    yield from out_of_the_cell(view, "first-off part", "the first-off part is inspected")
    checks = tuple(steps_of_warnings(warnings, "first-off"))
    task = Task(
        "accept",
        "Inspect the first-off part, enter the results and accept it.",
        f"Every result inside its limit, signed. Only then start the run. If it is rejected, call {view.call}.",
        enter="first-off",
        notes=tuple(draft.do for draft in checks),
    )
    yield from as_task(task, (*_inspections(view), *checks, _accepted(view)))


def _inspections(view: OperationView) -> Iterator[Draft]:
    for check in inspections_at(view, "first-off"):
        yield Draft(
            f"Inspect the first-off part: {inside(check.what)}.",
            see=proved(check, view),
            topics=("hot",),
            key=step_key("inspect", check.id),
        )


def _accepted(view: OperationView) -> Draft:
    return Draft(
        "Hold the run until inspection accepts the first-off part.",
        see=f"Accepted and signed. Only then start the run. If it is rejected, call {view.call}.",
        value="hold point",
        hold=True,
        acts=(acts.ACCEPT_FIRST_PART,),
        key=ACCEPT,
    )


def _apart(pair: PairSheet | None) -> str:
    """Return what is to be seen of both robots in their first dry cycle."""
    if pair is None or not pair.is_checked:
        return "The distance of the robots is not checked: stop where they come near each other."
    if not pair.interlocks:
        return "The robots never come near each other. Robots, cables and clamps stay clear too."
    return "No robot enters before its interlock is released. Robots, cables and clamps stay clear too."
