"""Temperatures that the materials of a joint require: of its components before welding, and between two passes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from weld_packets.calculation.readings import ordered
from weld_packets.calculation.trace import Figure, Name
from weld_packets.model.tables import Material
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, kinds, magnitude

WORKING = Name("working_temperature", "Component temperature, minimum", "T_0", kinds.TEMPERATURE)
INTERPASS = Name("interpass_temperature", "Interpass temperature, maximum", "T_i", kinds.TEMPERATURE)

READ_TO = 1.0
"""Degrees to which a contact thermometer is read: common practice, no source."""


class Temperature(NamedTuple):
    """A temperature with the source that the table of materials gives for it."""

    value: Quantity
    source: str


def working_minimum(group: SeamGroup) -> Temperature | None:
    """Return the higher of what both materials require of a component before welding; None where one does not say."""
    found = [
        Temperature(material.working_temperature_minimum, material.working_temperature_source)
        for material in group.materials
        if material.working_temperature_minimum is not None
    ]
    return max(found, key=_celsius) if len(found) == len(group.materials) else None


def interpass_maximum(group: SeamGroup) -> Temperature | None:
    """Return the lower of what both materials allow where a further pass begins; None where one does not say."""
    found = [
        Temperature(material.interpass_maximum, material.interpass_source)
        for material in group.materials
        if material.interpass_maximum is not None
    ]
    return min(found, key=_celsius) if len(found) == len(group.materials) else None


def silent(group: SeamGroup, field: str) -> tuple[Material, ...]:
    """Return the materials of a joint, each once, for which the table does not state ``field``."""
    return tuple({each.id: each for each in group.materials if getattr(each, field) is None}.values())


def temperature_figures(group: SeamGroup) -> Iterator[Figure]:
    """Yield the temperatures that both materials state."""
    for name, found in ((WORKING, working_minimum(group)), (INTERPASS, interpass_maximum(group))):
        if found is not None:
            yield ordered(name, found.value, f"table of materials: {found.source}", spread=READ_TO)


def _celsius(found: Temperature) -> float:
    return magnitude(found.value, "°C")
