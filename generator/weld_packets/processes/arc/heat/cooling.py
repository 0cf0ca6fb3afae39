"""Temperatures that the materials of a joint require, and its cooling time from 800 to 500 °C.

The time is from the shortest, in the thicker component, to the longest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR
from types import MappingProxyType
from typing import NamedTuple

from weld_packets.calculation.formula import HeatPerLength, Number, Source, Standing, Worked, formula
from weld_packets.calculation.readings import no_number, ordered, result
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight
from weld_packets.model.tables.materials import ROOM, Material
from weld_packets.model.trade import Joint
from weld_packets.processes.arc.heat.heat import cooling_time_thick, cooling_time_thin, transition_thickness
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, as_written, in_mm, kinds, magnitude, quantity, shown

SHORTEST = Name("cooling_time", "Shortest cooling time from 800 to 500 °C", "t_85", kinds.DURATION)
LONGEST = Name("cooling_time_longest", "Longest cooling time from 800 to 500 °C", "t_85", kinds.DURATION)

KNOWN_TO = Source("share of itself to which the heat input is known", standing=Standing.GEOMETRY)
SHAPE = Source("EN 1011-2:2001", "table D.1", Standing.FROM_MEMORY)
LAP_AS_T = Source("assumption of this program: a lap joint cools as a T joint", standing=Standing.COMMON_PRACTICE)
FLARE_AS_T = Source(
    "a reading of this program: a flare bevel cools as a T joint, into plate and tube",
    standing=Standing.COMMON_PRACTICE,
)
BUTT_AS_FILLER = Source(
    "a reading of this program: a square butt cools as a pass that fills a butt", standing=Standing.COMMON_PRACTICE
)
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
            yield ordered(name, found.value, origin, spread=READ_TO, rounding=rounding)


def in_celsius(value: Quantity) -> float:
    """Return a temperature in degrees Celsius."""
    return magnitude(value, "°C")


def _celsius(found: Temperature | Given) -> float:
    return in_celsius(found.value)


@formula("Q * (1 + s)", symbol="Q_s", source=KNOWN_TO, Q="heat", s="share")
def end_of_heat_input(*, heat: HeatPerLength, share: Number) -> HeatPerLength:
    """Return an end of the range of a heat input: lower with a negative share, upper with a positive one."""


@dataclass(frozen=True)
class _Factors:
    """Shape factors of a joint: the smallest and the largest where heat flows in the plane, and that into the depth."""

    minimum: float
    maximum: float
    thick: float
    source: Source = SHAPE


_FACTORS: Mapping[Joint, _Factors] = MappingProxyType(
    {
        "T fillet": _Factors(0.45, 0.67, 0.67),
        "lap fillet": _Factors(0.45, 0.67, 0.67, LAP_AS_T),
        "corner fillet": _Factors(0.67, 0.9, 0.67),
        "square butt": _Factors(0.9, 0.9, 0.9, BUTT_AS_FILLER),
        "flare bevel": _Factors(0.45, 0.67, 0.67, FLARE_AS_T),
    }
)


@dataclass(frozen=True)
class _End:
    """One end of the range: which thickness, which shape factor in its plane, heat input and temperature before."""

    name: Name
    thickness: Quantity
    factor: float
    heat: Worked
    before: Given


def cooling_times(
    group: SeamGroup, start: Given, heat: Quantity, known: float = 0.0, again: Given | None = None
) -> tuple[Figure, Figure]:
    """Return the shortest and the longest cooling time of a joint of unalloyed or low-alloy steel.

    The shortest is that of the thicker component at the lower end of the heat input, the longest that of the thinner
    one at the upper end. ``known`` is the share of itself to which the heat input is known, ``start`` the temperature
    before the first pass and ``again`` the one up to which a further pass may begin, None with one pass.
    """
    factors = _FACTORS.get(group.seam.joint)
    if factors is None or known >= 1:
        why = f"no shape factor of a {group.seam.joint} is known" if factors is None else "the heat input is not known"
        return no_number(SHORTEST, why), no_number(LONGEST, why)
    thin, thick = sorted((component.thickness for component in group.components), key=in_mm)
    warmest = start if again is None else max(start, again, key=_celsius)
    ends = (
        _End(SHORTEST, thick, factors.minimum, _heat(heat, -known), start),
        _End(LONGEST, thin, factors.maximum, _heat(heat, known), warmest),
    )
    shortest, longest = (_time(end, factors) for end in ends)
    return shortest, longest


def _heat(heat: Quantity, share: float) -> Worked:
    return end_of_heat_input.work(heat=heat, share=quantity(share, "1"))


def _time(end: _End, factors: _Factors) -> Figure:
    """Return the larger of the two times of one component, each with the shape factor of the joint."""
    known = {"preheat": end.before.value, "heat": end.heat.result}
    thin_factor, thick_factor = quantity(end.factor, "1"), quantity(factors.thick, "1")
    limit = transition_thickness.work(**known, thin_factor=thin_factor, thick_factor=thick_factor)
    if in_mm(end.thickness) < in_mm(limit.result):
        directions, factor = "two", thin_factor
        worked = cooling_time_thin.work(**known, thickness=end.thickness, shape_factor=thin_factor)
    else:
        directions, factor = "three", thick_factor
        worked = cooling_time_thick.work(**known, shape_factor=thick_factor)
    text = f"in the {as_written(end.thickness)} component heat flows in {directions} directions"
    remark = Remark(Weight.NOTE, f"{text}; shape factor {shown(factor, '1', 2)}", factors.source)
    return result(end.name, worked, before=(end.before, end.heat, limit), digits=2, remarks=(remark,))
