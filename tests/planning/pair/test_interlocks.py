"""Interlocks: they keep the tools apart at any speed, none is too many, and nobody waits for himself."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from weld_packets.planning.pair.approach import closest
from weld_packets.planning.pair.blocks import Block, Piece, Started, Timed
from weld_packets.planning.pair.interlocks import Interlock, run
from weld_packets.planning.pair.planning import plan_pair
from weld_packets.planning.pair.records import PairPlan

APART = 140
SEEDS = range(20)


def stretched(block: Block, lasts: int) -> Block:
    """Return a block that does the same in another time."""
    ends = [max(1, piece.ends * lasts // block.lasts) for piece in block.pieces]
    pieces, now = [], 0
    for piece, end in zip(block.pieces, ends, strict=True):
        there = max(now + 1, end)
        pieces.append(Piece(piece.start, piece.end, now, there))
        now = there
    return Block(tuple(pieces), block.weld, block.pass_number)


def replayed(plan: PairPlan, draw: Random) -> Timed:
    """Return the plan run with every block 0.85 to 1.15 times as long."""
    blocks = [
        [stretched(each.block, max(1, each.block.lasts * draw.randrange(85, 116) // 100)) for each in one]
        for one in plan.timed
    ]
    lasting = [[block.lasts for block in one] for one in blocks]
    starts = run((blocks[0], blocks[1]), plan.interlocks, (lasting[0], lasting[1]))
    one, other = (
        tuple(Started(block, start) for block, start in zip(blocks[robot], starts[robot], strict=True))
        for robot in (0, 1)
    )
    return one, other


@pytest.mark.parametrize("seed", SEEDS)
def test_with_every_time_up_to_15_per_cent_off_the_tools_stay_apart_and_nobody_is_stuck(robots: Any, seed: int) -> None:
    plan = plan_pair(("A", "B"), robots.pair(seed, 6), robots.clear(APART))
    draw = Random(seed)  # noqa: S311 (a fixed sequence of test cases)
    for _ in range(25):
        timed = replayed(plan, draw)
        assert closest(timed, plan.waiting).apart >= plan.clearance.kept
    assert robots.sampled(timed, plan.waiting) >= plan.clearance.kept


def test_the_replay_would_find_a_missing_interlock(robots: Any) -> None:
    too_near = 0
    for seed in SEEDS:
        plan = plan_pair(("A", "B"), robots.pair(seed, 6), robots.clear(APART))
        blocks = tuple(tuple(each.block for each in one) for one in plan.timed)
        lasting = tuple(tuple(block.lasts for block in one) for one in blocks)
        starts = run((blocks[0], blocks[1]), (), (lasting[0], lasting[1]))
        free = tuple(
            tuple(Started(block, start) for block, start in zip(blocks[robot], starts[robot], strict=True))
            for robot in (0, 1)
        )
        too_near += closest((free[0], free[1]), plan.waiting).apart < plan.clearance.kept
    assert too_near > len(SEEDS) / 2


@pytest.mark.parametrize("seed", SEEDS)
def test_the_interlocks_alone_make_the_planned_times(robots: Any, seed: int) -> None:
    plan = plan_pair(("A", "B"), robots.pair(seed, 6), robots.clear(APART))
    blocks = tuple(tuple(each.block for each in one) for one in plan.timed)
    lasting = tuple(tuple(block.lasts for block in one) for one in blocks)
    starts = run((blocks[0], blocks[1]), plan.interlocks, (lasting[0], lasting[1]))
    assert [[each.start for each in one] for one in plan.timed] == [list(one) for one in starts]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_interlock_follows_from_the_others(robots: Any, seed: int) -> None:
    plan = plan_pair(("A", "B"), robots.pair(seed, 6), robots.clear(APART))
    blocks = tuple(tuple(each.block for each in one) for one in plan.timed)
    for lock in plan.interlocks:
        others = [each for each in plan.interlocks if each != lock]
        lasting = [[1 for _ in one] for one in blocks]
        lasting[lock.first][lock.leaves] = 1_000_000
        starts = run((blocks[0], blocks[1]), others, (lasting[0], lasting[1]))
        assert starts[1 - lock.first][lock.enters] < starts[lock.first][lock.leaves] + 1_000_000


@pytest.mark.parametrize("seed", SEEDS)
def test_the_graph_of_waits_has_no_cycle(robots: Any, seed: int) -> None:
    plan = plan_pair(("A", "B"), robots.pair(seed, 6), robots.clear(APART))
    places = [(robot, place) for robot in (0, 1) for place in range(len(plan.timed[robot]))]
    after = {(robot, place): {(robot, place - 1)} if place else set() for robot, place in places}
    for lock in plan.interlocks:
        after[1 - lock.first, lock.enters].add((lock.first, lock.leaves))
    while free := [node for node, before in after.items() if not before]:
        for node in free:
            del after[node]
        for before in after.values():
            before.difference_update(free)
    assert not after


def test_robots_that_wait_for_each_other_are_an_error() -> None:
    stand = Block((Piece((0, 0, 0), (0, 0, 0), 0, 10),))
    with pytest.raises(ValueError, match=r"\[\]"):
        run(([stand], [stand]), (Interlock(0, 0, 0), Interlock(1, 0, 0)), ([10], [10]))


def test_each_robot_asks_in_the_order_of_the_cycle(robots: Any) -> None:
    plan = plan_pair(("A", "B"), robots.pair(2, 6), robots.clear(APART))
    entered = [plan.timed[1 - lock.first][lock.enters].start for lock in plan.interlocks]
    assert len(entered) > 2
    assert entered == sorted(entered)
