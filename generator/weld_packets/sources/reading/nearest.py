"""The known word that somebody meant."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

_NEAR = 0.6
"""How near a word must be to be thought meant: the share that ``difflib`` computes."""
_LISTED = 100
"""Words that are listed at most: a plant may have ten thousand orders."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a remedy that names the known word nearest to ``word``, and all of them, or as many as can be read."""
    offered = sorted(set(known))
    meant = meant_by(word, offered)
    more = f", and {len(offered) - _LISTED} more" if len(offered) > _LISTED else ""
    listed = f"{', '.join(offered[:_LISTED])}{more}" or "none"
    return f"did you mean {meant!r}? allowed: {listed}" if meant else f"allowed: {listed}"


def meant_by(word: str, known: Sequence[str]) -> str:
    """Return the known word that looks like ``word``, or the only one that has all its parts; empty for none."""
    plain = word.replace("_", " ")
    close = get_close_matches(plain, known, n=1, cutoff=_NEAR)
    longer = [each for each in known if set(plain.split()) <= set(each.split())]
    return close[0] if close else longer[0] if len(longer) == 1 else ""
