"""SSAB Welding Handbook, 2nd edition, pages 13 and 17: heat input and the two cooling formulas (as in EN 1011-2).

The formulas are the book's; no worked number was readable, so the anchors are computed by hand from the printed form
and catch a slip of typing, not an error of the book.
"""

import pytest
from weld_packets.processes.arc.heat.cooling import cooling_time_thick, cooling_time_thin, transition_thickness
from weld_packets.processes.arc.heat.heat import heat_input
from weld_packets.units import magnitude, quantity

ONE = quantity(1, "1")


def test_page_13_heat_input_with_speed_in_millimetres_per_minute() -> None:
    """Q = k * U * I * 60 / (v * 1000), v in mm/min."""
    heat = heat_input(
        thermal_efficiency=quantity(0.8, "1"),
        arc_voltage=quantity(27.5, "V"),
        welding_current=quantity(265, "A"),
        travel_speed=quantity(450, "mm/min"),
    )
    assert magnitude(heat, "kJ/mm") == pytest.approx(0.8 * 27.5 * 265 * 60 / (450 * 1000))


# computed from formula 3.2
@pytest.mark.parametrize(("start", "seconds"), [(20, 5.2885), (100, 6.6429), (150, 7.8462), (200, 9.5), (250, 11.8909)])
def test_page_17_thick_plate_cooling_of_one_kilojoule(start: float, seconds: float) -> None:
    found = cooling_time_thick(preheat=quantity(start, "°C"), heat=quantity(1, "kJ/mm"), shape_factor=ONE)
    assert magnitude(found, "s") == pytest.approx(seconds, abs=6e-5)


# computed from formula 3.1: s * mm² per (kJ/mm)²
@pytest.mark.parametrize(
    ("start", "coefficient"), [(20, 1136.4), (100, 1629.0), (150, 2118.6), (200, 2866.7), (250, 4093.9)]
)
def test_page_17_thin_plate_cooling(start: float, coefficient: float) -> None:
    found = cooling_time_thin(
        preheat=quantity(start, "°C"), heat=quantity(2, "kJ/mm"), thickness=quantity(10, "mm"), shape_factor=ONE
    )
    assert magnitude(found, "s") == pytest.approx(coefficient * 4 / 100, rel=5e-5)


@pytest.mark.parametrize(("thin_factor", "thick_factor"), [(1, 1), (0.9, 0.9), (0.45, 0.67), (0.67, 0.67), (0.9, 0.67)])
@pytest.mark.parametrize("start", [20, 100, 150, 200, 250])
def test_both_formulas_agree_at_the_transition_thickness(start: float, thin_factor: float, thick_factor: float) -> None:
    given = {"preheat": quantity(start, "°C"), "heat": quantity(1.5, "kJ/mm")}
    factors = {"thin_factor": quantity(thin_factor, "1"), "thick_factor": quantity(thick_factor, "1")}
    limit = transition_thickness(**given, **factors)
    thin = cooling_time_thin(**given, thickness=limit, shape_factor=factors["thin_factor"])
    thick = cooling_time_thick(**given, shape_factor=factors["thick_factor"])
    assert magnitude(thin, "s") == pytest.approx(magnitude(thick, "s"))
