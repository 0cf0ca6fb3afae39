"""Sentences on which parts of an order are inspected."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.wording.english import counted, listed

_IN_FULL = 6
"""Part numbers that a line has room for; of more the first three and the last are named."""
_FIRST = 3


def sample_words(turns: Sequence[int], of: int, table: str) -> str:
    """Return how many parts of an order are inspected, after which, and by which row of which table."""
    by = f" ({table})" if table else ""
    if not turns:
        return f"none of {counted(of, 'part')}{by}"
    if len(turns) == of:
        return f"every one of {counted(of, 'part')}{by}"
    return f"{len(turns)} of {counted(of, 'part')}, {_after(turns)}{by}"


def _after(turns: Sequence[int]) -> str:
    noun = "part" if len(turns) == 1 else "parts"
    if len(turns) <= _IN_FULL:
        return f"after {noun} {listed(map(str, turns))}"
    return f"after parts {', '.join(map(str, turns[:_FIRST]))} and so on to {turns[-1]}"
