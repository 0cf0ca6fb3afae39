"""A reworded sentence is distinguished from a new one."""

from __future__ import annotations

from weld_packets.revisions.differences.diff import pair_sentences


def test_passages_of_one_length_are_taken_sentence_by_sentence() -> None:
    assert pair_sentences(["Close the clamps."], ["Open the gate."]) == {0: 0}


def test_a_reworded_sentence_keeps_its_partner_among_new_ones() -> None:
    before = ["Close the clamps in their order.", "Open the settings of these welds on C1A."]
    after = ["Close clamp 1 of 2.", "Close clamp 2 of 2.", "Open the set of these welds on C1A."]
    assert pair_sentences(before, after) == {2: 1}


def test_pairs_never_cross() -> None:
    before = ["Fit two caps on C5A.", "Fit two caps on C5B.", "Check the water of C5A."]
    after = ["Fit two caps on C5B.", "Fit two caps on C5A."]
    found = pair_sentences(before, after)
    assert sorted(found) == sorted(found, key=lambda place: found[place])
    assert len(found) == 2


def test_sentences_without_a_word_in_common_are_left_alone() -> None:
    assert pair_sentences(["Close the gate.", "Sign here."], ["Weld it now"]) == {}


def test_a_sentence_counts_as_reworded_from_half_of_its_words() -> None:
    """Five words of ten and ten are half of them, five of ten and eleven are a little less."""
    before = ["Open the north gate with the key of the cell.", "Sign here."]
    half = "Open the north gate with one hand while somebody watches."
    assert pair_sentences(before, [half]) == {0: 0}
    assert pair_sentences(before, [half.replace("somebody", "your colleague")]) == {}
