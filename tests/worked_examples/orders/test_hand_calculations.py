"""Settings of the demo orders, calculated by hand from the operations of the cited charts.

The arithmetic is beside each figure. Charts: Daihen OTC CPTX-I 400 manual, p. 26 (horizontal fillets in CO2);
ISO 14373:2015 table B.2 (hot-dip zinc); published schedule for stainless steels 301 to 349; RWMA-type spacing.
"""

from pathlib import Path

import pytest
from weld_packets.calculation.results import WeldSettings
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).parents[3]


def settings(order: str, operation: str, weld: str) -> WeldSettings:
    workspace = load_workspace(ROOT)
    (found,) = (each for each in load_order(workspace, order).order.operations if each.name == operation)
    result = (
        FAMILY.compute(found, workspace.approved)
        if isinstance(found, ArcOperation)
        else spot_operation(found, workspace.approved)
    )
    (group,) = (each for each in result.settings if weld in each.welds)
    return group


def shown(group: WeldSettings, *keys: str) -> list[str]:
    return [str(group.figure(key).text) for key in keys]


def ends(group: WeldSettings, key: str) -> tuple[float, float]:
    allowed_range = group.figure(key).allowed_range
    assert allowed_range is not None
    assert allowed_range.low is not None
    assert allowed_range.high is not None
    return allowed_range.low.magnitude, allowed_range.high.magnitude


def test_a_fillet_of_throat_2_5_mm_on_a_3_mm_channel() -> None:
    """Operations 2.3 and 3.2 mm, 0.7 / 0.9 of the way: 127.8 to 163.3 A; wire 1.2 mm, 1.131 mm², 95 %; 10 mm stick-out.

    By the law of melting 145.6 A melt (0.339 · 145.6 + 6.4e-5 · 10 · 145.6² / 1.131) / 1.131 = 54.2 mm/s of wire.
    The fillet required has 1.1 · 2.5² = 6.875 mm², the target is 1.03² as much, 7.294 mm².
    """
    group = settings("lk-2041-service-module", "Base frame", "T1")
    assert shown(group, "wire_feed_speed", "arc_voltage", "passes") == ["3.3", "20.0", "1"]  # 54.2 mm/s = 3.25 m/min
    assert shown(group, "travel_speed") == ["8.0"]  # 3300 / 60 · 1.131 · 0.95 / 7.294 = 8.10 mm/s; two steps of feed
    assert ends(group, "travel_speed") == pytest.approx((7.7, 8.5))  # chart from 7.69; 59.1 / 6.875 = 8.59 mm/s
    assert ends(group, "wire_feed_speed") == pytest.approx((3.1, 4.6))  # 8.0 · 6.875 / 1.0744 = 51.2 mm/s; 3.74 · 1.25
    assert shown(group, "welding_current") == ["147"]  # 3.3 m/min by the law
    assert ends(group, "welding_current") == pytest.approx((128, 163))  # the chart's, inwards
    assert shown(group, "arc_energy", "heat_input") == ["0.37", "0.29"]  # 20 · 147.3 / 8000, and 80 % of it
    assert shown(group, "throat_obtained") == ["2.6"]  # √(3300 / 60 · 1.131 · 0.95 / 8.0 / 1.1) = √6.715


def test_a_fillet_of_throat_0_215_in_takes_two_passes() -> None:
    """Operations 6 and 9 mm, 0.35 / 3 of the way: 253.5 to 282.3 A, 15 mm; 1.1 · 5.461² = 32.8 mm², 16.4 mm² a pass.

    By the law of melting 267.9 A melt (0.339 · 267.9 + 6.4e-5 · 13 · 267.9² / 1.131) / 1.131 = 127.0 mm/s of wire.
    """
    group = settings("lk-2063-coastal-column", "Anchor beams", "W1")
    assert shown(group, "wire_feed_speed", "passes") == ["300", "2"]  # 127.0 mm/s = 300 in/min
    assert shown(group, "travel_speed") == [
        "18.4"
    ]  # 127 · 1.131 · 0.95 / (16.4 · 1.03²) = 7.84 mm/s = 18.5 in/min, down
    assert shown(group, "welding_current") == ["268"]
    assert shown(group, "arc_energy", "heat_input") == ["1.0", "0.76"]  # 27.8 · 267.9 / 7789, and 80 % of it
    assert shown(group, "carbon_equivalent_iiw") == ["0.42"]  # 0.16 + 1.45 / 6 + 0.065 / 5 + 0.10 / 15 = 0.421


def test_a_spot_through_two_stainless_sheets_of_0_050_in() -> None:
    """Operation 0.050 in: 1200 lbf, 8 cycles of 60 Hz, 9.5 kA; force ± 7 %; cap face 6 mm."""
    group = settings("lk-2063-coastal-column", "Drip tray", "A01")
    assert shown(group, "electrode_force", "weld_time", "weld_current") == ["1200", "133", "9.5"]  # lbf; 133.3 ms
    assert ends(group, "electrode_force") == pytest.approx((1120, 1280))  # 1116 to 1284 lbf, inwards to 10 lbf
    assert shown(group, "minimum_weld_diameter", "target_weld_diameter") == ["4.0", "4.6"]  # 3.5 and 4 · √1.27, up
    assert shown(group, "set_up_weld_diameter") == ["4.6"]  # the plant's 4.5 is above the target's 4, which holds
    assert shown(group, "minimum_pitch", "minimum_edge_distance") == [
        "21",
        "6.4",
    ]  # 20 + 5 · 0.07 / 0.4 mm; half of 0.5 in
    assert shown(group, "electrode_pressure") == ["189"]  # 5338 / 28.27
    assert shown(group, "time_under_force", "fastest_spot_rate") == ["413", "46"]  # 80 + 133 + 200; 60 / 1.313
    assert shown(group, "duty_cycle", "equivalent_permanent_current") == ["10.2", "3.03"]  # 0.133 · 45.7 / 60; 9.5 √X
    assert shown(group, "joule_integral") == ["12.0"]  # 9.5² · 0.133
    assert ends(group, "joule_integral") == pytest.approx(
        (10.83, 13.27), abs=0.005
    )  # 9.5² · 0.12; (9.5 · 1.05)² · 0.1333


def test_a_spot_through_three_zinc_coated_sheets() -> None:
    """0.036 + 0.042 + 0.060 in: the second thickest, 1.067 mm, lies in the band over 1.0 up to 1.2 mm."""
    group = settings("lk-2063-coastal-column", "Carcass side", "A03")
    assert shown(group, "electrode_force", "weld_time", "weld_current") == [
        "720",
        "230",
        "11.5",
    ]  # middles of the band; 3.2 kN = 719.4 lbf
    assert ends(group, "weld_time") == pytest.approx((200, 260))  # 10 to 13 cycles of 50 Hz
    assert shown(group, "minimum_pitch") == ["27"]  # 19.5 + 3 · 0.067 / 0.25 = 20.3 mm, over 0.775 in; and 30 % more
    assert shown(group, "hold_time") == ["214"]  # 12.8 cycles of 60 Hz at 1 / 5 between 0.040 and 0.050 in
