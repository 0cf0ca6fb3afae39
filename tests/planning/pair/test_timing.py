"""The best timing of given sequences, against another solver and against what must not change it."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.planning.pair.blocks import Bead, Course, Pace, Place, course
from weld_packets.planning.pair.distance import Zones
from weld_packets.planning.pair.planning import plan_pair
from weld_packets.planning.pair.records import Clearance
from weld_packets.planning.pair.timing import best_timing

NAMES = ("A", "B")


def own(each: Course) -> int:
    return sum(block.lasts for block in each.onward)


@pytest.mark.parametrize("seed", range(20))
def test_without_a_distance_to_keep_nobody_waits(robots: Any, seed: int) -> None:
    courses = robots.pair(seed)
    plan = plan_pair(NAMES, courses, Clearance((0, 0), 0))
    assert plan.ends == max(map(own, courses))
    assert not plan.waits
    assert not plan.interlocks
    assert plan.is_best


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("apart", [80, 140])
def test_no_timing_is_nearer_than_the_distance(robots: Any, seed: int, apart: int) -> None:
    plan = plan_pair(NAMES, robots.pair(seed), robots.clear(apart))
    assert plan.nearest.apart >= plan.clearance.kept == apart * 1000
    assert robots.sampled(plan.timed, plan.waiting) >= plan.nearest.apart


@pytest.mark.parametrize("seed", range(12))
def test_a_larger_distance_never_shortens_the_cycle(robots: Any, seed: int) -> None:
    courses = robots.pair(seed)
    for retreats in (False, True):
        found = [best_timing(courses, Zones(1000 * apart), retreats=retreats) for apart in (0, 60, 100, 150, 200)]
        ends = [each.ends if each.timed else 10**9 for each in found]
        assert ends == sorted(ends)


def changed(each: Course, change: Any, pace: Pace, made: list[Bead]) -> Course:
    moved = [
        Bead(bead.weld, bead.pass_number, tuple(map(change, bead.points)), bead.before, bead.along, bead.after)
        for bead in made
    ]
    return course(change(each.waiting), moved, pace)


@pytest.mark.parametrize("seed", range(10))
def test_a_mirrored_a_turned_and_a_scaled_part_take_the_same_time(robots: Any, seed: int) -> None:
    courses, clearance = robots.pair(seed), robots.clear(120)
    made = [robots.beads(seed, robot, 4) for robot in (0, 1)]
    once = plan_pair(NAMES, courses, clearance)

    def with_change(change: Any, pace: Pace, wanted: Clearance) -> int:
        one, other = (changed(each, change, pace, made[robot]) for robot, each in enumerate(courses))
        return plan_pair(NAMES, (one, other), wanted).ends

    def mirrored(place: Place) -> Place:
        return -place[0], place[1], place[2]

    def turned(place: Place) -> Place:
        return place[1], place[2], place[0]

    def scaled(place: Place) -> Place:
        return 3 * place[0], 3 * place[1], 3 * place[2]

    pace = Pace(800_000, 300)
    assert with_change(mirrored, pace, clearance) == once.ends
    assert with_change(turned, pace, clearance) == once.ends
    larger = Clearance((3 * clearance.radii[0], 3 * clearance.radii[1]), 3 * clearance.margin)
    assert with_change(scaled, Pace(3 * pace.air_speed, pace.approach), larger) == once.ends


@pytest.mark.parametrize("seed", range(10))
def test_it_does_not_matter_which_robot_is_named_first(robots: Any, seed: int) -> None:
    one, other = robots.pair(seed)
    there = plan_pair(NAMES, (one, other), robots.clear(120))
    back = plan_pair(NAMES, (other, one), robots.clear(120))
    assert there.ends == back.ends
    assert there.nearest.apart >= 120_000 <= back.nearest.apart


@pytest.mark.parametrize("seed", range(6))
def test_the_same_welds_make_the_same_plan(robots: Any, seed: int) -> None:
    first, second = (plan_pair(NAMES, robots.pair(seed), robots.clear(130)) for _ in range(2))
    assert repr(first) == repr(second)


def stood_in_the_way() -> tuple[Course, Course]:
    """Return robots of which A must pass where B is, and B where A is: one has to go off the part."""
    pace = Pace(1_000_000, 100)
    places_a = [(0, -50_000, 0), (0, 40_000, 0), (300_000, 0, 0)]
    places_b = [(0, 50_000, 0), (0, -40_000, 0), (-300_000, 0, 0)]
    first = [Bead(f"A{number}", 1, (place,), 100, 1000, 100) for number, place in enumerate(places_a)]
    second = [Bead(f"B{number}", 1, (place,), 100, 1000, 100) for number, place in enumerate(places_b)]
    return course((0, -400_000, 0), first, pace), course((0, 400_000, 0), second, pace)


def test_a_robot_goes_off_the_part_where_that_is_sooner() -> None:
    courses, zones = stood_in_the_way(), Zones(80_000)
    standing = best_timing(courses, zones, retreats=False)
    retreating = best_timing(courses, zones)
    assert retreating.ends < standing.ends
    plan = plan_pair(NAMES, courses, Clearance((30_000, 30_000), 20_000))
    assert plan.ends == retreating.ends
    assert any(not each.block.weld for one in plan.timed for each in one[:-1])
    assert plan.nearest.apart >= 80_000


def with_ways_off(each: Course, off: tuple[bool, ...]) -> Course:
    """Return a course that goes to the waiting place after each weld so marked, as one given sequence."""
    blocks = [each.onward[0]]
    for number, goes in enumerate(off, 1):
        blocks += [each.off[number], each.again[number]] if goes else [each.onward[number]]
    return Course(each.waiting, (*blocks, each.onward[-1]), (), ())


@pytest.mark.parametrize("seed", range(10))
def test_no_choice_of_ways_off_the_part_is_sooner_than_the_one_found(robots: Any, seed: int) -> None:
    courses, zones = robots.pair(40 + seed, 4), Zones((100_000, 150_000)[seed % 2])
    choices = list(product((False, True), repeat=3))
    sequences = [[with_ways_off(each, off) for off in choices] for each in courses]
    found = [best_timing((one, other), zones, retreats=False) for one in sequences[0] for other in sequences[1]]
    assert best_timing(courses, zones).ends == min(each.ends for each in found if each.timed)


@pytest.mark.parametrize("seed", range(10))
def test_a_way_off_the_part_has_to_save_one_per_cent_of_the_cycle(robots: Any, seed: int) -> None:
    courses, zones = robots.pair(60 + seed, 5), Zones(140_000)
    plan = plan_pair(NAMES, courses, Clearance((60_000, 60_000), 20_000))
    standing, best = best_timing(courses, zones, retreats=False), best_timing(courses, zones)
    saved = standing.timed is None or best.ends * 1000 < standing.ends * 990
    assert plan.ends == (best.ends if saved else standing.ends)


def test_a_way_off_the_part_that_saves_less_than_one_per_cent_is_not_taken(robots: Any) -> None:
    courses, zones = robots.pair(180, 4), Zones(140_000)
    standing, best = best_timing(courses, zones, retreats=False), best_timing(courses, zones)
    assert 0.008 < 1 - best.ends / standing.ends < 0.010
    assert plan_pair(NAMES, courses, Clearance((60_000, 60_000), 20_000)).ends == standing.ends


def test_a_way_off_the_part_that_saves_little_more_than_one_per_cent_is_taken(robots: Any) -> None:
    courses, zones = robots.pair(765, 4), Zones(140_000)
    standing, best = best_timing(courses, zones, retreats=False), best_timing(courses, zones)
    assert 0.010 < 1 - best.ends / standing.ends < 0.012
    assert plan_pair(NAMES, courses, Clearance((60_000, 60_000), 20_000)).ends == best.ends


def test_a_search_that_gives_up_lets_one_robot_do_all_its_welds_first(
    robots: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    courses = robots.pair(3, 5)
    monkeypatch.setattr("weld_packets.planning.pair.timing.MAXIMUM_LABELS", 5)
    plan = plan_pair(NAMES, courses, robots.clear(140))
    assert not plan.is_best
    assert {lock.first for lock in plan.interlocks} == {0}
    assert max(map(own, courses)) < plan.ends <= sum(map(own, courses))
    assert plan.nearest.apart >= 140_000


def test_a_robot_waits_only_between_blocks_and_every_wait_is_reported() -> None:
    plan = plan_pair(NAMES, stood_in_the_way(), Clearance((30_000, 30_000), 20_000))
    for robot, blocks in enumerate(plan.timed):
        ends = [0, *(each.end for each in blocks)]
        gaps = [each.start - end for each, end in zip(blocks, ends, strict=False)]
        planned = {wait.before: wait.lasts for wait in plan.waits if wait.robot == robot}
        assert {place: gap for place, gap in enumerate(gaps) if gap} == planned
        assert plan.busy(robot) + plan.waited(robot) == blocks[-1].end


def test_only_what_is_sooner_than_required_is_looked_for(robots: Any) -> None:
    courses, zones = robots.pair(3), Zones(130_000)
    ends = best_timing(courses, zones).ends
    assert best_timing(courses, zones, below=ends).timed is None
    assert best_timing(courses, zones, below=ends + 1).ends == ends


def test_a_waiting_place_in_the_way_is_refused_with_the_welds_and_how_near() -> None:
    pace = Pace(1_000_000, 100)
    beads = [Bead("A1", 1, ((0, 0, 0),), 100, 1000, 100), Bead("A2", 1, ((0, 350_000, 0),), 100, 1000, 100)]
    courses = course((0, -400_000, 0), beads, pace), course((0, 400_000, 0), [], pace)  # B has nothing to weld
    with pytest.raises(OutOfRangeError) as refused:
        plan_pair(NAMES, courses, Clearance((30_000, 30_000), 20_000))
    first = refused.value.problems[0]
    assert first.message.replace("\N{NO-BREAK SPACE}", " ") == (
        "A comes within 50 mm of B at its waiting place, moving to A2 or at it; the tools need 80 mm, and no order "
        "of going first avoids it"
    )
    assert first.remedy.startswith("move the waiting place")
    assert len(refused.value.problems) == 2  # to A2, and back from it


def test_waiting_places_too_near_each_other_are_refused() -> None:
    courses = course((0, 0, 0), [], Pace(1000, 1)), course((79_999, 0, 0), [], Pace(1000, 1))
    with pytest.raises(OutOfRangeError, match=r"waiting places of A and B are 79\.9"):
        plan_pair(NAMES, courses, Clearance((30_000, 30_000), 20_000))
    at_80 = course((80_000, 0, 0), [], Pace(1000, 1))
    assert plan_pair(NAMES, (courses[0], at_80), Clearance((30_000, 30_000), 20_000)).ends == 0


def solved(courses: tuple[Course, Course], zones: Zones) -> int | None:
    """Return the shortest cycle by constraint programming: integer starts, one Boolean for each two that meet."""
    cp_model = pytest.importorskip("ortools.sat.python.cp_model")
    model = cp_model.CpModel()
    horizon = 2 * sum(map(own, courses))
    starts = [[model.new_int_var(0, horizon, "") for _ in each.onward] for each in courses]
    ends = model.new_int_var(0, horizon, "ends")
    for each, begins in zip(courses, starts, strict=True):
        for block, begun, after in zip(each.onward, begins, [*begins[1:], ends], strict=True):
            model.add(after >= begun + block.lasts)
    for (i, one), (j, other) in product(*(enumerate(each.onward) for each in courses)):
        if zones.meet(one, other):
            before = model.new_bool_var("")
            model.add(starts[1][j] - starts[0][i] <= -other.lasts).only_enforce_if(before)
            model.add(starts[1][j] - starts[0][i] >= one.lasts).only_enforce_if(~before)
    for robot, number in [(side, place) for side in (0, 1) for place in range(len(courses[side].onward) + 1)]:
        _stand(model, courses, starts, (robot, number), zones)
    model.minimize(ends)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 7
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return round(solver.objective_value)


def _stand(model: Any, courses: tuple[Course, Course], starts: Any, stand: tuple[int, int], zones: Zones) -> None:
    """Keep a robot that is after ``number`` blocks from where the other one passes: gone before, or there later."""
    robot, number = stand
    onward = courses[robot].onward
    place = onward[number - 1].end if number else courses[robot].waiting
    for other, begins in zip(courses[1 - robot].onward, starts[1 - robot], strict=True):
        if zones.near(place, other):
            gone = model.new_bool_var("")
            if number < len(onward):
                model.add(starts[robot][number] <= begins).only_enforce_if(gone)
            else:
                model.add(gone == 0)
            if number:
                comes = starts[robot][number - 1] + onward[number - 1].lasts
                model.add(comes >= begins + other.lasts).only_enforce_if(~gone)
            else:
                model.add(gone == 1)


@pytest.mark.parametrize("seed", range(60))
def test_the_timing_without_retreat_is_as_short_as_another_solver_makes_it(robots: Any, seed: int) -> None:
    courses = robots.pair(500 + seed, 3 + seed % 3)
    zones = Zones((90_000, 140_000, 190_000)[seed % 3])
    found = best_timing(courses, zones, retreats=False)
    assert (found.ends if found.timed else None) == solved(courses, zones)
