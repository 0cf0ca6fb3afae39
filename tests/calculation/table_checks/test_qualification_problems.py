"""What cannot be right in a qualification record or in a rule is named with its place."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.calculation.table_checks.qualification_problems import record_problems, rules_problems
from weld_packets.model.tables.qualification import QualificationRecord, QualificationRules

HEAD = {"title": "t", "source": "test", "revision": "A"}


def of_record(**more: Any) -> list[tuple[str, str]]:
    sheet = {"material": "S355J2", "thickness": "8 mm"}
    record = {
        **HEAD, "table": "R-1", "kind": "qualification record", "standard": "S", "edition": "1", "examiner": "role",
        "date": "2025-01-02", "process": "135", "weld type": "fillet", "sheets": [sheet, sheet],
        "results": [{"test": "macro", "found": "good", "document": "D"}], **more,
    }  # fmt: skip
    return [(problem.key, problem.value) for problem in record_problems(QualificationRecord.model_validate(record))]


def of_rule(form: str, **more: Any) -> list[tuple[str, str]]:
    rule = {"id": "one", "variable": "throat", "form": form, "clause": "1", "certainty": "read", "source": "s", **more}
    table = {**HEAD, "table": "t", "kind": "qualification rules", "standard": "S", "editions": ["1"], "entries": [rule]}
    return [(problem.key, problem.message) for problem in rules_problems(QualificationRules.model_validate(table))]


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("current", "200 A", "199 A"), ("voltage", "20 V", "19 V"), ("travel speed", "8 mm/s", "7 mm/s"),
        ("wire feed", "5 m/min", "4 m/min"), ("heat input", "1 kJ/mm", "0.9 kJ/mm"),
        ("electrode force", "2 kN", "1 kN"), ("weld time", "200 ms", "0.19 s"), ("weld current", "9 kA", "8900 A"),
    ],
)  # fmt: skip
def test_a_range_runs_from_its_smaller_end_and_has_both(name: str, low: str, high: str) -> None:
    assert of_record(**{f"{name} from": low, f"{name} to": high}) == [(f"{name} from", low)]
    assert of_record(**{f"{name} from": high, f"{name} to": low}) == []
    assert of_record(**{f"{name} from": low, f"{name} to": low}) == []
    assert of_record(**{f"{name} from": low}) == [(f"{name} from", low)]
    assert of_record(**{f"{name} to": low}) == [(f"{name} to", low)]


@pytest.mark.parametrize(
    ("sheet", "fault"),
    [
        ({"product": "tube", "outside diameter": "16.1 mm"}, False),
        ({"product": "hollow section", "outside diameter": "16.1 mm"}, False),
        ({"product": "tube"}, False),
        ({"product": "tube", "outside diameter": "16 mm"}, True),
        ({"product": "plate", "outside diameter": "30 mm"}, True),
        ({"outside diameter": "30 mm"}, True),
    ],
)
def test_an_outside_diameter_is_that_of_a_tube_and_more_than_two_walls(sheet: dict[str, str], fault: bool) -> None:
    plate = {"material": "S355J2", "thickness": "8 mm", "product": "plate"}
    found = of_record(sheets=[plate, {**plate, "product": None, **sheet}])
    assert [key for key, _ in found] == ["sheets[1].outside diameter"] * fault


@pytest.mark.parametrize("name", ["last used", "valid until", "withdrawn"])
def test_nothing_befalls_a_record_before_its_test(name: str) -> None:
    assert of_record(**{name: "2025-01-01"}) == [(name, "2025-01-01")]
    assert of_record(**{name: "2025-01-02"}) == []


@pytest.mark.parametrize(
    ("form", "more"),
    [
        ("as tested", {}), ("free", {}), ("factor", {"low": "0.5"}), ("factor", {"high": "10"}),
        ("factor", {"low": "1", "high": "1"}), ("factor", {"low": "0", "at least": "3 mm"}),
        ("difference", {"up": "50"}), ("difference", {"down": "0"}), ("covers", {"covers": {"a": ["a"]}}),
    ],
)  # fmt: skip
def test_a_rule_that_gives_what_its_form_needs_is_sound(form: str, more: dict[str, Any]) -> None:
    assert of_rule(form, **more) == []


@pytest.mark.parametrize(
    ("form", "more", "words"),
    [
        ("factor", {}, "says nothing of it"),
        ("difference", {}, "says nothing of it"),
        ("covers", {}, "says nothing of it"),
        ("free", {"low": "0.5"}, "gives what belongs to 'factor'"),
        ("as tested", {"up": "5"}, "gives what belongs to 'difference'"),
        ("factor", {"high": "2", "covers": {"a": ["a"]}}, "gives what belongs to 'covers'"),
        ("factor", {"high": "10.1"}, "a factor is from 0 to 10"),
        ("factor", {"low": "-0.1"}, "a factor is from 0 to 10"),
        ("factor", {"low": "1.1"}, "the range leaves out what was tested"),
        ("factor", {"high": "0.9"}, "the range leaves out what was tested"),
    ],
)
def test_a_rule_that_cannot_be_is_named(form: str, more: dict[str, Any], words: str) -> None:
    ((key, message),) = of_rule(form, **more)
    assert key.startswith("entries[0]")
    assert words in message


def test_a_line_for_an_edition_that_its_table_is_not_for_is_named() -> None:
    assert of_rule("as tested", editions=["1"]) == []
    assert of_rule("as tested", editions=["1", "2"]) == [("entries[0].editions", "the table is not for this edition")]
