"""The verdict on some welds: which record is nearest, and what is missing for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from operator import attrgetter

from weld_packets.calculation.qualification.groups import Groups
from weld_packets.calculation.qualification.judging import Answer, judged
from weld_packets.calculation.qualification.proved import proved_by
from weld_packets.calculation.qualification.rules import Line, lines_for
from weld_packets.calculation.qualification.values import OUTSIDE_DIAMETER, RANKS, Case, Outcome, Terms, Tested, Value
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.qualification import QualificationRecord, Variable

_MATERIAL: Variable = "material"
_GROUPED: frozenset[Variable] = frozenset({"material group", "material subgroup"})
_CHOOSING: tuple[Variable, ...] = ("position", OUTSIDE_DIAMETER)
_PLATES = frozenset({"plate"})
_CHOICES, _ANSWERS = 8, 64
"""How much each record remembers: of so many sets of what chooses lines the last ones, for each so many answers."""


@dataclass(frozen=True)
class OfRecord:
    """What one record says of some welds."""

    record: QualificationRecord
    answers: tuple[Answer, ...]

    @cached_property
    def outcome(self) -> Outcome:
        """The worst of all variables."""
        return worst(answer.outcome for answer in self.answers)

    @property
    def open_variables(self) -> int:
        """How many variables keep it from covering the welds, surely or perhaps."""
        return sum(answer.outcome != "inside" for answer in self.answers)

    @property
    def rank(self) -> tuple[bool, int, int, int, str]:
        """How far it is from covering the welds, for finding the nearest one.

        The nearest is the one that lacks the fewest variables, whether an answer on them is sure or not. The outcome
        does not go first: a record that states little, or of a standard whose rules nobody holds, would then be nearer
        with a dozen open variables than one that is surely outside by a single one, and would hide that answer. Of
        records that lack equally many, that one is nearer which is past fewer bounds, sure or not, since what a rule
        would cover may need no new test; then the one with fewer sure answers against it.
        """
        past = sum(answer.outcome == "outside" or answer.miss is not None for answer in self.answers)
        outside = sum(answer.outcome == "outside" for answer in self.answers)
        return self.outcome != "inside", self.open_variables, past, outside, self.record.table


@dataclass(frozen=True)
class OfWelds:
    """What the records say of welds that are equal in every variable, the nearest first; none where there is none.

    The verdict is not that of the nearest record: one that covers them is enough, so they are outside only where every
    record is, and cannot be decided where one of the records cannot.
    """

    case: Case
    records: tuple[OfRecord, ...]

    @cached_property
    def outcome(self) -> Outcome:
        """The best of all records; outside where no record was made with the process."""
        return min((each.outcome for each in self.records), key=lambda each: RANKS[each], default="outside")

    @property
    def named(self) -> tuple[OfRecord, ...]:
        """The nearest record, and the one beside it without which the verdict would mislead.

        Beside a nearest record that is outside it is the nearest that cannot be decided, which keeps the verdict open.
        Beside one that cannot be decided it is one that is surely outside by as few variables.
        """
        if self.outcome != "cannot decide":
            return self.records[:1]
        nearest, *others = self.records
        beside = next((each for each in others if each.outcome != nearest.outcome), None)
        if beside is None or (nearest.outcome == "cannot decide" and beside.open_variables > nearest.open_variables):
            return (nearest,)
        return nearest, beside


class _Test:
    """A record with what it proves and the lines of its standard; each variable is judged once for equal welds."""

    def __init__(self, record: QualificationRecord, approved: ApprovedTables, groups: Groups) -> None:
        self.record = record
        self._lines = lines_for(record, approved.rules)
        self._proved = proved_by(record, groups)
        self._judged = lru_cache(_CHOICES)(_none_yet)

    def of(self, case: Case) -> OfRecord:
        """Return what the record says of a case."""
        of_lines = (case.has.get(each) for each in _CHOOSING)  # what of the order chooses between lines
        known = self._judged(case.weld_type, case.required, *of_lines)
        if len(known) >= _ANSWERS:
            known.clear()
        variables = compared(case, self._proved, self._lines)
        return OfRecord(self.record, tuple(self._answer(variable, case, known) for variable in variables))

    def _answer(self, variable: Variable, case: Case, known: _Answers) -> Answer:
        welded = variable, case.has[variable]
        found = known.get(welded)
        if found is None:
            found = known[welded] = judged(variable, case, self._proved, self._lines)
        return found


_Answers = dict[tuple[Variable, Value | None], Answer]


def _none_yet(*_: object) -> _Answers:
    return {}


@lru_cache(maxsize=1)
def _tests(approved: ApprovedTables) -> tuple[_Test, ...]:
    """Return all records; orders of one plant ask them much the same, such as gas, position and polarity."""
    groups = Groups(approved.groups)
    return tuple(_Test(record, approved, groups) for record in approved.records)


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Return the worst of some outcomes; what nobody looked at cannot be decided."""
    return max(outcomes, key=lambda outcome: RANKS[outcome], default="cannot decide")


def verdicts(
    cases: Iterable[Case], approved: ApprovedTables, named: Sequence[str], process: str
) -> tuple[OfWelds, ...]:
    """Return the verdict on each of some cases of a process.

    ``named`` are the records that the order names; without any, all of the process are looked at. A record that is
    withdrawn covers nothing.
    """
    tests = [test for test in _tests(approved) if _may_serve(test.record, named, process)]
    return tuple(
        OfWelds(case, tuple(sorted((test.of(case) for test in tests), key=attrgetter("rank")))) for case in cases
    )


def _may_serve(record: QualificationRecord, named: Sequence[str], process: str) -> bool:
    if record.withdrawn is not None:
        return False
    return record.table in named if named else record.process == process


def compared(case: Case, proved: Tested, lines: Sequence[Line]) -> tuple[Variable, ...]:
    """Return the variables by which a case is compared with a test.

    Materials are compared by their groups, unless they are those of the test or a line names the materials themselves.
    Plates have no outside diameter: from which one on they cover a tube is said by a line on the product.
    """
    by_name = any(line.rule.variable == _MATERIAL for line in lines) or case.has.get(_MATERIAL) == proved.get(_MATERIAL)
    product = proved.get("product")
    of_plates = isinstance(product, Terms) and set(product.terms) == _PLATES
    left_out = (_GROUPED if by_name else frozenset({_MATERIAL})).union({OUTSIDE_DIAMETER} if of_plates else ())
    return tuple(variable for variable in case.has if variable not in left_out)
