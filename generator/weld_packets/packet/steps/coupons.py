"""The coupons of a prove-out: clamped, stepped through dry, welded and tested, before any part is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.calculation.results import WeldKind, WeldSettings, safe_name
from weld_packets.model.machines import Robot
from weld_packets.packet.operation.inspections import acceptances, inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import sheets_of
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records import CouponProgram, OperationWarning, SettingGroup, Value
from weld_packets.packet.steps.entry import count_out_to_automatic
from weld_packets.packet.steps.lists import steps_of_warnings
from weld_packets.packet.steps.weld_schedules import IN_PROGRAM
from weld_packets.packet.steps.welding import (
    before_welding,
    drives_off,
    full_speed,
    judged,
    low_speed,
    only_live,
    out_of_the_cell,
    sides,
    welding_on,
    welding_robots,
)
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, Draft, Task, as_task, step_key, under
from weld_packets.units import as_written
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import capital, inside, joined, listed
from weld_packets.wording.titles import title_of


def coupon_drafts(view: OperationView, warnings: tuple[OperationWarning, ...] = ()) -> Iterator[Draft]:
    """Yield the steps from an empty fixture to accepted coupons."""
    yield from under("coupons-dry", _coupons_dry(view))
    yield from under("coupons", _coupons_welded(view))
    yield from under("coupon-test", _coupons_tested(view, warnings))


def _alone(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        "Read mode and dry run on both pendants.",
        see="Manual reduced speed; welding inhibited.",
        value=f"at most {as_written(view.approved.plant.reduced_speed)}",
        topics=("move",),
        acts=(acts.INHIBIT,),
        key="read-mode",
    )
    yield Draft(
        "Send everyone else out and go in alone, key and pendant in hand.",
        see="Your escape route is clear.",
        acts=(acts.SEND_OUT,),
        key="send-out",
    )


def _rounds(view: OperationView) -> list[list[CouponProgram]]:
    """Return the coupon programs that are welded one after another, each time one on each robot."""
    found = [_of(robot, coupon_programs(view)) for robot, _ in welding_robots(view)]
    longest = max(map(len, found), default=0)
    return [[each[index] for each in found if index < len(each)] for index in range(longest)]


def _of(robot: Robot, programs: Iterable[CouponProgram]) -> list[CouponProgram]:
    return [each for each in programs if each.robot == robot.id]


def _called(programs: Iterable[CouponProgram]) -> str:
    """Return which weld schedule each program calls; nothing where the order does not number them."""
    called = (each for each in programs if each.weld_schedule)
    return "; ".join(f"{each.program} calls weld schedule {each.weld_schedule}" for each in called)


def _coupons_dry(view: OperationView) -> Iterator[Draft]:
    clamped = tuple(_coupons_clamped(view))
    task = Task(
        "clamp-coupons",
        f"{COUPONS_BEGIN}, and clamp the test coupons.",
        f"Manual at most {as_written(view.approved.plant.reduced_speed)}, welding inhibited, escape route clear. "
        "Same sheets as the part, measured.",
        "; ".join(dict.fromkeys(_sheets_in_short(view, each) for each in _coupon_sheets(view).values())),
    )
    yield from as_task(task, (*_alone(view), *clamped))
    robots = list(welding_robots(view))
    for robot, other in robots:
        numbers = [each.program for each in _of(robot, coupon_programs(view))]
        then = " Then switch both drives off, at home." if robot is robots[-1][0] else ""
        task = Task(
            step_key("coupon-program", robot.id),
            f"Step {robot.id} alone through its coupon program{'s' if len(numbers) > 1 else ''}.{then}",
            f"{other.id} at home, drives off. Enabling device stops {robot.id}; tool centre point"
            f"{' and torch angles' if any(_attitudes(view, robot)) else ''} right; clear of the fixture.",
            " · ".join(numbers),
        )
        last = (drives_off(),) if then else ()
        yield from as_task(task, (*_coupon_stepped(view, robot, other), *last))


def _coupons_clamped(view: OperationView) -> Iterator[Draft]:
    for (_, _, sheets), equal in _coupon_sheets(view).items():
        robots = listed(sorted({each.robot for each in equal}))
        yield Draft(
            f"Clamp test coupons of the same sheets for {robots} where the coupon program welds.",
            see=joined((title_of(each.kind for each in equal), "measured with a micrometer")),
            value=sheets,
            topics=("parts", "clamps"),
            acts=(acts.CLAMP_COUPON,),
            key=step_key("clamp-coupon", equal[0].key),
        )
    for maximum, (place, robots) in _interpass(view).items():
        yield Draft(
            f"Fit the probe of a contact thermometer to each coupon of {robots}, beside the seam.",
            see="Its display hangs outside the fence. Probe and cable are clear of torch, clamps and robots.",
            value=f"at most {maximum}",
            key=step_key("fit-thermometer", place),
        )


def _coupon_stepped(view: OperationView, robot: Robot, other: Robot) -> Iterator[Draft]:
    yield from only_live(robot, other)
    yield Draft(
        f"Test the enabling device while {robot.id} creeps.",
        see="Motion stops when you press it fully, and when you let it go.",
        topics=("move",),
        acts=(acts.MOVE_ONE,),
        key=step_key("enabling-device", robot.id),
    )
    yield Draft(
        f"Move {robot.id} to its reference point and check the tool centre point.",
        see=_reference(view),
        topics=("move",),
        acts=(acts.MOVE_ONE,),
        key=step_key("tool-centre-point", robot.id),
    )
    mine = _of(robot, coupon_programs(view))
    still = joined(("it meets the coupon, clear of the fixture", f"{other.id} stands still", view.words.closing))
    for value, what, schedule in [_coupon(each) for each in mine] or [_OWN_COUPON]:
        yield Draft(
            f"Step {robot.id} through its coupon program.",
            see=capital(joined((what, still))),
            value=value,
            topics=("move",),
            acts=(acts.SELECT_COUPON, acts.step_through("coupon", robot.side)),
            key=step_key("step-through", robot.id, schedule),
        )
    yield from _attitudes(view, robot)


def _interpass(view: OperationView) -> dict[str, tuple[str, str]]:
    """Return, by the maximum temperature at which a further pass may begin, the first group and all robots of it."""
    found: dict[str, list[SettingGroup]] = {}
    for group, value in view.values("interpass_temperature"):
        if group.pass_count > 1:
            found.setdefault(value.text, []).append(group)
    return {maximum: (groups[0].key, _robots_of(groups)) for maximum, groups in found.items()}


def _robots_of(groups: Iterable[SettingGroup]) -> str:
    return listed(dict.fromkeys(robot for group in groups for robot in group.robots))


def _attitudes(view: OperationView, robot: Robot) -> Iterator[Draft]:
    """Yield the check of what the program holds, and which can be measured only where the torch meets a coupon."""
    held: dict[str, list[SettingGroup]] = {}
    for group in (group for group in view.groups if robot.id in group.robots):
        values = [value for value in group.dialled if value.key in IN_PROGRAM]
        attitude = joined(
            (joined((inside(value.label), value.text, inside(value.notes)), " ") for value in values), ", "
        )
        held.setdefault(attitude, []).append(group)
    for attitude, groups in held.items():
        if attitude:
            yield Draft(
                f"Check distance and angles of the torch of {robot.id} where it meets the coupon.",
                see=capital(listed(group.name for group in groups)),
                value=attitude,
                acts=(acts.MOVE_ONE,),
                key=step_key("torch-angles", robot.id, groups[0].key),
            )


def _coupon(program: CouponProgram) -> tuple[str, str, str]:
    """Return a coupon program, what it calls or proves, and its weld schedule."""
    return program.program, _called([program]) or program.welds, program.weld_schedule


_OWN_COUPON = ("", "The works' own coupon program", "")


def _reference(view: OperationView) -> str:
    return f"{view.words.tool_point} meets the pointer within the plant's tolerance."


def _coupons_welded(view: OperationView) -> Iterator[Draft]:
    yield from before_welding(view)
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
    yield from _selected(programs, "dry")
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
            yield from _selected(programs, "welding")
        yield _weld_coupons(view, programs)
        yield from _read_currents(view, programs)


def _temperature_watched(view: OperationView) -> Iterator[Draft]:
    """Yield how the temperature between passes is read: nobody can be at the coupon while the program runs."""
    for maximum, (place, robots) in _interpass(view).items():
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


def _selected(programs: Sequence[CouponProgram], purpose: str) -> Iterator[Draft]:
    if programs:
        yield Draft(
            "Select the coupon programs at the panel.",
            see=capital(joined((_called(programs), "the panel shows them"))),
            value=" · ".join(f"{each.robot} = {each.program}" for each in programs),
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


_MEASURED = ("weld_current", "welding_current", "arc_voltage")
"""What a machine shows while it welds: the secondary current of a spot, current and voltage of an arc."""


def _read(view: OperationView) -> list[str]:
    """Return what is read while coupons weld, in words."""
    found = (value for group in view.groups for value in (*group.dialled, *group.derived))
    return list(dict.fromkeys(_reading(value) for value in found if value.key in _MEASURED and value.allowed))


def _reading(value: Value) -> str:
    return "secondary current" if value.key == "weld_current" else inside(value.label)


def _read_currents(view: OperationView, programs: Sequence[CouponProgram]) -> Iterator[Draft]:
    """Yield the readings of the coupons just welded: those of the weld schedules that their programs call."""
    called = {(each.robot, each.weld_schedule) for each in programs}
    for group in view.groups:
        robots = [robot for robot in group.robots if not called or (robot, group.weld_schedule) in called]
        for value in (*group.dialled, *group.derived) if robots else ():
            allowed = value.allowed
            if value.key in _MEASURED and allowed:
                yield Draft(
                    f"Read the {_reading(value)} on {listed(robots)} for the coupons just welded.",
                    see=capital(joined((f"allowed {allowed}", group.name))),
                    value=value.text,
                    key=step_key("read", group.key, value.key, *robots),
                )


def _coupons_tested(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    yield from out_of_the_cell(view, "coupons", "the coupons are tested")
    checks = tuple(steps_of_warnings(warnings, "coupon"))
    task = Task(
        "accept",
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
        key="accept",
    )


def _tests(view: OperationView) -> Iterator[Draft]:
    for check in inspections_at(view, "coupon"):
        yield Draft(
            f"Test every coupon: {inside(check.what)}.", see=judged(check, view), key=step_key("inspect", check.id)
        )
    for accept, groups in acceptances(view.groups).items():
        if accept:
            robots = _robots_of(groups)
            titles = joined(dict.fromkeys(group.title for group in groups))
            yield Draft(
                f"Compare the coupons of {robots} with this limit.",
                see=joined((titles, view.words.again)),
                value=accept,
                key=step_key("limit", groups[0].key),
            )


_Coupon = tuple[str, WeldKind | None, str]
"""The settings that a coupon proves, the kind of its seam, and its sheets as printed."""


def _coupon_sheets(view: OperationView) -> dict[_Coupon, list[WeldSettings]]:
    """Return one coupon for whatever is set the same in the same sheets; seams also by joint and position."""
    group_of = {weld: group.key for group in view.groups for weld in group.welds}
    found: dict[_Coupon, list[WeldSettings]] = {}
    for each in view.result.settings:
        kind = each.kind if view.welds[0].path is not None else None
        found.setdefault((group_of[each.welds[0]], kind, _stack(view, each.welds[0])), []).append(each)
    return found


def _sheets_in_short(view: OperationView, equal: Sequence[WeldSettings]) -> str:
    """Return the sheets of a coupon in one system of units, such as ``3 mm + 4 mm S235JR``."""
    sheets = sheets_of(view, equal[0].welds[0])
    thickness = [sheet_amount(sheet.thickness, view.order.show_first).first_text for sheet in sheets]
    materials = dict.fromkeys(sheet.material for sheet in sheets)
    if len(materials) == 1:
        return f"{' + '.join(thickness)} {sheets[0].material}"
    return " + ".join(f"{text} {sheet.material}" for text, sheet in zip(thickness, sheets, strict=True))


def _stack(view: OperationView, weld: str) -> str:
    sheets = sheets_of(view, weld)
    return " + ".join(
        f"{sheet_amount(sheet.thickness, view.order.show_first).text} {sheet.material}" for sheet in sheets
    )
