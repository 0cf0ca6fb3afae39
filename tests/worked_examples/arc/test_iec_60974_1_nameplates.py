"""IEC 60974-1 as rating plates of three makers show it: load voltage of MIG/MAG sources, and duty cycle."""

import pytest
from weld_packets.model.tables.machines import DutyPoint, PowerSource
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.melting import conventional_load_voltage
from weld_packets.processes.arc.settings.machine import allowed_duty, duty
from weld_packets.units import magnitude, quantity

# duty in %, current in A: rating plates of Bossweld (A), Miller (B) and Hobart (C)
PLATE_A = [(10, 200), (60, 85), (100, 65)]
PLATE_B = [(40, 250), (60, 200)]
PLATE_C = [(60, 350), (100, 300)]


@pytest.mark.parametrize(("current", "printed"), [(200, 24.0), (85, 18.3), (65, 17.3)])
def test_load_voltage_of_a_rating_plate(current: float, printed: float) -> None:
    voltage = conventional_load_voltage(welding_current=quantity(current, "A"))
    assert magnitude(voltage, "V") == pytest.approx(printed, abs=0.0501)  # printed to 0.1 V, 18.25 as 18.3


def test_load_voltage_stays_at_44_volts_above_600_amperes_from_memory() -> None:
    assert magnitude(conventional_load_voltage(welding_current=quantity(700, "A")), "V") == 44


@pytest.mark.parametrize(
    ("plate", "printed_share", "at", "tolerance"),
    [
        (PLATE_B[0], 60, 200, 3),
        (PLATE_A[0], 60, 85, 5),
        (PLATE_A[0], 100, 65, 6),
        # measured plates are usually equal to the formula or better; here much better, so plates come first
        (PLATE_C[0], 100, 300, 19),
    ],
)
def test_the_square_rule_comes_near_the_next_point_of_the_plate(
    plate: tuple[float, float], printed_share: float, at: float, tolerance: float
) -> None:
    share, current = plate
    found = allowed_duty(
        rated_share=quantity(share, "%"), rated_current=quantity(current, "A"), welding_current=quantity(at, "A")
    )
    assert magnitude(found, "%") == pytest.approx(printed_share, abs=tolerance)


@pytest.mark.parametrize("plate", [PLATE_A, PLATE_B, PLATE_C])
def test_a_point_of_the_plate_is_used_as_printed(plate: list[tuple[float, float]]) -> None:
    points = tuple(DutyPoint.model_validate({"share": f"{share} %", "current": f"{amps} A"}) for share, amps in plate)
    span = {"current_from": quantity(10, "A"), "current_to": quantity(500, "A")}
    source = PowerSource.model_construct(name="source", duty=points, **span)
    plant = Plant.model_construct(duty_planning_share=quantity(1, "%"))
    for share, amps in plate:
        figure, _ = duty(source, quantity(amps, "A"), plant)
        assert figure.value is not None
        assert magnitude(figure.value, "%") == pytest.approx(share)
