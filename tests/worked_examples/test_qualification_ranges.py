"""Ranges of qualification, as read in a source or remembered: worked ranges of published and remembered rules.

Read: ISO 15614-1:2017 table 5 in published answers on pressure equipment (cover of groups); ISO 15614-1:2017 with
Amendment 1:2019, 8.4.8 and 8.4.9, in an inspection forum (preheat 50 °C less, interpass 50 °C more); AWS D1.1:2015,
table 4.5 items 10, 12 and 16 in a forum of the AWS (diameter any, current 10 %, voltage 7 %, record of 234.8 A and
27.9 V); the national foreword of BS EN ISO 15614-1:2017 (level 2 where none is stated); refresher notes Fab-04 of the
Indian Institute of Welding (t to 2t below 1.5 mm, in the form of ASME, so that it decides nothing); a German guide to
approved consumables (groups of grades). All other ranges are computed from rules that are from memory, and no such rule
may decide.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, NamedTuple

import pytest
from weld_packets.calculation.qualification.groups import Groups
from weld_packets.calculation.qualification.judging import covered, judged
from weld_packets.calculation.qualification.proved import proved_by
from weld_packets.calculation.qualification.rules import Line, line_of, lines_for
from weld_packets.calculation.qualification.values import Case, Ranges, Sizes, Terms, Value
from weld_packets.calculation.table_checks.qualification_problems import rules_problems
from weld_packets.model.tables.qualification import QualificationRecord, Variable, WeldType
from weld_packets.sources.tables.tables import brought_groups, brought_rules

LEVEL_2, AMENDED, LEVEL_1, OF_2004, AWS, LATER = "2017", "2017+A1", "2017 level 1", "2004", "AWS", "AWS 2020"
STANDARDS: dict[str, dict[str, str]] = {
    LEVEL_2: {"standard": "ISO 15614-1", "edition": "2017", "level": "2"},
    AMENDED: {"standard": "ISO 15614-1", "edition": "2017+A1:2019", "level": "2"},
    LEVEL_1: {"standard": "ISO 15614-1", "edition": "2017", "level": "1"},
    OF_2004: {"standard": "ISO 15614-1", "edition": "2004"},
    AWS: {"standard": "AWS D1.1", "edition": "2015"},
    LATER: {"standard": "AWS D1.1", "edition": "2020"},
}


def record(standard: str, weld_type: str = "fillet", thickness: str = "8 mm", **more: Any) -> QualificationRecord:
    sheet = {"material": "S355J2", "thickness": thickness}
    if diameter := more.pop("outside diameter", None):
        sheet |= {"product": "tube", "outside diameter": diameter}
    whole = {
        "table": "R", "kind": "qualification record", "title": "t", "source": "test", "revision": "A",
        **STANDARDS[standard], "examiner": "role", "date": "2025-01-01", "process": "135", "weld type": weld_type,
        "sheets": [sheet, sheet], "results": [{"test": "macro", "found": "good", "document": "D"}], **more,
    }  # fmt: skip
    return QualificationRecord.model_validate(whole)


def found_line(of: QualificationRecord, variable: Variable, required: tuple[Any, ...] = ()) -> Line | None:
    proved = proved_by(of, Groups([brought_groups()]))
    case = Case(("W",), of.weld_type, {}, required)
    return line_of(variable, lines_for(of, brought_rules()), proved, case)


class Row(NamedTuple):
    """The range that one test gives to a variable: standard, weld, what was tested, both ends ("" where open)."""

    standard: str
    weld: WeldType
    variable: Variable
    of: dict[str, str]
    low: str
    high: str
    certainty: str = "from memory"
    required: tuple[str, ...] = ()


def t(thickness: str, passes: str = "one") -> dict[str, str]:
    return {"thickness": f"{thickness} mm", "passes": passes}


def a(throat: str) -> dict[str, str]:
    return {"throat": f"{throat} mm", "passes": "one"}


def tube(diameter: str) -> dict[str, str]:
    return {"outside diameter": f"{diameter} mm"}


def between(variable: str, low: str, high: str) -> dict[str, str]:
    return {f"{variable} from": low, f"{variable} to": high}


HEAT = {"heat input from": "1 kJ/mm", "heat input to": "1 kJ/mm"}
CURRENT = {"current from": "234.8 A", "current to": "234.8 A"}
VOLTAGE = {"voltage from": "27.9 V", "voltage to": "27.9 V"}
ROWS = (
    Row(LEVEL_2, "butt", "thickness", t("1.5"), "1.05", "1.95"),
    Row(LEVEL_2, "butt", "thickness", t("1.5", "several"), "1.05", "3"),
    Row(LEVEL_2, "butt", "thickness", t("3"), "2.1", "3.9"),
    Row(LEVEL_2, "butt", "thickness", t("3", "several"), "2.1", "6"),
    Row(LEVEL_2, "butt", "thickness", t("3.1"), "3", "4.03"),  # the range jumps at 3 mm
    Row(LEVEL_2, "butt", "thickness", t("6"), "3", "7.8"),
    Row(LEVEL_2, "butt", "thickness", t("6", "several"), "3", "12"),
    Row(LEVEL_2, "butt", "thickness", t("12"), "6", "15.6"),
    Row(LEVEL_2, "butt", "thickness", t("12", "several"), "3", "24"),
    Row(LEVEL_2, "butt", "thickness", t("20"), "10", "22"),
    Row(LEVEL_2, "butt", "thickness", t("20", "several"), "10", "40"),
    Row(LEVEL_2, "T butt", "thickness", t("6"), "3", "7.8"),
    Row(LEVEL_2, "fillet", "thickness", t("0.8"), "0.56", "1.6"),
    Row(LEVEL_2, "fillet", "thickness", t("2"), "1.4", "4"),
    Row(LEVEL_2, "fillet", "thickness", t("3"), "2.1", "6"),
    Row(LEVEL_2, "fillet", "thickness", t("8"), "4", "9.6", "in dispute"),  # 1.2 t, the narrower of two memories
    Row(LEVEL_2, "fillet", "thickness", t("4"), "3", "4.8", "in dispute"),
    Row(OF_2004, "fillet", "thickness", t("8"), "4", "9.6"),
    Row(OF_2004, "fillet", "thickness", t("2"), "1.4", "4"),
    Row(OF_2004, "butt", "thickness", t("6"), "3", "7.8"),
    Row(LEVEL_2, "fillet", "throat", a("3"), "2.25", "4.5"),
    Row(LEVEL_2, "fillet", "throat", a("4"), "3", "6"),
    Row(LEVEL_2, "fillet", "throat", a("5"), "3.75", "7.5"),
    Row(OF_2004, "fillet", "throat", a("5"), "3.75", "7.5"),
    Row(LEVEL_1, "butt", "thickness", t("1.2"), "1.2", "2.4"),  # Fab-04: t to 2 t below 1.5 mm, in the form of ASME
    Row(LEVEL_1, "butt", "thickness", t("6"), "1.5", "12"),
    Row(AMENDED, "fillet", "preheat", {"preheat": "150 °C"}, "100", "", "read"),  # 8.4.8, forum
    Row(AMENDED, "fillet", "preheat", {"preheat": "20 °C"}, "-30", "", "read"),
    Row(AMENDED, "fillet", "interpass temperature", {"interpass": "250 °C"}, "", "300", "read"),  # 8.4.9, forum
    Row(AMENDED, "fillet", "interpass temperature", {"interpass": "180 °C"}, "", "230", "read"),
    Row(OF_2004, "fillet", "preheat", {"preheat": "150 °C"}, "150", ""),
    Row(OF_2004, "fillet", "interpass temperature", {"interpass": "250 °C"}, "", "250"),
    Row(LEVEL_2, "fillet", "heat input", HEAT, "", "1.25", required=("impact",)),
    Row(LEVEL_2, "fillet", "heat input", HEAT, "0.75", "", required=("hardness",)),
    Row(LEVEL_2, "fillet", "heat input", HEAT, "0.75", "1.25", required=("impact", "hardness")),
    Row(OF_2004, "fillet", "heat input", HEAT, "0.75", "1.25", required=("impact", "hardness")),
    Row(LEVEL_2, "fillet", "carbon dioxide", {"carbon dioxide": "18 %"}, "14.4", "19.8", "in dispute"),
    Row(OF_2004, "fillet", "carbon dioxide", {"carbon dioxide": "18 %"}, "", "19.8"),
    Row(AWS, "fillet", "current", CURRENT, "211.32", "258.28", "read"),  # item 12: 211.3 to 258.3 A
    Row(AWS, "fillet", "voltage", VOLTAGE, "25.947", "29.853", "read"),  # item 16: 25.9 to 29.9 V
    Row(AWS, "fillet", "current", between("current", "225 A", "244.6 A"), "211.32", "258.28", "read"),  # the same mean
    Row(AWS, "fillet", "current", between("current", "200 A", "260 A"), "200", "260", "read"),  # mean 230 A
    Row(AWS, "fillet", "voltage", between("voltage", "27 V", "28.8 V"), "25.947", "29.853", "read"),
    Row(AWS, "fillet", "filler diameter", {"filler diameter": "1.2 mm"}, "1.2", "1.2", "read"),  # item 10: any change
    Row(LEVEL_2, "fillet", "preheat", {"preheat": "150 °C"}, "100", "", "unread"),  # read for the amended edition alone
    Row(LEVEL_2, "fillet", "interpass temperature", {"interpass": "250 °C"}, "", "300", "unread"),
    Row(LATER, "fillet", "current", CURRENT, "211.32", "258.28", "unread"),  # read for the edition of 2015 alone
    Row(LATER, "fillet", "voltage", VOLTAGE, "25.947", "29.853", "unread"),
    Row(LATER, "fillet", "filler diameter", {"filler diameter": "1.2 mm"}, "1.2", "1.2", "unread"),
    Row(LEVEL_2, "fillet", "outside diameter", tube("20"), "10", "40"),
    Row(LEVEL_2, "fillet", "outside diameter", tube("25"), "12.5", "50"),
    Row(LEVEL_2, "fillet", "outside diameter", tube("25.1"), "25", ""),
    Row(LEVEL_2, "fillet", "outside diameter", tube("60"), "30", ""),
    Row(OF_2004, "fillet", "outside diameter", tube("20"), "10", "40"),
    Row(OF_2004, "fillet", "outside diameter", tube("60"), "30", ""),
    Row(AWS, "fillet", "preheat", {"preheat": "60 °C"}, "45", ""),
    Row(AWS, "fillet", "throat", a("5"), "", "5"),
    Row(AWS, "fillet", "throat", {"throat": "6 mm", "passes": "several"}, "6", ""),
)


def test_there_are_as_many_worked_ranges_as_required() -> None:
    assert len(ROWS) >= 40


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.standard} {row.weld} {row.variable} {row.low} {row.high}")
def test_a_test_gives_the_range_that_the_source_gives_and_says_how_sure_it_is(row: Row) -> None:
    more = dict(row.of)
    of = record(row.standard, row.weld, more.pop("thickness", "8 mm"), **more)
    line = found_line(of, row.variable, row.required)
    assert line is not None
    found = covered(line, proved_by(of, Groups([brought_groups()]))[row.variable])
    assert isinstance(found, Ranges)
    ends = tuple(Decimal(end) if end else None for end in (row.low, row.high))
    assert (found.each[0].low, found.each[0].high) == ends
    assert line.rule.certainty == row.certainty


@pytest.mark.parametrize(
    ("group", "covers"),
    [("1", "1"), ("2", "1 2"), ("3", "1 2 3"), ("4", "4"), ("6", "6"), ("8", "8"), ("9", "9")],
)
def test_the_groups_that_a_group_covers_are_those_of_table_5(group: str, covers: str) -> None:
    line = found_line(record(LEVEL_2), "material group")
    assert line is not None
    assert line.rule.certainty == "read"
    assert covered(line, Terms((group,))) == Terms(tuple(covers.split()))


@pytest.mark.parametrize(
    ("was", "has", "outcome"),
    [
        ("1 2", "1 2", "inside"),  # 2-1 joint: (2, 1)-1
        ("1 2", "1 1", "inside"),
        ("1 2", "2 2", "outside"),
        ("1 8", "1 8", "inside"),  # 8 joined to 1: that joint alone
        ("1 8", "1 1", "outside"),
        ("1 8", "8 8", "outside"),
        ("4 4", "3 4", "outside"),  # read as "4 with 4 to 1", which no list of words says: left to the plant
    ],
)
def test_a_joint_of_two_groups_covers_what_table_5_says_of_the_joint(was: str, has: str, outcome: str) -> None:
    lines = lines_for(record(LEVEL_2), brought_rules())
    of = Case(("W",), "fillet", {"material group": Terms(tuple(has.split()))})
    assert judged("material group", of, {"material group": Terms(tuple(was.split()))}, lines).outcome == outcome


def test_table_5_was_read_for_the_edition_without_the_amendment_alone() -> None:
    line = found_line(record(AMENDED), "material group")
    assert line is not None
    assert (line.rule.id, line.rule.certainty) == ("material-group-amended", "unread")


def plate_on(position: str, diameter: str) -> Line | None:
    """Return the line by which a plate is judged for a tube of a diameter in a position."""
    has: dict[Variable, Value | None] = {
        "position": Terms((position,)),
        "outside diameter": Sizes((Decimal(diameter),)),
    }
    return line_of("product", lines_for(record(LEVEL_2), brought_rules()), {}, Case(("W",), "fillet", has))


@pytest.mark.parametrize(
    ("position", "diameter", "line"),
    [
        ("PB", "500.1", "product-plate-over-500"),
        ("PB", "500", "product"),
        ("PA", "500", "product-plate-over-150"),
        ("PC", "150.1", "product-plate-over-150"),
        ("PC", "150", "product"),
        ("PF", "200", "product"),
    ],
)
def test_from_which_diameter_a_plate_covers_a_tube_is_remembered_and_decides_nothing(
    position: str, diameter: str, line: str
) -> None:
    found = plate_on(position, diameter)
    assert found is not None
    assert found.rule.id == line
    assert found.rule.certainty in ("from memory", "unread")


CLAUSES: dict[str, tuple[Variable, ...]] = {
    "8.3.1": ("material group", "material subgroup"),
    "8.3.2": ("thickness", "throat"),
    "8.3.3": ("product", "outside diameter"),
    "8.4.1": ("process", "mechanisation"),
    "8.4.2": ("position",),
    "8.4.3": ("weld type", "passes"),
    "8.4.4": ("filler",),
    "8.4.5": ("filler diameter",),
    "8.4.6": ("polarity",),
    "8.4.7": ("heat input", "current", "voltage", "travel speed", "wire feed speed"),
    "8.4.8": ("preheat",),
    "8.4.9": ("interpass temperature",),
    "8.5.2": ("gas", "carbon dioxide", "transfer mode"),
}
"""The clauses of ISO 15614-1:2017 in the list of contents that was read: 8.3.1 grouping, 8.3.2 thickness, 8.3.3
diameter, 8.4.1 process, 8.4.2 position, 8.4.3 type of joint or weld, 8.4.4 and 8.4.5 filler, 8.4.6 current, 8.4.7
heat input, 8.4.8 preheat, 8.4.9 interpass temperature, 8.5.2 MIG/MAG. Which variable belongs to which is from
memory."""


def test_the_clauses_are_those_of_the_list_of_contents_that_was_read() -> None:
    of_variable = {variable: clause for clause, variables in CLAUSES.items() for variable in variables}
    for line in lines_for(record(LEVEL_2), brought_rules()):
        if line.rule.variable != "coating":  # no variable of the standard
            assert line.rule.clause.split(",")[0] == of_variable[line.rule.variable], line.rule.id


GRADES = {
    "1.1": "S235JR S275J2 S275N S275M",
    "1.2": "S355JR S355K2 S355N S355NL S355M S355ML GE200 GE240",
    "1.3": "S420N S460N",
    "2.1": "S420M S460M S420MC S460MC",
    "2.2": "S500MC S700MC",
}


@pytest.mark.parametrize(
    ("group", "grade"), [(group, grade) for group, text in GRADES.items() for grade in text.split()]
)
def test_grades_have_the_group_of_the_guide_to_consumables(group: str, grade: str) -> None:
    found = Groups([brought_groups()]).of(grade)
    assert (found.sure, found.certainty) == (group, "read")


@pytest.mark.parametrize(("material", "group"), [("DX51D-Z275", "1.1"), ("DC01", "1.1"), ("X5CrNi18-10", "8.1")])
def test_a_group_that_is_only_remembered_is_named_and_not_sure(material: str, group: str) -> None:
    found = Groups([brought_groups()]).of(material)
    assert (found.group, found.sure) == (group, None)


def test_the_group_of_s355mc_is_in_dispute_and_a_material_of_no_table_has_none() -> None:
    assert Groups([brought_groups()]).of("S355MC").certainty == "in dispute"
    assert Groups([brought_groups()]).of("S355").group is None


def test_a_record_that_states_no_level_has_level_2() -> None:
    of = record(LEVEL_2).model_copy(update={"level": None})
    assert {line.table.level for line in lines_for(of, brought_rules())} == {"2"}


def test_heat_input_is_not_limited_where_neither_impact_nor_hardness_is_required_from_memory() -> None:
    line = found_line(record(LEVEL_2), "heat input")
    assert line is not None
    assert (line.rule.form, line.rule.certainty) == ("free", "from memory")


def test_of_spots_nothing_was_read_so_that_no_line_covers_a_change() -> None:
    (table,) = (table for table in brought_rules() if table.standard == "ISO 15614-12")
    assert {(rule.form, rule.certainty) for rule in table.entries} == {("as tested", "strict")}


def test_every_line_that_says_memory_in_its_source_is_not_taken_as_read() -> None:
    for table in brought_rules():
        for rule in table.entries:
            assert ("memory" in rule.source) <= (rule.certainty not in ("read", "plant")), rule.id
        assert list(rules_problems(table)) == []
