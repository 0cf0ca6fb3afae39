"""The results of coupons and first-off as lines of a form."""

from __future__ import annotations

from typing import Any

from weld_packets.packet.records.forms import RequiredResult
from weld_packets.site.pages.shared_lists import judged_by_eye, result_lines


def result(key: str, **other: Any) -> RequiredResult:
    return RequiredResult.model_validate({"key": key, "stage": "coupon", "what": "Throat", "unit": "mm", **other})


def test_one_limit_is_one_line_with_a_place_for_each_robot_and_stage() -> None:
    required = [
        result("1", robot="C1A", minimum="2.8"), result("2", robot="C1B", minimum="2.8"),
        result("3", robot="C1A", minimum="3.0"), result("4", robot="C1A", minimum="2.8", stage="first-off"),
    ]  # fmt: skip
    first, second = result_lines(required)
    assert [each.key for each in first.at("coupon")] == ["1", "2"]
    assert [each.key for each in first.at("first-off")] == ["4"]
    assert second.results == (required[2],)


def test_results_of_other_welds_units_sources_or_words_are_lines_of_their_own() -> None:
    others = ({"welds": "L1"}, {"unit": "in"}, {"source": "ISO 5817"}, {"accept": "No crack"}, {"maximum": "4"})
    assert len(result_lines([result("1"), *(result("2", **other) for other in others)])) == 6


def test_a_line_names_its_inspection_where_it_belongs_to_one() -> None:
    crack, visual = result_lines([result("1", what="Visual test: crack"), result("2", what="Visual test")])
    assert (crack.title, crack.what) == ("Visual test", "crack")
    assert (visual.title, visual.what) == ("", "Visual test")


def test_a_limit_from_memory_says_so() -> None:
    read, remembered = result_lines([result("1", source="ISO 5817:2014"), result("2", source="ISO 5817 (from memory)")])
    assert not read.is_from_memory
    assert remembered.is_from_memory


def test_what_a_check_judges_by_eye_is_itself_and_what_lies_under_its_key() -> None:
    """The key for all of them comes after the last one, so that nobody touches it before the limits are read."""
    check, crack = result("coupon/macro", unit=""), result("coupon/macro/crack", unit="")
    failure = result("coupon/macro/failure-type/k1", unit="", choices=({"text": "plug", "accepted": True},))
    others = [result("coupon/macro/throat"), failure, result("coupon/macro-b", unit="")]
    assert judged_by_eye([check, crack, *others]) == {crack.key: (check.key, crack.key)}
    assert judged_by_eye([check, *others]) == {}
