"""Strengths of one spot, all from memory: AWS D8.1M as reprinted in guidelines, and EN 1993-1-3 with γM2 = 1.25.

The values below were computed apart from this program from the remembered formulas. The tables of D8.1M and the clause
of EN 1993-1-3 were not read; its scope (up to 4.0 mm, the thinner sheet up to 3.0 mm) was, in ENV 1993-1-3:1996 8.5.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from weld_packets.plant.drafts import draft
from weld_packets.processes.spot.formulas import design_weld_diameter
from weld_packets.processes.spot.stack.strength import (
    cross_tension_of_test,
    shear_of_test,
    shear_resistance,
    tearing_resistance,
)
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import magnitude, quantity

TENSILE = (270, 300, 340, 590, 780)
SHEAR = {
    0.7: (1.14, 1.27, 1.45, 2.54, 3.29),
    0.8: (1.40, 1.56, 1.78, 3.11, 4.02),
    1.0: (1.95, 2.18, 2.48, 4.34, 5.62),
    1.2: (2.56, 2.86, 3.26, 5.71, 7.38),
    1.5: (3.58, 4.00, 4.56, 7.98, 10.32),
    2.0: (5.51, 6.16, 7.02, 12.29, 15.89),
    2.5: (7.71, 8.61, 9.81, 17.17, 22.20),
}
CROSS = {0.7: 0.57, 0.8: 0.77, 1.0: 1.25, 1.2: 1.87, 1.5: 3.05, 2.0: 5.74, 2.5: 9.38}
EN_1993 = {  # thickness: weld diameter, then shear and tearing at 270, 360 and 470 N/mm²
    0.7: (4.18, (2.97, 2.04), (3.96, 2.72), (5.17, 3.55)),
    0.8: (4.47, (3.39, 2.33), (4.52, 3.11), (5.91, 4.06)),
    1.0: (5.00, (4.24, 2.92), (5.65, 3.89), (7.38, 5.08)),
    1.2: (5.48, (5.09, 3.50), (6.79, 4.67), (8.86, 6.09)),
    1.5: (6.12, (6.36, 4.37), (8.48, 5.83), (11.07, 7.61)),
    2.0: (7.07, (8.48, 5.83), (11.31, 7.78), (14.77, 10.15)),
    2.5: (7.91, (10.60, 7.29), (14.14, 9.72), (18.46, 12.69)),
    3.0: (8.66, (12.72, 8.75), (16.96, 11.66), (22.15, 15.23)),
}


@pytest.mark.parametrize(
    ("t", "s", "force"), [(t, s, f) for t, row in SHEAR.items() for s, f in zip(TENSILE, row, strict=True)]
)
def test_tensile_shear_of_a_test(t: float, s: int, force: float) -> None:
    found = shear_of_test(tensile_strength=quantity(s, "N/mm²"), thinner_sheet=quantity(t, "mm"))
    assert magnitude(found, "kN") == pytest.approx(force, abs=0.0051)


@pytest.mark.parametrize(("t", "force"), CROSS.items())
def test_cross_tension_of_a_test(t: float, force: float) -> None:
    assert magnitude(cross_tension_of_test(thinner_sheet=quantity(t, "mm")), "kN") == pytest.approx(force, abs=0.0051)


@pytest.mark.parametrize("t", EN_1993)
def test_design_resistances(t: float) -> None:
    sheet, factor = quantity(t, "mm"), quantity(1.25, "1")
    diameter = design_weld_diameter(governing_thickness=sheet)
    expected, *forces = EN_1993[t]
    assert magnitude(diameter, "mm") == pytest.approx(expected, abs=0.0051)
    for strength, (shear, tearing) in zip((270, 360, 470), forces, strict=True):
        more = {"weld_diameter": diameter, "tensile_strength": quantity(strength, "N/mm²"), "partial_factor": factor}
        assert magnitude(shear_resistance(**more), "kN") == pytest.approx(shear, abs=0.0051)
        assert magnitude(tearing_resistance(thinner_sheet=sheet, **more), "kN") == pytest.approx(tearing, abs=0.0051)


def test_a_stack_has_strengths_where_both_sheets_state_theirs_by_the_weaker_and_thinner_one(
    demo_workspace: Workspace,
) -> None:
    materials = dict(demo_workspace.approved.materials)
    materials["DX51D-Z275"] = materials["DX51D-Z275"].model_copy(update={"tensile_strength": quantity(270, "N/mm²")})
    packet = draft(
        replace(demo_workspace, approved=replace(demo_workspace.approved, materials=materials)),
        "lk-2063-coastal-column",
    )
    carcass, tray = packet.operations[1], packet.operations[2]
    values = {value.figure: value for value in carcass.groups[0].derived}
    found = values["test_shear_strength"]
    assert found.amount is not None
    assert (found.amount.value, found.amount.unit) == ("384", "lbf")  # 1.7048 kN at 0.9144 mm is 383.3 lbf
    assert "from memory" in {point.standing for point in found.trace}
    triple = {value.figure for value in carcass.groups[1].derived}
    assert "test_shear_strength" not in triple
    assert "test_shear_strength" not in {value.figure for group in tray.groups for value in group.derived}
    shown = {name: values[name].amount for name in ("tearing_resistance", "shear_resistance")}
    read = {name: each and (each.value, each.second) for name, each in shown.items()}
    # 2.6664 kN = 599.4 lbf and 3.8781 kN = 871.8 lbf: what a joint may rest on is rounded down
    assert read == {"tearing_resistance": ("599", "2.66"), "shear_resistance": ("871", "3.87")}
    for name in ("tearing_resistance", "shear_resistance"):
        (worked,) = (point for point in values[name].trace if point.form == "formula")
        factors = [put.amount.value for put in worked.numbers if put.symbol == "γ"]
        assert factors == ["1.25"]  # the partial factor of EN 1993-1-3, 8.4
