"""At which part something falls due, held against counting part by part."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.planning.due import NEW, Begun, Due, begin, count_due, due, used_after, whole_parts

WEARS = st.fractions(min_value=Fraction(1, 60), max_value=4).filter(bool)
SHARES = st.fractions(min_value=0, max_value=1, max_denominator=60)


def counted(wear: Fraction, parts: int, used: Fraction) -> Iterator[Due | Fraction]:
    """Yield what falls due, counted part by part, and at the end the share that is used."""
    left = 1 - used
    if wear > 1 and left == 0:
        yield Due(0, "after")
        left = Fraction(1)
    for part in range(1, parts + 1):
        if wear <= 1 and left < wear:
            yield Due(part - 1, "after")
            left = Fraction(1)
        left -= wear
        while wear > 1 and left <= 0 and not (part == parts and left == 0):
            yield Due(part, "during" if left < 0 else "after")
            left += 1
    yield 1 - left


@given(WEARS, st.integers(1, 200), SHARES)
def test_changes_fall_where_counting_part_by_part_puts_them(wear: Fraction, parts: int, used: Fraction) -> None:
    *found, end = counted(wear, parts, used)
    assert list(due(wear, parts, used)) == found
    assert count_due(wear, parts, used) == len(found)
    assert used_after(wear, parts, used) == end


@given(WEARS, st.integers(1, 120), st.integers(1, 120), SHARES)
def test_two_runs_one_after_the_other_are_as_one_run_of_both(
    wear: Fraction, first: int, second: int, used: Fraction
) -> None:
    between = used_after(wear, first, used)
    later = (replace(each, part=first + each.part) for each in due(wear, second, between))
    assert [*due(wear, first, used), *later] == list(due(wear, first + second, used))
    assert used_after(wear, second, between) == used_after(wear, first + second, used)


@given(WEARS, st.integers(1, 120), SHARES)
def test_what_is_left_after_a_run_is_never_more_than_used_up(wear: Fraction, parts: int, used: Fraction) -> None:
    assert 0 < used_after(wear, parts, used) <= 1


def test_a_dressing_that_lasts_ten_parts_exactly_is_due_after_each_tenth_but_the_last() -> None:
    assert [moment.part for moment in due(Fraction(36, 360), 30)] == [10, 20]


def test_a_dressing_that_was_due_after_the_last_part_is_due_before_the_first_of_the_next_run() -> None:
    used = used_after(Fraction(36, 360), 30)
    assert used == 1
    assert [moment.part for moment in due(Fraction(36, 360), 30, used)] == [0, 10, 20]


def test_a_spool_that_does_not_hold_one_more_part_is_changed_before_the_first() -> None:
    assert list(due(Fraction(1, 3), 4, Fraction(7, 10))) == [Due(0, "after"), Due(3, "after")]
    assert list(due(Fraction(1, 3), 4, Fraction(2, 3))) == [Due(1, "after")]


def test_what_is_used_up_exactly_by_parts_that_each_take_more_than_one_is_due_before_the_first() -> None:
    assert list(due(Fraction(3, 2), 1, Fraction(1))) == [Due(0, "after"), Due(1, "during")]


def test_a_share_carries_over_to_parts_that_wear_otherwise() -> None:
    assert [moment.part for moment in due(Fraction(1, 10), 20, Fraction(36, 100))] == [6, 16]


def test_nothing_is_due_where_one_lasts_the_whole_run() -> None:
    assert not list(due(Fraction(1, 500), 500))


def test_nothing_is_due_of_what_no_part_takes_and_it_stays_as_it_was() -> None:
    assert count_due(NEW, 500, Fraction(1)) == 0
    assert used_after(NEW, 500, Fraction(2, 3)) == Fraction(2, 3)


@pytest.mark.parametrize(("wear", "parts"), [(Fraction(1, 3), 3), (Fraction(2, 7), 3), (Fraction(3, 2), 0)])
def test_whole_parts_leave_the_rest_unused(wear: Fraction, parts: int) -> None:
    assert whole_parts(wear) == parts


def test_what_does_not_last_a_part_is_changed_inside_it() -> None:
    assert list(due(Fraction(3, 2), 3)) == [Due(1, "during"), Due(2, "during"), Due(2, "after"), Due(3, "during")]


# ---------------------------------------------------------------- the prove-out before a run


@pytest.mark.parametrize(
    ("used", "proof", "begun"),
    [
        (NEW, Fraction(1, 10), Begun(0, 0, Fraction(1, 10))),
        (Fraction(7, 10), Fraction(1, 10), Begun(0, 0, Fraction(8, 10))),
        (Fraction(7, 10), Fraction(11, 100), Begun(1, 0, Fraction(11, 100))),  # nothing is left for part 1
        (Fraction(1), Fraction(2, 10), Begun(1, 0, Fraction(2, 10))),
        (NEW, Fraction(8, 10), Begun(0, 0, Fraction(8, 10))),
        (NEW, Fraction(9, 10), Begun(0, 1, NEW)),
        (Fraction(1, 10), Fraction(9, 10), Begun(1, 1, NEW)),
        (Fraction(3, 10), NEW, Begun(0, 0, Fraction(3, 10))),
        (Fraction(1), NEW, Begun(0, 0, Fraction(1))),  # due before the first part, as without a prove-out
    ],
)
def test_what_does_not_last_prove_out_and_first_part_is_renewed_before_it(
    used: Fraction, proof: Fraction, begun: Begun
) -> None:
    assert begin(Fraction(2, 10), used, proof) == begun
    assert begun.times == begun.before + begun.within


def test_what_does_not_last_a_part_is_renewed_inside_the_first_off() -> None:
    assert begin(Fraction(3, 2), NEW, Fraction(3, 2)) == Begun(0, 1, Fraction(1, 2))
    assert begin(Fraction(3, 2), Fraction(1, 2), Fraction(3, 2)) == Begun(0, 2, NEW)


@given(WEARS, SHARES, st.fractions(min_value=0, max_value=3, max_denominator=60))
def test_after_a_prove_out_a_part_is_welded_before_anything_is_due(
    wear: Fraction, used: Fraction, besides: Fraction
) -> None:
    begun = begin(wear, used, wear + besides)
    assert 0 <= begun.used <= 1
    if wear <= 1:
        assert all(moment.part for moment in due(wear, 50, begun.used))
    else:
        assert begun.times == (used + wear + besides) // 1
