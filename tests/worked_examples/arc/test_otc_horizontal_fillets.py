"""Daihen OTC power-source manual, CO2, horizontal fillet: current, voltage, speed and leg agree with our balances."""

from math import sqrt

import pytest
from weld_packets.processes.arc.melting import (
    balanced_travel_speed,
    conventional_load_voltage,
    melted_wire_feed,
    wire_section,
)
from weld_packets.processes.arc.size.formulas import fillet_area
from weld_packets.units import magnitude, quantity

# leg mm (middle of the printed range), largest wire mm, current A, voltage V, speed cm/min (middles)
PRINTED = [
    (2.75, 1.0, 85, 18.5, 55),
    (2.75, 1.2, 105, 19.0, 55),
    (3.25, 1.2, 115, 19.5, 55),
    (3.25, 1.2, 130, 20.0, 55),
    (3.5, 1.2, 150, 20.0, 50),
    (4.25, 1.2, 210, 23.0, 50),
    (5.5, 1.2, 265, 27.5, 45),
    (6.5, 1.2, 290, 30.5, 37.5),
    (7.5, 1.2, 320, 33.0, 32.5),
]


@pytest.mark.parametrize(("leg", "wire", "amperes", "speed"), [(*operation[:3], operation[4]) for operation in PRINTED])
def test_wire_for_the_printed_leg_is_near_what_the_printed_current_melts(
    leg: float, wire: float, amperes: float, speed: float
) -> None:
    diameter = quantity(wire, "mm")
    area = fillet_area(reinforcement=quantity(1.1, "1"), throat=quantity(leg / sqrt(2), "mm"))
    of_one = balanced_travel_speed(
        wire_feed=quantity(1, "m/min"),
        pass_area=area,
        section=wire_section(wire_diameter=diameter),
        efficiency=quantity(95, "%"),
    )
    needed = quantity(speed / magnitude(of_one, "cm/min"), "m/min")
    melted = melted_wire_feed(
        arc_melting=quantity(0.339, "1"),
        resistance_melting=quantity(6.4e-5, "1"),
        welding_current=quantity(amperes, "A"),
        stick_out=quantity(15, "mm"),
        section=wire_section(wire_diameter=diameter),
    )
    # 25 %: middles of ranges, a stick-out that the chart does not say, and a law from memory
    assert magnitude(needed, "m/min") == pytest.approx(magnitude(melted, "m/min"), rel=0.25)


@pytest.mark.parametrize(("amperes", "volts"), [(operation[2], operation[3]) for operation in PRINTED])
def test_printed_voltage_is_near_the_test_load_of_a_source(amperes: float, volts: float) -> None:
    load = conventional_load_voltage(welding_current=quantity(amperes, "A"))
    # 5 V: a test load is no setting; CO2 spray-like arcs need about 3 V more above 300 A
    assert magnitude(load, "V") == pytest.approx(volts, abs=5)
