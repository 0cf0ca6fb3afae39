"""One variable of some welds against one record: inside, outside, or not to be decided."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import permutations, product
from typing import Literal

from weld_packets.calculation.qualification.rules import Line, line_of
from weld_packets.calculation.qualification.values import (
    BANDED,
    PAIRED,
    RANKS,
    Case,
    Covered,
    Extent,
    Outcome,
    Range,
    Ranges,
    Sizes,
    Terms,
    Tested,
    Value,
)
from weld_packets.model.tables.qualification import Rule, Variable
from weld_packets.units import exact

Reason = Literal["as tested", "by the rule", "no rule", "rule not sure", "not in the order", "not in the record"]
DECIDING = frozenset({"read", "plant"})
"""How a line must be known to cover a change. A strict line covers none, and says that a change is outside."""
_ANY = "any"


@dataclass(frozen=True)
class Miss:
    """By what something is not covered: the number that lies ``below`` or above the bound, or the word."""

    size: Decimal | None = None
    bound: Decimal | None = None
    below: bool = False
    term: str = ""


@dataclass(frozen=True)
class Answer:
    """What was found of one variable.

    ``covered`` is what the line makes of what was tested, None where nothing limits it or nothing is known. ``miss``
    is by what the order is not covered; beside a line that is not sure it is what that line would say.
    """

    variable: Variable
    outcome: Outcome
    reason: Reason
    has: Value | None
    proved: Value | None
    covered: Covered | None = None
    line: Line | None = None
    miss: Miss | None = None


def judged(variable: Variable, case: Case, proved: Tested, lines: Sequence[Line]) -> Answer:
    """Return what a record says of one variable of some welds.

    What was tested is proved by the test itself, whatever is known of the rules; they are needed for a change. A change
    is covered only by a line that was read or is the plant's own. Without a line it is outside; without any lines,
    since no table holds the ranges of the standard, nothing but what was tested can be decided.
    """
    has, was = case.has.get(variable), proved.get(variable)
    if variable in BANDED and isinstance(has, Sizes) and isinstance(was, Sizes) and has != was:
        of_sizes = [line_of(variable, lines, {**proved, variable: Sizes((size,))}, case) for size in was.sizes]
        if any(line is not of_sizes[0] for line in of_sizes):
            found = (
                judged(variable, replace(case, has={variable: one}), {**proved, variable: other}, lines)
                for one, other in _pairs(has, was)
            )
            return _each_by_its_own(found, has, was, of_sizes)
    line = line_of(variable, lines, proved, case)
    if line is not None and line.rule.form == "free" and line.rule.certainty in DECIDING:
        return Answer(variable, "inside", "by the rule", has, was, line=line)
    if has is None or was is None:
        silent: Reason = "not in the order" if has is None else "not in the record"
        return Answer(variable, "cannot decide", silent, has, was, line=line)
    return _compared(Answer(variable, "inside", "as tested", has, was, _as_tested(was), line), has, was, lines)


def _pairs(has: Sizes, was: Sizes) -> Iterator[tuple[Sizes, Sizes]]:
    """Yield each size with that of the test beside it; where the counts differ, with every one of the test."""
    equal = len(has.sizes) == len(was.sizes)
    pairs = zip(has.sizes, was.sizes, strict=True) if equal else product(has.sizes, was.sizes)
    return ((Sizes((one,)), Sizes((other,))) for one, other in pairs)


def _each_by_its_own(found: Iterable[Answer], has: Sizes, was: Sizes, of_sizes: Sequence[Line | None]) -> Answer:
    """Return the worst of what is found of sizes where those of the test lie in bands of different lines.

    Each component is judged by the line of its own band: that of a thin sheet says nothing of the thick one beside it.
    """
    worst = max(found, key=lambda answer: (RANKS[answer.outcome], answer.miss is not None))
    ranges = tuple(each for line, size in zip(of_sizes, was.sizes, strict=True) for each in _ranges_of(line, size))
    return replace(worst, has=has, proved=was, covered=Ranges(ranges))


def _ranges_of(line: Line | None, tested: Decimal) -> tuple[Range, ...]:
    """Return what a line makes of one tested size; an open range where nothing limits it."""
    found = covered(line, Sizes((tested,)))
    return found.each if isinstance(found, Ranges) else (Range(None, None),)


def _compared(equal: Answer, has: Value, was: Value, lines: Sequence[Line]) -> Answer:
    """Return what is found where both sides are known; ``equal`` is the answer for what was tested just so."""
    variable, line = equal.variable, equal.line
    if _equal(variable, has, was):
        return equal
    found = covered(line, was)
    miss = None if found is None else _missed(variable, has, was, found, line)
    if line is None:
        return Answer(variable, "outside" if lines else "cannot decide", "no rule", has, was, found, None, miss)
    if line.rule.certainty in DECIDING or (line.rule.certainty == "strict" and miss):
        return Answer(variable, "outside" if miss else "inside", "by the rule", has, was, found, line, miss)
    return Answer(variable, "cannot decide", "rule not sure", has, was, found, line, miss)


def _equal(variable: Variable, has: Value, was: Value) -> bool:
    """Return whether what the order has was welded in the test just so."""
    if isinstance(has, Extent) and isinstance(was, Extent):
        return was.low <= has.low and has.high <= was.high
    if isinstance(has, Terms) and isinstance(was, Terms) and variable not in PAIRED:
        return set(has.terms) <= set(was.terms)
    return has == was


def _as_tested(was: Value) -> Covered:
    if isinstance(was, Terms):
        return was
    if isinstance(was, Extent):
        return Ranges((Range(was.low, was.high),))
    return _together(Range(size, size) for size in was.sizes)


def covered(line: Line | None, was: Value) -> Covered | None:
    """Return what a line makes of what was tested; None where nothing limits it."""
    if line is None or line.rule.form == "as tested":
        return _as_tested(was)
    if line.rule.form == "free":
        return None
    if isinstance(was, Terms):
        return Terms(tuple(dict.fromkeys(word for term in was.terms for word in _words(line.rule, term))))
    if isinstance(was, Extent):
        return Ranges((_range(line.rule, was.low, was.high),))
    return _together(_range(line.rule, size, size) for size in was.sizes)


def _together(ranges: Iterable[Range]) -> Ranges:
    each = tuple(ranges)
    return Ranges(each[:1] if len(set(each)) == 1 else each)


def _words(rule: Rule, term: str) -> tuple[str, ...]:
    return rule.covers.get(term, rule.covers.get(_ANY, (term,)))


def _range(rule: Rule, low: Decimal, high: Decimal) -> Range:
    """Return the range that a line makes of one size, or of everything between two.

    A share up and down is one of the mean of the test, and never takes away what was welded in it: the record that was
    read states one mean. A share of either end would add both scatters, that of the test and that of the rule.
    """
    if rule.form == "factor":
        bound = None if rule.at_least is None else exact(rule.at_least, "mm")
        if rule.low is not None and rule.high is not None:
            mean = (low + high) / 2
            return Range(_larger(min(low, rule.low * mean), bound), max(high, rule.high * mean))
        times = None if rule.low is None else rule.low * low
        return Range(_larger(times, bound), None if rule.high is None else rule.high * high)
    return Range(None if rule.down is None else low - rule.down, None if rule.up is None else high + rule.up)


def _larger(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return max((each for each in (one, other) if each is not None), default=None)


def _missed(variable: Variable, has: Value, was: Value, found: Covered, line: Line | None) -> Miss | None:
    """Return the first part of what an order has that is not covered; None where all of it is."""
    if isinstance(has, Terms) and isinstance(was, Terms) and isinstance(found, Terms):
        return _missed_word(variable, has, was, found, line)
    if isinstance(has, Terms) or not isinstance(found, Ranges):
        return Miss()
    sizes = (has.low, has.high) if isinstance(has, Extent) else has.sizes
    pairs = ((size, found.each[0]) for size in sizes) if isinstance(has, Extent) else found.for_sizes(sizes)
    return next((miss for size, each in pairs if (miss := _past(size, each))), None)


def _missed_word(variable: Variable, has: Terms, was: Terms, found: Terms, line: Line | None) -> Miss | None:
    strange = next((term for term in has.terms if term not in found.terms), None)
    if strange is not None:
        return Miss(term=strange)
    if variable not in PAIRED:
        return None
    by_term = [found.terms if line is None else _covered_words(line.rule, term) for term in was.terms]
    chosen = permutations(by_term, len(has.terms))  # none where the order has more components than the test
    if any(all(term in words for term, words in zip(has.terms, each, strict=True)) for each in chosen):
        return None
    return Miss(term=" + ".join(has.terms))


def _covered_words(rule: Rule, term: str) -> tuple[str, ...]:
    return _words(rule, term) if rule.form == "covers" else (term,)


def _past(size: Decimal, found: Range) -> Miss | None:
    if found.low is not None and size < found.low:
        return Miss(size, found.low, below=True)
    if found.high is not None and size > found.high:
        return Miss(size, found.high)
    return None
