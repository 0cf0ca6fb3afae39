"""How many parts of an order a check looks at, and which: by the plant's table, or after every so many parts."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.table_checks.table_problems import sampling_problems
from weld_packets.model.tables.inspection import Inspection, SampleSizes
from weld_packets.planning.sampling import sample_of, spread
from weld_packets.wording.inspection import sample_words

HEAD = {"table": "samples", "kind": "sample sizes", "title": "t", "source": "works rule", "revision": "A"}


def table(*rows: dict[str, Any]) -> SampleSizes:
    texts = [{key: str(value) for key, value in row.items()} for row in rows]
    entries = [{"id": f"r{number}", "checks": ["teardown"], **row} for number, row in enumerate(texts, 1)]
    return SampleSizes.model_validate({**HEAD, "entries": entries})


def check(stage: str = "in process", **more: Any) -> Inspection:
    words = dict.fromkeys(("what", "how", "accept", "every", "source"), "as said")
    return Inspection.model_validate({"id": "teardown", "processes": ["21"], "stage": stage, **words, **more})


RULE = table({"up to": 150, "parts": 2}, {"over": 150, "up to": 500, "share": "2.5 %"}, {"over": 500, "share": "1 %"})


@pytest.mark.parametrize(
    ("quantity", "row", "turns"),
    [
        (1, "r1", (1,)),  # no more than there are
        (150, "r1", (75, 150)),
        (151, "r2", (38, 76, 114, 151)),  # 3.775 parts are 4
        (500, "r2", spread(13, 500)),
        (501, "r3", spread(6, 501)),
    ],
)
def test_the_row_of_the_quantity_says_how_many_and_they_lie_evenly(
    quantity: int, row: str, turns: tuple[int, ...]
) -> None:
    found = sample_of(check(), quantity, RULE)
    assert found is not None
    assert (found.row, found.turns, found.of, found.basis) == (row, turns, quantity, f"table samples, row {row}")


def test_a_share_is_counted_exactly_where_it_gives_a_whole_part() -> None:
    found = sample_of(check(), 300, table({"share": "1 %"}))
    assert found is not None
    assert found.turns == (100, 200, 300)


def test_a_check_after_every_so_many_parts_has_its_parts_unless_the_table_names_it() -> None:
    every_20th = check(**{"after parts": "20"})
    own = sample_of(every_20th, 96, None)
    assert own is not None
    assert (own.turns, own.basis) == ((20, 40, 60, 80), "")
    assert (whole := sample_of(every_20th, 100, None)) is not None
    assert whole.turns == (20, 40, 60, 80, 100)
    assert (ruled := sample_of(every_20th, 96, RULE)) is not None
    assert ruled.turns == (48, 96)


def test_nothing_is_counted_for_another_stage_or_a_check_that_nobody_counts() -> None:
    assert sample_of(check("first-off"), 100, RULE) is None
    assert sample_of(check(), 100, None) is None
    assert sample_of(check(), 100, table({"over": 100, "parts": 1})) is None
    assert sample_of(check().model_copy(update={"id": "other"}), 100, RULE) is None


@given(st.integers(1, 2000), st.integers(1, 2000))
def test_parts_of_a_sample_are_different_parts_of_the_order_and_end_with_the_last(one: int, other: int) -> None:
    count, quantity = sorted((one, other))
    turns = spread(count, quantity)
    assert len(set(turns)) == count
    assert (turns[-1], turns[0] >= 1) == (quantity, True)
    gaps = {second - first for first, second in zip((0, *turns), turns, strict=False)}
    assert max(gaps) - min(gaps) <= 1


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ([{}], "gives 'parts' and 'share', or neither"),
        ([{"parts": 2, "share": "1 %"}], "gives 'parts' and 'share', or neither"),
        ([{"parts": 0}], "a sample holds at least one part"),
        ([{"share": "0 %"}], "is not over 0 and up to 100 %"),
        ([{"share": "101 %"}], "is not over 0 and up to 100 %"),
        ([{"over": 9, "up to": 9, "parts": 1}], "the range ends at or below its beginning 9"),
        ([{"up to": 9, "parts": 1}, {"over": 8, "parts": 2}], "row 'r1' already says it for orders of up to 9 parts"),
        ([{"parts": 1}, {"over": 8, "parts": 2}], "row 'r1' already says it for orders of any more parts"),
    ],
)
def test_a_row_that_cannot_be_right_is_refused(rows: list[dict[str, Any]], message: str) -> None:
    assert [problem.message for problem in sampling_problems(table(*rows))] == [message]


def test_a_rule_without_a_fault_is_taken() -> None:
    assert list(sampling_problems(RULE)) == []


@pytest.mark.parametrize(
    ("turns", "of", "words"),
    [
        ((), 8, "none of 8 parts"),
        ((1,), 1, "every one of 1 part"),
        ((96,), 96, "1 of 96 parts, after part 96"),
        ((48, 96), 96, "2 of 96 parts, after parts 48 and 96"),
        (tuple(range(10, 71, 10)), 75, "7 of 75 parts, after parts 10, 20, 30 and so on to 70"),
    ],
)
def test_a_sample_is_said_with_its_part_numbers(turns: tuple[int, ...], of: int, words: str) -> None:
    assert sample_words(turns, of, "") == words
    assert sample_words(turns, of, "table samples, row r1") == f"{words} (table samples, row r1)"
