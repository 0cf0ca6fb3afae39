"""At which part something falls due, held against counting part by part."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.plan.due import Due, count_due, due, whole_parts

WEARS = st.fractions(min_value=Fraction(1, 60), max_value=4).filter(bool)


@given(WEARS, st.integers(1, 200))
def test_changes_fall_where_counting_part_by_part_puts_them(wear: Fraction, parts: int) -> None:
    left, found = Fraction(1), []
    for part in range(1, parts + 1):
        if wear <= 1 and left < wear:
            found.append(Due(part - 1, "after"))
            left = Fraction(1)
        left -= wear
        while wear > 1 and left <= 0 and not (part == parts and left == 0):
            found.append(Due(part, "during" if left < 0 else "after"))
            left += 1
    assert list(due(wear, parts)) == found
    assert count_due(wear, parts) == len(found)


def test_a_dressing_that_lasts_ten_parts_exactly_is_due_after_each_tenth_but_the_last() -> None:
    assert [moment.part for moment in due(Fraction(36, 360), 30)] == [10, 20]


def test_nothing_is_due_where_one_lasts_the_whole_run() -> None:
    assert not list(due(Fraction(1, 500), 500))


@pytest.mark.parametrize(("wear", "parts"), [(Fraction(1, 3), 3), (Fraction(2, 7), 3), (Fraction(3, 2), 0)])
def test_whole_parts_leave_the_rest_unused(wear: Fraction, parts: int) -> None:
    assert whole_parts(wear) == parts


def test_what_does_not_last_a_part_is_changed_inside_it() -> None:
    assert list(due(Fraction(3, 2), 3)) == [Due(1, "during"), Due(2, "during"), Due(2, "after"), Due(3, "during")]
