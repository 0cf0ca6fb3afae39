"""Coupon programs of an order: each calls one weld schedule of its robot, and welds coupons alone."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from weld_packets.errors import Problem
from weld_packets.model.order import Operation, Order
from weld_packets.sources.reading.places import KeyPath, Places

_KEY = "coupon programs"


def coupon_problems(order: Order, places: Places, left_out: Collection[int] = ()) -> Iterator[Problem]:
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
        if named is not None:
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
