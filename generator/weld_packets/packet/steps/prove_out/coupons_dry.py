"""The coupons of a prove-out before they are welded: clamped, and each robot stepped through its programs dry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.calculation.results import WeldKind, WeldSettings
from weld_packets.grouping import grouped
from weld_packets.model.tables.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import sheets_of
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records.operation import CouponProgram
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.steps.prove_out.welding import drives_off, only_live, welding_robots
from weld_packets.packet.steps.weld_schedules import IN_PROGRAM
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, Draft, Task, as_task, step_key
from weld_packets.units.scales import sheet_amount, speed_limit_amount
from weld_packets.wording.english import capital, inside, joined, listed
from weld_packets.wording.titles import title_of

_OWN_COUPON = ("", "The plant's own coupon program", "")
_Coupon = tuple[str, WeldKind | None, str]
"""The settings that a coupon proves, the kind of its seam, and its sheets as printed."""


def dry_drafts(view: OperationView) -> Iterator[Draft]:
    """Yield the steps from an empty fixture to coupons through which both robots were stepped."""
    clamped = tuple(_coupons_clamped(view))
    task = Task(
        "clamp-coupons",
        f"{COUPONS_BEGIN}, and clamp the test coupons.",
        f"Manual at most {_speed(view)}, welding inhibited, escape route clear. Same sheets as the part, measured.",
        "; ".join(dict.fromkeys(_sheets_in_short(view, each) for each in _coupon_sheets(view).values())),
    )
    yield from as_task(task, (*_alone(view), *clamped))
    robots = list(welding_robots(view))
    for robot, other in robots:
        numbers = [each.program for each in programs_of(robot, coupon_programs(view))]
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


def _speed(view: OperationView) -> str:
    return speed_limit_amount(view.approved.plant.reduced_speed, view.showing.first).text


def _alone(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        "Read mode and dry run on both pendants.",
        see="Manual reduced speed; welding inhibited.",
        value=f"at most {_speed(view)}",
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
    for maximum, (place, robots) in interpass_maxima(view).items():
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
    mine = programs_of(robot, coupon_programs(view))
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
    return program.program, schedules_called([program]) or program.welds, program.weld_schedule


def _reference(view: OperationView) -> str:
    return f"{view.words.tool_point} meets the pointer within the plant's tolerance."


def programs_of(robot: Robot, programs: Iterable[CouponProgram]) -> list[CouponProgram]:
    """Return the coupon programs of a robot, in their order."""
    return [each for each in programs if each.robot == robot.id]


def schedules_called(programs: Iterable[CouponProgram]) -> str:
    """Return which weld schedule each program calls; nothing where the order does not number them."""
    called = (each for each in programs if each.weld_schedule)
    return "; ".join(f"{each.program} calls weld schedule {each.weld_schedule}" for each in called)


def interpass_maxima(view: OperationView) -> dict[str, tuple[str, str]]:
    """Return, by the maximum temperature at which a further pass may begin, the first group and all robots of it."""
    values = view.values("interpass_temperature")
    found = grouped((value.text, group) for group, value in values if group.pass_count > 1)
    return {maximum: (groups[0].key, robots_of(groups)) for maximum, groups in found.items()}


def robots_of(groups: Iterable[SettingGroup]) -> str:
    """Return the robots that weld some groups, each once, as words."""
    return listed(dict.fromkeys(robot for group in groups for robot in group.robots))


def _coupon_sheets(view: OperationView) -> dict[_Coupon, list[WeldSettings]]:
    """Return one coupon for whatever is set the same in the same sheets; seams also by joint and position."""
    group_of = {weld: group.key for group in view.groups for weld in group.welds}
    along = view.welds[0].path is not None
    return grouped(
        ((group_of[each.welds[0]], each.kind if along else None, _stack(view, each.welds[0])), each)
        for each in view.result.settings
    )


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
