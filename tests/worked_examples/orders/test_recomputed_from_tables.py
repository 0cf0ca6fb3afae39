"""Generated orders, recomputed from the tables that `packets init` writes, which are read here by PyYAML alone.

COMPUTED by another hand from the charts' rows and the formulas as their sources print them: IEC 60974-1 load voltage,
heat input of EN 1011-1, the law of Lesnewich with the constants of the table, duty and permanent current of a spot gun
(from memory of ISO 669: I_2p = I_2 √X), weld diameters f √t. Nothing of the program is used but the packet to compare.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise
from math import pi, sqrt
from pathlib import Path
from typing import Any

import pytest
import yaml
from weld_packets.commands import main
from weld_packets.packet.records.order import Packet
from weld_packets.plant.assembled import Assembling
from weld_packets.plant.orders import open_workspace

SHEETS = ((0.0785, 0.0391), (0.0838, 0.0403), (0.0921, 0.0433), (0.1004, 0.0478), (0.1085, 0.0547), (0.1196, 0.0505))
"""Thicknesses in inches of the arc and of the spot operation."""
LEG = 0.122
MM = {"mm": 1.0, "in": 25.4}
IN_SI = MM | {
    "mm²": 1.0, "in²": 25.4**2, "kA": 1.0, "A": 1.0, "V": 1.0, "%": 1.0, "": 1.0, "kN": 1.0, "lbf": 4.4482216152605e-3,
    "ms": 0.001, "cycles at 60 Hz": 1 / 60, "per minute": 1.0, "kA²·s": 1.0, "kJ/mm": 1.0, "kJ/in": 1 / 25.4, "s": 1.0,
    "in/min": 25.4 / 60, "mm/s": 1.0, "m/min": 1000 / 60, "kg": 1.0, "lb": 0.45359237, "N/mm²": 1.0,
    "ksi": 6.894757293,
}  # fmt: skip
"""What one of each unit is in mm, s, kN, kA, kg, kJ/mm and N/mm²."""


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("recomputed") / "plant"
    assert main(["init", str(root), "--units", "US customary", "--mains", "60"]) == 0
    text = (root / "instructions/sr-1-seed-tray-rack/order.yaml").read_text(encoding="utf-8")
    for number, (arc, spot) in enumerate(SHEETS):
        changed = text.replace("2.34", f"{2.4 - arc / 2:.5f}").replace("2.46", f"{2.4 + arc / 2:.5f}")
        changed = changed.replace("0.12", f"{arc}").replace("0.04 in", f"{spot} in")
        changed = changed.replace("leg: 0.13 in", f"leg: {LEG} in").replace("SR-1\n", f"R-{number}\n")
        folder = root / f"instructions/r-{number}"
        folder.mkdir()
        (folder / "order.yaml").write_text(changed, encoding="utf-8")
    return root


def table(plant: Path, name: str) -> Any:
    return yaml.safe_load((plant / f"tables/{name}.yaml").read_text(encoding="utf-8"))


def row_at(chart: Any, millimetres: float) -> dict[str, float]:
    """Return the values of a chart of points at a thickness, in the chart's own units."""
    rows = [dict(zip(chart["columns"], row, strict=True)) for row in chart["rows"]]
    at = millimetres / MM[chart["columns"]["thickness"]]
    below, above = next(pair for pair in pairwise(rows) if pair[0]["thickness"] <= at <= pair[1]["thickness"])
    share = (at - below["thickness"]) / (above["thickness"] - below["thickness"])
    return {name: below[name] + share * (above[name] - below[name]) for name in below}


def values(packet: Packet, operation: int) -> dict[str, Any]:
    group = packet.operations[operation].groups[0]
    return {value.figure: value for value in (*group.dialled, *group.derived)}


def numbers(value: Any) -> list[tuple[float, float]]:
    """Return each number of a value as printed, with one unit of its last digit, in the units of IN_SI."""
    amount = value.amount
    pairs = [(amount.value, amount.unit), (amount.second, amount.second_unit)]
    found = [(Decimal(text), IN_SI[unit.replace("\N{NO-BREAK SPACE}", " ")]) for text, unit in pairs if text]
    return [(float(text) * one, 10.0 ** int(text.as_tuple().exponent) * one) for text, one in found]


def is_shown(value: Any, true: float, *, up: bool | None = None) -> bool:
    """Return whether both units show ``true`` to their last digit, and rounded up or down where that is required."""
    for shown, last in numbers(value):
        off = shown - true
        low, high = {None: (-0.51, 0.51), True: (-1e-6, 1.0), False: (-1.0, 1e-6)}[up]
        if not low * last <= off <= high * last + abs(true) * 1e-9:
            return False
    return True


def as_set(value: Any) -> float:
    return numbers(value)[0][0]


@pytest.mark.parametrize("number", range(len(SHEETS)))
def test_a_generated_order_shows_what_another_hand_computes(plant: Path, number: int) -> None:
    packet = Assembling(open_workspace(plant)).assembled(f"r-{number}").packet
    arc, spot = (25.4 * each for each in SHEETS[number])
    arc_welds(plant, values(packet, 0), arc)
    spot_welds(plant, values(packet, 1), spot)


def arc_welds(plant: Path, found: dict[str, Any], thickness: float) -> None:
    row = row_at(table(plant, "arc_co2_fillet_1_0"), thickness)
    wire = table(plant, "wires")["entries"][0]
    law = wire["melting"][0]["law"]
    feed, speed, volts = (as_set(found[key]) for key in ("wire_feed_speed", "travel_speed", "arc_voltage"))
    section = pi * (0.040 * 25.4) ** 2 / 4
    stick_out = as_set(found["contact_distance"]) - 2
    a, b = law["arc"], law["resistance"] * stick_out
    current = section * (sqrt(a * a + 4 * b * feed) - a) / (2 * b)
    throat, area = LEG * 25.4 / sqrt(2), feed * section * 0.95 / speed
    arc_time = 3.6 * 25.4 / speed
    assert is_shown(found["throat"], throat, up=True)
    assert is_shown(found["throat_target"], 1.03 * throat)
    assert is_shown(found["nominal_area"], area)
    assert is_shown(found["throat_obtained"], sqrt(area / 1.1))
    assert is_shown(found["welding_current"], current)
    assert row["current from"] - 1e-9 <= as_set(found["welding_current"]) <= row["current to"]
    assert abs(volts - (row["voltage from"] + row["voltage to"]) / 2) <= 0.0501
    assert row["travel speed from"] / 6 <= speed <= row["travel speed to"] / 6
    assert is_shown(found["arc_energy"], volts * current / 1000 / speed)
    assert is_shown(found["heat_input"], 0.8 * volts * current / 1000 / speed)
    assert is_shown(found["load_voltage"], 14 + 0.05 * current)
    assert is_shown(found["arc_time"], arc_time)
    assert is_shown(found["wire_mass"], feed * arc_time * section * 7.85e-6)


def spot_welds(plant: Path, found: dict[str, Any], thickness: float) -> None:
    row = row_at(table(plant, "spot_uncoated_points"), thickness)
    current, weld, force = (as_set(found[key]) for key in ("weld_current", "weld_time", "electrode_force"))
    under_force = as_set(found["squeeze_time"]) + weld + as_set(found["hold_time"])
    rate = 60 / (under_force + 0.4 + 0.5)
    share = weld * rate / 60
    assert abs(current - row["current"]) <= 0.1
    assert abs(weld * 60 - row["weld time"]) <= 1
    assert abs(force / IN_SI["lbf"] - row["force"]) <= 10
    assert is_shown(found["minimum_weld_diameter"], 3.5 * sqrt(thickness), up=True)
    assert is_shown(found["set_up_weld_diameter"], 4.5 * sqrt(thickness), up=True)
    assert is_shown(found["target_weld_diameter"], 4.6 * sqrt(thickness), up=True)
    assert is_shown(found["joule_integral"], current**2 * weld)
    assert is_shown(found["time_under_force"], under_force)
    assert is_shown(found["fastest_spot_rate"], rate, up=True)
    assert is_shown(found["duty_cycle"], 100 * share, up=True)
    assert is_shown(found["equivalent_permanent_current"], current * sqrt(share), up=True)
    assert is_shown(found["maximum_spot_rate"], 60 * (4.2 / current) ** 2 / weld, up=False)
    assert is_shown(found["electrode_pressure"], 1000 * force / (pi * (0.236 * 25.4) ** 2 / 4))
    pitch, overlap = (
        max(
            row_at(each, thickness)[what] * MM[each["columns"][what]]
            for each in (table(plant, "spacing_low_carbon"), table(plant, "spacing_metric"))
        )
        for what in ("pitch", "overlap")
    )
    assert is_shown(found["minimum_pitch"], pitch, up=True)
    assert is_shown(found["minimum_overlap"], overlap, up=True)
    assert is_shown(found["minimum_edge_distance"], overlap / 2, up=True)
