"""Cooling times of a joint from 800 to 500 °C: the shortest, in the thicker component, and the longest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from weld_packets.calculation.formula import (
    Duration,
    HeatPerLength,
    Length,
    Number,
    Source,
    Standing,
    Temperature,
    Worked,
    formula,
)
from weld_packets.calculation.readings import no_number, result
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight
from weld_packets.model.trade import Joint
from weld_packets.processes.arc.heat.temperatures import in_celsius
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, as_written, in_mm, kinds, quantity, shown

SHORTEST = Name("cooling_time", "Shortest cooling time from 800 to 500 °C", "t_85", kinds.DURATION)
LONGEST = Name("cooling_time_longest", "Longest cooling time from 800 to 500 °C", "t_85", kinds.DURATION)

KNOWN_TO = Source("share of itself to which the heat input is known", standing=Standing.GEOMETRY)
COOLING = Source("EN 1011-2:2001", "Annex D; SSAB Welding Handbook, 2nd edition, page 17, formulas 3.1 and 3.2")
TRANSITION = Source("EN 1011-2:2001", "Annex D, both formulas set equal with their shape factors", Standing.FROM_MEMORY)
LOW_ALLOY = "unalloyed and low-alloy steel; preheat below 500 °C"
SHAPE = Source("EN 1011-2:2001", "table D.1", Standing.FROM_MEMORY)
LAP_AS_T = Source("assumption of this program: a lap joint cools as a T joint", standing=Standing.COMMON_PRACTICE)
FLARE_AS_T = Source(
    "a reading of this program: a flare bevel cools as a T joint, into plate and tube",
    standing=Standing.COMMON_PRACTICE,
)
BUTT_AS_FILLER = Source(
    "a reading of this program: a square butt cools as a pass that fills a butt", standing=Standing.COMMON_PRACTICE
)


@formula(
    "(4300 - 4.3 * T) * 1e5 * Q**2 / d**2 * (1 / (500 - T)**2 - 1 / (800 - T)**2) * F",
    symbol="t_85",
    source=COOLING,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    d="thickness",
    F="shape_factor",
)
def cooling_time_thin(
    *, preheat: Temperature, heat: HeatPerLength, thickness: Length, shape_factor: Number
) -> Duration:
    """Return t8/5 where heat flows in the plane of the sheet only (thinner than the transition)."""


@formula(
    "(6700 - 5 * T) * Q * (1 / (500 - T) - 1 / (800 - T)) * F",
    symbol="t_85",
    source=COOLING,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    F="shape_factor",
)
def cooling_time_thick(*, preheat: Temperature, heat: HeatPerLength, shape_factor: Number) -> Duration:
    """Return t8/5 where heat flows into the depth of the plate too (thicker than the transition)."""


@formula(
    "sqrt((4300 - 4.3 * T) / (6700 - 5 * T) * 1e5 * Q * (1 / (500 - T) + 1 / (800 - T)) * F_2 / F_3)",
    symbol="d_t",
    source=TRANSITION,
    validity=LOW_ALLOY,
    T="preheat",
    Q="heat",
    F_2="thin_factor",
    F_3="thick_factor",
)
def transition_thickness(
    *, preheat: Temperature, heat: HeatPerLength, thin_factor: Number, thick_factor: Number
) -> Length:
    """Return the thickness at which both cooling formulas, each with its shape factor, give the same time.

    Below it the formula for thin plate gives the larger time, above it the one for thick plate: the larger one holds,
    so that no time jumps from one plate to the next thicker one.
    """


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


_T_FILLET = _Factors(0.45, 0.67, 0.67)
_FACTORS: Mapping[Joint, _Factors] = MappingProxyType(
    {
        "T fillet": _T_FILLET,
        "lap fillet": replace(_T_FILLET, source=LAP_AS_T),
        "corner fillet": _Factors(0.67, 0.9, 0.67),
        "square butt": _Factors(0.9, 0.9, 0.9, BUTT_AS_FILLER),
        "flare bevel": replace(_T_FILLET, source=FLARE_AS_T),
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
    warmest = start if again is None else max(start, again, key=lambda each: in_celsius(each.value))
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
