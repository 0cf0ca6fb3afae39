"""Temperatures of a joint before welding and between passes: what its materials require, or a preheat beyond that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from weld_packets.calculation.readings import ordered
from weld_packets.calculation.trace import Figure, Name
from weld_packets.model.tables.materials import ROOM, Material
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, exact, kinds, magnitude, rounded
from weld_packets.units.digits import WHOLE

PREHEAT = Name("preheat", "Preheat", "T_p", kinds.TEMPERATURE)
WORKING = Name("working_temperature", "Component temperature, minimum", "T_0", kinds.TEMPERATURE)
_CALCULATED = "preheat as calculated, rounded up to a whole degree"
"""Where the temperature of a component comes from when its preheat goes beyond what the materials require."""
INTERPASS = Name("interpass_temperature", "Interpass temperature, maximum", "T_i", kinds.TEMPERATURE)

READ_TO = 1.0
"""Degrees to which a contact thermometer is read: common practice, no source."""


class Temperature(NamedTuple):
    """A temperature with the source that the table of materials gives for it, or that it is ``calculated``."""

    value: Quantity
    source: str
    calculated: bool = False


def working_minimum(group: SeamGroup) -> Temperature | None:
    """Return the higher of what both materials require of a component before welding; None where one does not say."""
    found = [
        Temperature(material.working_temperature_minimum, material.working_temperature_source)
        for material in group.materials
        if material.working_temperature_minimum is not None
    ]
    return max(found, key=_celsius) if len(found) == len(group.materials) else None


def component_minimum(group: SeamGroup, preheat: Figure) -> Temperature | None:
    """Return what a component has before it is welded: the higher of what both materials require and its preheat.

    A preheat below what the materials require asks for nothing. None where neither is known.
    """
    required = working_minimum(group)
    if preheat.value is None:
        return required
    warmed = Temperature(preheat.value, _CALCULATED, calculated=True)
    if required is None:
        return warmed if in_celsius(warmed.value) > in_celsius(ROOM) else None
    return max(required, warmed, key=_celsius)


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


def temperature_figures(group: SeamGroup, figures: Iterable[Figure]) -> Iterator[Figure]:
    """Yield the temperatures that both materials state; ``figures`` have the preheat, which may ask for more."""
    preheat = next(figure for figure in figures if figure.key == PREHEAT.key)
    minimum, maximum = component_minimum(group, preheat), interpass_maximum(group)
    for name, found, rounding in ((WORKING, minimum, ROUND_CEILING), (INTERPASS, maximum, ROUND_FLOOR)):
        if found is not None:
            origin = found.source if found.calculated else f"table of materials: {found.source}"
            figure = ordered(name, found.value, origin, spread=READ_TO, rounding=rounding)
            yield replace(figure, text=whole_degrees(found.value, rounding)) if found.calculated else figure


def whole_degrees(value: Quantity, rounding: str) -> Decimal:
    """Return a temperature in whole degrees Celsius, as a thermometer is read."""
    return rounded(exact(value, "°C"), WHOLE, rounding)


def in_celsius(value: Quantity) -> float:
    """Return a temperature in degrees Celsius."""
    return magnitude(value, "°C")


def _celsius(found: Temperature) -> float:
    return in_celsius(found.value)
