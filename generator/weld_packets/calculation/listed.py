"""Whether a part is of a thickness in which its material is bought."""

from __future__ import annotations

from weld_packets.errors import refusal
from weld_packets.model.order import Component
from weld_packets.model.tables import Material
from weld_packets.units import as_written, in_mm, same


def check_listed(part: Component, material: Material, key: str = "") -> None:
    """Raise OutOfRangeError for a part thinner or thicker than its material is listed; ``key`` leads to the part."""
    thickness, low, high = (in_mm(value) for value in (part.thickness, material.thickness_from, material.thickness_to))
    if not (low < thickness < high or same(thickness, low) or same(thickness, high)):
        raise refusal(
            f"part {part.id} is {as_written(part.thickness)} thick; {material.id} is listed from "
            f"{as_written(material.thickness_from)} to {as_written(material.thickness_to)}",
            "check the thickness and the material of the part",
            key=key,
            value=as_written(part.thickness),
        )
