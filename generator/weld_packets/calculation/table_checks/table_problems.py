"""What cannot be worked with in the tables of a plant, reported all at once before any order is computed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from weld_packets.calculation.plausibility import limit_problems
from weld_packets.calculation.table_checks.chart_problems import bound_problems, chart_problems
from weld_packets.calculation.table_checks.figures import table_problem
from weld_packets.calculation.table_checks.imperfection_problems import imperfection_problems
from weld_packets.calculation.table_checks.number_problems import number_problems, pair_problems
from weld_packets.calculation.table_checks.qualification_problems import record_problems, rules_problems
from weld_packets.calculation.table_checks.safety_bounds import safety_problems
from weld_packets.calculation.table_checks.technique_bounds import technique_problems
from weld_packets.errors import Problem, unplaced
from weld_packets.letters import as_person
from weld_packets.model.sheet_gauges import STANDARD_GAUGE, SheetGauges
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import Chart, Limits
from weld_packets.model.tables.inspection import Imperfections, SampleSize, SampleSizes
from weld_packets.model.tables.qualification import QualificationRecord, QualificationRules
from weld_packets.units import as_written, exact, exceeds, is_between, magnitude

_KEPT = 256
"""Tables whose own faults are kept: while pages are served, an edit changes one table of a plant, or none."""


def table_problems(approved: ApprovedTables) -> Iterator[tuple[str, Problem]]:
    """Yield table identifier and problem, with a key path within the table, for every problem of its figures."""
    limits_read = not any(limit_problems(table) for table in approved.tables.values() if isinstance(table, Limits))
    for mark, table in approved.tables.items():
        yield from ((mark, problem) for problem in _own_problems(_This(table)))
        if isinstance(table, Chart) and limits_read:
            yield from ((mark, problem) for problem in bound_problems(table, approved.limits))


@dataclass(frozen=True, eq=False)
class _This:
    """One table and no other that is equal: to compare all that two tables hold takes longer than to check one."""

    table: Table

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _This) and other.table is self.table

    def __hash__(self) -> int:
        return id(self.table)


@lru_cache(maxsize=_KEPT)
def _own_problems(this: _This) -> tuple[Problem, ...]:
    """Return the faults of a table that it has whatever the others hold."""
    table = this.table
    refused = [*number_problems(table), *safety_problems(table)]
    known = tuple(problem.key for problem in refused)  # what cannot be at all is not refused again for its size
    bounded = [problem for problem in technique_problems(table) if not _within(problem.key, known)]
    return *_reader_problems(table), *refused, *bounded, *pair_problems(table), *_problems_of_kind(table)


def _problems_of_kind(table: Table) -> Iterable[Problem]:
    found: Iterable[Problem] = ()
    match table:
        case Chart():
            found = chart_problems(table)
        case Limits():
            found = limit_problems(table)
        case QualificationRecord():
            found = record_problems(table)
        case QualificationRules():
            found = rules_problems(table)
        case Imperfections():
            found = imperfection_problems(table)
        case SampleSizes():
            found = sampling_problems(table)
        case SheetGauges():
            found = sheet_gauge_problems(table)
    return found


def _within(key: str, known: tuple[str, ...]) -> bool:
    """Say whether a key is one of the ``known`` ones, or below one."""
    return any(key == other or key.startswith(f"{other}.") for other in known)


def _reader_problems(table: Table) -> Iterator[Problem]:
    """Yield a problem where the values were checked by the one who wrote them down, or before they were."""
    wrote, checked = table.transcribed, table.checked
    if checked is None:
        return
    if wrote is None:
        message = "it is not said who transcribed the values"
        yield unplaced("checked", checked.by, message, "name them: transcribed: {by: NAME, date: DAY}")
    elif as_person(wrote.by) == as_person(checked.by):
        message = "the values were checked by the person who transcribed them"
        yield unplaced("checked.by", checked.by, message, "have a second person compare them with the source")
    elif checked.date < wrote.date:
        message = f"the values were checked before they were transcribed, {wrote.date}"
        yield unplaced("checked.date", str(checked.date), message, "correct one of the two days")


# ---------------------------------------------------------------- sample sizes


def sampling_problems(table: SampleSizes) -> Iterator[Problem]:
    """Yield every problem of the rows, with its key path within the table."""
    ends: dict[str, tuple[int, SampleSize]] = {}
    for index, row in sorted(enumerate(table.entries), key=lambda found: found[1].over):
        key = f"entries[{index}]"
        yield from _form(row, key)
        for check in row.checks:
            end, before = ends.get(check, (0, row))
            if row.over < end:
                upper = "any more" if end == _OPEN else f"up to {end}"
                message = f"row {before.id!r} already says it for orders of {upper} parts"
                yield table_problem(f"{key}.over", str(row.over), message, "let one begin where the other ends")
            ends[check] = (_OPEN if row.up_to is None else row.up_to, row)


_OPEN = 10**9
"""More than any quantity: a row without an end."""


def _form(row: SampleSize, key: str) -> Iterator[Problem]:
    if (row.parts is None) == (row.share is None):
        yield table_problem(key, row.id, "gives 'parts' and 'share', or neither", "give one of the two")
    if row.parts == 0:
        yield table_problem(
            f"{key}.parts",
            "0",
            "a sample holds at least one part",
            "write how many parts are checked, or delete the row",
        )
    if row.share is not None and not 0 < exact(row.share, "1") <= 1:
        yield table_problem(f"{key}.share", as_written(row.share), "is not over 0 and up to 100 %", "check the number")
    if row.up_to is not None and row.up_to <= row.over:
        message = f"the range ends at or below its beginning {row.over}"
        yield table_problem(f"{key}.up to", str(row.up_to), message, "swap 'over' and 'up to'")


_LOWEST, _HIGHEST = 0.8, 1.4
"""Shares of the manufacturers' standard gauge between which that of any sheet lies: coated sheet is thicker by its
coating, most where it is thinnest. Common practice, no source."""


def sheet_gauge_problems(table: SheetGauges) -> Iterator[Problem]:
    """Yield every fault of the rows, with its key path within the table."""
    rows = sorted(enumerate(table.rows), key=lambda found: found[1].gauge)
    for (_, lower), (index, row) in pairwise(rows):
        if row.gauge == lower.gauge:
            yield table_problem(
                f"rows[{index}].gauge", str(row.gauge), "is in the table twice", "take one of the two rows out"
            )
        elif not exceeds(magnitude(lower.thickness, "in"), magnitude(row.thickness, "in")):
            message = f"is not thinner than gauge {lower.gauge}, {as_written(lower.thickness)}"
            remedy = "a higher gauge is thinner sheet: correct one of the two"
            yield table_problem(f"rows[{index}].thickness", as_written(row.thickness), message, remedy)
    for index, row in rows:
        yield from _slips(row.gauge, magnitude(row.thickness, "in"), f"rows[{index}]", as_written(row.thickness))


def _slips(gauge: int, inches: float, key: str, written: str) -> Iterator[Problem]:
    if gauge not in STANDARD_GAUGE:
        known = f"{min(STANDARD_GAUGE)} to {max(STANDARD_GAUGE)}"
        yield table_problem(f"{key}.gauge", str(gauge), f"gauges of sheet are {known}", "take the row out")
        return
    standard = float(STANDARD_GAUGE[gauge])
    if not is_between(standard * _LOWEST, inches, standard * _HIGHEST):
        shares = f"{_LOWEST:g} to {_HIGHEST:g} times"
        message = f"is not within {shares} the manufacturers' standard gauge, {STANDARD_GAUGE[gauge]} in"
        yield table_problem(f"{key}.thickness", written, message, "correct the digit or the unit")
