"""Lists of names in a sentence."""

import pytest
from weld_packets.wording.english import some


@pytest.mark.parametrize(("names", "told"), [("abcd", "a, b, c, d"), ("abcde", "a, b, c … e (5)")])
def test_four_names_are_told_in_full_and_more_are_counted(names: str, told: str) -> None:
    assert some(list(names)) == told
