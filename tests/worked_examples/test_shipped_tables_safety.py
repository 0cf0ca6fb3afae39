"""Shades, messages, bounds and rules of the plant as shipped, against the law and standards that they cite."""

from pathlib import Path

import pytest

from generator.model.charts import ChartRow
from generator.model.shop import Shop
from generator.model.tables import ShadeRow
from generator.process.chart_faults import chart_problems
from generator.process.plausibility import check_plausible, limit_problems
from generator.sources.tables import load_workspace
from generator.units import SPELLINGS, Quantity, quantity

ROOT = Path(__file__).parents[2]

# OSHA 29 CFR 1910.133(a)(5), GMAW and FCAW: A from, A to, minimum shade
OSHA_1910_133 = [(0, 60, 7), (60, 160, 10), (160, 250, 10), (250, 500, 10)]
# ANSI Z49.1, GMAW and FCAW, suggested shade; none below 60 A
ANSI_Z49_1 = [(60, 160, 11), (160, 250, 12), (250, 500, 14)]

# codes of ISO 7010 that fit this work
ISO_7010 = frozenset(
    {"W001", "W005", "W006", "W012", "W015", "W017", "W018", "W019", "W021", "W022", "W024", "W025", "W027", "W029"}
    | {"W035", "W038", "W041", "W071", "W087", "W089", "M001", "M002", "M003", "M004", "M007", "M008", "M009", "M010"}
    | {"M013", "M017", "M019", "M021", "M026", "M027", "M028", "M046", "M056", "M057", "M068", "P003", "P004", "P007"}
    | {"P008", "P010", "P014", "P015", "P028", "P031", "P080", "F001", "F005"}
)


@pytest.fixture(scope="module")
def shop() -> Shop:
    return load_workspace(ROOT).shop


def shade_row(shop: Shop, process: str, start: float, end: float) -> ShadeRow:
    wanted = (process, quantity(start, "A"), quantity(end, "A"))
    return next(row for row in shop.shades.rows if (row.process, row.over, row.up_to) == wanted)


@pytest.mark.parametrize("process", ["131", "135", "136", "138"])
@pytest.mark.parametrize(("start", "end", "least"), OSHA_1910_133)
def test_least_shades_of_osha_29_cfr_1910_133(shop: Shop, process: str, start: float, end: float, least: int) -> None:
    assert shade_row(shop, process, start, end).least_shade == least


@pytest.mark.parametrize(("start", "end", "suggested"), ANSI_Z49_1)
def test_suggested_shades_of_ansi_z49_1(shop: Shop, start: float, end: float, suggested: int) -> None:
    assert shade_row(shop, "135", start, end).suggested_shade == suggested
    assert shade_row(shop, "135", 0, 60).suggested_shade is None


def test_reduced_speed_is_the_250_mm_per_second_of_the_osha_technical_manual(shop: Shop) -> None:
    assert shop.plant.reduced_speed == quantity(250, "mm/s")


def test_every_sign_of_a_message_is_a_code_of_iso_7010(shop: Shop) -> None:
    used = {sign for hazard in shop.hazards for sign in hazard.signs}
    assert used <= ISO_7010


@pytest.mark.parametrize(
    ("hazard", "word", "sign"),
    [
        ("inside-automatic", "DANGER", "W018"),
        ("tips-crush", "WARNING", "W024"),
        ("magnetic-field", "WARNING", "P007"),
        ("arc-rays", "WARNING", "W027"),
        ("arc-shock", "WARNING", "W012"),
        ("hot-metal", "CAUTION", "W017"),
        ("sharp-edges", "CAUTION", "W022"),
        ("wrong-identity", "NOTICE", "M002"),
    ],
)
def test_signal_words_follow_ansi_z535_4_and_signs_iso_7010(shop: Shop, hazard: str, word: str, sign: str) -> None:
    # which word belongs to which hazard of a cell is common practice, from memory
    found = next(entry for entry in shop.hazards if entry.id == hazard)
    assert found.word == word
    assert sign in found.signs


def test_spot_cells_show_no_dark_filter_as_29_cfr_1910_252_asks_for_transparent_ones(shop: Shop) -> None:
    spot = [hazard for hazard in shop.hazards if hazard.when.processes == ("21",)]
    assert spot
    assert not any("M019" in hazard.signs for hazard in spot)


@pytest.mark.parametrize(
    ("key", "low", "high", "unit"),
    # published extremes: ISO 14373:2015 B.2 and BS 1140:1993, 0.4 to 3.0 mm
    [("weld_current", 6, 30, "kA"), ("electrode_force", 1.4, 8.0, "kN"), ("weld_time", 80, 420, "ms")],
)
def test_bounds_of_zinc_coated_sheet_are_the_extremes_of_iso_14373_and_bs_1140(
    shop: Shop, key: str, low: float, high: float, unit: str
) -> None:
    for end in (low, high):
        verdict = check_plausible(key, quantity(end, unit), "21", "low-carbon steel", ["hot-dip zinc"], shop.limits)
        assert verdict.passed


def ends(row: ChartRow, column: str) -> list[Quantity]:
    found = [getattr(row, f"{column}{suffix}", None) for suffix in ("", "_from", "_to")]
    return [value for value in found if value is not None]


def test_every_value_of_every_spot_chart_lies_inside_the_bounds(shop: Shop) -> None:
    columns = {"force": "electrode_force", "current": "weld_current", "weld_time": "weld_time"}
    for table in shop.spot_schedules.values():
        for row in table.rows:
            for column, key in columns.items():
                assert ends(row, column)
                for value in ends(row, column):
                    assert check_plausible(key, value, "21", table.base, table.coatings, shop.limits).passed


def test_every_value_of_every_arc_chart_lies_inside_the_bounds(shop: Shop) -> None:
    columns = {"current": "welding_current", "voltage": "arc_voltage", "wire_feed": "wire_feed_speed"}
    columns |= {"travel_speed": "travel_speed", "gas_flow": "gas_flow", "contact_distance": "contact_distance"}
    for table in shop.arc_schedules.values():
        for row in table.rows:
            for column, key in columns.items():
                for value in ends(row, column):
                    assert check_plausible(key, value, table.process, table.bases[0], ["none"], shop.limits).passed


def test_shipped_charts_and_bounds_hold_no_fault(shop: Shop) -> None:
    charts = [*shop.spot_schedules.values(), *shop.spot_spacings.values(), *shop.arc_schedules.values()]
    assert [chart_problems(chart) for chart in charts] == [()] * len(charts)
    assert limit_problems(next(table for table in shop.tables.values() if table.table == "limits")) == ()


def test_caps_have_the_body_sizes_of_iso_5821_2009(shop: Shop) -> None:
    assert {float(cap.body.m_as(SPELLINGS["mm"])) for cap in shop.caps.values()} <= {13.0, 16.0, 20.0}
