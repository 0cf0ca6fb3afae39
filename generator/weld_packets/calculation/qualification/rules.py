"""Which line of which table says how far a variable may differ from what was tested."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from weld_packets.calculation.qualification.groups import group_of_subgroup
from weld_packets.calculation.qualification.values import OUTSIDE_DIAMETER, THICKNESSES, Case, Sizes, Terms, Tested
from weld_packets.model.tables.qualification import Level, QualificationRecord, QualificationRules, Rule, Variable
from weld_packets.units import exact
from weld_packets.units.digits import in_band

WITHOUT_LEVEL: Level = "2"
"""Where a standard has levels and the record states none: national foreword of BS EN ISO 15614-1:2017."""


@dataclass(frozen=True)
class Line:
    """One line with the table that it is in."""

    rule: Rule
    table: QualificationRules


class Proof(NamedTuple):
    """The standard by which a procedure is proved, its edition and level."""

    standard: str
    edition: str
    level: Level | None = None


def lines_for(record: QualificationRecord, tables: Sequence[QualificationRules]) -> tuple[Line, ...]:
    """Return the lines of the standard, edition and level of a record; of two of one name that of the earlier table."""
    return lines_of(Proof(record.standard, record.edition, record.level), tables)


def lines_of(proof: Proof, tables: Sequence[QualificationRules]) -> tuple[Line, ...]:
    """Return the lines of a standard in an edition and level."""
    named = [table for table in tables if table.standard == proof.standard and proof.edition in table.editions]
    level = level_of(proof, named)
    found: dict[str, Line] = {}
    for table in named:
        if table.level == level:
            for rule in table.entries:
                if rule.editions and proof.edition not in rule.editions:
                    continue
                found.setdefault(rule.id, Line(rule, table))
    return tuple(found.values())


def level_of(proof: Proof, tables: Sequence[QualificationRules]) -> Level | None:
    """Return the level of a proof; level 2 where it states none and its standard has levels."""
    has_levels = any(table.level for table in tables)
    return (proof.level or WITHOUT_LEVEL) if has_levels else proof.level


def line_of(variable: Variable, lines: Sequence[Line], proved: Tested, case: Case) -> Line | None:
    """Return the first line for a variable whose conditions hold for the test and the order, or None."""
    return next((line for line in lines if line.rule.variable == variable and _holds(line.rule, proved, case)), None)


def _holds(rule: Rule, proved: Tested, case: Case) -> bool:
    return all(_conditions(rule, proved, case))


def _conditions(rule: Rule, proved: Tested, case: Case) -> Iterator[bool]:
    if rule.weld_types:
        yield case.weld_type in rule.weld_types
    if rule.passes:
        yield proved.get("passes") == Terms((rule.passes,))
    if rule.groups:
        subgroups = proved.get("material subgroup")
        words = subgroups.terms if isinstance(subgroups, Terms) else ()
        yield any(group_of_subgroup(word) in rule.groups for word in words)
    if rule.required:
        yield set(case.required or ("none",)) <= set(rule.required)
    if rule.positions:
        position = case.has.get("position")
        yield isinstance(position, Terms) and set(position.terms) <= set(rule.positions)
    if rule.outside_diameter_over is not None:
        tubes = case.has.get(OUTSIDE_DIAMETER)
        yield isinstance(tubes, Sizes) and tubes.sizes[0] > exact(rule.outside_diameter_over, "mm")
    yield _is_of_band(rule, proved)


def _is_of_band(rule: Rule, proved: Tested) -> bool:
    """Return whether the thinnest component of the test lies over one thickness and up to and including another.

    A rule on outside diameters has bands of those.
    """
    if rule.over is None and rule.up_to is None:
        return True
    of = (OUTSIDE_DIAMETER,) if rule.variable == OUTSIDE_DIAMETER else THICKNESSES
    smallest = next((min(found.sizes) for each in of if isinstance(found := proved.get(each), Sizes)), None)
    return smallest is not None and in_band(smallest, rule.over, rule.up_to)
