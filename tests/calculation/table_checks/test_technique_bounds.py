"""Bounds of what tables say of technique: both ends are admitted, what lies beyond is refused."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.table_problems import table_problems
from weld_packets.calculation.table_checks.technique_bounds import FIGURES, technique_problems
from weld_packets.model.table import Table
from weld_packets.model.tables.materials import MeltingLaw
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import quantity

ROOT = Path(__file__).parents[3]
LAW = MeltingLaw.model_validate({"arc": "0.3", "resistance": "0.00005", "arc length": {"spray": "4 mm"}})
# table, lists and records that lead to the figure, field, smallest and largest that is admitted, unit
ENDS: list[tuple[str, str, str, float, float, str]] = [
    ("plant", "", "cap_face_at_most", 100, 200, "%"),
    ("plant", "", "clock_allowance", 24, 26280, "h"),
    ("plant", "", "closed_seam_overlap", 1, 50, "mm"),
    ("plant", "", "contact_distance_tolerance", 0.1, 5, "mm"),
    ("plant", "", "contact_tip_after", 0.1, 200, "h"),
    ("plant", "", "coupon_seam", 10, 5000, "mm"),
    ("plant", "", "duty_planning_share", 20, 100, "%"),
    ("plant", "", "flare_bevel_throat", 0.1, 1, ""),
    ("plant", "", "purge_time", 1, 1800, "s"),
    ("plant", "", "seam_refused_over", 0.1, 50, "mm"),
    ("plant", "", "seam_tolerance", 0.05, 10, "mm"),
    ("plant", "", "set_up_weld_diameter", 2, 8, ""),
    ("plant", "", "shift_length", 1, 24, "h"),
    ("plant", "", "spot_pitch_three_sheets_more", 0, 100, "%"),
    ("plant", "", "squeeze_pneumatic", 20, 2000, "ms"),
    ("plant", "", "squeeze_servo", 20, 2000, "ms"),
    ("plant", "", "visible_indentation", 1, 50, "%"),
    ("plant", "unequal_thickness", "ratio", 1, 10, ""),
    ("plant", "root_gap", "of_wire", 0.1, 2, ""),
    ("plant", "root_gap", "added_over", 0.5, 8, "mm"),
    ("machines", "cells", "load_time", 0, 3600, "s"),
    ("machines", "robots", "air_speed", 10, 5000, "mm/s"),
    ("machines", "robots", "approach", 0, 60, "s"),
    ("machines", "robots", "reach", 200, 6000, "mm"),
    ("machines", "robots", "travel_speed_step", 0.01, 10, "mm/s"),
    ("machines", "robots", "weld_overhead", 0, 60, "s"),
    ("machines", "power_sources", "current_from", 1, 1000, "A"),
    ("machines", "power_sources", "current_to", 20, 2000, "A"),
    ("machines", "power_sources", "voltage_from", 5, 60, "V"),
    ("machines", "power_sources", "voltage_step", 0.01, 2, "V"),
    ("machines", "power_sources", "voltage_to", 10, 100, "V"),
    ("machines", "power_sources", "wire_feed_from", 0.1, 60, "m/min"),
    ("machines", "power_sources", "wire_feed_step", 0.005, 1, "m/min"),
    ("machines", "power_sources", "wire_feed_to", 0.1, 60, "m/min"),
    ("machines", "power_sources.duty", "current", 20, 2000, "A"),
    ("machines", "power_sources.duty", "share", 10, 100, "%"),
    ("machines", "power_sources.torch", "nozzle_bore", 6, 30, "mm"),
    ("machines", "power_sources.torch", "contact_tip_setback", -15, 15, "mm"),
    ("machines", "power_sources.torch.ratings", "current", 20, 1000, "A"),
    ("machines", "power_sources.torch.ratings", "share", 10, 100, "%"),
    ("machines", "guns", "current_from", 0.1, 50, "kA"),
    ("machines", "guns", "current_step", 0.005, 2, "kA"),
    ("machines", "guns", "force_from", 0.05, 15, "kN"),
    ("machines", "guns", "force_repeatability", 0.1, 100, "%"),
    ("machines", "guns", "force_step", 0.001, 1, "kN"),
    ("machines", "guns", "maximum_duty", 0.5, 100, "%"),
    ("machines", "guns", "opening", 5, 2000, "mm"),
    ("machines", "guns", "permanent_current", 0.2, 50, "kA"),
    ("machines", "guns", "throat_depth", 20, 3000, "mm"),
    ("machines", "guns", "time_step", 0.5, 40, "ms"),
    ("materials", "entries", "coating_mass", 5, 1000, "g/m²"),
    ("materials", "entries", "density", 7, 8.5, "g/cm³"),
    ("materials", "entries", "interpass_maximum", 40, 400, "°C"),
    ("materials", "entries", "tensile_strength", 100, 2500, "N/mm²"),
    ("materials", "entries", "working_temperature_minimum", -20, 60, "°C"),
    ("materials", "entries", "yield_strength", 50, 2000, "N/mm²"),
    ("materials", "entries.composition", "B", 0, 0.1, ""),
    ("materials", "entries.composition", "C", 0, 0.6, ""),
    ("materials", "entries.composition", "Cu", 0, 5, ""),
    ("materials", "entries.composition", "Mn", 0, 30, ""),
    ("materials", "entries.composition", "Mo", 0, 8, ""),
    ("materials", "entries.composition", "Nb", 0, 2, ""),
    ("materials", "entries.composition", "Ni", 0, 40, ""),
    ("materials", "entries.composition", "Si", 0, 6, ""),
    ("materials", "entries.composition", "V", 0, 1, ""),
    ("wires", "entries", "current_from", 1, 1000, "A"),
    ("wires", "entries", "current_to", 1, 1000, "A"),
    ("wires", "entries", "density", 4, 9, "g/cm³"),
    ("wires", "entries", "diameter", 0.5, 6, "mm"),
    ("wires", "entries", "efficiency", 50, 100, "%"),
    ("wires", "entries", "spool", 0.5, 1000, "kg"),
    ("wires", "entries.melting", "contact_distance_from", 3, 60, "mm"),
    ("wires", "entries.melting", "contact_distance_to", 3, 60, "mm"),
    ("wires", "entries.melting.law", "arc", 0.02, 5, ""),
    ("wires", "entries.melting.law", "resistance", 1e-06, 0.002, ""),
    ("wires", "entries.melting.law.arc_length", "short arc", 0.1, 20, "mm"),
    ("wires", "entries.melting.law.arc_length", "globular", 0.1, 20, "mm"),
    ("wires", "entries.melting.law.arc_length", "spray", 0.1, 20, "mm"),
    ("wires", "entries.melting.law.arc_length", "pulsed", 0.1, 20, "mm"),
    ("wires", "entries.melting.points", "current", 1, 1000, "A"),
    ("wires", "entries.melting.points", "wire_feed", 0.1, 60, "m/min"),
    ("gases", "entries", "cylinder", 100, 1000000.0, "l"),
    ("gases", "entries", "flow_from", 1, 100, "l/min"),
    ("gases", "entries", "flow_to", 1, 100, "l/min"),
    ("caps", "entries", "body", 5, 50, "mm"),
    ("caps", "entries", "dressings", 0, 1000, ""),
    ("caps", "entries", "face", 2, 25, "mm"),
    ("caps", "entries", "maximum_force", 0.3, 15, "kN"),
    ("caps", "entries.life", "welds_between_dressings", 1, 20000, ""),
    ("inspections", "entries", "after_parts", 1, 100000, ""),
    ("inspections", "entries", "interval", 1, 60000, "min"),
    ("imperfections", "entries.limits", "angle", 1, 180, "°"),
    ("imperfections", "entries.limits", "at_most", 0.02, 50, "mm"),
    ("imperfections", "entries.limits", "over", 0, 100, "mm"),
    ("imperfections", "entries.limits", "plus", 0.02, 20, "mm"),
    ("imperfections", "entries.limits", "share", 0.005, 5, ""),
    ("spot-spacing-metric", "rows", "overlap", 2, 200, "mm"),
    ("spot-spacing-metric", "rows", "pitch", 2, 500, "mm"),
    ("spot-uncoated", "", "hold", 1, 5000, "ms"),
    ("spot-uncoated", "", "squeeze", 20, 2000, "ms"),
    ("spot-uncoated", "", "upslope", 0, 5000, "ms"),
    ("spot-uncoated", "rows", "cap_face", 2, 25, "mm"),
    ("spot-uncoated", "rows", "cool", 0, 5000, "ms"),
    ("spot-uncoated", "rows", "hold", 1, 5000, "ms"),
    ("spot-uncoated", "rows", "pulses", 1, 50, ""),
    ("spot-uncoated", "rows", "squeeze", 20, 2000, "ms"),
    ("spot-uncoated", "rows", "upslope", 0, 5000, "ms"),
    ("spot-uncoated", "stack_limits", "thickness_ratio", 1, 10, ""),
    ("spot-uncoated", "stack_limits", "total", 0.2, 30, "mm"),
    ("spot-uncoated", "stack_limits", "total_to_thinnest_outside", 1, 20, ""),
    ("spot-uncoated", "weld_diameter", "minimum", 1, 10, ""),
    ("arc-co2-fillet-1.2", "", "post_flow", 0, 60, "s"),
    ("arc-co2-fillet-1.2", "", "pre_flow", 0, 60, "s"),
    ("arc-co2-fillet-1.2", "", "wire_diameter", 0.5, 6, "mm"),
    ("arc-co2-fillet-1.2", "rows", "leg_from", 0.5, 50, "mm"),
    ("arc-co2-fillet-1.2", "rows", "leg_to", 0.5, 50, "mm"),
    ("arc-co2-fillet-1.2", "rows", "thickness", 0.2, 200, "mm"),
    ("arc-co2-fillet-1.2", "rows", "throat_from", 0.5, 50, "mm"),
    ("arc-co2-fillet-1.2", "rows", "throat_to", 0.5, 50, "mm"),
    ("record", "", "cap_face", 2, 25, "mm"),
    ("record", "", "current_from", 1, 1000, "A"),
    ("record", "", "current_to", 1, 1000, "A"),
    ("record", "", "electrode_force_from", 0.05, 15, "kN"),
    ("record", "", "electrode_force_to", 0.05, 15, "kN"),
    ("record", "", "filler_diameter", 0.5, 6, "mm"),
    ("record", "", "heat_input_from", 0.005, 20, "kJ/mm"),
    ("record", "", "heat_input_to", 0.005, 20, "kJ/mm"),
    ("record", "", "interpass", -20, 500, "°C"),
    ("record", "", "preheat", -20, 400, "°C"),
    ("record", "", "pulses", 1, 50, ""),
    ("record", "", "thermal_efficiency", 0.3, 1, ""),
    ("record", "", "throat", 0.5, 50, "mm"),
    ("record", "", "travel_speed_from", 0.5, 200, "mm/s"),
    ("record", "", "travel_speed_to", 0.5, 200, "mm/s"),
    ("record", "", "voltage_from", 5, 60, "V"),
    ("record", "", "voltage_to", 5, 60, "V"),
    ("record", "", "weld_current_from", 0.5, 100, "kA"),
    ("record", "", "weld_current_to", 0.5, 100, "kA"),
    ("record", "", "weld_time_from", 5, 5000, "ms"),
    ("record", "", "weld_time_to", 5, 5000, "ms"),
    ("record", "", "wire_feed_from", 0.1, 60, "m/min"),
    ("record", "", "wire_feed_to", 0.1, 60, "m/min"),
    ("record", "sheets", "coating_mass", 5, 1000, "g/m²"),
    ("record", "sheets", "thickness", 0.1, 200, "mm"),
]


@pytest.fixture(scope="module")
def tables() -> dict[str, Table]:
    approved = load_workspace(ROOT).approved
    return {**approved.tables, "record": approved.records[0]}


def changed(entry: Any, route: Sequence[str], field: str, value: Any) -> Any:
    """Return a copy of ``entry`` in which the first record at the end of a route has ``value`` in a field."""
    if not route:
        if isinstance(entry, dict):
            return {field: value}
        return entry.model_copy(update={field: value})
    below = getattr(entry, route[0])
    if route[0] == "law" and below is None:
        below = LAW
    if isinstance(below, tuple):
        at = next(index for index, each in enumerate(below) if _leads_on(each, route[1:]))
        inside = (*below[:at], changed(below[at], route[1:], field, value), *below[at + 1 :])
    else:
        inside = changed(below, route[1:], field, value)
    return entry.model_copy(update={route[0]: inside})


def _leads_on(entry: Any, route: Sequence[str]) -> bool:
    if not route or route[0] == "law":
        return True
    below = getattr(entry, route[0])
    return any(_leads_on(each, route[1:]) for each in below) if isinstance(below, tuple) else bool(below)


def test_every_bound_has_both_its_ends_here() -> None:
    written = {(route, field): bounds for lists in FIGURES.values() for route, fields in lists.items()
               for field, bounds in fields.items()}  # fmt: skip
    assert len(ENDS) == sum(len(fields) for lists in FIGURES.values() for fields in lists.values())
    assert {(route, field) for _, route, field, *_ in ENDS} == written.keys()


@pytest.mark.parametrize(
    ("name", "route", "field", "low", "high", "unit"), ENDS, ids=[f"{each[0]} {each[1]} {each[2]}" for each in ENDS]
)
def test_a_bound_admits_both_its_ends_and_refuses_what_lies_beyond(  # noqa: PLR0917 - one case is one line
    tables: dict[str, Table], name: str, route: str, field: str, low: float, high: float, unit: str
) -> None:
    def found(number: float) -> list[Any]:
        whole = field in {"after_parts", "dressings", "pulses", "welds_between_dressings"}
        value: Any = quantity(number, unit) if unit else (int(number) if whole else Decimal(f"{number:.9f}"))
        table = changed(tables[name], route.split(".") if route else (), field, value)
        ours = field.replace("_", " ")
        return [each for each in technique_problems(table) if each.key.endswith(ours) and "is from" in each.message]

    beyond = 1 if field in {"after_parts", "dressings", "pulses", "welds_between_dressings"} else 0.001 * (high - low)
    for good in (low, high):
        assert found(good) == []
    for bad in (low - min(beyond, 0.5 * low if low > 0 else beyond), high + beyond):
        (problem,) = found(bad)
        assert f"from {low:g} to {high:g}" in problem.message
        assert problem.value


@pytest.mark.parametrize(("number", "refused"), [(30_000, False), (30_001, True), (-30_000, False), (-30_001, True)])
def test_the_base_of_a_robot_is_in_its_cell(tables: dict[str, Table], number: int, *, refused: bool) -> None:
    table = changed(tables["machines"], ("robots",), "base", (Decimal(0), Decimal(0), Decimal(number)))
    assert [each.key for each in technique_problems(table)] == (["robots[0].base[2]"] if refused else [])


def test_a_base_is_compared_in_its_own_unit(tables: dict[str, Table]) -> None:
    metres = changed(tables["machines"], ("robots",), "base_unit", "m")
    found = [each for each in technique_problems(metres) if each.key == "robots[0].base[1]"]
    assert [each.value for each in found] == ["-850 m"]


def test_a_seam_is_warned_of_before_it_is_refused(tables: dict[str, Table]) -> None:
    limits = {"seam_tolerance": quantity(2.0, "mm"), "seam_refused_over": quantity(1.9, "mm")}
    (problem,) = technique_problems(tables["plant"].model_copy(update=limits))
    assert (problem.key, problem.value) == ("seam refused over", "1.9 mm")
    assert list(technique_problems(tables["plant"].model_copy(update=limits | {"seam_tolerance": None}))) == []


def test_a_slip_of_a_digit_is_reported_with_the_table(tables: dict[str, Table]) -> None:
    approved = load_workspace(ROOT).approved
    wrong = changed(tables["materials"], ("entries",), "interpass_maximum", quantity(2500.0, "°C"))
    with_slip = replace(approved, tables={**approved.tables, "materials": wrong})
    assert [(mark, problem.key) for mark, problem in table_problems(with_slip)] == [
        ("materials", "entries[0].interpass maximum")
    ]


def test_what_cannot_be_at_all_is_not_refused_again_for_its_size(tables: dict[str, Table]) -> None:
    approved = load_workspace(ROOT).approved
    wrong = changed(tables["machines"], ("guns",), "force_step", quantity(0.0, "kN"))
    with_slip = replace(approved, tables={**approved.tables, "machines": wrong})
    assert [problem.message for _, problem in table_problems(with_slip)] == ["this must be above zero"]


def test_the_shipped_tables_have_no_fault(tables: dict[str, Table]) -> None:
    assert [problem for table in tables.values() for problem in technique_problems(table)] == []
