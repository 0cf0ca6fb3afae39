"""NEC (NFPA 70) article 630: duty cycle of a spot welder, and multipliers that follow the root of the duty cycle."""

from math import sqrt

import pytest
from weld_packets.processes.spot.formulas import (
    current_on_time,
    duty_cycle,
    equivalent_permanent_current,
    maximum_spot_rate,
)
from weld_packets.units import SPELLINGS, Quantity, quantity

# NEC 630.11(A), non-motor welders: duty cycle %, multiplier
MULTIPLIERS = [
    (100, 1.00),
    (90, 0.95),
    (80, 0.89),
    (70, 0.84),
    (60, 0.78),
    (50, 0.71),
    (40, 0.63),
    (30, 0.55),
    (20, 0.45),
]
# NEC 630.31(A)(2), resistance welders, from memory: duty cycle %, multiplier
MULTIPLIERS_FROM_MEMORY = [(25, 0.50), (15, 0.39), (10, 0.32), (7.5, 0.27), (5, 0.22)]


def per_unit(duty: float) -> float:
    one = equivalent_permanent_current(weld_current=quantity(1, "kA"), duty_cycle=quantity(duty, "%"))
    return float(one.m_as(SPELLINGS["kA"]))


def test_630_31_note_400_spots_an_hour_of_15_cycles_at_60_hz_are_2_8_per_cent() -> None:
    on_time = current_on_time(
        upslope_time=quantity(0, "ms"), pulses=quantity(1, "1"), weld_time=quantity(15, "cycles@60Hz")
    )
    found = duty_cycle(current_on_time=on_time, spot_rate=quantity(400 / 60, "1/min"))
    assert found.m_as(SPELLINGS["%"]) == pytest.approx(2.8, abs=0.05)  # one printed decimal


def test_630_31_note_two_cycles_on_and_two_off_are_50_per_cent() -> None:
    rate = quantity(60_000 / (4 * 1000 / 60), "1/min")
    found = duty_cycle(current_on_time=quantity(2, "cycles@60Hz"), spot_rate=rate)
    assert found.m_as(SPELLINGS["%"]) == pytest.approx(50)


@pytest.mark.parametrize(("duty", "multiplier"), MULTIPLIERS)
def test_630_11_a_multipliers(duty: float, multiplier: float) -> None:
    assert per_unit(duty) == pytest.approx(multiplier, abs=0.0055)  # two printed decimals, some rounded up


@pytest.mark.parametrize(("duty", "multiplier"), MULTIPLIERS_FROM_MEMORY)
def test_630_31_a_2_multipliers_from_memory(duty: float, multiplier: float) -> None:
    assert per_unit(duty) == pytest.approx(multiplier, abs=0.0055)  # two printed decimals


def test_example_of_a_trade_journal_40_a_at_50_per_cent_are_28_4_a() -> None:
    # Electrical Construction and Maintenance, code questions: 40 A x 0.71
    found = equivalent_permanent_current(weld_current=quantity(40, "A"), duty_cycle=quantity(50, "%"))
    assert found.m_as(SPELLINGS["A"]) == pytest.approx(28.4, abs=0.2)  # the journal takes 0.71 for the root of one half


def test_example_of_an_arc_source_manual_400_a_at_25_per_cent_heat_like_282_8_a_at_50() -> None:
    # manual of a 400 A arc source, duty cycle page
    heating = [
        equivalent_permanent_current(weld_current=quantity(current, "A"), duty_cycle=quantity(duty, "%"))
        for current, duty in ((400, 25), (282.8, 50))
    ]
    assert heating[0].m_as(SPELLINGS["A"]) == pytest.approx(heating[1].m_as(SPELLINGS["A"]), rel=2e-4)


# calculated, not published: weld cycles, Hz, spots a minute, kA; duty %, permanent kA, kA at 50 %
CALCULATED = [
    (10, 60, 20, 9.5, 5.556, 2.239, 3.167),
    (12, 60, 20, 9.5, 6.667, 2.453, 3.469),
    (10, 60, 30, 8.8, 8.333, 2.540, 3.593),
    (18, 60, 15, 10.6, 7.500, 2.903, 4.105),
    (13, 50, 24, 8.0, 10.400, 2.580, 3.649),
    (14, 60, 40, 9.6, 15.556, 3.786, 5.355),
]


@pytest.mark.parametrize("operation", CALCULATED)
def test_duty_and_permanent_current_by_hand_calculation(operation: tuple[float, ...]) -> None:
    cycles, hertz, rate, current, duty, permanent, at_half = operation
    found, heat = _both(quantity(cycles, f"cycles@{hertz:g}Hz"), rate, current)
    assert found.m_as(SPELLINGS["%"]) == pytest.approx(duty, abs=5e-4)
    assert heat.m_as(SPELLINGS["kA"]) == pytest.approx(permanent, abs=5e-4)
    assert heat.m_as(SPELLINGS["kA"]) / sqrt(0.5) == pytest.approx(at_half, abs=5e-4)


def _both(on_time: Quantity, rate: float, current: float) -> tuple[Quantity, Quantity]:
    duty = duty_cycle(current_on_time=on_time, spot_rate=quantity(rate, "1/min"))
    return duty, equivalent_permanent_current(weld_current=quantity(current, "kA"), duty_cycle=duty)


def test_maximum_rate_by_hand_calculation_is_35_9_spots_a_minute() -> None:
    found = maximum_spot_rate(
        permanent_current=quantity(3.0, "kA"),
        weld_current=quantity(9.5, "kA"),
        current_on_time=quantity(10, "cycles@60Hz"),
    )
    assert found.m_as(SPELLINGS["1/min"]) == pytest.approx(35.9, abs=0.05)
