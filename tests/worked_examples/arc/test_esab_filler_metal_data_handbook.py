"""ESAB Filler Metal Data Handbook: weight of weld metal per length, as printed to three decimals of kg/m."""

import pytest
from weld_packets.processes.arc.melting import wire_per_weld_length
from weld_packets.processes.arc.size.formulas import butt_area, fillet_area, throat_from_leg
from weld_packets.units import Quantity, magnitude, quantity

STEEL = quantity(7.85, "g/cm³")
ALL_OF_IT = quantity(100, "%")


def kilograms_per_metre(area: Quantity) -> float:
    mass = wire_per_weld_length(weld_area=area, density=STEEL, efficiency=ALL_OF_IT)
    return magnitude(mass, "g/m") / 1000


def flat_fillet(leg: Quantity) -> Quantity:
    return fillet_area(reinforcement=quantity(1, "1"), throat=throat_from_leg(leg=leg))


def butt(gap: float, thickness: float, cap_width: float, cap_height: float) -> Quantity:
    numbers = {"gap": gap, "thickness": thickness, "cap_width": cap_width, "cap_height": cap_height}
    return butt_area(**{name: quantity(number, "mm") for name, number in numbers.items()})


# The label of the 6.35 mm operation is missing in the copy that was read, and is inferred from its place.
@pytest.mark.parametrize(("leg", "printed"), [(3.18, 0.040), (4.76, 0.089), (6.35, 0.158), (7.94, 0.247)])
def test_triangle_of_a_fillet(leg: float, printed: float) -> None:
    # 0.002: three printed decimals, and legs that are rounded sixteenths of an inch
    assert kilograms_per_metre(flat_fillet(quantity(leg, "mm"))) == pytest.approx(printed, abs=0.002)


def test_half_inch_fillet_in_pounds_per_foot() -> None:
    """0.424 lb/ft = (0.5 * 0.5) * 0.5 * 12 * 0.283, with steel of 0.283 lb/in³."""
    pounds_per_foot = kilograms_per_metre(flat_fillet(quantity(0.5, "in"))) / 0.45359237 * 0.3048
    assert pounds_per_foot == pytest.approx(0.424, abs=0.002)


@pytest.mark.parametrize(
    ("thickness", "gap", "printed"),
    [(3.18, 3.175, 0.079), (6.35, 3.175, 0.158), (12.70, 3.175, 0.315), (12.70, 6.350, 0.632)],
)
def test_rectangle_of_a_square_butt(thickness: float, gap: float, printed: float) -> None:
    assert kilograms_per_metre(butt(gap, thickness, 0, 0)) == pytest.approx(printed, abs=0.002)


@pytest.mark.parametrize(("width", "height", "printed"), [(12.70, 1.59, 0.106), (12.70, 3.18, 0.210)])
def test_crown_of_a_butt_is_two_thirds_of_its_box(width: float, height: float, printed: float) -> None:
    assert kilograms_per_metre(butt(0, 10, width, height)) == pytest.approx(printed, abs=0.002)
