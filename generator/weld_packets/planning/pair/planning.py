"""From two sequences of welds to a plan of the pair, or to a refusal that names what is too near to what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isqrt

from weld_packets.calculation.sentences import refused
from weld_packets.calculation.trace import Measured, Words
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.planning.pair.approach import closest
from weld_packets.planning.pair.blocks import Block, Course, Piece, Place, Started, Timed, squared
from weld_packets.planning.pair.distance import Zones, near_place, nearest
from weld_packets.planning.pair.interlocks import Interlock, interlocks, run
from weld_packets.planning.pair.records import Clearance, PairPlan, Wait
from weld_packets.planning.pair.timing import Found, best_timing
from weld_packets.units import exact, plain, quantity, with_unit
from weld_packets.units.digits import TENTH

WORTH_A_RETREAT = 10
"""Thousandths of a cycle that moves off the part must save, lest a robot stays where it has welded: common practice."""


def plan_pair(names: tuple[str, str], courses: tuple[Course, Course], clearance: Clearance) -> PairPlan:
    """Return the plan of a pair; the sequences stay as they are.

    Raises OutOfRangeError where a robot at its waiting place blocks the path of the other one, and no order of going
    first avoids that.
    """
    _check_waiting_places(names, courses, clearance)
    zones = Zones(clearance.kept)
    found, is_best = _best(courses, zones)
    if found.timed is None:
        raise _blocked(names, courses, clearance)
    locks = interlocks(found.timed, zones)
    timed = _as_run(found.timed, locks)
    waiting = courses[0].waiting, courses[1].waiting
    waits = tuple(sorted(_waits(timed, waiting), key=lambda wait: (wait.start, wait.robot)))
    return PairPlan(
        names=names,
        clearance=clearance,
        waiting=waiting,
        timed=timed,
        interlocks=locks,
        waits=waits,
        nearest=closest(timed, waiting),
        is_best=is_best,
    )


def _best(courses: tuple[Course, Course], zones: Zones) -> tuple[Found, bool]:
    """Return the best timing and whether it is proved to be; with retreats only where they are worth it."""
    standing = best_timing(courses, zones, retreats=False)
    at_least = max(sum(block.lasts for block in course.onward) for course in courses)
    if standing.timed is not None and standing.ends == at_least:
        return standing, True
    below = None if standing.timed is None else standing.ends * (1000 - WORTH_A_RETREAT) // 1000
    retreating = best_timing(courses, zones, below=below)
    if retreating.timed is not None:
        return retreating, True
    if standing.timed is not None:
        return standing, retreating.complete
    return (retreating, True) if retreating.complete else (_one_after_the_other(courses, zones), False)


def _one_after_the_other(courses: tuple[Course, Course], zones: Zones) -> Found:
    """Return the timing in which one robot does all it has while the other one is at its waiting place."""
    for leads in (0, 1):
        first, second = courses[leads], courses[1 - leads]
        clear = not any(zones.near(second.waiting, block) for block in first.onward)
        if clear and not any(zones.near(first.waiting, block) for block in second.onward):
            one, other = list(_in_turn(first.onward, 0)), []
            other = list(_in_turn(second.onward, one[-1].end if one else 0))
            pair = (one, other) if leads == 0 else (other, one)
            return Found((tuple(pair[0]), tuple(pair[1])))
    return Found(None)


def _in_turn(blocks: Sequence[Block], now: int) -> Iterator[Started]:
    for block in blocks:
        yield Started(block, now)
        now += block.lasts


def _as_run(timed: Timed, locks: Sequence[Interlock]) -> Timed:
    """Return the blocks with the starts that the interlocks give them."""
    blocks = tuple(tuple(each.block for each in one) for one in timed)
    lasting = tuple(tuple(block.lasts for block in one) for one in blocks)
    first, second = run((blocks[0], blocks[1]), locks, (lasting[0], lasting[1]))
    return (
        tuple(Started(block, start) for block, start in zip(blocks[0], first, strict=True)),
        tuple(Started(block, start) for block, start in zip(blocks[1], second, strict=True)),
    )


def _waits(timed: Timed, waiting: tuple[Place, Place]) -> Iterator[Wait]:
    for robot, blocks in enumerate(timed):
        now = 0
        for place, each in enumerate(blocks):
            if each.start > now:
                at_place = each.block.start == waiting[robot]
                yield Wait(robot, place, now, each.start - now, "waiting place" if at_place else "weld")
            now = each.end


def _check_waiting_places(names: tuple[str, str], courses: tuple[Course, Course], clearance: Clearance) -> None:
    between = isqrt(squared(courses[0].waiting, courses[1].waiting))
    if between < clearance.kept:
        raise refused(
            (
                f"the waiting places of {names[0]} and {names[1]} are ",
                measured(between),
                " apart, and the tools need ",
                measured(clearance.required),
            ),
            "move a waiting place in the table of machines",
            key="robots",
            value=f"{names[0]}, {names[1]}",
        )


def _blocked(names: tuple[str, str], courses: tuple[Course, Course], clearance: Clearance) -> OutOfRangeError:
    gathering = Gathering()
    for robot in (0, 1):
        place, other = courses[robot].waiting, courses[1 - robot]
        for block in other.onward:
            if near_place(place, block, clearance.kept):
                near = nearest(Block((Piece(place, place, 0, 1),)), block)
                weld = f"moving to {block.weld} or at it" if block.weld else "moving to its waiting place"
                said = (
                    f"{names[1 - robot]} comes within ",
                    measured(near),
                    f" of {names[robot]} at its waiting place, {weld}; the tools need ",
                    measured(clearance.required),
                    ", and no order of going first avoids it",
                )
                remedy = "move the waiting place in the table of machines, or give the weld to the other robot"
                gathering.add(refused(said, remedy, key="robots", value=names[1 - robot]).problems[0])
    if not gathering.problems:
        alone: Words = (
            f"no order of going first keeps {names[0]} and {names[1]} ",
            measured(clearance.required),
            " apart",
        )
        remedy = "change the sequence of welds, or give some of them to the other robot"
        gathering.add(refused(alone, remedy, key="robots", value=f"{names[0]}, {names[1]}").problems[0])
    return OutOfRangeError(gathering.problems)


def measured(micrometres: int) -> Measured:
    """Return a length for an error, in mm rounded down to a tenth."""
    tenths = micrometres // 100 / 10
    return Measured(tenths, with_unit(plain(exact(quantity(tenths, "mm"), "mm").normalize()), "mm"), TENTH)
