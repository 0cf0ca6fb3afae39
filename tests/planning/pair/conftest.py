"""Two robots with random welds, in whole micrometres and milliseconds, and what a plain sampler sees of them."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist
from random import Random
from typing import Any

import pytest
from weld_packets.planning.pair.blocks import Bead, Block, Course, Pace, Place, Started, course
from weld_packets.planning.pair.records import Clearance

PACE = Pace(air_speed=800_000, approach=300)
WAITING = ((0, -600_000, 0), (0, 600_000, 0))


def beads(seed: int, robot: int, count: int) -> list[Bead]:
    """Return seams and spots of one robot on a part of 400 by 300 mm; some cross the half of the other one."""
    draw = Random(f"{seed}-{robot}")  # noqa: S311 (a fixed sequence of test cases)
    found = []
    for number in range(count):
        start = _point(draw, robot)
        points = (start, _point(draw, robot)) if draw.random() < 0.4 else (start,)
        along = draw.randrange(500, 6000)
        found.append(Bead(f"{'AB'[robot]}{number}", 1, points, draw.randrange(0, 400), along, draw.randrange(0, 400)))
    return found


def _point(draw: Random, robot: int) -> Place:
    side = -1 if robot == 0 else 1
    return draw.randrange(-200_000, 200_000), side * draw.randrange(-80_000, 150_000), draw.randrange(0, 60_000)


def pair(seed: int, count: int = 4) -> tuple[Course, Course]:
    """Return the courses of two robots."""
    one, other = (course(WAITING[robot], beads(seed, robot, count), PACE) for robot in (0, 1))
    return one, other


def clear(millimetres: int) -> Clearance:
    """Return a clearance of two radii and a margin."""
    return Clearance((millimetres * 400, millimetres * 400), millimetres * 200)


def where(block: Block, clock: float) -> tuple[float, float, float]:
    """Return where a tool is at a moment of its block's clock, in µm."""
    if clock <= 0:
        return block.start
    for piece in block.pieces:
        if clock <= piece.ends:
            share = (clock - piece.begins) / (piece.ends - piece.begins)
            x, y, z = (a + (b - a) * share for a, b in zip(piece.start, piece.end, strict=True))
            return x, y, z
    return block.end


def standing(blocks: Sequence[Started], waiting: Place, moment: float) -> tuple[float, float, float]:
    """Return where a robot is at a moment of the cycle, in µm."""
    here: tuple[float, float, float] = waiting
    for started in blocks:
        if moment <= started.start:
            return here
        here = where(started.block, moment - started.start)
    return here


def sampled(timed: Any, waiting: Any, every: float = 5) -> float:
    """Return the smallest distance of both tools in µm among samples of a cycle."""
    ends = max(started.end for one in timed for started in one)
    moments = [step * every for step in range(int(ends / every) + 1)]
    return min(dist(*(standing(timed[robot], waiting[robot], moment) for robot in (0, 1))) for moment in moments)


@pytest.fixture
def robots() -> Any:
    return type("Robots", (), {name: staticmethod(value) for name, value in globals().items() if callable(value)})
