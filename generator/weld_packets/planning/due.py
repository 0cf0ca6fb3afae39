"""At which part something falls due that every part wears or empties a little, in exact arithmetic.

``wear`` is the share that one part takes of what a spool, a cylinder or a dressing lasts for; 0 where a part takes
nothing. ``used`` is the share, from 0 to 1, that was taken of the one that is fitted before the first part. ``proof``
is the share that a prove-out takes before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal

NEW = Fraction(0)


@dataclass(frozen=True)
class Due:
    """A number of parts, and whether something falls due after them or while the last of them is welded.

    After 0 parts is before the first part.
    """

    part: int
    when: Literal["after", "during"]


@dataclass(frozen=True)
class Begun:
    """How a run begins: how often something fell due before the prove-out and in it, and the share used after it."""

    before: int
    within: int
    used: Fraction

    @property
    def times(self) -> int:
        """How often it fell due before the first part of the run."""
        return self.before + self.within


def begin(wear: Fraction, used: Fraction, proof: Fraction) -> Begun:
    """Return how a run begins whose prove-out takes ``proof`` of what was ``used`` before it.

    What would not last the prove-out and the first part of the run is renewed before the prove-out. Where not even a
    new one lasts both, it falls due once more, with the first-off part.
    """
    if not proof:
        return Begun(0, 0, used)
    if wear > 1:
        times = int(used + proof)
        return Begun(0, times, used + proof - times)
    if used + proof + wear <= 1:
        return Begun(0, 0, used + proof)
    renewed = 1 if used else 0
    return Begun(renewed, 0, proof) if proof + wear <= 1 else Begun(renewed, 1, NEW)


def whole_parts(wear: Fraction, used: Fraction = NEW) -> int:
    """Return for how many whole parts what is left lasts; 0 where it does not last one."""
    return int((1 - used) // wear)


def count_due(wear: Fraction, parts: int, used: Fraction = NEW) -> int:
    """Return how often something falls due before the last part is finished."""
    if not wear:
        return 0
    lasts, first = whole_parts(wear), whole_parts(wear, used)
    if lasts:
        return (parts - 1 - first) // lasts + 1 if first < parts else 0
    return ceil(used + parts * wear) - 1


def times_until(wear: Fraction, parts: int, begun: Begun) -> int:
    """Return how often something falls due before the last part is finished, the prove-out counted."""
    return begun.times + count_due(wear, parts, begun.used)


def due(wear: Fraction, parts: int, used: Fraction = NEW) -> Iterator[Due]:
    """Yield when it falls due in a run; never after the last part, but before the first part where that is.

    What lasts a part or more is changed between parts, after as many whole parts as it lasts, so that nothing runs
    out inside a part. What does not last one part is changed while a part is welded.
    """
    for count in range(1, count_due(wear, parts, used) + 1):
        yield _moment(wear, used, count)


def since_last(wear: Fraction, parts: int, used: Fraction = NEW) -> tuple[Fraction, Fraction]:
    """Return how far one was used when something last fell due, or before the first part, and the parts since then."""
    times = count_due(wear, parts, used)
    return (NEW, parts - _finished(wear, used, times)) if times else (used, Fraction(parts))


def used_after(wear: Fraction, parts: int, used: Fraction = NEW) -> Fraction:
    """Return the share that is used of the one fitted after the last part; at most 1, due before the next part."""
    begun, since = since_last(wear, parts, used)
    return begun + since * wear


def _moment(wear: Fraction, used: Fraction, count: int) -> Due:
    """Return when something falls due for the ``count``-th time."""
    finished = _finished(wear, used, count)
    return Due(ceil(finished), "after" if finished.denominator == 1 else "during")


def _finished(wear: Fraction, used: Fraction, count: int) -> Fraction:
    """Return how many parts are finished then, a fraction where it falls due inside a part."""
    lasts = whole_parts(wear)
    return Fraction(whole_parts(wear, used) + (count - 1) * lasts) if lasts else (count - used) / wear
