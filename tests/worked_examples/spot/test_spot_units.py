"""Units of spot welding against published conversions."""

import pytest
from weld_packets.units import SPELLINGS, quantity

# NIST SP 811 appendix B.8; the kilogram-force and the inch are exact by definition
NIST_SP_811 = [
    (1, "lbf", 4.448222, "N", 5e-7),
    (1, "kgf", 9.80665, "N", 1e-12),
    (1, "in", 25.4, "mm", 1e-12),
]
# a supplier's page of resistance-welding equations: the same 15 cycles at both mains
CYCLES = [(15, "cycles@60Hz", 250), (15, "cycles@50Hz", 300)]
# ISO 14373:2015 table B.1 prints times in cycles of 50 Hz and ms side by side
ISO_14373 = [(5, 100), (7, 140), (12, 240), (35, 700)]
# metric class A table of a welding-machine manual, force in daN; in whole pounds, calculated by hand
CLASS_A = [(90, 202), (136, 306), (181, 407), (225, 506)]


@pytest.mark.parametrize(("number", "unit", "result", "other", "tolerance"), NIST_SP_811)
def test_conversions_of_nist_sp_811(number: float, unit: str, result: float, other: str, tolerance: float) -> None:
    assert quantity(number, unit).m_as(SPELLINGS[other]) == pytest.approx(result, abs=tolerance)


@pytest.mark.parametrize(("cycles", "unit", "milliseconds"), CYCLES)
def test_weld_time_of_15_cycles_as_a_page_of_equations_prints_it(cycles: float, unit: str, milliseconds: float) -> None:
    assert quantity(cycles, unit).m_as(SPELLINGS["ms"]) == pytest.approx(milliseconds)


@pytest.mark.parametrize(("cycles", "milliseconds"), ISO_14373)
def test_times_that_iso_14373_prints_in_cycles_and_milliseconds(cycles: float, milliseconds: float) -> None:
    assert quantity(cycles, "cycles@50Hz").m_as(SPELLINGS["ms"]) == pytest.approx(milliseconds)


@pytest.mark.parametrize(("decanewtons", "pounds"), CLASS_A)
def test_forces_of_a_metric_class_a_table_in_pounds(decanewtons: float, pounds: float) -> None:
    found = quantity(decanewtons, "daN").m_as(SPELLINGS["lbf"])
    assert found == pytest.approx(pounds, abs=0.5)  # whole pounds
