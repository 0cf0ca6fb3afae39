"""Which sentence of a changed passage became which."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

_MINIMUM_IN_COMMON = 0.5
"""Share of words in common from which one sentence counts as the other, reworded."""


def pair_sentences(before: Sequence[str], after: Sequence[str]) -> dict[int, int]:
    """Return, for the places in ``after`` that have one, the place in ``before`` of the sentence that they reword.

    Passages of one length are taken sentence by sentence. Otherwise sentences are paired, in their order, so that
    the pairs have as many words in common as can be; what has little in common is left alone.
    """
    if len(before) == len(after):
        return {place: place for place in range(len(after))}
    best: dict[tuple[int, int], tuple[float, dict[int, int]]] = {}
    for old in range(len(before) + 1):
        for new in range(len(after) + 1):
            best[old, new] = max(
                _choices(best, old, new, before, after), key=lambda choice: choice[0], default=(0.0, {})
            )
    return best[len(before), len(after)][1]


def _choices(
    best: dict[tuple[int, int], tuple[float, dict[int, int]]],
    old: int,
    new: int,
    before: Sequence[str],
    after: Sequence[str],
) -> list[tuple[float, dict[int, int]]]:
    """Return what pairing the first ``old`` and ``new`` sentences can come to: a pair at the end, or none."""
    choices = [best[place] for place in ((old - 1, new), (old, new - 1)) if place in best]
    if old and new:
        likeness = _likeness(before[old - 1], after[new - 1])
        score, pairs = best[old - 1, new - 1]
        if likeness >= _MINIMUM_IN_COMMON:
            choices.append((score + likeness, {**pairs, new - 1: old - 1}))
    return choices


def _likeness(one: str, other: str) -> float:
    # counts the words that two sentences share; what they say is not read
    return SequenceMatcher(None, one.split(), other.split(), autojunk=False).ratio()
