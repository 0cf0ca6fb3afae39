"""What the heat of a weld does to its metal: carbon equivalents, preheat and cooling times of a joint."""

from __future__ import annotations

from weld_packets.calculation.readings import no_number
from weld_packets.calculation.trace import Figure, Given
from weld_packets.model.tables.materials import ROOM
from weld_packets.processes.arc.heat.cooling import LONGEST, SHORTEST, cooling_times
from weld_packets.processes.arc.heat.equivalents import decisive, equivalents, is_stainless, unfit
from weld_packets.processes.arc.heat.preheat import preheat_figure
from weld_packets.processes.arc.heat.temperatures import component_minimum, in_celsius, interpass_maximum
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity


def metal_figures(group: SeamGroup, heat: Quantity, known: float = 0.0, passes: int = 1) -> tuple[Figure, ...]:
    """Return carbon equivalents of the more hardenable component, preheat, shortest and longest cooling time.

    ``known`` is the share of itself to which the heat input is known.
    """
    material = decisive(group)
    ce, cet, pcm = equivalents(material)
    preheat = preheat_figure(group, cet, heat)
    if is_stainless(material):
        why = unfit(material, {})
        return ce, cet, pcm, preheat, no_number(SHORTEST, why), no_number(LONGEST, why)
    return ce, cet, pcm, preheat, *_cooling(group, preheat, heat, known, passes)


def _cooling(group: SeamGroup, preheat: Figure, heat: Quantity, known: float, passes: int) -> tuple[Figure, Figure]:
    minimum = component_minimum(group, preheat)
    if minimum is None or in_celsius(minimum.value) <= in_celsius(ROOM):
        start, words = ROOM, "a room at 20 °C"
    else:
        start, words = minimum.value, minimum.source
    origin = Given("temperature before welding", start, "°C", words)
    warmest = interpass_maximum(group)
    again = None
    if passes > 1 and warmest is not None:
        again = Given("temperature before a further pass", warmest.value, "°C", warmest.source)
    return cooling_times(group, origin, heat, known, again)
