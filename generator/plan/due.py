"""At which part something falls due that every part wears or empties a little, in exact arithmetic.

``wear`` is the share that one part takes of what a spool, a container or a dressing lasts for; above 0.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal


@dataclass(frozen=True)
class Due:
    """A part number, counted from 1, and whether something falls due after that part or while it is welded."""

    part: int
    when: Literal["after", "during"]


def whole_parts(wear: Fraction) -> int:
    """Return for how many whole parts it lasts; 0 where it does not last one."""
    return int(1 // wear)


def count_due(wear: Fraction, parts: int) -> int:
    """Return how often something falls due before the last part is finished."""
    lasts = whole_parts(wear)
    return (parts - 1) // lasts if lasts else ceil(parts * wear) - 1


def due(wear: Fraction, parts: int) -> Iterator[Due]:
    """Yield when it falls due in a run; never after the last part.

    What lasts a part or more is changed between parts, after as many whole parts as it lasts, so that nothing runs
    out inside a part. What does not last one part is changed while a part is welded.
    """
    lasts = whole_parts(wear)
    for count in range(1, count_due(wear, parts) + 1):
        yield Due(count * lasts, "after") if lasts else _within(count / wear)


def _within(finished: Fraction) -> Due:
    """Return when something is used up that lasts for ``finished`` parts, a broken number."""
    return Due(ceil(finished), "after" if finished.denominator == 1 else "during")
