from __future__ import annotations

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.revisions.store.releasing import LETTERS, REVISION_LETTERS, next_letter, position


def test_letters_that_look_like_digits_or_blanks_are_left_out() -> None:
    assert set("IOQSXZ").isdisjoint(LETTERS)
    assert len(LETTERS) == 20


def test_there_are_420_marks_and_each_is_used_once() -> None:
    assert len(REVISION_LETTERS) == len(set(REVISION_LETTERS)) == 420


@pytest.mark.parametrize(
    ("last", "following"),
    [("", "A"), ("A", "B"), ("H", "J"), ("N", "P"), ("R", "T"), ("W", "Y"), ("Y", "AA"), ("AY", "BA"), ("YW", "YY")],
)
def test_the_next_mark_skips_unused_letters(last: str, following: str) -> None:
    assert next_letter(last) == following


def test_after_the_last_mark_there_is_none() -> None:
    with pytest.raises(OutOfRangeError, match="all revision letters from A to YY are used"):
        next_letter("YY")


@pytest.mark.parametrize("text", ["I", "a", "1", "AAA", "-"])
def test_a_text_that_is_no_mark_is_refused(text: str) -> None:
    with pytest.raises(OutOfRangeError, match="not a revision letter"):
        position(text)


def test_marks_stand_in_the_order_of_their_use() -> None:
    assert position("A") < position("Y") < position("AA") < position("YY")
