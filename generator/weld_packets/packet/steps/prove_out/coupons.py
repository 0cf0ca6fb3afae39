"""The coupons of a prove-out, welded and tested before any part is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.calculation.results import safe_name
from weld_packets.packet.operation.inspections import acceptances, inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records.forms import ACCEPT, COUPON_TEST
from weld_packets.packet.records.operation import CouponProgram
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.records.values import Value
from weld_packets.packet.steps.entry import count_out_to_automatic
from weld_packets.packet.steps.lists import steps_of_warnings
from weld_packets.packet.steps.prove_out.coupons_dry import (
    dry_drafts,
    interpass_maxima,
    programs_of,
    robots_of,
    schedules_called,
)
from weld_packets.packet.steps.prove_out.welding import (
    before_welding,
    full_speed,
    low_speed,
    out_of_the_cell,
    preheated,
    proved,
    sides,
    welding_on,
    welding_robots,
)
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Task, as_task, step_key, under
from weld_packets.wording.english import capital, inside, joined, listed


def coupon_drafts(view: OperationView, warnings: tuple[OperationWarning, ...] = ()) -> Iterator[Draft]:
    """Yield the steps from an empty fixture to accepted coupons."""
    yield from under("coupons-dry", dry_drafts(view))
    yield from under("coupons", _coupons_welded(view))
    yield from under(COUPON_TEST, _coupons_tested(view, warnings))


def _rounds(view: OperationView) -> list[list[CouponProgram]]:
    """Return the coupon programs that are welded one after another, each time one on each robot."""
    found = [programs_of(robot, coupon_programs(view)) for robot, _ in welding_robots(view)]
    longest = max(map(len, found), default=0)
    return [[each[index] for each in found if index < len(each)] for index in range(longest)]


def _coupons_welded(view: OperationView) -> Iterator[Draft]:
    yield from before_welding(view)
    yield from preheated(view, "every coupon")
    yield from count_out_to_automatic()
    rounds = _rounds(view) or [[]]
    turns = ", then ".join(" + ".join(each.program for each in programs) for programs in rounds)
    dry = Task(
        "dry-cycles",
        "Run one dry cycle of every coupon program, low speed, hand at the emergency stop.",
        "Neither robot comes near the other. Both end at home.",
        turns,
    )
    yield from as_task(dry, (low_speed(), *(draft for each in rounds for draft in _dry_round(view, each))))
    weld = Task(
        "weld-coupons",
        f"Weld the coupons at full speed{' and read ' + listed(_read(view)) if _read(view) else ''}.",
        f"Nobody inside, no burn-through. Stop if {view.words.runaway}.",
        turns,
        enter="readings" if view.family.readings else "",
    )
    yield from as_task(weld, _rounds_welded(view, rounds))


def _dry_round(view: OperationView, programs: Sequence[CouponProgram]) -> Iterator[Draft]:
    yield from _selected(view, programs, "dry")
    yield Draft(
        "Press cycle start: one dry cycle of the coupon programs, hand at the emergency stop.",
        see="Neither robot comes near the other. Both end at home.",
        topics=("start",),
        acts=(acts.dry_cycle("coupon", sides(view)),),
        key=step_key("dry-cycle", _round_key(programs)),
    )


def _rounds_welded(view: OperationView, rounds: Sequence[Sequence[CouponProgram]]) -> Iterator[Draft]:
    yield full_speed()
    yield welding_on()
    yield from _temperature_watched(view)
    for programs in rounds:
        if len(rounds) > 1:
            yield from _selected(view, programs, "welding")
        yield _weld_coupons(view, programs)
        yield from _read_currents(view, programs)


def _temperature_watched(view: OperationView) -> Iterator[Draft]:
    """Yield how the temperature between passes is read: nobody can be at the coupon while the program runs."""
    for maximum, (place, robots) in interpass_maxima(view).items():
        yield Draft(
            f"Watch the display of the contact thermometer of {robots} while the coupons are welded.",
            see="Read it from outside the fence as each further pass begins. If it shows more, the coupon fails: "
            "lengthen the wait between the passes in the coupon program and in the part program, and weld a new "
            "coupon. Do not judge it by colour.",
            value=f"at most {maximum}",
            key=step_key("read-temperature", place),
        )


def _round_key(programs: Iterable[CouponProgram]) -> str:
    """Return what distinguishes a round of coupons from the others: which weld schedules it proves on which robots."""
    return safe_name(*(f"{each.robot} {each.weld_schedule}" for each in programs))


def _selected(view: OperationView, programs: Sequence[CouponProgram], purpose: str) -> Iterator[Draft]:
    """Yield the selection of a round; a robot without a coupon in it must not run what was selected before."""
    if programs:
        selected = {each.robot: each.program for each in programs}
        resting = listed(robot.id for robot in view.robots if robot.id not in selected)
        stays = f"{resting} stays at home" if resting else ""
        yield Draft(
            "Select the coupon programs at the panel.",
            see=capital(joined((schedules_called(programs), "the panel shows them", stays))),
            value=" · ".join(f"{robot.id} = {selected.get(robot.id, 'none')}" for robot in view.robots),
            acts=(acts.SELECT_COUPON,),
            key=step_key(f"select-{purpose}", _round_key(programs)),
        )


def _weld_coupons(view: OperationView, programs: Sequence[CouponProgram]) -> Draft:
    return Draft(
        f"Press cycle start and weld the coupons of {listed(robot.id for robot, _ in welding_robots(view))}.",
        see=f"No burn-through. Stop if {view.words.runaway}.",
        topics=("weld", "start"),
        acts=(acts.weld_coupons(sides(view)),),
        key=step_key("weld-coupons", _round_key(programs)),
    )


def _read(view: OperationView) -> list[str]:
    """Return what is read while coupons weld, in words."""
    found = (value for group in view.groups for value in (*group.dialled, *group.derived))
    return list(dict.fromkeys(_reading(value, view) for value in found if _is_shown(value, view)))


def _is_shown(value: Value, view: OperationView) -> bool:
    return bool(value.allowed) and value.key in view.family.shown_at_welding


def _reading(value: Value, view: OperationView) -> str:
    return view.family.shown_at_welding[value.key] or inside(value.label)


def _read_currents(view: OperationView, programs: Sequence[CouponProgram]) -> Iterator[Draft]:
    """Yield the readings of the coupons just welded: those of the weld schedules that their programs call."""
    called = {(each.robot, each.weld_schedule) for each in programs}
    for group in view.groups:
        robots = [robot for robot in group.robots if not called or (robot, group.weld_schedule) in called]
        for value in (*group.dialled, *group.derived) if robots else ():
            if _is_shown(value, view):
                yield Draft(
                    f"Read the {_reading(value, view)} on {listed(robots)} for the coupons just welded.",
                    see=capital(joined((f"allowed {value.allowed}", group.name))),
                    value=value.text,
                    key=step_key("read", group.key, value.key, *robots),
                )


def _coupons_tested(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    yield from out_of_the_cell(view, "coupons", "the coupons are tested")
    checks = tuple(steps_of_warnings(warnings, "coupon"))
    task = Task(
        ACCEPT,
        "Test every coupon, enter the results and accept them.",
        f"Every result inside its limit, signed. If one fails within the allowed ranges, call {view.call}.",
        enter="coupon",
        notes=tuple(draft.do for draft in checks),
    )
    yield from as_task(task, (*_tests(view), *checks, _coupons_accepted(view)))


def _coupons_accepted(view: OperationView) -> Draft:
    return Draft(
        "Hold the cell until every coupon is accepted.",
        see=f"Signed. If one fails within the allowed ranges, call {view.call}.",
        value="hold point",
        hold=True,
        acts=(acts.ACCEPT_COUPONS,),
        key=ACCEPT,
    )


def _tests(view: OperationView) -> Iterator[Draft]:
    for check in inspections_at(view, "coupon"):
        yield Draft(
            f"Test every coupon: {inside(check.what)}.", see=proved(check, view), key=step_key("inspect", check.id)
        )
    for accept, groups in acceptances(view.groups).items():
        if accept:
            robots = robots_of(groups)
            titles = joined(dict.fromkeys(group.title for group in groups))
            yield Draft(
                f"Compare the coupons of {robots} with this limit.",
                see=joined((titles, view.words.again)),
                value=accept,
                key=step_key("limit", groups[0].key),
            )
