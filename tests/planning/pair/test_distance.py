"""Closed forms of distance against plain sampling."""

from __future__ import annotations

from itertools import pairwise
from math import dist
from random import Random
from typing import Any

import pytest
from weld_packets.planning.pair.approach import closest
from weld_packets.planning.pair.blocks import Block, Piece, Place
from weld_packets.planning.pair.distance import forbidden, meets, near_place, nearest
from weld_packets.planning.pair.timing import Started


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


def fastest(one: Block) -> float:
    return max(dist(piece.start, piece.end) / (piece.ends - piece.begins) for piece in one.pieces)


def apart(robots: Any, one: Block, other: Block, offset: float, every: float) -> float:
    """Return the smallest sampled distance while both run, the second ``offset`` ms after the first."""
    begins, ends = max(0, offset), min(one.lasts, offset + other.lasts)
    steps = max(1, int((ends - begins) / every))
    moments = [begins + (ends - begins) * step / steps for step in range(steps + 1)]
    return min(dist(robots.where(one, moment), robots.where(other, moment - offset)) for moment in moments)


@pytest.mark.parametrize("seed", range(60))
def test_a_start_is_forbidden_exactly_where_samples_come_too_near(robots: Any, seed: int) -> None:
    draw = Random(seed)  # noqa: S311 (a fixed sequence of test cases)
    one, other, clear = block(draw), block(draw), draw.randrange(5_000, 120_000)
    spans = forbidden(one, other, clear)
    slack = fastest(one) + fastest(other)
    for _ in range(12):
        offset = draw.randrange(1 - other.lasts, one.lasts)
        minimum = apart(robots, one, other, offset, 1.0)
        if minimum < clear:
            assert any(low < offset < high for low, high in spans)
        if any(low + 1 < offset < high - 1 for low, high in spans):
            assert minimum < clear + slack


@pytest.mark.parametrize("seed", range(40))
def test_a_forbidden_span_ends_where_the_tools_are_just_clear(robots: Any, seed: int) -> None:
    draw = Random(seed)  # noqa: S311 (a fixed sequence of test cases)
    one, other, clear = block(draw), block(draw), draw.randrange(20_000, 80_000)
    slack = 2.5 * (fastest(one) + fastest(other))
    for low, high in forbidden(one, other, clear):
        for end, inward in ((low, 1), (high, -1)):
            if -other.lasts < end < one.lasts:
                assert apart(robots, one, other, end, 0.5) >= clear
                assert apart(robots, one, other, end + 2 * inward, 0.5) < clear + slack


def test_two_straight_ways_that_cross_forbid_one_span_known_by_hand() -> None:
    east = Block((Piece((-100_000, 0, 0), (100_000, 0, 0), 0, 1000),))
    north = Block((Piece((0, -100_000, 0), (0, 100_000, 0), 0, 1000),))
    # both 200 mm/s: apart = v |t - s| / sqrt 2 at the nearest, so 50 mm forbids |t - s| < 50 sqrt 2 / 200 s = 353.6 ms
    assert forbidden(east, north, 50_000) == ((-354, 354),)
    assert not forbidden(east, Block((Piece((0, -100_000, 50_000), (0, 100_000, 50_000), 0, 1000),)), 50_000)
    assert forbidden(east, Block((Piece((0, -100_000, 49_999), (0, 100_000, 49_999), 0, 1000),)), 50_000)


def test_a_tool_that_waits_forbids_the_time_of_passing() -> None:
    passing = Block((Piece((-100_000, 30_000, 0), (100_000, 30_000, 0), 0, 2000),))
    assert near_place((0, 0, 0), passing, 50_000) == ((600, 1400),)
    assert near_place((0, 0, 0), passing, 30_000) == ()
    stand = Block((Piece((0, 0, 0), (0, 0, 0), 0, 700),))
    assert forbidden(stand, passing, 50_000) == ((-1400, 100),)
    assert near_place((0, 0, 0), stand, 1) == ((0, 700),)


@pytest.mark.parametrize("seed", range(60))
def test_blocks_meet_where_any_start_is_forbidden_and_nowhere_else(seed: int) -> None:
    draw = Random(1000 + seed)  # noqa: S311 (a fixed sequence of test cases)
    one, other = block(draw), block(draw)
    for clear in (3_000, 15_000, 40_000, 90_000):
        assert meets(one, other, clear) == bool(forbidden(one, other, clear))
        assert meets(other, one, clear) == meets(one, other, clear)
    near = nearest(one, other)
    assert meets(one, other, near + 1)
    assert not meets(one, other, near)


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
