"""Shades, messages, bounds and rules of the plant as shipped, against the law and standards that they cite."""

import re
from pathlib import Path

import pytest
from weld_packets.calculation.plausibility import check_plausible, limit_problems
from weld_packets.calculation.table_checks.chart_problems import chart_problems
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ChartRow
from weld_packets.model.tables.safety import Condition, Hazard, ShadeRow
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import SPELLINGS, Quantity, quantity

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
def approved(demo_workspace: Workspace) -> ApprovedTables:
    return demo_workspace.approved


def shade_row(approved: ApprovedTables, process: str, start: float, end: float) -> ShadeRow:
    wanted = (process, quantity(start, "A"), quantity(end, "A"))
    return next(row for row in approved.shades.rows if (row.process, row.over, row.up_to) == wanted)


@pytest.mark.parametrize("process", ["131", "135", "136", "138"])
@pytest.mark.parametrize(("start", "end", "minimum"), OSHA_1910_133)
def test_minimum_shades_of_osha_29_cfr_1910_133(
    approved: ApprovedTables, process: str, start: float, end: float, minimum: int
) -> None:
    assert shade_row(approved, process, start, end).minimum_shade == minimum


@pytest.mark.parametrize(("start", "end", "suggested"), ANSI_Z49_1)
def test_suggested_shades_of_ansi_z49_1(approved: ApprovedTables, start: float, end: float, suggested: int) -> None:
    assert shade_row(approved, "135", start, end).suggested_shade == suggested
    assert shade_row(approved, "135", 0, 60).suggested_shade is None


def message(approved: ApprovedTables, name: str) -> Hazard:
    return next(hazard for hazard in approved.hazards if hazard.id == name)


def test_reduced_speed_is_the_250_mm_per_second_of_the_osha_technical_manual(approved: ApprovedTables) -> None:
    assert approved.plant.reduced_speed == quantity(250, "mm/s")


def test_fire_watch_and_distance_are_those_of_nfpa_51b_2019_and_29_cfr_1910_252(approved: ApprovedTables) -> None:
    # NFPA 51B-2019 5.6.1.1: one hour; 29 CFR 1910.252(a)(2)(iii): at least half an hour, and 35 ft
    assert approved.plant.fire_watch == quantity(60, "min")
    assert approved.plant.fire_watch >= quantity(30, "min")
    assert approved.plant.fire_distance == quantity(35, "ft")


def test_oxygen_alarm_is_where_29_cfr_1910_146_begins_to_call_air_deficient(approved: ApprovedTables) -> None:
    assert approved.plant.oxygen_alarm == quantity(19.5, "%")


def test_every_gun_is_cooled_as_rwma_requires(approved: ApprovedTables) -> None:
    # RWMA as published: 1.5 US gal/min at each electrode, printed as 5.7 l/min
    for gun in approved.guns.values():
        assert gun.cooling_flow is not None
        assert gun.cooling_flow.m_as(SPELLINGS["gal/min"]) == pytest.approx(1.5, abs=0.01)
        assert "RWMA" in gun.cooling_source


@pytest.mark.parametrize(
    ("hazard", "low", "high"),
    # Directive 2003/10/EC: hearing protection made available from 80 dB(A), worn from 85 dB(A)
    [("noise-available", 80, 85), ("noise-worn", 85, None)],
)
def test_noise_messages_go_by_the_action_values_of_directive_2003_10_ec(
    approved: ApprovedTables, hazard: str, low: float, high: float | None
) -> None:
    when = message(approved, hazard).when
    assert when.noise_from == quantity(low, "dB(A)")
    assert when.noise_below == (None if high is None else quantity(high, "dB(A)"))
    assert when.processes == ()


def test_every_cell_has_exactly_one_message_about_noise_whatever_its_level(approved: ApprovedTables) -> None:
    messages = [hazard for hazard in approved.hazards if hazard.id.startswith("noise-")]
    for level in (None, *(quantity(number, "dB(A)") for number in (79, 80, 82, 84, 85, 97))):
        fitting = [each.id for each in messages if noise_fits(each.when, level)]
        quiet = level is not None and level < quantity(80, "dB(A)")
        assert len(fitting) == (0 if quiet else 1), level


def noise_fits(when: Condition, level: Quantity | None) -> bool:
    if level is None:
        return when.noise_measured is False
    above = when.noise_from is None or level >= when.noise_from
    return above and (when.noise_below is None or level < when.noise_below) and when.noise_measured is not False


def test_carbon_dioxide_of_each_gas_is_that_of_its_iso_14175_designation(approved: ApprovedTables) -> None:
    # C1 is carbon dioxide itself; the mixtures are 82/18 and 97.5/2.5 (as the plant buys them, ISO 14175 from memory)
    shares = {name: gas.carbon_dioxide for name, gas in approved.gases.items()}
    assert shares == {"CO2": quantity(100, "%"), "M21": quantity(18, "%"), "M12": quantity(2.5, "%")}
    assert message(approved, "carbon-monoxide").when.carbon_dioxide_over == quantity(0, "%")


def test_both_processes_tell_people_with_implants_that_each_case_is_judged_on_its_own(approved: ApprovedTables) -> None:
    # TWI on pacemakers: low risk at MIG/MAG, strong fields at resistance welders, every case to be treated separately
    hazards = [message(approved, name) for name in ("arc-implants", "magnetic-field")]
    assert {process for hazard in hazards for process in hazard.when.processes} == {"131", "135", "136", "138", "21"}
    for hazard in hazards:
        assert "unless individually cleared" in hazard.avoid
        assert hazard.facts == ("magnetic field",)
        assert "line" not in hazard.avoid


def test_dressing_says_what_runs_in_automatic_and_what_under_lockout(approved: ApprovedTables) -> None:
    tips = message(approved, "gun-crush")
    assert "Power dressing runs in automatic with the gate closed." in tips.avoid
    assert "Hand dressing and cap changes: gun locked out" in tips.avoid
    assert "run" in tips.stages
    assert "dressing" in tips.facts
    assert {gun.dressing for gun in approved.guns.values()} == {"power", "hand"}


@pytest.mark.parametrize("hazard", ["footwear", "sharp-edges", "noise-worn", "noise-available", "noise-unknown"])
def test_protective_equipment_for_all_day_is_on_the_safety_page_alone(approved: ApprovedTables, hazard: str) -> None:
    assert message(approved, hazard).stages == ()


@pytest.mark.parametrize("part", ["hazard", "consequence", "avoid"])
def test_messages_are_short(approved: ApprovedTables, part: str) -> None:
    longest = {"hazard": 14, "consequence": 14, "avoid": 30}[part]
    found = {hazard.id: len(getattr(hazard, part).split()) for hazard in approved.hazards}
    assert {name: words for name, words in found.items() if words > longest} == {}


def test_every_message_has_few_signs_and_a_source(approved: ApprovedTables) -> None:
    assert all(len(hazard.signs) <= 2 for hazard in approved.hazards)
    assert all(hazard.source for hazard in approved.hazards)


# Phrases that said something else than was meant, or that no setter says.
MISLEADING = [
    r"(?<!extraction )hoods?\b",  # a welding helmet in the US
    "regulator shut", "cap on while", "Look again", "half an hour after the last", "where work left", "in the open",
    "measure before opening", "intermediate circuit", r"\bSource off", "whole arm", "without a meter", "second person",
    "when the row stops", "Start the row", "caps fall", "try-out", "tryout", r"\b(on|of) this site",
    "with the site before use", "tip change after", "or lifts", "nobody notices", "weld in hand", "wears the shade",
    "minimum shade of", "Least shade", "in the evening", "Nobody with an active implant", "not relevant",
    "hands are at tips", "whole hall", "close with air", "No-load", "free way out", "one person in control",
    r"\bArms (start|stop|move)", "Moving robot", "second robot", "leave its window", "Room ventilation",
]  # fmt: skip


@pytest.mark.parametrize("phrase", MISLEADING)
def test_no_table_holds_a_misleading_phrase(phrase: str) -> None:
    files = sorted((ROOT / "tables").glob("*.yaml"))
    texts = {path.name: " ".join(path.read_text(encoding="utf-8").split()) for path in files}
    assert [name for name, text in texts.items() if re.search(phrase, text)] == []


def test_conditions_for_stopping_can_be_listed_under_one_heading(approved: ApprovedTables) -> None:
    """Each follows "Stop the cell and call the supervisor if:" and so is one sentence that begins no order."""
    for condition in (*approved.plant.emergency_stop_when, *approved.plant.stop_when):
        assert condition.endswith(".")
        assert condition.count(". ") == 0
        assert condition.split()[0] not in {"Stop", "Call", "Do", "Never"}


def test_whatever_endangers_somebody_asks_for_the_emergency_stop_and_not_for_a_cycle_stop(
    approved: ApprovedTables,
) -> None:
    emergency, cycle = " ".join(approved.plant.emergency_stop_when), " ".join(approved.plant.stop_when)
    for danger in ("inside the fence", "smokes", "burning", "struck a person"):
        assert danger in emergency
        assert danger not in cycle
    assert "fire alarm" in emergency


def test_messages_that_say_to_call_the_supervisor_add_who_that_is(approved: ApprovedTables) -> None:
    calling = [hazard for hazard in approved.hazards if "the supervisor" in hazard.avoid]
    assert calling
    assert all("supervisor" in hazard.facts for hazard in calling)


def test_cylinders_are_a_danger_wherever_there_is_shielding_gas(approved: ApprovedTables) -> None:
    (cylinders,) = (hazard for hazard in approved.hazards if hazard.id == "cylinders")
    assert cylinders.when.shielding_gas is True
    assert cylinders.when.asphyxiant_gas is None


def test_the_plan_asks_for_a_coupon_after_every_change_of_a_setting(approved: ApprovedTables) -> None:
    coupons = [check for check in approved.inspections if check.stage == "coupon"]
    assert {number for check in coupons for number in check.processes} >= {"21", "135"}
    assert all("of a setting, before the run goes on" in check.every for check in coupons)


def test_what_a_check_says_of_shifts_and_changes_is_an_occasion_of_a_list(approved: ApprovedTables) -> None:
    words = {"shift start": "start of a shift", "tip dress": "each dressing", "wire change": "wire spool",
             "contact-tip change": "contact tip", "cylinder change": "or gas"}  # fmt: skip
    for check in (check for check in approved.inspections if check.stage == "in process"):
        assert set(check.occasions) == {occasion for occasion, said in words.items() if said in check.every}


def test_every_sign_of_a_message_is_a_code_of_iso_7010(approved: ApprovedTables) -> None:
    used = {sign for hazard in approved.hazards for sign in hazard.signs}
    assert used <= ISO_7010


@pytest.mark.parametrize(
    ("hazard", "word", "sign"),
    [
        ("inside-automatic", "DANGER", "W018"),
        ("gun-crush", "WARNING", "W024"),
        ("magnetic-field", "WARNING", "P007"),
        ("arc-rays", "WARNING", "W027"),
        ("arc-shock", "WARNING", "W012"),
        ("hot-metal", "CAUTION", "W017"),
        ("sharp-edges", "CAUTION", "W022"),
        ("wrong-identity", "NOTICE", "M002"),
    ],
)
def test_signal_words_follow_ansi_z535_4_and_signs_iso_7010(
    approved: ApprovedTables, hazard: str, word: str, sign: str
) -> None:
    # which word belongs to which hazard of a cell is common practice, from memory
    found = next(entry for entry in approved.hazards if entry.id == hazard)
    assert found.word == word
    assert sign in found.signs


def test_spot_cells_show_no_dark_filter_as_29_cfr_1910_252_asks_for_transparent_ones(approved: ApprovedTables) -> None:
    spot = [hazard for hazard in approved.hazards if hazard.when.processes == ("21",)]
    assert spot
    assert not any("M019" in hazard.signs for hazard in spot)


@pytest.mark.parametrize(
    ("key", "low", "high", "unit"),
    # published extremes: ISO 14373:2015 B.2 and BS 1140:1993, 0.4 to 3.0 mm
    [("weld_current", 6, 30, "kA"), ("electrode_force", 1.4, 8.0, "kN"), ("weld_time", 80, 420, "ms")],
)
def test_bounds_of_zinc_coated_sheet_are_the_extremes_of_iso_14373_and_bs_1140(
    approved: ApprovedTables, key: str, low: float, high: float, unit: str
) -> None:
    for end in (low, high):
        verdict = check_plausible(key, quantity(end, unit), "21", "low-carbon steel", ["hot-dip zinc"], approved.limits)
        assert verdict.passed


def ends(row: ChartRow, column: str) -> list[Quantity]:
    found = [getattr(row, f"{column}{suffix}", None) for suffix in ("", "_from", "_to")]
    return [value for value in found if value is not None]


def test_every_value_of_every_spot_chart_lies_inside_the_bounds(approved: ApprovedTables) -> None:
    columns = {"force": "electrode_force", "current": "weld_current", "weld_time": "weld_time"}
    for table in approved.spot_charts.values():
        for row in table.rows:
            for column, key in columns.items():
                assert ends(row, column)
                for value in ends(row, column):
                    assert check_plausible(key, value, "21", table.base, table.coatings, approved.limits).passed


def test_every_value_of_every_arc_chart_lies_inside_the_bounds(approved: ApprovedTables) -> None:
    columns = {"current": "welding_current", "voltage": "arc_voltage", "wire_feed": "wire_feed_speed"}
    columns |= {"travel_speed": "travel_speed", "gas_flow": "gas_flow", "contact_distance": "contact_distance"}
    for table in approved.arc_charts.values():
        for row in table.rows:
            for column, key in columns.items():
                for value in ends(row, column):
                    assert check_plausible(key, value, table.process, table.bases[0], ["none"], approved.limits).passed


def test_shipped_charts_and_bounds_hold_no_fault(approved: ApprovedTables) -> None:
    charts = [*approved.spot_charts.values(), *approved.spot_spacings.values(), *approved.arc_charts.values()]
    assert [chart_problems(chart) for chart in charts] == [()] * len(charts)
    assert limit_problems(next(table for table in approved.tables.values() if table.table == "limits")) == ()


def test_caps_have_the_body_sizes_of_iso_5821_2009(approved: ApprovedTables) -> None:
    assert {float(cap.body.m_as(SPELLINGS["mm"])) for cap in approved.caps.values()} <= {13.0, 16.0, 20.0}
