"""The pattern of a spot operation: pitch to the neighbours, points given twice, reach of the robots."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import dist

from weld_packets.calculation.places.millimetres import base_point, farthest, within
from weld_packets.calculation.sentences import lengths, likewise, refused
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.nearest import closest_pair, pairs_closer
from weld_packets.geometry.vectors import Point
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.processes.spot.records import Spot
from weld_packets.processes.spot.stack.requirements import StackRequirements
from weld_packets.units import in_mm
from weld_packets.units.digits import TENTH, WHOLE

TWICE = 0.01
"""Two spots closer than this many millimetres are one spot written twice."""


@dataclass(frozen=True)
class Placed:
    """A spot of the order, its place in the order's list, its point in mm, and what its stack requires."""

    index: int
    spot: Spot
    point: Point
    work: StackRequirements


def pitch_verdicts(placed: Sequence[Placed]) -> tuple[Verdict, ...]:
    """Return the closest pair of every stack; raise OutOfRangeError with every pair that is too close.

    Spots are neighbours when their stacks share two sheets; of two different minimum pitches the larger one counts.
    """
    gathering = Gathering()
    points = [item.point for item in placed]
    widest = max((item.work.pitch for item in placed), default=0.0)
    near = [(placed[first], placed[second], apart) for first, second, apart in pairs_closer(points, widest)]
    for fault in _too_close(near):
        with gathering.step():
            raise fault
    gathering.finish(OutOfRangeError)
    works = list({item.work.stack.id: item.work for item in placed}.values())
    return tuple(_closest(work, works, placed) for work in works)


def _too_close(near: Iterable[tuple[Placed, Placed, float]]) -> Iterator[OutOfRangeError]:
    """Yield a refusal for every spot that is written twice, and one for all pairs that are too close on a stack."""
    close: dict[str, list[tuple[Placed, Placed, float]]] = {}
    for first, second, apart in near:
        wider = max(first.work, second.work, key=lambda work: work.pitch)
        if apart < TWICE:
            yield refusal(
                f"spot {second.spot.id} is where spot {first.spot.id} is",
                "remove one of the two, or correct its point",
                key=f"spots[{second.index}]",
                value=second.spot.id,
            )
        elif first.work.stack.shares(second.work.stack) and not within(wider.pitch, apart):
            close.setdefault(wider.stack.id, []).append((first, second, apart))
    for pairs in close.values():
        yield _close(pairs)


def _close(pairs: Sequence[tuple[Placed, Placed, float]]) -> OutOfRangeError:
    """Return the refusal of pairs that ask for the pitch of one stack, at the first of them."""
    first, second, apart = pairs[0]
    wider = max(first.work, second.work, key=lambda work: work.pitch)
    found, minimum = lengths(apart, wider.pitch, TENTH)
    more = likewise(
        (f"{two.spot.id} from {one.spot.id} ", lengths(away, wider.pitch, TENTH)[0]) for one, two, away in pairs[1:]
    )
    return refused(
        (
            f"spot {second.spot.id} is ",
            found,
            f" from spot {first.spot.id}; at least ",
            minimum,
            f" for stack {wider.stack.id} ({wider.spacing})",
            *more,
        ),
        "move one of the two, or leave one out: the current strays through the nearer weld",
        key=f"spots[{second.index}]",
        value=found,
    )


def _closest(work: StackRequirements, works: Sequence[StackRequirements], placed: Sequence[Placed]) -> Verdict:
    sharing = {other.stack.id for other in works if other.stack.shares(work.stack)}
    near = [item for item in placed if item.work.stack.id in sharing]
    own = [item.work is work for item in near]
    pair = closest_pair([item.point for item in near], lambda first, second: own[first] or own[second])
    subject = f"stack {work.stack.id}"
    if pair is None:
        return Verdict(
            "pitch",
            subject,
            "one spot on these sheets: no neighbour to keep away from",
            passed=True,
            source=work.spacing,
        )
    first, second, apart = near[pair[0]].spot.id, near[pair[1]].spot.id, pair[2]
    found, minimum = lengths(apart, work.pitch, TENTH)
    said = (f"closest: {first} and {second}, ", found, " apart; at least ", minimum)
    return Verdict("pitch", subject, said, passed=True, source=work.spacing)


def reach_verdicts(placed: Sequence[Placed], tools: Mapping[str, Tools]) -> tuple[Verdict, ...]:
    """Return the farthest spot of every robot; raise OutOfRangeError with every spot beyond a robot's reach."""
    gathering = Gathering()
    verdicts = []
    for robot, tool in tools.items():
        mine = [item for item in placed if item.spot.robot == robot]
        if mine:
            _check_reach(mine, tool, gathering)
            verdicts.append(_farthest(mine, tool))
    gathering.finish(OutOfRangeError)
    return tuple(verdicts)


def _check_reach(mine: Sequence[Placed], tools: Tools, gathering: Gathering) -> None:
    base, reach = base_point(tools.robot), in_mm(tools.robot.reach)
    beyond = [
        (item, away) for item, away in ((item, dist(base, item.point)) for item in mine) if not within(away, reach)
    ]
    if not beyond:
        return
    item, away = beyond[0]
    found, maximum = lengths(away, reach, WHOLE)
    more = likewise((f"{other.spot.id} ", lengths(far, reach, WHOLE)[0]) for other, far in beyond[1:])
    with gathering.step(key=f"spots[{item.index}]"):
        raise refused(
            (
                f"spot {item.spot.id} is ",
                found,
                f" from the base of robot {tools.robot.id}, which reaches ",
                maximum,
                *more,
            ),
            "give the spot to the other robot, or check its point",
            value=found,
        )


def _farthest(mine: Sequence[Placed], tools: Tools) -> Verdict:
    index, away = farthest(tools.robot, [item.point for item in mine])
    found, maximum = lengths(away, in_mm(tools.robot.reach), WHOLE)
    said = (f"farthest: {mine[index].spot.id}, ", found, " from the base; reach ", maximum)
    source = f"table of machines, robot {tools.robot.id}"
    return Verdict("reach", f"robot {tools.robot.id}", said, passed=True, source=source)
