"""Sentences on procedure and qualification."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Protocol

from weld_packets.calculation.qualification.judging import Answer, Miss, Reason
from weld_packets.calculation.qualification.people import Needed
from weld_packets.calculation.qualification.proved import is_tube
from weld_packets.calculation.qualification.rules import Line
from weld_packets.calculation.qualification.test_piece import Piece
from weld_packets.calculation.qualification.values import (
    Covered,
    Extent,
    Outcome,
    Sizes,
    Terms,
    Value,
)
from weld_packets.calculation.qualification.verdict import OfRecord, OfWelds
from weld_packets.grouping import grouped
from weld_packets.model.tables.people import PersonQualification
from weld_packets.model.tables.qualification import Certainty, QualificationRecord, TestedSheet, Variable
from weld_packets.units import as_written
from weld_packets.units.digits import Rounding
from weld_packets.wording.english import capital, counted, joined, listed


class Amounts(Protocol):
    """Says a number of a variable with its unit, in both systems."""

    def __call__(
        self, variable: Variable, number: Decimal, rounding: Rounding = ROUND_HALF_EVEN, beside: Decimal | None = None
    ) -> str:
        """Return a number as text: the end of a range rounded into it, apart from another beside it."""


NOT_STATED = "not stated"
NOT_APPLICABLE = "does not apply"
NO_RECORD_KEPT = "no qualification record is kept here"
NOT_USED = "the plant does not use qualification records for this order"
FAMILY_UNKNOWN = "no variable of this process is known that a record could be compared by"
_CERTAINTY: Mapping[Certainty, str] = {
    "read": "read in a source",
    "plant": "the plant's own rule",
    "strict": "not read, so no change is covered",
    "from memory": "from memory",
    "in dispute": "in dispute between sources",
    "unread": "not read",
}
_SILENT: Mapping[Reason, str] = {"not in the order": "the order", "not in the record": "the record"}
_GROUPED: frozenset[Variable] = frozenset({"material group", "material subgroup"})
_BY_SECTION: frozenset[Variable] = frozenset({"product", "outside diameter"})
_TEMPERATURES: frozenset[Variable] = frozenset({"preheat", "interpass temperature"})
_ROBOT: Mapping[str, str] = {
    "manual": "the record is for manual welding",
    "partly mechanised": "the record is for a hand torch",
    "fully mechanised": "the record is for a mechanised torch, not for a robot",
}


def value_words(variable: Variable, value: Value | None, amounts: Amounts) -> str:
    """Return what an order has or a record tested of a variable."""
    if value is None:
        return NOT_STATED
    if isinstance(value, Terms):
        return " + ".join(value.terms)
    if isinstance(value, Extent):
        return _between(variable, value.low, value.high, amounts)
    return " + ".join(amounts(variable, size) for size in value.sizes)


def covered_words(variable: Variable, covered: Covered | None, amounts: Amounts) -> str:
    """Return what a record covers of a variable."""
    if covered is None:
        return "not limited"
    if isinstance(covered, Terms):
        return ", ".join(covered.terms)
    return " + ".join(_range(variable, each.low, each.high, amounts) for each in covered.each)


def lowered_words(answer: Answer, amounts: Amounts) -> str:
    """Return from which temperature of the test, and by how much, the lowest one covered comes; empty for all else."""
    rule = answer.line.rule if answer.line else None
    if rule is None or rule.form != "difference" or not rule.down or not isinstance(answer.proved, Sizes):
        return ""
    if answer.variable not in _TEMPERATURES:
        return ""
    return f"{value_words(answer.variable, answer.proved, amounts)} of the test less {rule.down} K, {rule.clause}"


def _range(variable: Variable, low: Decimal | None, high: Decimal | None, amounts: Amounts) -> str:
    if low is not None and high is not None:
        return _between(variable, low, high, amounts)
    if low is not None:
        return f"at least {amounts(variable, low, ROUND_CEILING)}"
    return "not limited" if high is None else f"at most {amounts(variable, high, ROUND_FLOOR)}"


def _between(variable: Variable, low: Decimal, high: Decimal, amounts: Amounts) -> str:
    if low == high:
        return amounts(variable, low)
    return f"{amounts(variable, low, ROUND_CEILING, high)} to {amounts(variable, high, ROUND_FLOOR, low)}"


def missing_words(answer: Answer, amounts: Amounts) -> str:
    """Return by what a variable is not covered, or why nothing can be decided; empty where it is inside."""
    if answer.outcome == "inside":
        return ""
    if answer.reason in _SILENT:
        return f"{answer.variable} of {_SILENT[answer.reason]}: {_unknown(answer)}"
    if answer.variable == "required tests" and answer.miss is not None:
        return f"required test that the record does not have: {answer.miss.term}"
    by = _miss(answer, amounts)
    if answer.outcome == "outside":
        return by if answer.reason == "by the rule" else f"{by}; no rule covers the change"
    if answer.line is None:
        return f"{by}; no table holds the ranges of the standard and edition"
    sure = _CERTAINTY[answer.line.rule.certainty]
    found = by if answer.miss else f"{answer.variable} would be covered"
    return f"{found} by a rule that is {sure}"


def _unknown(answer: Answer) -> str:
    """Return why a value is not known: a group is taken only from a table that was read, or from the plant's own."""
    if answer.variable in _GROUPED:
        return "no table that was read gives it"
    return f"{NOT_STATED}; 'section' of the component says it" if _is_said_by_section(answer) else NOT_STATED


def _is_said_by_section(answer: Answer) -> bool:
    return answer.variable in _BY_SECTION and answer.reason == "not in the order"


def _miss(answer: Answer, amounts: Amounts) -> str:
    variable, miss = answer.variable, answer.miss or Miss()
    if miss.size is not None and miss.bound is not None:
        inward: Rounding = ROUND_CEILING if miss.below else ROUND_FLOOR
        side = "below" if miss.below else "above"
        size, bound = amounts(variable, miss.size, beside=miss.bound), amounts(variable, miss.bound, inward, miss.size)
        return f"{variable} {size} {side} {bound}"
    if variable == "mechanisation" and isinstance(answer.proved, Terms):
        return f"robot: {_ROBOT.get(answer.proved.terms[0], NOT_STATED)}"
    proved = value_words(variable, answer.proved, amounts)
    return f"{variable} {miss.term or value_words(variable, answer.has, amounts)}: the record has {proved}"


def rule_words(answer: Answer) -> str:
    """Return standard, edition, level and clause of the rule behind an answer, or that none was needed."""
    if answer.reason == "as tested":
        return "as tested"
    if answer.line is None:
        return "no rule"
    return f"{line_words(answer.line)}, {answer.line.rule.clause}"


def line_words(line: Line) -> str:
    """Return standard, editions and level of a rule."""
    level = f", level {line.table.level}" if line.table.level else ""
    return f"{line.table.standard}:{'/'.join(line.rule.editions or line.table.editions)}{level}"


def certainty_words(answer: Answer) -> str:
    """Return how far the rule behind an answer is known; empty where none was needed or there is none."""
    return "" if answer.reason == "as tested" or answer.line is None else _CERTAINTY[answer.line.rule.certainty]


def standard_words(record: QualificationRecord) -> str:
    """Return standard, edition and level of a record."""
    level = f", level {record.level}" if record.level else ""
    return f"{record.standard}:{record.edition}{level}"


def welds_words(found: OfWelds, process: str, amounts: Amounts) -> str:
    """Return the verdict on some welds in a sentence."""
    if not found.records:
        return f"Outside: there is no record of process {process}."
    if found.outcome == "inside":
        return f"Inside record {found.records[0].record.table}."
    nearest, *beside = found.named
    also = (f" {_BESIDE[each.outcome]} {each.record.table}: {record_words(each, amounts)}." for each in beside)
    lead = f"{capital(found.outcome)}. Nearest record {nearest.record.table}"
    sure = _SURELY if nearest.outcome != found.outcome else ""
    return "".join((f"{lead}{sure}: {record_words(nearest, amounts)}.", *also))


_SURELY = ", which is outside"
_BESIDE: Mapping[Outcome, str] = {
    "cannot decide": "What keeps it open is record",
    "outside": "Surely outside is record",
}


def record_words(found: OfRecord, amounts: Amounts) -> str:
    """Return what keeps a record from covering some welds: what is outside, then what cannot be decided."""
    outside = [missing_words(each, amounts) for each in found.answers if each.outcome == "outside"]
    undecided = [each.variable for each in found.answers if each.outcome == "cannot decide"]
    if not outside:
        return "; ".join(_undecided(found, amounts)) or "covers them"
    return joined((*outside, f"not decided: {listed(undecided)}" if undecided else ""))


def _undecided(found: OfRecord, amounts: Amounts) -> Iterator[str]:
    """Yield why nothing is decided, with all variables of one cause together: what a rule would not cover first."""
    answers = [each for each in found.answers if each.outcome == "cannot decide"]
    answers.sort(key=lambda answer: answer.miss is None)
    causes = grouped(((each.miss is None, _cause(each)), each) for each in answers)
    for (covered, cause), of in causes.items():
        names = listed(each.variable for each in of)
        if len(of) == 1 or not cause:
            yield "; ".join(missing_words(each, amounts) for each in of)
        elif cause in _SILENT:
            yield f"not stated by {_SILENT[of[0].reason]}: {names}"
        elif covered:
            yield f"{names} would be covered by rules that are {cause}"
        else:
            yield f"{listed(_miss(each, amounts) for each in of)}, by rules that are {cause}"


def _cause(answer: Answer) -> str:
    """Return what keeps a variable from being decided that it may have in common with others; empty for another."""
    if answer.reason in _SILENT:
        return "" if answer.variable in _GROUPED or _is_said_by_section(answer) else answer.reason
    return "" if answer.line is None else _CERTAINTY[answer.line.rule.certainty]


def operation_words(outcome: Outcome, welds: Sequence[OfWelds]) -> str:
    """Return the verdict on an operation in a sentence: how many of its welds are what."""
    number = {each: sum(len(found.case.welds) for found in welds if found.outcome == each) for each in _ORDER}
    if outcome == "inside":
        return f"Inside: all {counted(number['inside'], 'weld')}."
    parts = (f"{counted(number[each], 'weld')} {_SAID[each]}" for each in _ORDER if number[each])
    return f"{capital(outcome)}: {listed(parts)}."


_ORDER: tuple[Outcome, ...] = ("outside", "cannot decide", "inside")
_SAID: Mapping[Outcome, str] = {"outside": "outside", "cannot decide": "not decided", "inside": "inside"}


def welded_words(record: QualificationRecord, sizes: Iterable[str]) -> str:
    """Return what was welded for a record, in a line."""
    materials = " + ".join(
        f"{sheet.material}{'' if sheet.coating == 'none' else f' ({sheet.coating})'} {size}{_product_words(sheet)}"
        for sheet, size in zip(record.sheets, sizes, strict=True)
    )
    return joined((record.joint or record.weld_type, materials, record.mechanisation or ""), ", ")


def _product_words(sheet: TestedSheet) -> str:
    """Return that a component of a test piece is a tube, with its outside diameter; empty for a plate."""
    if not is_tube(sheet):
        return ""
    outside = "" if sheet.outside_diameter is None else f" {as_written(sheet.outside_diameter)}"
    return f" ({sheet.product}{outside})"


def outside_words(form: str) -> str:
    """Return what the outside diameter of a tube is called: a square or rectangular one has sides."""
    return "outside diameter" if form == "round tube" else "smaller side"


def not_covered_words(nearest: str, outcome: Outcome) -> str:
    """Return that no record covers some welds, or that it cannot be decided, with the one that is nearest, if any."""
    if outcome == "cannot decide":
        return f"cannot be decided; {nearest} is nearest"
    return f"none; {nearest} is nearest and does not cover it" if nearest else "none"


def record_dates(record: QualificationRecord, day: date) -> str:
    """Return the dates of a record as they are on a day: its test, its last use, its end."""
    if record.withdrawn is not None:
        end = f"withdrawn on {record.withdrawn.isoformat()}"
    elif record.valid_until is None:
        end = "no end of validity stated"
    elif record.valid_until < day:
        end = f"expired on {record.valid_until.isoformat()}"
    else:
        end = f"valid until {record.valid_until.isoformat()}"
    used = f"last used on {record.last_used.isoformat()}" if record.last_used else "last use not stated"
    return joined(
        (f"tested on {record.date.isoformat()}", used, end, _idle(record.last_used or record.date, day)), ", "
    )


def _idle(last: date, day: date) -> str:
    """Return what EN 1090-2:2008, 7.4.1, requires of a procedure that was not used for long, if anything.

    A clause that was read; whether the standard applies is not known here.
    """
    for years, test in _IDLE:
        if (day.year - last.year, (day.month, day.day)) > (years, (last.month, last.day)):
            return f"not used for more than {counted(years, 'year')}: where EN 1090-2 applies, 7.4.1 asks for {test}"
    return ""


_IDLE = (
    (3, "a macro section of a production test, and for steels above S355 a new procedure test"),
    (1, "a production test for steels above S355"),
)


def record_end(record: QualificationRecord) -> str:
    """Return the day from which nothing rests on a record, the earlier of withdrawal and end; empty where none is."""
    ends = [each.isoformat() for each in (record.withdrawn, record.valid_until) if each is not None]
    return min(ends, default="")


def piece_words(piece: Piece, amounts: Amounts) -> str:
    """Return how the test piece is welded that would bring the most welds inside, and how many those are."""
    welds = sum(len(each.case.welds) for each in piece.covers)
    orders = len({each.order for each in piece.covers})
    has = piece.of.case.has
    welded = joined(f"{variable} {value_words(variable, value, amounts)}" for variable, value in has.items() if value)
    count = f"{counted(welds, 'weld')} of {counted(orders, 'order')}"
    return f"test piece that would bring welds of the most drafts inside, {count}: {welded}"


# ---------------------------------------------------------------- people


PEOPLE_STANDARD = "ISO 14732"
_ON_CARD = 3


def needs_words(needed: Needed, standard: str) -> str:
    """Return which qualification the work needs."""
    passes = ", several passes" if needed.several_passes else ""
    return f"{standard}, process {needed.process}{passes}"


def holders_words(numbers: Sequence[str]) -> str:
    """Return who holds it, as many as a card has room for."""
    if not numbers:
        return "nobody"
    more = len(numbers) - _ON_CARD
    return listed(numbers) if more <= 0 else f"{', '.join(numbers[:_ON_CARD])} and {more} more"


def test_words(entry: PersonQualification) -> str:
    """Return what somebody's test was welded with."""
    passes = "one pass" if entry.passes == "one" else "several passes"
    return f"{passes}, {'with a' if entry.sensor else 'no'} sensor"


def person_words(entry: PersonQualification, day: date) -> str:
    """Return somebody's qualification with its last day, and whether that has passed on a day."""
    end = f"expired on {entry.valid_until}" if entry.valid_until < day else f"valid until {entry.valid_until}"
    return f"{entry.id} ({listed(entry.duties)}, process {entry.process}): {end}"
