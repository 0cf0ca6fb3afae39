"""At which part something falls due that every part wears or empties a little, in exact arithmetic.

``wear`` is the share that one part takes of what a spool, a cylinder or a dressing lasts for; 0 where a part takes
nothing. ``used`` is the share, from 0 to 1, that was taken of the one that is fitted before the first part. ``proof``
is the share that a prove-out takes before it. ``renewals`` are the numbers of parts, rising, after which it is renewed
with something else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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


def count_due(wear: Fraction, parts: int, used: Fraction = NEW, renewals: Sequence[int] = ()) -> int:
    """Return how often something falls due before the last part is finished."""
    return sum(_count(wear, length, begun) for _, length, begun in _stretches(parts, used, renewals))


def _stretches(parts: int, used: Fraction, renewals: Sequence[int]) -> Iterator[tuple[int, int, Fraction]]:
    """Yield each stretch of parts between two renewals: after which part, how long, how far one is used then."""
    begun = 0
    for end in (*renewals, parts):
        yield begun, end - begun, used
        begun, used = end, NEW


def _count(wear: Fraction, parts: int, used: Fraction) -> int:
    if not wear or not parts:
        return 0
    lasts, first = whole_parts(wear), whole_parts(wear, used)
    if lasts:
        return (parts - 1 - first) // lasts + 1 if first < parts else 0
    return ceil(used + parts * wear) - 1


def times_until(wear: Fraction, parts: int, begun: Begun, renewals: Sequence[int] = ()) -> int:
    """Return how often something falls due before the last part is finished, the prove-out counted."""
    return begun.times + count_due(wear, parts, begun.used, renewals)


def due(wear: Fraction, parts: int, used: Fraction = NEW, renewals: Sequence[int] = ()) -> Iterator[Due]:
    """Yield when it falls due in a run; never with a renewal or after the last part, but before the first one.

    What lasts a part or more is changed between parts, after as many whole parts as it lasts, so that nothing runs
    out inside a part. What does not last one part is changed while a part is welded.
    """
    for begun, length, used_then in _stretches(parts, used, renewals):
        for count in range(1, _count(wear, length, used_then) + 1):
            moment = _moment(wear, used_then, count)
            yield Due(begun + moment.part, moment.when)


def since_last(
    wear: Fraction, parts: int, used: Fraction = NEW, renewals: Sequence[int] = ()
) -> tuple[Fraction, Fraction]:
    """Return how far one was used when it was last renewed, or before the first part, and the parts since then."""
    *_, (_, length, begun) = _stretches(parts, used, renewals)
    times = _count(wear, length, begun)
    return (NEW, length - _finished(wear, begun, times)) if times else (begun, Fraction(length))


def used_after(wear: Fraction, parts: int, used: Fraction = NEW, renewals: Sequence[int] = ()) -> Fraction:
    """Return the share that is used of the one fitted after the last part; at most 1, due before the next part."""
    begun, since = since_last(wear, parts, used, renewals)
    return begun + since * wear


def _moment(wear: Fraction, used: Fraction, count: int) -> Due:
    """Return when something falls due for the ``count``-th time."""
    finished = _finished(wear, used, count)
    return Due(ceil(finished), "after" if finished.denominator == 1 else "during")


def _finished(wear: Fraction, used: Fraction, count: int) -> Fraction:
    """Return how many parts are finished then, a fraction where it falls due inside a part."""
    lasts = whole_parts(wear)
    return Fraction(whole_parts(wear, used) + (count - 1) * lasts) if lasts else (count - used) / wear
