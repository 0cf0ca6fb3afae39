"""ESAB MIG Welding Handbook, pages 7-10: length of wire per mass, against the mass of a length that we compute.

Densities are those of Kobelco's consumption sheet (7.85 and 8.02 g/cm³) and 2.70 g/cm³ for aluminium (from memory).
"""

import pytest
from weld_packets.processes.arc.melting import deposition_rate, wire_mass_per_length, wire_section
from weld_packets.units import magnitude, quantity

# wire diameter in, density g/cm³, metres per kilogram as printed
PRINTED = [
    (0.030, 7.85, 276.9),
    (0.035, 7.85, 203.9),
    (0.045, 7.85, 122.7),
    (0.0625, 7.85, 64.4),
    (0.09375, 7.85, 28.8),
    (0.030, 8.02, 272.2),
    (0.035, 8.02, 200.5),
    (0.045, 8.02, 120.7),
    (0.0625, 8.02, 63.7),
    (0.09375, 8.02, 28.2),
    (0.030, 2.70, 805.3),
    (0.035, 2.70, 592.1),
    (0.0625, 2.70, 188.4),
    (0.09375, 2.70, 83.8),
]


@pytest.mark.parametrize(("diameter", "density", "printed"), PRINTED)
def test_metres_of_wire_in_a_kilogram(diameter: float, density: float, printed: float) -> None:
    section = wire_section(wire_diameter=quantity(diameter, "in"))
    mass = wire_mass_per_length(section=section, density=quantity(density, "g/cm³"))
    # 1.5 %: the handbook rounds its densities and its inches per pound; wire itself is drawn to about 1 %
    assert 1000 / magnitude(mass, "g/m") == pytest.approx(printed, rel=0.015)


def test_deposition_rate_is_wire_feed_over_length_per_mass() -> None:
    """D = WFS * 60 / (wire length per mass), here at 10 m/min of 0.035 in wire: 600 / 203.9 kg/h."""
    mass = quantity(1000 / 203.9, "g/m")
    rate = deposition_rate(wire_feed=quantity(10, "m/min"), linear_mass=mass, efficiency=quantity(100, "%"))
    assert magnitude(rate, "kg/h") == pytest.approx(600 / 203.9, rel=1e-9)
