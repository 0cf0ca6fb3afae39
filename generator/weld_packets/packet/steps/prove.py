"""Proving a cell before the run: coupons first, then the first-off part; every program dry before it welds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from weld_packets.calculation.results import WeldKind, WeldSettings, safe_name
from weld_packets.model.machines import Robot
from weld_packets.model.tables import Inspection
from weld_packets.packet.operation.inspections import acceptances, accepted, inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import sheets_of, welds_of
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records import Action, Callout, CouponProgram, OperationWarning, PairSheet, SettingGroup, Value
from weld_packets.packet.steps.due_before_run import due_drafts
from weld_packets.packet.steps.entry import count_out_to_automatic, stop_and_open, wait_outside
from weld_packets.packet.steps.lists import printed_steps, steps_of_warnings
from weld_packets.packet.steps.weld_schedules import IN_PROGRAM
from weld_packets.planning import Event
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, Draft, Task, as_task, step_key, under
from weld_packets.processes.cell.state import AS_FOUND, CellState, walk
from weld_packets.units import as_written
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import capital, counted, inside, joined, listed, sentences
from weld_packets.wording.titles import title_of

SET_UP = walk(
    (
        *(acts.CYCLE_STOP, acts.TRY_EMERGENCY_STOP, acts.OPEN_GATE, acts.TAKE_KEY, acts.INHIBIT),
        *(acts.ENTER, acts.UNLOAD, acts.LEAVE),
    ),
    AS_FOUND,
)
"""A cell as a set-up leaves it: gate open, manual, key in hand, welding inhibited, the fixture empty."""


@dataclass(frozen=True)
class Before:
    """What the prove-out of an operation has to see to besides.

    Attributes:
        due: what is due before the run.
        warnings: those of the operation.
        pair: how its robots keep apart, with the interlocks to be proved; None where that is not at hand.

    """

    due: tuple[Event, ...] = ()
    warnings: tuple[OperationWarning, ...] = ()
    pair: PairSheet | None = None


_NOTHING = Before()
COUPONS_ACCEPTED, FIRST_OFF_ACCEPTED = "coupon-test/accept", "first-off/accept"
"""The keys of the steps, and of the tasks, with which coupons and the first part are accepted."""


def prove_steps(view: OperationView, callouts: tuple[Callout, ...], before: Before = _NOTHING) -> tuple[Action, ...]:
    """Return the steps that prove an operation; inspection holds the first-off part."""
    return printed_steps(prove_drafts(view, before), callouts, SET_UP)


def prove_drafts(view: OperationView, before: Before = _NOTHING) -> Iterator[Draft]:
    """Yield the steps from a cell that is set up to an accepted first-off part."""
    yield from under("due", due_drafts(view, before.due))
    yield from coupon_drafts(view, before.warnings)
    yield from under("first-part-dry", _first_part_dry(view, before.warnings))
    yield from under("first-part", _first_part_welded(view, before.pair))
    yield from under("first-off", _first_part_inspected(view, before.warnings))


def coupon_drafts(view: OperationView, warnings: tuple[OperationWarning, ...] = ()) -> Iterator[Draft]:
    """Yield the steps from an empty fixture to accepted coupons."""
    yield from under("coupons-dry", _coupons_dry(view))
    yield from under("coupons", _coupons_welded(view))
    yield from under("coupon-test", _coupons_tested(view, warnings))


# ---------------------------------------------------------------- inside, one person, manual


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


def _only_live(robot: Robot, other: Robot) -> Iterator[Draft]:
    yield Draft(
        f"Switch the drives of {other.id} off, at its home position.",
        see=f"{other.id} shows home and drives off. Only {robot.id} can move.",
        topics=("move",),
        acts=(acts.ONE_LIVE,),
        key=step_key("drives-off", other.id),
    )


def _sides(view: OperationView) -> list[str]:
    return [robot.side for robot, _ in _others(view)]


def _others(view: OperationView) -> Iterator[tuple[Robot, Robot]]:
    """Yield each robot that welds, with the one that stands still meanwhile."""
    first, second = view.robots
    for robot, other in ((first, second), (second, first)):
        if welds_of(view, robot.id):
            yield robot, other


# ---------------------------------------------------------------- coupons


def _rounds(view: OperationView) -> list[list[CouponProgram]]:
    """Return the coupon programs that are welded one after another, each time one on each robot."""
    found = [_of(robot, coupon_programs(view)) for robot, _ in _others(view)]
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
    robots = list(_others(view))
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
        last = (_drives_off(),) if then else ()
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
    yield from _only_live(robot, other)
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
    still = joined(("it meets the coupon, clear of the fixture", f"{other.id} stands still", _closing(view)))
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


def _closing(view: OperationView) -> str:
    return view.words.closing


def _coupon(program: CouponProgram) -> tuple[str, str, str]:
    """Return a coupon program, what it calls or proves, and its weld schedule."""
    return program.program, _called([program]) or program.welds, program.weld_schedule


_OWN_COUPON = ("", "The works' own coupon program", "")


def _reference(view: OperationView) -> str:
    return f"{view.words.tool_point} meets the pointer within the plant's tolerance."


def _drives_off() -> Draft:
    return Draft(
        "Switch the drives of both robots off, at home.",
        see="Both show home and drives off.",
        acts=(acts.DRIVES_OFF,),
        key="drives-off",
    )


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
    yield from as_task(dry, (_low_speed(), *(draft for each in rounds for draft in _dry_round(view, each))))
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
        acts=(acts.dry_cycle("coupon", _sides(view)),),
        key=step_key("dry-cycle", _round_key(programs)),
    )


def _rounds_welded(view: OperationView, rounds: Sequence[Sequence[CouponProgram]]) -> Iterator[Draft]:
    yield _full_speed()
    yield _welding_on()
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


def _low_speed() -> Draft:
    return Draft(
        "Set a low speed override on both robots.",
        see="Both pendants show it.",
        acts=(acts.LOW_SPEED,),
        key="low-speed",
    )


def _full_speed() -> Draft:
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
    return f"{sentences(check)[0].rstrip('.')}."


def _ready_to_weld(view: OperationView) -> Iterator[Draft]:
    if makes_fume(view):
        yield Draft(
            "Switch the fume extraction on, its inlet close to the welds.",
            see=f"{view.cell.extraction.rstrip('.')}. No extraction, no welding.",
            topics=("weld",),
            key="fume-extraction",
        )
    yield from plant_checks(view)


def makes_fume(view: OperationView) -> bool:
    """Return whether an operation needs fume extraction: by its process, or by a coating of its components."""
    return bool(view.family.makes_fume) or any(material.coating != "none" for material in view.materials)


def plant_checks(view: OperationView) -> Iterator[Draft]:
    """Yield what the plant's table adds to look at before anything welds."""
    for check in view.approved.plant.start_checks:
        do, see = sentences(check)
        yield Draft(do, see=see, key=step_key("plant", do))


def _welding_on() -> Draft:
    return Draft(
        "Enable welding on both robots.",
        see="Both pendants show it. Nobody is inside.",
        value="welding enabled",
        acts=(acts.ENABLE,),
        key="enable-welding",
    )


def _weld_coupons(view: OperationView, programs: Sequence[CouponProgram]) -> Draft:
    return Draft(
        f"Press cycle start and weld the coupons of {listed(robot.id for robot, _ in _others(view))}.",
        see=f"No burn-through. Stop if {view.words.runaway}.",
        topics=("weld", "start"),
        acts=(acts.weld_coupons(_sides(view)),),
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
    yield from _out_of_the_cell(view, "coupons", "the coupons are tested")
    checks = tuple(steps_of_warnings(warnings, "coupon"))
    task = Task(
        "accept",
        "Test every coupon, enter the results and accept them.",
        f"Every result inside its limit, signed. If one fails within the allowed ranges, call {view.call}.",
        enter="coupon",
        notes=tuple(draft.do for draft in checks),
    )
    yield from as_task(task, (*_tests(view), *checks, _coupons_accepted(view)))


def _out_of_the_cell(view: OperationView, what: str, meanwhile: str) -> Iterator[Draft]:
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


def judged(check: Inspection, view: OperationView) -> str:
    """Return how a check is made and what it accepts."""
    return f"{check.how.rstrip('.')}. Accept: {accepted(check, view)}."


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


# ---------------------------------------------------------------- the first-off part


def _first_part_dry(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    clamps = view.operation.clamps
    loaded = Task(
        "load",
        "Go in alone, measure and load the components, close the clamps in order, hands out.",
        "Each on its stops, no gap opens. The panel shows every component present, every clamp closed.",
        " → ".join(clamps),
    )
    yield from as_task(loaded, (_gone_in(), *load(view)))
    robots, checks = list(_others(view)), tuple(steps_of_warnings(warnings, "dry run"))
    for robot, other in robots:
        welds = welds_of(view, robot.id)
        is_last = robot is robots[-1][0]
        task = Task(
            step_key("part-program", robot.id),
            f"Step {robot.id} alone through its part program."
            f"{' Then switch both drives off, at home.' if is_last else ''}",
            f"{counted(len(welds), view.words.weld)} in the order of the map, {view.words.stops} on its place. "
            f"{other.id} at home, drives off.",
            view.operation.programs[robot.id],
            notes=tuple(draft.do for draft in checks) if is_last else (),
        )
        last = (*checks, _drives_off()) if is_last else ()
        yield from as_task(task, (*_only_live(robot, other), *_dry_run(view, robot, other), *last))


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
        thickness = sheet_amount(component.thickness, view.order.show_first).text
        yield Draft(
            f"Measure the thickness of {inside(component.name)}, then load it.",
            see=f"{material.designation}{coating}; clean, dry, seated on its stops",
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
    welds, words = welds_of(view, robot.id), view.words
    yield Draft(
        f"Step {robot.id} through its part program.",
        see=f"{counted(len(welds), words.weld)} in the order of the map, {welds[0]} to {welds[-1]}; "
        f"{words.stops} on its place; "
        f"{joined((f'{other.id} stands still', _closing(view)))}",
        value=number,
        topics=("move",),
        acts=(acts.step_through("part", robot.side),),
        key=step_key("step-through", robot.id),
    )


def _first_part_welded(view: OperationView, pair: PairSheet | None) -> Iterator[Draft]:
    yield from count_out_to_automatic()
    locks = () if pair is None else pair.interlocks
    many = f", then one for each of {counted(len(locks), 'interlock')}" if locks else ""
    task = Task(
        "dry-cycles",
        f"Run one dry cycle of both robots{many}, low speed, hand at the emergency stop.",
        f"{_apart(pair)} Both end at home.",
        " + ".join(view.operation.programs[robot.id] for robot, _ in _others(view)),
    )
    yield from as_task(task, _dry_cycles(view, pair))
    weld = Task(
        "weld",
        "Weld the first-off part at full speed and watch from outside.",
        "Nobody inside. Every weld is there; both robots end at home.",
        "welding enabled",
    )
    yield from as_task(weld, (_full_speed(), _welding_on(), _weld_first_part()))


def _dry_cycles(view: OperationView, pair: PairSheet | None) -> Iterator[Draft]:
    yield _low_speed()
    yield Draft(
        "Press cycle start: one dry cycle of both robots, hand at the emergency stop.",
        see=f"{_apart(pair)} Both end at home.",
        topics=("start",),
        acts=(acts.dry_cycle("part", _sides(view)),),
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
            acts=(acts.dry_cycle("part", _sides(view)),),
            key=f"interlock-{lock.number}",
        )


def _weld_first_part() -> Draft:
    return Draft(
        "Press cycle start, weld the first-off part and watch from outside.",
        see="Every weld is there. Both robots end at home.",
        topics=("weld", "start"),
        acts=(acts.FIRST_PART,),
        key="weld",
    )


def _first_part_inspected(view: OperationView, warnings: tuple[OperationWarning, ...]) -> Iterator[Draft]:
    yield from _out_of_the_cell(view, "first-off part", "the first-off part is inspected")
    checks = tuple(steps_of_warnings(warnings, "first-off"))
    task = Task(
        "accept",
        "Inspect the first-off part, enter the results and accept it.",
        f"Every result inside its limit, signed. Only then start the run. If it is rejected, call {view.call}.",
        enter="first-off",
        notes=tuple(draft.do for draft in checks),
    )
    yield from as_task(task, (*_inspections(view), *checks, _first_part_accepted(view)))


def _inspections(view: OperationView) -> Iterator[Draft]:
    for check in inspections_at(view, "first-off"):
        yield Draft(
            f"Inspect the first-off part: {inside(check.what)}.",
            see=judged(check, view),
            topics=("hot",),
            key=step_key("inspect", check.id),
        )


def _first_part_accepted(view: OperationView) -> Draft:
    return Draft(
        "Hold the run until inspection accepts the first-off part.",
        see=f"Accepted and signed. Only then start the run. If it is rejected, call {view.call}.",
        value="hold point",
        hold=True,
        acts=(acts.ACCEPT_FIRST_PART,),
        key="accept",
    )


def _apart(pair: PairSheet | None) -> str:
    """Return what is to be seen of both robots in their first dry cycle."""
    if pair is None or not pair.is_checked:
        return "The distance of the robots is not checked: stop where they come near each other."
    if not pair.interlocks:
        return "The robots never come near each other. Robots, cables and clamps stay clear too."
    return "No robot enters before its interlock is released. Robots, cables and clamps stay clear too."


PROVED: CellState = replace(
    walk((acts.OPEN_GATE, acts.SEND_OUT, acts.LEAVE, acts.COUNT_OUT, acts.SELECT_PART, acts.CLOSE_GATE), SET_UP),
    stepped=frozenset(f"{program} {side}" for program in ("coupon", "part") for side in "AB"),
    coupons="accepted",
    first_part="accepted",
)
"""A cell as a prove-out leaves it: gate closed, manual, key in hand, welding inhibited, the fixture empty."""
