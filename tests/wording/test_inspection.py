"""What a form reads from the words of a result is what they were made from."""

from __future__ import annotations

import pytest
from weld_packets.model.tolerances import SizeKind
from weld_packets.wording.inspection import (
    imperfection_words,
    inspection_and_what,
    is_from_memory,
    limit_source,
    limit_words,
    nominal_words,
    required_words,
    welds_of_limits,
)


def test_a_result_is_read_as_its_inspection_and_what_is_judged() -> None:
    assert inspection_and_what(imperfection_words("Visual test", "crack")) == ("Visual test", "crack")
    assert inspection_and_what("Throat") == ("", "Throat")


@pytest.mark.parametrize("is_remembered", [True, False])
def test_a_source_says_whether_it_is_from_memory(*, is_remembered: bool) -> None:
    source = limit_source("ISO 5817", ["100", "104"], is_from_memory=is_remembered)
    assert source.startswith("ISO 5817: 100 and 104")
    assert is_from_memory(source) is is_remembered


def test_a_result_of_one_limit_names_its_welds_once_and_first() -> None:
    accept = f"level C: {limit_words('S1 to S4', 'at most 0.3 mm')}"

    assert required_words(welds_of_limits(["S1 to S4"]), accept) == "S1 to S4. Level C: at most 0.3 mm"


def test_a_result_of_several_limits_names_the_welds_of_each_beside_it() -> None:
    accept = f"level C: {limit_words('S1', 'at most 0.3 mm')}; {limit_words('S2', 'not permitted')}"

    assert required_words(welds_of_limits(["S1", "S2"]), accept) == "Level C: S1: at most 0.3 mm; S2: not permitted"


def test_a_result_whose_limits_name_no_weld_names_all_of_its_welds() -> None:
    assert required_words(welds_of_limits(["S1", "S2"]), "level C: none") == "S1; S2. Level C: none"


def test_a_result_of_the_whole_part_names_no_weld() -> None:
    assert required_words("", "level C: none") == "Level C: none"


@pytest.mark.parametrize(
    ("kind", "nominal"),
    [("linear", "300 mm"), ("angle", "90°, shorter leg 300 mm"), ("flatness", "flatness over 300 mm")],
)
def test_a_nominal_size_is_said_by_what_is_measured_of_it(kind: SizeKind, nominal: str) -> None:
    assert nominal_words(kind, "300 mm", "90°" if kind == "angle" else "") == nominal
