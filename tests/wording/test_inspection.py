"""What a form reads from the words of a result is what they were made from."""

from __future__ import annotations

import pytest
from weld_packets.wording.inspection import imperfection_words, inspection_and_what, is_from_memory, limit_source


def test_a_result_is_read_as_its_inspection_and_what_is_judged() -> None:
    assert inspection_and_what(imperfection_words("Visual test", "crack")) == ("Visual test", "crack")
    assert inspection_and_what("Throat") == ("", "Throat")


@pytest.mark.parametrize("is_remembered", [True, False])
def test_a_source_says_whether_it_is_from_memory(*, is_remembered: bool) -> None:
    source = limit_source("ISO 5817", ["100", "104"], is_from_memory=is_remembered)
    assert source.startswith("ISO 5817: 100 and 104")
    assert is_from_memory(source) is is_remembered
