"""What cannot be right in a qualification record, or in a rule on its range."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.qualification.proved import is_tube
from weld_packets.calculation.table_checks.figures import table_problem
from weld_packets.errors import Problem
from weld_packets.model.tables.qualification import QualificationRecord, QualificationRules, Rule, TestedSheet
from weld_packets.units import Quantity, as_written, magnitude

_RANGES = (
    ("current", "A"),
    ("voltage", "V"),
    ("travel_speed", "mm/s"),
    ("wire_feed", "m/min"),
    ("heat_input", "kJ/mm"),
    ("electrode_force", "kN"),
    ("weld_time", "ms"),
    ("weld_current", "kA"),
)
_MAXIMUM_FACTOR = 10
"""No standard lets anything grow tenfold: a slip of a digit."""


def record_problems(record: QualificationRecord) -> Iterator[Problem]:
    """Yield every problem of a record, with its key path within the table."""
    for name, unit in _RANGES:
        low, high = getattr(record, f"{name}_from"), getattr(record, f"{name}_to")
        key = name.replace("_", " ")
        if (low is None) != (high is None):
            given = "from" if high is None else "to"
            message = f"'{key} {given}' is given alone"
            value = as_written(high if low is None else low)
            yield table_problem(f"{key} {given}", value, message, "give both, equal for one reading")
        elif low is not None and magnitude(low, unit) > magnitude(high, unit):
            message = f"is above '{key} to', {as_written(high)}"
            yield table_problem(f"{key} from", as_written(low), message, "swap them")
    for index, sheet in enumerate(record.sheets):
        yield from _sheet(sheet, f"sheets[{index}].outside diameter")
    for name in ("last_used", "valid_until", "withdrawn"):
        day = getattr(record, name)
        if day is not None and day < record.date:
            message = f"is before the test, {record.date.isoformat()}"
            yield table_problem(name.replace("_", " "), day.isoformat(), message, "correct one of the two dates")


def _sheet(sheet: TestedSheet, key: str) -> Iterator[Problem]:
    if sheet.outside_diameter is None:
        return
    given = as_written(sheet.outside_diameter)
    if not is_tube(sheet):
        yield table_problem(key, given, "is that of a component that is not stated to be a tube", "write its 'product'")
    elif not _hollow(sheet.outside_diameter, sheet.thickness):
        message = f"is no more than two walls of {as_written(sheet.thickness)}"
        yield table_problem(key, given, message, "correct one of the two")


def _hollow(outside: Quantity, wall: Quantity) -> bool:
    return magnitude(outside, "mm") > 2 * magnitude(wall, "mm")


def rules_problems(table: QualificationRules) -> Iterator[Problem]:
    """Yield every problem of a table of rules, with its key path within the table."""
    for index, rule in enumerate(table.entries):
        yield from _form(rule, f"entries[{index}]")
        for edition in rule.editions:
            if edition not in table.editions:
                remedy = "write it as 'editions' of the table does"
                yield table_problem(f"entries[{index}].editions", edition, "the table is not for this edition", remedy)


def _form(rule: Rule, key: str) -> Iterator[Problem]:
    given = {
        "factor": rule.low is not None or rule.high is not None or rule.at_least is not None,
        "difference": rule.down is not None or rule.up is not None,
        "covers": bool(rule.covers),
    }
    if rule.form in given and not given[rule.form]:
        message = f"a rule of form {rule.form!r} says nothing of it"
        yield table_problem(key, rule.id, message, "give low or high, down or up, or covers")
    for form, is_given in given.items():
        if is_given and form != rule.form:
            message = f"its form is {rule.form!r}, and it gives what belongs to {form!r}"
            yield table_problem(key, rule.id, message, "keep the one that the source gives")
    for name, factor in (("low", rule.low), ("high", rule.high)):
        if factor is not None and not 0 <= factor <= _MAXIMUM_FACTOR:
            message = f"a factor is from 0 to {_MAXIMUM_FACTOR}"
            yield table_problem(f"{key}.{name}", str(factor), message, "write it as in the standard, such as 1.3")
    if (rule.low is not None and rule.low > 1) or (rule.high is not None and rule.high < 1):
        yield table_problem(key, rule.id, "the range leaves out what was tested", "let it hold 1 times the test")
