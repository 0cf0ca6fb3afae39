"""Lists of names in a sentence."""

import pytest
from weld_packets.wording.english import some


@pytest.mark.parametrize(("names", "expected"), [("abcd", "a, b, c, d"), ("abcde", "a, b, c … e (5)")])
def test_four_names_are_stated_in_full_and_more_are_counted(names: str, expected: str) -> None:
    assert some(list(names)) == expected
