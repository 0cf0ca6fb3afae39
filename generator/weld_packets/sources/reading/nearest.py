"""The known word that somebody meant."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

_NEAR = 0.6
"""How near a word must be to be thought meant: the share that ``difflib`` computes."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a remedy that names the known word nearest to ``word``, and all of them."""
    offered = sorted(set(known))
    meant = meant_by(word, offered)
    listed = ", ".join(offered) or "none"
    return f"did you mean {meant!r}? allowed: {listed}" if meant else f"allowed: {listed}"


def meant_by(word: str, known: Sequence[str]) -> str:
    """Return the known word that looks like ``word``, or the only one that has all its parts; empty for none."""
    plain = word.replace("_", " ")
    close = get_close_matches(plain, known, n=1, cutoff=_NEAR)
    longer = [each for each in known if set(plain.split()) <= set(each.split())]
    return close[0] if close else longer[0] if len(longer) == 1 else ""
