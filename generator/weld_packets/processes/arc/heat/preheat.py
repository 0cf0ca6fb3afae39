"""The preheat temperature of a joint, or why no method gives one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal

from weld_packets.calculation.formula import (
    HeatPerLength,
    Hydrogen,
    Length,
    Number,
    Source,
    Standing,
    Temperature,
    formula,
)
from weld_packets.calculation.readings import beside, no_number, result
from weld_packets.calculation.sentences import separated, shown_value, stated, stated_range
from weld_packets.calculation.trace import Figure, Given, Remark, Weight, Words, in_words
from weld_packets.model.tables.materials import ROOM
from weld_packets.processes.arc.heat.temperatures import PREHEAT, READ_TO, in_celsius, whole_degrees, working_minimum
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Kind, Quantity, exact, in_mm, kinds, magnitude, quantity, with_unit

PREHEAT_BY_CET = Source("EN 1011-2:2001", "C.3, method B", Standing.FROM_MEMORY)


@formula(
    "697 * CET + 160 * tanh(d / 35) + 62 * H**0.35 + (53 * CET - 32) * Q - 328",
    symbol="T_p",
    source=PREHEAT_BY_CET,
    validity="CET 0.2 to 0.5; d 10 to 90 mm; hydrogen 1 to 20 ml/100 g; Q 0.5 to 4.0 kJ/mm; yield to 1000 N/mm²; "
    "CET of the component at least 0.03 above that of the weld metal, which no table states",
    CET="equivalent",
    d="thickness",
    H="hydrogen",
    Q="heat",
)
def preheat_temperature(
    *, equivalent: Number, thickness: Length, hydrogen: Hydrogen, heat: HeatPerLength
) -> Temperature:
    """Return the minimum preheat against cold cracks; ``thickness`` is that of the thicker single plate."""


def preheat_figure(group: SeamGroup, cet: Figure, heat: Quantity) -> Figure:
    """Return the preheat of a joint by its equivalent ``cet``; without a number outside the method, with why."""
    thickest = max((component.thickness for component in group.components), key=in_mm)
    reasons = separated(_preheat_faults(group, cet, heat, thickest))
    hydrogen = None if group.filler is None else group.filler.hydrogen
    if reasons or cet.value is None or hydrogen is None:
        return replace(no_number(PREHEAT, reasons), remarks=tuple(_instead(group)))
    worked = preheat_temperature.work(equivalent=cet.value, thickness=thickest, hydrogen=hydrogen, heat=heat)
    origin = Given("diffusible hydrogen", hydrogen, "ml/100g", group.wire.hydrogen_source)
    remarks = [Remark(Weight.WARNING, "the constants rest on memory", preheat_temperature.source)]
    if in_celsius(worked.result) < in_celsius(ROOM):
        remarks.append(Remark(Weight.NOTE, "room temperature (20 °C) is enough: no preheat, components dry"))
    figure = result(PREHEAT, worked, before=(origin,), remarks=tuple(remarks))
    text = whole_degrees(worked.result, ROUND_CEILING)
    return replace(figure, text=text, spread=READ_TO, rounding=ROUND_CEILING)


def _instead(group: SeamGroup) -> Iterator[Remark]:
    """Yield what holds where the method gives no preheat: the temperature that the materials require."""
    minimum = working_minimum(group)
    if minimum is not None:
        yield Remark(
            Weight.NOTE,
            (
                "instead: components dry and at least ",
                stated(minimum.value, kinds.TEMPERATURE),
                f" ({minimum.source})",
            ),
        )


def _preheat_faults(group: SeamGroup, cet: Figure, heat: Quantity, thickest: Quantity) -> Iterator[Words]:
    if cet.value is None:
        yield in_words(cet.outside)
        return
    yield from _not_in("CET", cet.value, kinds.NUMBER, 0.2, 0.5)
    yield from _not_in("thickness", thickest, kinds.THICKNESS, 10, 90)
    yield from _not_in("heat input", heat, kinds.HEAT, 0.5, 4)
    if group.filler is None:
        yield ("no filler is added, and the method needs the hydrogen content of one",)
    elif group.filler.hydrogen is None:
        yield (f"the table of wires states no hydrogen content of {group.wire.designation}",)
    else:
        yield from _not_in("hydrogen", group.filler.hydrogen, kinds.HYDROGEN, 1, 20)
    for material in group.materials:
        if material.yield_strength is not None:
            yield from _not_in("yield strength", material.yield_strength, kinds.STRESS, 0, 1000)


def _not_in(what: str, value: Quantity, kind: Kind, low: float, high: float) -> Iterator[Words]:
    unit = kind.metric
    found = magnitude(value, unit)
    if not low <= found <= high:
        end = quantity(low if found < low else high, unit)
        number = beside(value, end, unit, Decimal(1).scaleb(exact(value, unit).adjusted() - 1))[0]
        both = (quantity(low, unit), quantity(high, unit))
        reach = stated_range(*both, kind, with_unit(f"{low:g} to {high:g}", unit))
        yield (f"{what} ", shown_value(number, unit, kind), " is not in ", reach)
