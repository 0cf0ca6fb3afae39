"""The verdict on some welds: which record is nearest, and what is missing for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from weld_packets.calculation.qualification.groups import Groups
from weld_packets.calculation.qualification.judging import Answer, judged
from weld_packets.calculation.qualification.proved import proved_by
from weld_packets.calculation.qualification.rules import Line, lines_for
from weld_packets.calculation.qualification.values import RANKS, Case, Outcome
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.qualification import QualificationRecord, Variable

_UNRULED = frozenset({"material"})
"""Compared where a table of rules has a line for it: the groups of the materials stand in for it elsewhere."""
_GROUPED: frozenset[Variable] = frozenset({"material group", "material subgroup"})


@dataclass(frozen=True)
class OfRecord:
    """What one record says of some welds; ``has_rules`` is whether any table holds the ranges of its standard."""

    record: QualificationRecord
    answers: tuple[Answer, ...]
    has_rules: bool

    @property
    def outcome(self) -> Outcome:
        """The worst of all variables."""
        return worst(answer.outcome for answer in self.answers)

    @property
    def rank(self) -> tuple[int, int, int, str]:
        """How far it is from covering the welds, for finding the nearest one."""
        outside = sum(answer.outcome == "outside" for answer in self.answers)
        undecided = sum(answer.outcome == "cannot decide" for answer in self.answers)
        return RANKS[self.outcome], outside, undecided, self.record.table


@dataclass(frozen=True)
class OfWelds:
    """What the records say of welds that are equal in every variable, the nearest first; none where there is none."""

    case: Case
    records: tuple[OfRecord, ...]

    @property
    def outcome(self) -> Outcome:
        """That of the nearest record; outside where no record was made with the process."""
        return self.records[0].outcome if self.records else "outside"


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
    groups = Groups(approved.groups)
    records = [record for record in approved.records if _may_serve(record, named, process)]
    return tuple(
        OfWelds(case, tuple(sorted((_of(record, case, approved, groups) for record in records), key=_rank)))
        for case in cases
    )


def _may_serve(record: QualificationRecord, named: Sequence[str], process: str) -> bool:
    if record.withdrawn is not None:
        return False
    return record.table in named if named else record.process == process


def _rank(found: OfRecord) -> tuple[int, int, int, str]:
    return found.rank


def _of(record: QualificationRecord, case: Case, approved: ApprovedTables, groups: Groups) -> OfRecord:
    lines = lines_for(record, approved.rules)
    proved = proved_by(record, groups)
    variables = _compared(case, lines)
    answers = tuple(judged(variable, case, proved, lines) for variable in variables)
    if case.has.get("material") == proved.get("material"):
        answers = tuple(answer for answer in answers if answer.variable not in _GROUPED) + tuple(
            judged(variable, case, proved, lines) for variable in ("material",) if variable not in variables
        )
    return OfRecord(record, answers, bool(lines))


def _compared(case: Case, lines: Sequence[Line]) -> tuple[Variable, ...]:
    """Return the variables of a case that are compared: materials by their groups, but where a line says otherwise."""
    ruled = {line.rule.variable for line in lines}
    by_name = "material" in ruled
    return tuple(
        variable
        for variable in case.has
        if (variable not in _UNRULED or by_name) and (variable not in _GROUPED or not by_name)
    )
