"""What must agree in an order that could be read: pairs of robots, equipment, coupon programs, welds."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from decimal import Decimal

from weld_packets.errors import Problem
from weld_packets.model.order import Component, LengthUnit, Operation, Order, Outline, PlanePoint
from weld_packets.model.processes import family, process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Robot
from weld_packets.sources.orders.fitted_checks import fitted_problems
from weld_packets.sources.reading.places import KeyPath, Places, typed, unknown
from weld_packets.units import in_mm, kinds, quantity

_MINIMUM_CORNERS = 3
_KEY = "coupon programs"


def order_problems(order: Order, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield what an order's pairs of robots cannot do, and every outline and weld that says too much or too little."""
    strangers: set[int] = set()
    for index, operation in enumerate(order.operations):
        path: KeyPath = ("operations", index)
        elsewhere = list(_elsewhere(operation, path, approved, places))
        if elsewhere or not approved.robots.keys() >= set(operation.robots):
            strangers.add(index)
            yield from elsewhere
        else:
            yield from _equipment(operation, path, approved, places)
        for number, component in enumerate(operation.components):
            yield from _sheet(component, (*path, "components", number), approved, places)
            for position, outline in enumerate(component.outlines):
                yield from _outline(outline, (*path, "components", number, "outlines", position), places)
        for each in family(process(operation.process).family).misstatements(operation, approved):
            value = each.value if isinstance(each.value, str) else typed(each.value)
            yield places.problem((*path, *each.path), value, each.message, each.remedy)
    yield from _coupon_problems(order, places, strangers)
    yield from fitted_problems(order, approved, places)


def _elsewhere(operation: Operation, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield the robot of a pair that is in another cell than the operation, or one problem for both."""
    cell = approved.cells.get(operation.cell)
    robots = {name: robot for name in operation.robots if (robot := approved.robots.get(name))}
    wrong = [name for name, robot in robots.items() if cell and robot.cell != cell.id]
    if cell is None or not wrong:
        return
    there = robots[wrong[0]].cell
    remedy = f"the robots of cell {cell.id!r} are: {', '.join(cell.robots)}"
    if len(wrong) == 1:
        place = (*path, "robots", operation.robots.index(wrong[0]))
        yield places.problem(place, wrong[0], f"this robot is in cell {there!r}, not in {cell.id!r}", remedy)
    else:
        message = f"both robots are in another cell, {there!r}, not in {cell.id!r}"
        yield places.problem((*path, "robots"), ", ".join(wrong), message, f"{remedy}; or correct the cell")


def _equipment(operation: Operation, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    for index, name in enumerate(operation.robots):
        robot = approved.robots.get(name)
        yield from _carried(operation, robot, (*path, "robots", index), approved, places)
        if name not in operation.programs:
            message = f"robot {name!r} has no program number"
            yield places.problem((*path, "programs"), "", message, f"add '{name}: ...' under 'programs'")
    for key, programs in (("programs", operation.programs), ("coupon programs", operation.coupon_programs)):
        for name in programs:
            yield from unknown(places, (*path, key, name), name, operation.robots, "robot in this operation")


_NO_ROBOT = (
    "no robot in the tables does it: correct the process, or the robot's equipment; an order from before a cell got "
    "other equipment cannot be the 'previous order' of one after it"
)


def _carried(
    operation: Operation,
    robot: Robot | None,
    path: KeyPath,
    approved: ApprovedTables,
    places: Places,
) -> Iterator[Problem]:
    fitting = family(process(operation.process).family).equipment(operation.process, approved)
    if robot and robot.equipment not in fitting:
        others = [other.id for other in approved.robots.values() if other.equipment in fitting]
        message = f"this robot carries {robot.equipment!r}, which does not do process {operation.process}"
        remedy = f"robots that do it are: {', '.join(others)}" if others else _NO_ROBOT
        yield places.problem(path, robot.id, message, remedy)


def _sheet(component: Component, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    outside = component.section and component.section.outside_diameter
    if outside and in_mm(outside) <= 2 * in_mm(component.thickness):
        message = f"is no more than two walls of {typed(component.thickness)}"
        yield places.problem((*path, "section", "outside diameter"), typed(outside), message, "correct one of the two")
    material = approved.materials.get(component.material)
    if material is None:
        return
    if not material.is_supplied_in(component.thickness):
        written, thickness = _as_ordered(component), typed(component.thickness)
        gauge = "" if written == thickness else f"{written} is {thickness}; "
        listed = f"{material.id} is listed from {typed(material.thickness_from)} to {typed(material.thickness_to)}"
        remedy = "check the thickness and the material of the component"
        yield places.problem((*path, "thickness"), written, gauge + listed, remedy)


def _as_ordered(component: Component) -> str:
    """Return a thickness as the order gives it, by gauge or by size."""
    return f"{component.gauge.number} ga" if component.gauge else typed(component.thickness)


def _outline(outline: Outline, path: KeyPath, places: Places) -> Iterator[Problem]:
    if outline.unit is None:
        yield places.problem(path, "", "the outline does not say its unit", "add 'unit: mm'")
    far = next((at for at, point in enumerate(outline.points) if _is_far(point, outline.unit)), None)
    if far is not None:
        message, remedy = "this point is more than 100 m from the datum", "check the coordinates and the unit"
        yield places.problem((*path, "points", far), ", ".join(map(str, outline.points[far])), message, remedy)
    if len(outline.points) < _MINIMUM_CORNERS:
        message = f"an outline needs at least {_MINIMUM_CORNERS} points"
        yield places.problem(path, "", message, "add 'points' as [[x, y], ...], or name a drawing with 'file'")
    elif not _doubled_area(outline):
        message = "the outline encloses nothing: its points lie on one line, or it crosses itself"
        yield places.problem(path, "", message, "write the corners in the order in which they follow one another")


def _is_far(point: PlanePoint, unit: LengthUnit | None) -> bool:
    return unit is not None and any(abs(in_mm(quantity(float(each), unit))) > kinds.LENGTH.highest for each in point)


def _doubled_area(outline: Outline) -> Decimal:
    following = (*outline.points[1:], outline.points[0])
    return sum((x * v - u * y for (x, y), (u, v) in zip(outline.points, following, strict=True)), Decimal(0))


# ---------------------------------------------------------------- coupon programs


def _coupon_problems(order: Order, places: Places, left_out: Collection[int] = ()) -> Iterator[Problem]:
    """Yield every weld schedule without its coupon program, and every coupon program that would prove nothing.

    That is one that calls a weld schedule which no weld uses, or two of them, or that welds the part as well.
    Operations ``left_out`` have a pair that is refused already.
    """
    for index, operation in enumerate(order.operations):
        for robot in operation.robots if operation.coupon_programs and index not in left_out else ():
            yield from _of_robot(operation, robot, ("operations", index, _KEY, robot), places)
    yield from _not_its_own(order, places)


def _of_robot(operation: Operation, robot: str, path: KeyPath, places: Places) -> Iterator[Problem]:
    used, named = operation.weld_schedules(robot), operation.coupon_programs.get(robot)
    if None in used and len(used) > 1:
        return  # numbered in part, which is refused for itself
    if not used:
        if named is not None and _welded_by(operation) <= set(operation.robots):  # a name may be misspelt at a weld
            yield places.problem(
                path,
                _shown(named),
                f"robot {robot} welds nothing in this operation",
                "give it welds, or delete its key",
            )
    elif named is None:
        message = f"robot {robot} has no program for its coupons, and the other robot has"
        yield places.problem(path[:-1], "", message, f"add '{robot}: {_example(used)}' under {_KEY!r}")
    elif isinstance(named, str):
        if None not in used:
            message = f"this does not say which weld schedule the program calls; {robot} uses {_listed(used)}"
            yield places.problem(path, named, message, f"write '{robot}: {_example(used, named)}'")
    elif None in used:
        message = (
            f"the welds of {robot} have no 'weld schedule', so that no program can call their weld schedule by one"
        )
        remedy = f"give the welds of {robot} weld schedules, or write '{robot}: PROGRAM' where all are set the same"
        yield places.problem(path, "", message, remedy)
    else:
        yield from _matched(used, named, path, places)


def _welded_by(operation: Operation) -> set[str]:
    """Return the robots that the welds of an operation name, whether they are its own or not."""
    return {weld.robot for weld in getattr(operation, family(process(operation.process).family).welds_key)}


def _matched(used: frozenset[int | None], named: dict[int, str], path: KeyPath, places: Places) -> Iterator[Problem]:
    robot = path[-1]
    for number in sorted(named.keys() - used):
        message = f"no weld of {robot} uses weld schedule {number}; it uses {_listed(used)}"
        yield places.problem((*path, str(number)), named[number], message, "correct the number, or delete the key")
    for number in _numbers(used - named.keys()):
        message = f"weld schedule {number} of {robot} has no coupon program"
        yield places.problem(path, "", message, f"add '{number}: PROGRAM' under '{robot}'")


def _not_its_own(order: Order, places: Places) -> Iterator[Problem]:
    """Yield every coupon program of a robot that welds the part too, or that calls two weld schedules."""
    parts = {(robot, operation.programs[robot]) for operation in order.operations for robot in operation.programs}
    calls: dict[tuple[str, str], tuple[int | None, KeyPath]] = {}
    for robot, number, program, path in _named(order):
        first, there = calls.setdefault((robot, program), (number, path))
        if (robot, program) in parts:
            message = f"{robot} welds the part with this program"
            yield places.problem(path, program, message, "give the coupon program a number of its own")
        elif first != number:
            line = places.at(there)[1]
            message = f"this coupon program of {robot} already calls {_schedule(first)} on line {line}"
            yield places.problem(path, program, message, "give each weld schedule a coupon program of its own")


def _named(order: Order) -> Iterator[tuple[str, int | None, str, KeyPath]]:
    """Yield every coupon program with its robot, weld schedule and key path."""
    for index, operation in enumerate(order.operations):
        for robot in operation.robots:
            for number, program in operation.coupon_programs_of(robot):
                yield (
                    robot,
                    number,
                    program,
                    ("operations", index, _KEY, robot, *(() if number is None else (str(number),))),
                )


def _schedule(number: int | None) -> str:
    return "the weld schedule of welds without a number" if number is None else f"weld schedule {number}"


def _numbers(used: frozenset[int | None]) -> list[int]:
    return sorted(number for number in used if number is not None)


def _listed(used: frozenset[int | None]) -> str:
    numbers = _numbers(used)
    return f"weld schedule{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"


def _example(used: frozenset[int | None], named: str = "PROGRAM") -> str:
    """Return what to write for a robot: its program, or one for each of its weld schedules."""
    numbers = _numbers(used)
    rest = (f"{number}: PROGRAM" for number in numbers[1:])
    return f"{{{', '.join((f'{numbers[0]}: {named}', *rest))}}}" if numbers else named


def _shown(named: str | dict[int, str]) -> str:
    return named if isinstance(named, str) else ""
