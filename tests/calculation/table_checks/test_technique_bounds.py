"""Bounds of what tables say of technique: both ends are admitted, what lies beyond is refused."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.table_faults import table_problems
from weld_packets.calculation.table_checks.technique_bounds import technique_problems
from weld_packets.model.tables import Table
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import quantity

Change = Callable[[Any, Any], Any]


@pytest.fixture(scope="module")
def tables() -> dict[str, Table]:
    return dict(load_workspace(Path(__file__).parents[3]).approved.tables)


def first(name: str, field: str) -> Change:
    def change(table: Any, value: Any) -> Any:
        entries = getattr(table, name)
        return table.model_copy(update={name: (entries[0].model_copy(update={field: value}), *entries[1:])})

    return change


def whole(field: str) -> Change:
    return lambda table, value: table.model_copy(update={field: value})


def inside(record: str, field: str) -> Change:
    return lambda table, value: table.model_copy(
        update={record: getattr(table, record).model_copy(update={field: value})}
    )


def torch(field: str) -> Change:
    def change(table: Any, value: Any) -> Any:
        source = table.power_sources[0]
        other = source.model_copy(update={"torch": source.torch.model_copy(update={field: value})})
        return table.model_copy(update={"power_sources": (other, *table.power_sources[1:])})

    return change


def rating(field: str) -> Change:
    def change(table: Any, value: Any) -> Any:
        ratings = table.power_sources[0].torch.ratings
        return torch("ratings")(table, (ratings[0].model_copy(update={field: value}), *ratings[1:]))

    return change


CASES = [
    (
        "materials",
        first("entries", "working_temperature_minimum"),
        "entries[0].working temperature minimum",
        -20,
        60,
        "°C",
    ),
    ("materials", first("entries", "interpass_maximum"), "entries[0].interpass maximum", 40, 400, "°C"),
    ("plant", whole("closed_seam_overlap"), "closed seam overlap", 1, 50, "mm"),
    ("plant", whole("contact_distance_tolerance"), "contact distance tolerance", 0.1, 5, "mm"),
    ("plant", inside("unequal_thickness", "ratio"), "unequal thickness.ratio", 1, 10, ""),
    ("plant", inside("root_gap", "of_wire"), "root gap.of wire", 0.1, 2, ""),
    ("plant", inside("root_gap", "added_over"), "root gap.added over", 0.5, 8, "mm"),
    ("arc-co2-fillet-1.2", whole("pre_flow"), "pre flow", 0, 60, "s"),
    ("arc-co2-fillet-1.2", whole("post_flow"), "post flow", 0, 60, "s"),
    ("machines", torch("nozzle_bore"), "power sources[0].torch.nozzle bore", 6, 30, "mm"),
    ("machines", torch("contact_tip_setback"), "power sources[0].torch.contact tip setback", -15, 15, "mm"),
    ("machines", rating("current"), "power sources[0].torch.ratings[0].current", 20, 1000, "A"),
    ("machines", rating("share"), "power sources[0].torch.ratings[0].share", 10, 100, "%"),
]


@pytest.mark.parametrize(("name", "change", "key", "low", "high", "unit"), CASES, ids=[case[2] for case in CASES])
def test_a_bound_admits_both_its_ends_and_refuses_what_lies_beyond(  # noqa: PLR0917 - one case is one line
    tables: dict[str, Table], name: str, change: Change, key: str, low: float, high: float, unit: str
) -> None:
    def value(number: float) -> Any:
        return quantity(number, unit) if unit else Decimal(str(number))

    for good in (low, high):
        assert list(technique_problems(change(tables[name], value(good)))) == []
    for bad in (low - 0.01, high + 0.01):
        (problem,) = technique_problems(change(tables[name], value(bad)))
        assert problem.key == key
        assert f"from {low:g} to {high:g}" in problem.message


def test_a_slip_of_a_digit_is_told_with_the_table(tables: dict[str, Table]) -> None:
    approved = load_workspace(Path(__file__).parents[3]).approved
    wrong = first("entries", "interpass_maximum")(tables["materials"], quantity(2500.0, "°C"))
    approved.tables["materials"] = wrong  # type: ignore[index]
    assert [(mark, problem.key) for mark, problem in table_problems(approved)] == [
        ("materials", "entries[0].interpass maximum")
    ]


def test_the_shipped_tables_have_no_fault(tables: dict[str, Table]) -> None:
    assert [problem for table in tables.values() for problem in technique_problems(table)] == []
