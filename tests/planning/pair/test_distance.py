"""Closed forms of distance against plain sampling."""

from __future__ import annotations

from itertools import pairwise
from math import dist
from random import Random
from typing import Any

import pytest
from weld_packets.planning.pair.approach import closest
from weld_packets.planning.pair.blocks import Block, Piece, Place, Started
from weld_packets.planning.pair.distance import meets, near_place, nearest


def block(draw: Random) -> Block:
    """Return moves and stops in a cube of 180 mm."""
    points = [_place(draw) for _ in range(draw.randrange(2, 5))]
    pieces, now = [], 0
    for start, end in pairwise(points):
        there = start if draw.random() < 0.25 else end
        lasts = draw.randrange(20, 400)
        pieces.append(Piece(start, there, now, now + lasts))
        now += lasts
        if there != end:
            pieces.append(Piece(there, end, now, now + 40))
            now += 40
    return Block(tuple(pieces))


def _place(draw: Random) -> Place:
    x, y, z = (draw.randrange(-90_000, 90_000) for _ in range(3))
    return x, y, z


def sampled(one: Block, other: Block, steps: int = 24) -> tuple[float, float]:
    """Return the smallest distance of samples of both blocks, and how much more that can be than their distance."""
    shares = [step / steps for step in range(steps + 1)]
    lines = [[(piece.start, piece.end) for piece in each.pieces] for each in (one, other)]
    points = [[_at(line, share) for line in each for share in shares] for each in lines]
    gap = sum(max(dist(*line) for line in each) / steps / 2 for each in lines)
    return min(dist(here, there) for here in points[0] for there in points[1]), gap


def _at(line: tuple[Place, Place], share: float) -> list[float]:
    return [start + (end - start) * share for start, end in zip(*line, strict=True)]


@pytest.mark.parametrize("seed", range(60))
def test_blocks_meet_where_samples_of_them_come_nearer_than_the_distance(seed: int) -> None:
    draw = Random(1000 + seed)  # noqa: S311 (a fixed sequence of test cases)
    one, other = block(draw), block(draw)
    near = nearest(one, other)
    minimum, gap = sampled(one, other)
    assert near <= minimum <= near + gap + 1
    for first, second in ((one, other), (other, one)):
        assert meets(first, second, near + 1)
        assert not meets(first, second, near)


def test_two_straight_moves_that_pass_each_other_meet_below_the_distance_between_them() -> None:
    east = Block((Piece((-100_000, 0, 0), (100_000, 0, 0), 0, 1000),))
    above = Block((Piece((0, -100_000, 50_000), (0, 100_000, 50_000), 0, 1000),))
    assert meets(east, above, 50_001)
    assert not meets(east, above, 50_000)
    assert nearest(east, above) == 50_000


def test_a_tool_that_passes_a_place_comes_near_it_and_one_that_ends_before_does_not() -> None:
    passing = Block((Piece((-100_000, 30_000, 0), (100_000, 30_000, 0), 0, 2000),))
    assert near_place((0, 0, 0), passing, 30_001)
    assert not near_place((0, 0, 0), passing, 30_000)
    before = Block((Piece((-100_000, 30_000, 0), (-40_000, 30_000, 0), 0, 600),))
    assert near_place((0, 0, 0), before, 50_001)
    assert not near_place((0, 0, 0), before, 50_000)
    stand = Block((Piece((0, 0, 0), (0, 0, 0), 0, 700),))
    assert near_place((0, 0, 0), stand, 1)
    assert not near_place((0, 0, 1), stand, 1)


@pytest.mark.parametrize("seed", range(25))
def test_the_closest_approach_is_never_above_samples_and_hardly_below(robots: Any, seed: int) -> None:
    courses = robots.pair(seed)
    starts: list[tuple[Started, ...]] = []
    for each in courses:
        now, found = seed * 7 % 400, []
        for one in each.onward:
            found.append(Started(one, now))
            now += one.lasts + (seed * 131 % 900)
        starts.append(tuple(found))
    timed, waiting = (starts[0], starts[1]), (courses[0].waiting, courses[1].waiting)
    found_nearest = closest(timed, waiting)
    minimum = robots.sampled(timed, waiting, 5)
    assert found_nearest.apart <= minimum < found_nearest.apart + 5 * 2 * 800 / 2 + 1
    at = [robots.standing(timed[robot], waiting[robot], found_nearest.moment) for robot in (0, 1)]
    assert dist(*at) == pytest.approx(found_nearest.apart, abs=2 * 800 + 2)
