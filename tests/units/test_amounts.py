from __future__ import annotations

import pytest
from weld_packets.units import Amount, Span

FOUR = Amount(value="4", unit="mm", second="0.157", second_unit="in")
VOLTS = Amount(value="21", unit="V")


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_an_amount_reads_in_both_systems_or_in_the_one_that_there_is() -> None:
    assert plain(FOUR.text) == "4 mm (0.157 in)"
    assert plain(VOLTS.text) == "21 V"
    assert Amount(value="3", unit="").text == "3"


def test_records_are_equal_where_they_are_of_one_kind_and_hold_the_same() -> None:
    class Same(Amount):
        pass

    equal = Amount(value="4", unit="mm", second="0.157", second_unit="in")
    assert equal == FOUR
    assert hash(FOUR) == hash(equal)
    assert Amount(value="4", unit="mm", second="0.158", second_unit="in") != FOUR
    assert Same(value="4", unit="mm", second="0.157", second_unit="in") != FOUR
    assert FOUR != "4"


def test_an_amount_in_both_systems_is_the_same_whichever_comes_first() -> None:
    other = Amount(value="0.157", unit="in", second="4", second_unit="mm")
    assert FOUR.in_both == other.in_both == "0.157 in = 4 mm"
    assert VOLTS.in_both == "21 V"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [("3", "5", "3 to 5 mm"), ("3", "", "at least 3 mm"), ("", "5", "at most 5 mm"), ("", "", "")],
)
def test_a_range_says_both_ends_or_the_closed_one(low: str, high: str, words: str) -> None:
    assert plain(Span(low=low, high=high).text(FOUR)) == words


def test_a_range_reads_in_both_systems_and_each_end_alone() -> None:
    span = Span(low="3", high="5", second_low="0.119", second_high="0.196")
    assert plain(span.text(FOUR)) == "3 to 5 mm (0.119 to 0.196 in)"
    assert plain(span.end_text("up", FOUR)) == "5 mm (0.196 in)"
    assert plain(span.end_text("down", FOUR)) == "3 mm (0.119 in)"
    assert Span(low="3").end_text("up", FOUR) == ""
