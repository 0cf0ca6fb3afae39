"""What a record of the tables answers by itself."""

import pytest
from weld_packets.model.tables.materials import Material
from weld_packets.units import Quantity, quantity

SHEET = Material.model_validate({
    "id": "S235", "designation": "S235JR", "standard": "EN 10025-2", "base": "structural steel",
    "density": "7.85 g/cm³", "composition basis": "invented", "thickness from": "0.125 in", "thickness to": "30 mm",
})  # fmt: skip


@pytest.mark.parametrize(
    ("thickness", "is_supplied"),
    [
        (quantity(3.175, "mm"), True),
        (quantity(3.175 * (1 - 1e-13), "mm"), True),
        (quantity(3.1749, "mm"), False),
        (quantity(30.0 / 25.4, "in"), True),
        (quantity(3.0, "cm"), True),
        (quantity(30.001, "mm"), False),
    ],
)
def test_a_material_is_supplied_from_one_thickness_to_another_both_included(
    thickness: Quantity, *, is_supplied: bool
) -> None:
    assert SHEET.is_supplied_in(thickness) is is_supplied
