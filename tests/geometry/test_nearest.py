from __future__ import annotations

import math
from itertools import combinations

from hypothesis import example, given
from hypothesis import strategies as st
from weld_packets.geometry.nearest import closest_pair, closest_pairs, pairs_closer, smallest_distance

POINT = st.tuples(*[st.floats(-500, 500, width=32)] * 3)


def test_of_equal_pairs_the_first_in_the_order_of_the_points_is_named() -> None:
    row = [(40.0 * place, 0.0, 0.0) for place in (3, 2, 1, 0)]
    assert closest_pair(row) == (0, 1, 40.0)
    assert [pair[:2] for pair in closest_pairs(row)] == [(0, 1), (1, 2), (2, 3)]


def test_within_a_slack_the_truly_closest_pair_comes_first() -> None:
    points = [(0.0, 0.0), (10.04, 0.0), (100.0, 0.0), (110.0, 0.0)]
    assert [pair[:2] for pair in closest_pairs(points, slack=0.05)] == [(2, 3), (0, 1)]
    assert [pair[:2] for pair in closest_pairs(points)] == [(2, 3)]


def test_only_pairs_that_count_are_looked_at() -> None:
    points = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (5.0, 0.0, 0.0)]
    assert closest_pair(points, lambda first, second: 2 in (first, second)) == (1, 2, 4.0)
    assert closest_pair(points, lambda _, __: False) is None


def test_fewer_than_two_points_have_no_distance() -> None:
    assert smallest_distance([]) == smallest_distance([(1.0, 2.0)]) == math.inf


@given(st.lists(POINT, min_size=2, max_size=12))
@example([(0.0, 0.0, 0.0), (0.0, 0.0, 6e-8), (0.0, 0.0, 0.0)])
def test_the_closest_pair_is_that_of_all_pairs(points: list[tuple[float, ...]]) -> None:
    assert math.isclose(
        smallest_distance(points), min(math.dist(*pair) for pair in combinations(points, 2)), abs_tol=1e-9
    )


@given(st.lists(POINT, max_size=12), st.floats(0, 400))
def test_pairs_below_a_limit_are_all_pairs_below_it(points: list[tuple[float, ...]], limit: float) -> None:
    indices = combinations(range(len(points)), 2)
    wanted = {pair for pair in indices if math.dist(points[pair[0]], points[pair[1]]) < limit}
    assert {(first, second) for first, second, _ in pairs_closer(points, limit)} == wanted
