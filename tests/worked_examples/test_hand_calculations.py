"""Settings of the demo orders, calculated by hand from the rows of the cited charts.

The arithmetic stands beside each figure. Charts: Daihen OTC CPTX-I 400 manual, p. 26 (horizontal fillets in CO2);
ISO 14373:2015 table B.2 (hot-dip zinc); published schedule for stainless steels 301 to 349; RWMA-type spacing.
"""

from pathlib import Path

import pytest

from generator.model.order import ArcRow
from generator.process.arc.row import arc_row
from generator.process.results import WeldSettings
from generator.process.spot.row import spot_row
from generator.sources.orders import load_order
from generator.sources.tables import load_workspace

ROOT = Path(__file__).parents[2]


def settings(order: str, row: str, weld: str) -> WeldSettings:
    workspace = load_workspace(ROOT)
    (found,) = (each for each in load_order(workspace, order).order.rows if each.name == row)
    result = arc_row(found, workspace.shop) if isinstance(found, ArcRow) else spot_row(found, workspace.shop)
    (group,) = (each for each in result.settings if weld in each.welds)
    return group


def shown(group: WeldSettings, *keys: str) -> list[str]:
    return [str(group.figure(key).text) for key in keys]


def ends(group: WeldSettings, key: str) -> tuple[float, float]:
    window = group.figure(key).window
    assert window is not None
    assert window.low is not None
    assert window.high is not None
    return window.low.magnitude, window.high.magnitude


def test_a_fillet_of_throat_2_5_mm_on_3_mm_tube() -> None:
    """Rows 2.3 and 3.2 mm, 0.7 / 0.9 of the way; wire 1.2 mm, 1.131 mm², 95 %; fillet 1.1 · 2.5² = 6.875 mm²."""
    group = settings("lk-2041-service-module", "Base frame", "T1")
    assert shown(group, "wire_feed_speed", "arc_voltage", "runs") == ["3.1", "20.0", "1"]  # 2.97 + 0.778 · 0.17 = 3.10
    assert shown(group, "travel_speed") == ["8.0"]  # 3100 / 60 · 1.131 · 0.95 / 6.875 = 8.07 mm/s, down
    assert ends(group, "travel_speed") == pytest.approx((7.7, 8.0))  # chart 46.1 to 56.1 cm/min = 7.69 to 9.35 mm/s
    assert ends(group, "wire_feed_speed") == pytest.approx((3.1, 3.4))  # chart 2.79 to 3.41; asked weld from 3.07
    assert shown(group, "arc_energy", "heat_input") == ["0.36", "0.29"]  # 20 · 146 / 8000, and 80 % of it
    assert shown(group, "throat_obtained") == ["2.5"]  # √(3100 / 60 · 1.131 · 0.95 / 8.0 / 1.1) = √6.31
    assert shown(group, "cooling_time") == ["5"]  # 1136.4 · 0.292² / 3² · 0.45 = 4.84 s at 20 °C


def test_a_fillet_of_throat_0_215_in_takes_two_runs() -> None:
    """Rows 6 and 9 mm, 0.35 / 3 of the way; 1.1 · 5.461² = 32.8 mm², 16.4 mm² a run."""
    group = settings("lk-2063-coastal-column", "Anchor beams", "W1")
    assert shown(group, "wire_feed_speed", "runs") == ["280", "2"]  # 6.97 + 0.1167 · 1.14 = 7.10 m/min = 279.6 in/min
    assert shown(group, "travel_speed") == ["18.2"]  # 7112 / 60 · 1.131 · 0.95 / 16.4 = 7.77 mm/s = 18.3 in/min, down
    assert shown(group, "welding_current") == ["268"]  # (253.5 + 282.3) / 2
    assert shown(group, "arc_energy", "heat_input") == ["1.0", "0.77"]  # 27.8 · 268 / 7705, and 80 % of it
    assert shown(group, "carbon_equivalent_iiw") == ["0.42"]  # 0.16 + 1.45 / 6 + 0.065 / 5 + 0.10 / 15 = 0.421


def test_a_spot_through_two_stainless_sheets_of_0_050_in() -> None:
    """Row 0.050 in: 1200 lbf, 8 cycles of 60 Hz, 9.5 kA; force ± 7 %; cap face 6 mm."""
    group = settings("lk-2063-coastal-column", "Drip tray", "A01")
    assert shown(group, "electrode_force", "weld_time", "weld_current") == ["1200", "133", "9.5"]  # lbf; 133.3 ms
    assert ends(group, "electrode_force") == pytest.approx((1120, 1280))  # 1116 to 1284 lbf, inwards to 10 lbf
    assert shown(group, "least_weld_diameter", "aimed_weld_diameter") == ["4.0", "4.6"]  # 3.5 and 4 · √1.27, up
    assert shown(group, "least_pitch", "least_edge_distance") == ["20", "6.4"]  # 0.75 in; half of 0.5 in
    assert shown(group, "electrode_pressure") == ["189"]  # 5338 / 28.27
    assert shown(group, "time_under_force", "fastest_spot_rate") == ["673", "39"]  # 60 / (0.673 + 0.4 + 0.5)
    assert shown(group, "duty_cycle", "equivalent_permanent_current") == ["8.5", "2.77"]  # 0.133 · 38.14 / 60; 9.5 √X


def test_a_spot_through_three_zinc_coated_sheets() -> None:
    """0.036 + 0.042 + 0.060 in: the second thickest, 1.067 mm, lies in the band over 1.0 up to 1.2 mm."""
    group = settings("lk-2063-coastal-column", "Carcass side", "A03")
    assert shown(group, "electrode_force", "weld_time", "weld_current") == [
        "720",
        "230",
        "11.5",
    ]  # middles of the band; 3.2 kN = 719.4 lbf
    assert ends(group, "weld_time") == pytest.approx((200, 260))  # 10 to 13 cycles of 50 Hz
    assert shown(group, "least_pitch") == ["26"]  # 0.775 in at 1 / 5 between 0.040 and 0.050 in, and 30 % more
