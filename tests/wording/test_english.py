"""Lists of names in a sentence."""

import pytest
from weld_packets.wording.english import capital, counted, inside, joined, listed, some


@pytest.mark.parametrize(("names", "expected"), [("abcd", "a, b, c, d"), ("abcde", "a, b, c … e (5)")])
def test_four_names_are_stated_in_full_and_more_are_counted(names: str, expected: str) -> None:
    assert some(list(names)) == expected


def test_one_thing_is_singular_and_none_or_several_are_not() -> None:
    assert [counted(number, "weld") for number in (0, 1, 2)] == ["0 welds", "1 weld", "2 welds"]


def test_a_label_begins_with_a_capital_and_keeps_the_rest() -> None:
    assert [capital(each) for each in ("weld map", "iSO x", "a", "")] == ["Weld map", "ISO x", "A", ""]


@pytest.mark.parametrize(
    ("label", "written"),
    [("Weld current", "weld current"), ("T fillet", "T fillet"), ("MAG welding", "MAG welding"), ("A weld", "a weld"),
     ("", "")],
)  # fmt: skip
def test_inside_a_sentence_only_what_is_always_a_capital_keeps_it(label: str, written: str) -> None:
    assert inside(label) == written


def test_names_are_listed_with_an_and_before_the_last() -> None:
    assert [listed("abc"[:count]) for count in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert joined(["a", "", "b"]) == "a; b"
