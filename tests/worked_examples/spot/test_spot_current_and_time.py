"""Joule integrals, hold times, set-up diameters, distances and spacing of spots, against figures typed from documents.

Certainty of each group is beside it: read in a document, or worked out by hand from a row that was read, or from
memory. The current and time of ISO 14373:2015 were read; the I²t of their corners is worked out from them.
"""

import pytest
from weld_packets.calculation.chart import locate, read
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.spot.formulas import design_weld_diameter, joule_integral, weld_diameter
from weld_packets.processes.spot.gun.current_and_time import bounds_of
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import SPELLINGS, quantity

ONE = quantity(1, "1")

# kA, s, µΩ, heat in J as printed: GATE PI 2009, GATE 2016, and three textbook questions with their keys, all read
JOULE_HEAT = [(3, 0.2, 200, 360), (4, 0.2, 200, 640), (6, 0.15, 75, 405), (10, 0.1, 100, 1000), (15, 0.25, 100, 5625)]
# up to mm, I²t in kA²·s of the cold and of the expelling corner, worked out from ISO 14373:2015 B.1, medium force
CORNERS = [
    (0.6, 1.6, 5.0), (0.8, 3.5, 9.8), (1.0, 6.5, 15.4), (1.2, 10.8, 24.3),
    (1.6, 17.9, 43.6), (2.0, 29.2, 74.4), (2.5, 44.0, 126), (3.0, 80.6, 202),
]  # fmt: skip
# in, cycles of 60 Hz: column hold of the RWMA-type single-impulse table, read
HOLD = [
    (0.010, 5), (0.021, 8), (0.031, 10), (0.040, 12), (0.050, 16),
    (0.062, 20), (0.078, 30), (0.094, 35), (0.109, 40), (0.125, 45),
]  # fmt: skip
# mm, cycles of 60 Hz between two of its points, worked out by hand
HOLD_BETWEEN = [(0.9, 10.99), (1.2, 14.90), (2.5, 36.48)]
# mm, 4.5 roots of it in mm, worked out by hand
SET_UP = [
    (0.5, 3.18), (0.6, 3.49), (0.8, 4.02), (1.0, 4.50), (1.2, 4.93),
    (1.5, 5.51), (1.6, 5.69), (2.0, 6.36), (2.5, 7.12), (3.0, 7.79),
]  # fmt: skip
# mm, d_s mm and the pitches 3 d_s and 8 d_s: EN 1993-1-3 8.4, formula and limits from memory
EN_1993_1_3 = [
    (0.7, 4.18, 12.5, 33.5), (0.8, 4.47, 13.4, 35.8), (1.0, 5.00, 15.0, 40.0), (1.2, 5.48, 16.4, 43.8),
    (1.5, 6.12, 18.4, 49.0), (2.0, 7.07, 21.2, 56.6), (2.5, 7.91, 23.7, 63.2), (3.0, 8.66, 26.0, 69.3),
]  # fmt: skip
# mm, spacing and overlap mm: table of a welding-machine manual, classes A and B, read in full
METRIC_SPACING = [
    (0.25, 6, 9.5), (0.5, 9.5, 11), (0.75, 12.5, 11), (1.0, 19.5, 12.5), (1.25, 22.5, 15), (1.5, 27, 16),
    (2.0, 35, 18), (2.5, 42, 19), (2.8, 48, 21), (3.2, 50, 23), (4.0, 68, 32),
]  # fmt: skip
# the same of its table for 18/8 steel, read in full
METRIC_STAINLESS = [
    (0.5, 8, 8), (0.8, 12, 10), (1.0, 16, 11), (1.2, 20, 12),
    (1.6, 25, 16), (2.0, 32, 18), (2.5, 35, 20), (3.0, 50, 22),
]  # fmt: skip


@pytest.fixture(scope="module")
def approved(demo_workspace: Workspace) -> ApprovedTables:
    return demo_workspace.approved


@pytest.mark.parametrize(("current", "time", "resistance", "heat"), JOULE_HEAT)
def test_heat_of_published_examples(current: float, time: float, resistance: float, heat: float) -> None:
    found = joule_integral(pulses=ONE, weld_current=quantity(current, "kA"), weld_time=quantity(time, "s"))
    assert found.m_as(SPELLINGS["kA²·s"]) * resistance == pytest.approx(heat)  # kA²·s times µΩ is J


@pytest.mark.parametrize(("up_to", "cold", "expelling"), CORNERS)
def test_both_corners_of_an_operation_of_iso_14373_lie_outside_what_is_allowed(
    approved: ApprovedTables, up_to: float, cold: float, expelling: float
) -> None:
    place = locate(approved.spot_charts["spot-uncoated"], quantity(up_to, "mm"))
    bounds = bounds_of(place, 1)
    ends = [(bounds.currents.low, bounds.times.low), (bounds.currents.high, bounds.times.high)]
    corners = [
        joule_integral(pulses=ONE, weld_current=current, weld_time=time).m_as(SPELLINGS["kA²·s"])
        for current, time in ends
        if current is not None
        if time is not None
    ]
    assert corners == pytest.approx([cold, expelling], rel=0.01)  # typed to two or three digits
    minimum, maximum = (float(each.result.m_as(SPELLINGS["kA²·s"])) for each in (bounds.weakest, bounds.strongest))
    assert corners[0] < minimum < maximum < corners[1]


@pytest.mark.parametrize("chart", ["spot-uncoated", "spot-hot-dip", "spot-electro-zinc", "spot-iron-zinc"])
def test_both_pairings_of_one_end_with_the_other_lie_inside_what_is_allowed(
    approved: ApprovedTables, chart: str
) -> None:
    """The shortest time with the highest current, and the longest with the lowest, as a setter would pair them."""
    for operation in approved.spot_charts[chart].rows:
        assert operation.up_to is not None
        bounds = bounds_of(locate(approved.spot_charts[chart], operation.up_to), 1)
        minimum, maximum = (each.result for each in (bounds.weakest, bounds.strongest))
        for current, time in ((bounds.currents.high, bounds.times.low), (bounds.currents.low, bounds.times.high)):
            assert current is not None
            assert time is not None
            assert minimum < joule_integral(pulses=ONE, weld_current=current, weld_time=time) < maximum


@pytest.mark.parametrize(("inches", "cycles"), HOLD)
def test_hold_times_of_the_rwma_type_table(approved: ApprovedTables, inches: float, cycles: float) -> None:
    found = read(locate(approved.spot_charts["spot-uncoated-points"], quantity(inches, "in")), "hold")[0].result
    assert found.m_as(SPELLINGS["cycles@60Hz"]) == pytest.approx(cycles)


@pytest.mark.parametrize(("thickness", "cycles"), HOLD_BETWEEN)
def test_hold_times_between_two_points_of_the_rwma_type_table(
    approved: ApprovedTables, thickness: float, cycles: float
) -> None:
    found = read(locate(approved.spot_charts["spot-uncoated-points"], quantity(thickness, "mm")), "hold")[0].result
    assert found.m_as(SPELLINGS["cycles@60Hz"]) == pytest.approx(cycles, abs=0.006)


def test_the_row_of_0_010_in_of_the_rwma_type_table(approved: ApprovedTables) -> None:
    """Read: face 0.125 in, 160 lbf, 4 cycles, 4000 A."""
    chart, at = approved.spot_charts["spot-uncoated-points"], quantity(0.010, "in")
    printed = {
        "cap_face": (0.125, "in"),
        "force": (160, "lbf"),
        "weld_time": (4, "cycles@60Hz"),
        "current": (4000, "A"),
    }
    for column, (number, unit) in printed.items():
        assert read(locate(chart, at), column)[0].result.m_as(SPELLINGS[unit]) == pytest.approx(number)


def test_charts_without_a_hold_time_take_that_of_the_rwma_type_table(approved: ApprovedTables) -> None:
    named = {mark: chart.hold_from for mark, chart in approved.spot_charts.items() if chart.hold is None}
    assert named == dict.fromkeys(
        ("spot-electro-zinc", "spot-hot-dip", "spot-iron-zinc", "spot-uncoated"), "spot-uncoated-points"
    ) | {"spot-uncoated-points": None}


def test_squeeze_times_of_a_published_slide_set(approved: ApprovedTables) -> None:
    """Read: servo gun at least 4 cycles of 50 Hz, pneumatic gun at least 17."""
    assert approved.plant.squeeze_servo == quantity(4, "cycles@50Hz")
    assert approved.plant.squeeze_pneumatic == quantity(17, "cycles@50Hz")


@pytest.mark.parametrize(("thickness", "diameter"), SET_UP)
def test_set_up_diameters_by_the_plants_factor(approved: ApprovedTables, thickness: float, diameter: float) -> None:
    assert approved.plant.set_up_weld_diameter is not None
    factor = quantity(float(approved.plant.set_up_weld_diameter), "1")
    found = weld_diameter(factor=factor, governing_thickness=quantity(thickness, "mm"))
    assert found.m_as(SPELLINGS["mm"]) == pytest.approx(diameter, abs=0.006)


@pytest.mark.parametrize(("thickness", "diameter", "minimum", "maximum"), EN_1993_1_3)
def test_distances_of_en_1993_1_3_from_memory(
    thickness: float, diameter: float, minimum: float, maximum: float
) -> None:
    found = design_weld_diameter(governing_thickness=quantity(thickness, "mm")).m_as(SPELLINGS["mm"])
    assert [found, 3 * found, 8 * found] == pytest.approx([diameter, minimum, maximum], abs=0.051)


@pytest.mark.parametrize(
    ("table", "thickness", "pitch", "overlap"),
    [("spot-spacing-metric", *operation) for operation in METRIC_SPACING]
    + [("spot-spacing-stainless-metric", *operation) for operation in METRIC_STAINLESS],
)
def test_spacing_of_a_metric_machine_manual(
    approved: ApprovedTables, table: str, thickness: float, pitch: float, overlap: float
) -> None:
    chart, at = approved.spot_spacings[table], quantity(thickness, "mm")
    found = [read(locate(chart, at), column)[0].result.m_as(SPELLINGS["mm"]) for column in ("pitch", "overlap")]
    assert found == pytest.approx([pitch, overlap])
