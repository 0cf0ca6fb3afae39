"""Arc charts, wires and materials as shipped, against the published charts and tables that they cite.

The published figures are typed here a second time, in the units as printed. Wire feed is in no chart of solid wire
that was read: it is calculated, and tested here only as the balance that the tables say it is.
"""

import pytest
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart, ArcRowOfChart
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import SPELLINGS, quantity

# thickness mm, leg mm, current A, voltage V, speed cm/min, gas l/min (OTC power-source manual, CO2 horizontal fillet)
CO2_HORIZONTAL_FILLET = [
    (1.2, (2.5, 3.0), (70, 100), (18, 19), (50, 60), (10, 15)),
    (1.6, (2.5, 3.0), (90, 120), (18, 20), (50, 60), (10, 15)),
    (2.0, (3.0, 3.5), (100, 130), (19, 20), (50, 60), (15, 20)),
    (2.3, (3.0, 3.5), (120, 140), (19, 21), (50, 60), (15, 20)),
    (3.2, (3.0, 4.0), (130, 170), (19, 21), (45, 55), (15, 20)),
    (4.5, (4.0, 4.5), (190, 230), (22, 24), (45, 55), (15, 20)),
    (6.0, (5.0, 6.0), (250, 280), (26, 29), (40, 50), (15, 20)),
    (9.0, (6.0, 7.0), (280, 300), (29, 32), (35, 40), (15, 20)),
    (12.0, (7.0, 8.0), (300, 340), (32, 34), (30, 35), (20, 25)),
]
# thickness, current, voltage, speed (another OTC manual, lap joint)
CO2_LAP = [
    (1.6, (100, 120), (18, 20), (45, 55)),
    (2.0, (100, 130), (18, 20), (45, 55)),
    (2.3, (120, 140), (19, 21), (45, 50)),
    (3.2, (130, 160), (19, 22), (45, 50)),
    (4.5, (150, 200), (21, 24), (40, 45)),
]
# (the same manual, square butt without backing)
CO2_SQUARE_BUTT = [
    (1.2, (70, 80), (17, 18), (45, 55)),
    (1.6, (80, 100), (18, 19), (45, 55)),
    (2.0, (100, 110), (19, 20), (50, 55)),
    (2.3, (110, 130), (19, 20), (50, 55)),
    (3.2, (130, 150), (19, 21), (40, 50)),
]
# (OTC manual of a short-arc source, MAG 80/20 butt)
M21_SQUARE_BUTT = [
    (1.0, (50, 55), (13, 15), (40, 55)),
    (1.2, (60, 70), (14, 16), (30, 50)),
    (1.6, (100, 110), (16, 17), (40, 60)),
    (2.3, (110, 120), (17, 18), (30, 40)),
    (3.2, (120, 140), (17, 19), (25, 30)),
    (4.0, (150, 170), (18, 21), (25, 40)),
]
# thickness, leg, current, voltage, wires of the row (Panasonic manual, MAG 80/20 horizontal fillet; speed 50 to 60
# cm/min, gas 10 to 15 l/min, contact distance 10 mm in every row)
M21_HORIZONTAL_FILLET = [
    (1.0, (2.0, 2.5), (85, 90), (19, 19), (0.6, 0.8)),
    (1.6, (3.0, 3.0), (100, 110), (18, 19.5), (0.6, 0.8)),
    (2.4, (3.5, 3.5), (115, 125), (19.5, 20), (0.8, 1.0)),
    (3.2, (4.0, 4.0), (130, 140), (19.5, 21), (0.8, 1.2)),
]


@pytest.fixture(scope="module")
def approved(demo_workspace: Workspace) -> ApprovedTables:
    return demo_workspace.approved


def operation_at(table: ArcChart, thickness: float) -> ArcRowOfChart:
    return next(row for row in table.rows if row.thickness == quantity(thickness, "mm"))


def ends(row: ArcRowOfChart, column: str, unit: str) -> tuple[float, float]:
    low, high = (getattr(row, f"{column}_{end}").m_as(SPELLINGS[unit]) for end in ("from", "to"))
    return float(low), float(high)


def assert_setting(row: ArcRowOfChart, current: tuple, voltage: tuple, speed: tuple) -> None:
    assert ends(row, "current", "A") == pytest.approx(current)
    assert ends(row, "voltage", "V") == pytest.approx(voltage)
    assert ends(row, "travel_speed", "cm/min") == pytest.approx(speed)


@pytest.mark.parametrize("published", CO2_HORIZONTAL_FILLET)
def test_co2_horizontal_fillet_operations_of_the_otc_manual(approved: ApprovedTables, published: tuple) -> None:
    thickness, leg, current, voltage, speed, gas = published
    # the manual lists 1.0 mm wire up to 3.2 mm and 1.2 mm wire from 1.6 mm
    wires = [wire for wire, fits in (("1.0", thickness <= 3.2), ("1.2", thickness >= 1.6)) if fits]
    for wire in wires:
        name = "arc-co2-globular-1.2" if thickness > 4.5 else f"arc-co2-fillet-{wire}"
        row = operation_at(approved.arc_charts[name], thickness)
        assert_setting(row, current, voltage, speed)
        assert ends(row, "gas_flow", "l/min") == pytest.approx(gas)
        assert ends(row, "leg", "mm") == pytest.approx(leg)


@pytest.mark.parametrize("published", CO2_LAP)
def test_co2_lap_operations_of_the_otc_manual(approved: ApprovedTables, published: tuple) -> None:
    thickness, *settings = published
    assert_setting(operation_at(approved.arc_charts["arc-co2-lap-1.2"], thickness), *settings)


@pytest.mark.parametrize("published", CO2_SQUARE_BUTT)
def test_co2_square_butt_operations_of_the_otc_manual(approved: ApprovedTables, published: tuple) -> None:
    thickness, *settings = published
    assert_setting(operation_at(approved.arc_charts["arc-co2-butt-1.0"], thickness), *settings)


@pytest.mark.parametrize("published", M21_SQUARE_BUTT)
def test_m21_square_butt_operations_of_the_otc_manual(approved: ApprovedTables, published: tuple) -> None:
    thickness, *settings = published
    assert_setting(operation_at(approved.arc_charts["arc-m21-butt-1.0"], thickness), *settings)


@pytest.mark.parametrize("published", M21_HORIZONTAL_FILLET)
def test_m21_horizontal_fillet_operations_of_the_panasonic_manual(approved: ApprovedTables, published: tuple) -> None:
    thickness, leg, current, voltage, wires = published
    for wire in (0.8, 1.0):
        rows = [
            row
            for row in approved.arc_charts[f"arc-m21-fillet-{wire}"].rows
            if row.thickness == quantity(thickness, "mm")
        ]
        assert len(rows) == (wires[0] <= wire <= wires[1])
        for row in rows:
            assert_setting(row, current, voltage, (50, 60))
            assert ends(row, "leg", "mm") == pytest.approx(leg)
            assert ends(row, "gas_flow", "l/min") == pytest.approx((10, 15))
            assert row.contact_distance == quantity(10, "mm")


@pytest.mark.parametrize(
    ("thickness", "current", "voltage", "speed"),
    # Panasonic manual, CO2 square butt: a second maker's chart for the same joint
    [
        (1.6, (95, 105), (18, 19), (45, 50)),
        (2.3, (120, 130), (19.5, 20), (45, 50)),
        (3.2, (140, 150), (20, 21), (45, 50)),
    ],
)
def test_co2_square_butt_agrees_with_a_second_maker_within_its_spread(
    approved: ApprovedTables, thickness: float, current: tuple, voltage: tuple, speed: tuple
) -> None:
    row = operation_at(approved.arc_charts["arc-co2-butt-1.0"], thickness)
    # two makers differ by about 10 % in current and speed and by 1 V
    assert sum(ends(row, "current", "A")) == pytest.approx(sum(current), rel=0.12)
    assert sum(ends(row, "voltage", "V")) / 2 == pytest.approx(sum(voltage) / 2, abs=1.0)
    assert sum(ends(row, "travel_speed", "cm/min")) == pytest.approx(sum(speed), rel=0.12)


def test_wires_carry_density_and_efficiency_of_the_kobelco_consumption_table(approved: ApprovedTables) -> None:
    assert approved.wires["G3Si1-1.2"].density == quantity(7.85, "g/cm³")
    assert approved.wires["19-9-L-Si-1.0"].density == quantity(8.02, "g/cm³")
    solid = {wire.efficiency for wire in approved.wires.values() if wire.process == "135"}
    assert solid == {quantity(95, "%")}


@pytest.mark.parametrize(
    ("wire", "low", "high"),
    # shop rule printed in the Miller and Hobart manuals: 0.030 in 40 to 145 A, 0.045 in 75 to 250 A
    [("G3Si1-0.8", 40, 145), ("G3Si1-1.2", 75, 250)],
)
def test_wire_ranges_hold_those_of_the_miller_and_hobart_manuals(
    approved: ApprovedTables, wire: str, low: float, high: float
) -> None:
    assert approved.wires[wire].current_from == quantity(low, "A")
    assert approved.wires[wire].current_to >= quantity(high, "A")


@pytest.mark.parametrize(
    ("material", "limits"),
    # EN 10025-2:2004 table 2, ladle analysis, thickness up to 16 mm; S235 has no limit of silicon
    [
        ("S235JR", {"C": 0.17, "Mn": 1.40, "Cu": 0.55}),
        ("S355J2", {"C": 0.20, "Si": 0.55, "Mn": 1.60, "Cu": 0.55}),
    ],
)
def test_typical_analyses_lie_inside_en_10025_2_2004_table_2(
    approved: ApprovedTables, material: str, limits: dict[str, float]
) -> None:
    composition = approved.materials[material].composition
    assert all(composition[element] <= limit for element, limit in limits.items())


def test_tables_from_memory_say_so_in_their_source(approved: ApprovedTables) -> None:
    for name in ("arc-m21-spray-1.2", "arc-m12-stainless-1.0", "arc-m21-down-0.8"):
        assert approved.arc_charts[name].source.startswith("From memory")
