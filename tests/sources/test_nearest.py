"""What a message offers in place of a word that is not known."""

import pytest
from weld_packets.sources.reading.nearest import nearest


@pytest.mark.parametrize(
    ("word", "known", "remedy"),
    [
        ("chek", ["check", "build"], "did you mean 'check'? allowed: build, check"),
        ("zzz", ["check", "build", "build"], "allowed: build, check"),
        ("zzz", [], "allowed: none"),
    ],
)
def test_the_nearest_word_is_named_and_all_that_are_known(word: str, known: list[str], remedy: str) -> None:
    assert nearest(word, known) == remedy


@pytest.mark.parametrize(("count", "end"), [(100, "wo-0099"), (101, "wo-0099, and 1 more")])
def test_no_more_words_are_listed_than_somebody_reads(count: int, end: str) -> None:
    said = nearest("zzz", [f"wo-{at:04}" for at in range(count)])
    assert said.startswith("allowed: wo-0000, wo-0001, ")
    assert said.endswith(f", {end}")
    assert nearest("wo-0123x", [f"wo-{at:04}" for at in range(10_000)]).startswith("did you mean 'wo-0123'? ")
