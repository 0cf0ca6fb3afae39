"""Whole spot operations with the shipped tables, against ISO 14373:2015 Annex B, its scope, and the RWMA-type notes.

Stack examples are read off the documents by hand: 0.8 + 1.2 mm is governed by 0.8 mm and so by the row "over 0.6 up to
0.8 mm"; 0.7 + 2.2 mm is beyond the ratio of 3 to 1; 0.7 + 1.5 + 1.2 mm keeps the scope of ISO (ratio 2.14, total
3.4 mm) and breaks the RWMA-type limit of four times the thinnest outside sheet (2.8 mm).
"""

from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import SPELLINGS


@pytest.fixture(scope="module")
def approved(demo_workspace: Workspace) -> ApprovedTables:
    return demo_workspace.approved


def operation(material: str, *thicknesses: str, **more: Any) -> SpotOperation:
    parts = [
        {"id": f"p{index}", "name": "sheet", "material": material, "thickness": thickness}
        for index, thickness in enumerate(thicknesses)
    ]
    stated = {
        "name": "operation",
        "cell": "C6",
        "robots": ["C6A", "C6B"],
        "programs": {},
        "datum": "front left pin",
        "fixture": "F1",
        "process": "21",
        "components": parts,
        "stacks": [{"id": "k", "sheets": [part["id"] for part in parts]}],
        "spots": [{"id": "s1", "robot": "C6A", "stack": "k", "x": "300 mm", "y": "300 mm", "z": "0 mm"}],
    }
    return SpotOperation.model_validate(stated | more)


def welded(approved: ApprovedTables, order_operation: SpotOperation) -> WeldSettings:
    return spot_operation(order_operation, approved).settings[0]


def allowed_range(figure: Figure, unit: str) -> tuple[float, float]:
    assert figure.allowed_range is not None
    assert figure.allowed_range.low is not None
    assert figure.allowed_range.high is not None
    low, high = (float(end.m_as(SPELLINGS[unit])) for end in (figure.allowed_range.low, figure.allowed_range.high))
    return round(low, 6), round(high, 6)


# governing mm, kN, ms, kA of ISO 14373:2015 table B.1, medium force, within what the gun of arm C6A can be set to
UNCOATED = [
    ("0.6 mm", (0.9, 1.1), (100, 140), (4, 6)),
    ("0.8 mm", (1.2, 1.3), (140, 200), (5, 7)),
    ("1.0 mm", (1.4, 1.5), (180, 240), (6, 8)),
    ("1.2 mm", (1.6, 1.8), (220, 300), (7, 9)),
]
# the same of table B.2, hot-dip columns; force from 0.6 to 0.8 mm by BS 1140:1993
HOT_DIP = [
    ("0.6 mm", (1.5, 2.0), (120, 160), (7, 9)),
    ("0.8 mm", (1.9, 2.2), (160, 200), (8, 10)),
    ("1.0 mm", (2.2, 2.9), (180, 240), (9, 11)),
    ("1.2 mm", (2.8, 3.6), (200, 260), (10, 13)),
]


@pytest.mark.parametrize(
    ("material", "expected"),
    [("DC01", entry) for entry in UNCOATED] + [("DX51D-Z275", entry) for entry in HOT_DIP],
)
def test_allowed_ranges_of_an_operation_are_the_bands_of_iso_14373_annex_b(
    approved: ApprovedTables, material: str, expected: tuple[Any, ...]
) -> None:
    sheet, force, time, current = expected
    chart = "spot-uncoated" if material == "DC01" else None
    found = welded(approved, operation(material, sheet, sheet, chart=chart))
    assert allowed_range(found.figure("electrode_force"), "kN") == force
    assert found.together is not None
    assert tuple(map(float, found.together.times)) == time  # in ms
    assert tuple(map(float, found.together.currents)) == current  # in kA
    for key, unit, band in (("weld_time", "ms", time), ("weld_current", "kA", current)):
        low, high = allowed_range(found.figure(key), unit)  # of it, what I²t leaves beside the other as it is set
        assert band[0] <= low < high <= band[1]


def test_0_8_and_1_2_mm_are_welded_by_the_band_of_0_8_mm(approved: ApprovedTables) -> None:
    found = welded(approved, operation("DC01", "0.8 mm", "1.2 mm", chart="spot-uncoated"))
    assert found.figure("electrode_force").text == Decimal("1.25")
    assert found.figure("weld_current").text == Decimal("6.0")
    assert found.figure("weld_time").text == 160  # 8.5 cycles of 50 Hz, to the even 8
    assert found.figure("minimum_weld_diameter").text == Decimal("3.2")  # 3.5 roots of 0.8 are 3.13, rounded up
    assert found.figure("target_weld_diameter").text == Decimal("4.5")  # 5 roots of 0.8 are 4.47, rounded up


@pytest.mark.parametrize("chart", ["spot-uncoated", "spot-uncoated-points"])
def test_0_7_and_2_2_mm_are_beyond_three_to_one(approved: ApprovedTables, chart: str) -> None:
    with pytest.raises(OutOfRangeError, match=r"ratio of thicknesses 3\.14 to 1, at most 3 to 1"):
        spot_operation(operation("DC01", "0.7 mm", "2.2 mm", chart=chart), approved)


def test_0_7_1_5_and_1_2_mm_keep_the_scope_of_iso_14373(approved: ApprovedTables) -> None:
    found = welded(approved, operation("DC01", "0.7 mm", "1.5 mm", "1.2 mm", chart="spot-uncoated"))
    assert found.figure("governing_thickness").text == Decimal("1.2")


def test_0_7_1_5_and_1_2_mm_break_four_times_the_thinnest_outside_sheet(approved: ApprovedTables) -> None:
    with pytest.raises(OutOfRangeError, match=r"total 4\.86 times the thinnest outside sheet, at most 4 times"):
        spot_operation(operation("DC01", "0.7 mm", "1.5 mm", "1.2 mm", chart="spot-uncoated-points"), approved)


def test_three_sheets_of_0_050_in_need_the_pitch_of_the_stricter_table_and_30_per_cent_more(
    approved: ApprovedTables,
) -> None:
    found = welded(approved, operation("DC01", "0.050 in", "0.050 in", "0.050 in", chart="spot-uncoated-points"))
    assert found.figure("minimum_pitch").text == Decimal(30)  # 22.8 mm of the metric table, over 7/8 in; and 30 %
    assert found.figure("minimum_overlap").text == Decimal(16)  # 15.08 mm of the metric table, over 9/16 in


def test_a_sheet_of_0_4_mm_is_not_over_0_4_mm_and_so_in_no_band_of_annex_b(approved: ApprovedTables) -> None:
    with pytest.raises(OutOfRangeError, match="outside table spot-uncoated revision"):
        spot_operation(operation("DC01", "0.4 mm", "0.4 mm", chart="spot-uncoated"), approved)
