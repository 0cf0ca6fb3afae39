"""What the steels of a weld require: carbon equivalents, preheat, cooling time; or why a method does not apply."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType

from weld_packets.calculation.formula import (
    Formula,
    HeatPerLength,
    Hydrogen,
    Length,
    Number,
    Source,
    Standing,
    Temperature,
    formula,
)
from weld_packets.calculation.measure import separated, shown_value, stated, stated_range
from weld_packets.calculation.readings import beside, no_number, result
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight, Words, in_words
from weld_packets.model.materials import Material
from weld_packets.processes.arc.heat.cooling import (
    LONGEST,
    PREHEAT,
    ROOM,
    SHORTEST,
    cooling_times,
    in_celsius,
    interpass_maximum,
    working_minimum,
)
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Kind, Quantity, exact, in_mm, kinds, magnitude, quantity, with_unit

CE = Name("carbon_equivalent_iiw", "Carbon equivalent CE (IIW)", "CE", kinds.NUMBER)
CET = Name("carbon_equivalent_cet", "Carbon equivalent CET", "CET", kinds.NUMBER)
PCM = Name("crack_parameter", "Crack parameter Pcm", "Pcm", kinds.NUMBER)

_SYMBOLS = MappingProxyType(
    {
        "carbon": "C",
        "silicon": "Si",
        "manganese": "Mn",
        "chromium": "Cr",
        "molybdenum": "Mo",
        "vanadium": "V",
        "nickel": "Ni",
        "copper": "Cu",
        "boron": "B",
    }
)
_Ranges = Mapping[str, tuple[float, float]]
CE_RANGES: _Ranges = MappingProxyType(
    {
        "C": (0.05, 0.25),
        "Si": (0, 0.8),
        "Mn": (0, 1.7),
        "Cr": (0, 0.9),
        "Cu": (0, 1.0),
        "Ni": (0, 2.5),
        "Mo": (0, 0.75),
        "V": (0, 0.2),
    }
)
"""EN 1011-2 method A, from memory."""
CET_RANGES: _Ranges = MappingProxyType(
    {
        "C": (0.05, 0.32),
        "Si": (0, 0.8),
        "Mn": (0.5, 1.9),
        "Cr": (0, 1.5),
        "Cu": (0, 0.7),
        "Mo": (0, 0.75),
        "Nb": (0, 0.06),
        "Ni": (0, 2.5),
        "V": (0, 0.18),
        "B": (0, 0.005),
    }
)
"""EN 1011-2 method B, from memory."""
PCM_RANGES: _Ranges = MappingProxyType({"C": (0, 0.18)})
"""Carbon up to which Pcm is used, from memory."""

_NEEDED = MappingProxyType({"C": "carbon", "Mn": "manganese"})
"""Every unalloyed steel holds both, so that a list without one is no analysis; the rest may be too little to state."""
IIW = Source("EN 1011-2:2001", "carbon equivalent CE of the IIW")
CET_SOURCE = Source("EN 1011-2:2001", "C.3, carbon equivalent CET", Standing.FROM_MEMORY)
PCM_SOURCE = Source("Ito and Bessyo", "crack parameter Pcm", Standing.FROM_MEMORY)
PREHEAT_BY_CET = Source("EN 1011-2:2001", "C.3, method B", Standing.FROM_MEMORY)


@formula(
    "C + Mn / 6 + (Cr + Mo + V) / 5 + (Ni + Cu) / 15",
    symbol="CE",
    source=IIW,
    validity="mass per cent; C 0.05 to 0.25, Si to 0.8, Mn to 1.7, Cr to 0.9, Cu to 1.0, Ni to 2.5, Mo to 0.75, "
    "V to 0.2 (ranges from memory)",
    C="carbon",
    Mn="manganese",
    Cr="chromium",
    Mo="molybdenum",
    V="vanadium",
    Ni="nickel",
    Cu="copper",
)
def carbon_equivalent_iiw(
    *,
    carbon: Number,
    manganese: Number,
    chromium: Number,
    molybdenum: Number,
    vanadium: Number,
    nickel: Number,
    copper: Number,
) -> Number:
    """Return CE(IIW) from mass per cent of a certificate; never from the maxima of a standard together."""


@formula(
    "C + (Mn + Mo) / 10 + (Cr + Cu) / 20 + Ni / 40",
    symbol="CET",
    source=CET_SOURCE,
    validity="mass per cent; C 0.05 to 0.32, Si to 0.8, Mn 0.5 to 1.9, Cr to 1.5, Cu to 0.7, Mo to 0.75, Nb to 0.06, "
    "Ni to 2.5, V to 0.18, B to 0.005",
    C="carbon",
    Mn="manganese",
    Mo="molybdenum",
    Cr="chromium",
    Cu="copper",
    Ni="nickel",
)
def carbon_equivalent_cet(
    *, carbon: Number, manganese: Number, molybdenum: Number, chromium: Number, copper: Number, nickel: Number
) -> Number:
    """Return CET from mass per cent."""


@formula(
    "C + Si / 30 + (Mn + Cu + Cr) / 20 + Ni / 60 + Mo / 15 + V / 10 + 5 * B",
    symbol="Pcm",
    source=PCM_SOURCE,
    validity="mass per cent; C to 0.18",
    C="carbon",
    Si="silicon",
    Mn="manganese",
    Cu="copper",
    Cr="chromium",
    Ni="nickel",
    Mo="molybdenum",
    V="vanadium",
    B="boron",
)
def crack_parameter(
    *,
    carbon: Number,
    silicon: Number,
    manganese: Number,
    copper: Number,
    chromium: Number,
    nickel: Number,
    molybdenum: Number,
    vanadium: Number,
    boron: Number,
) -> Number:
    """Return Pcm from mass per cent."""


@formula(
    "697 * CET + 160 * tanh(d / 35) + 62 * H**0.35 + (53 * CET - 32) * Q - 328",
    symbol="T_p",
    source=PREHEAT_BY_CET,
    validity="CET 0.2 to 0.5; d 10 to 90 mm; hydrogen 1 to 20 ml/100 g; Q 0.5 to 4.0 kJ/mm; yield to 1000 N/mm²",
    CET="equivalent",
    d="thickness",
    H="hydrogen",
    Q="heat",
)
def preheat_temperature(
    *, equivalent: Number, thickness: Length, hydrogen: Hydrogen, heat: HeatPerLength
) -> Temperature:
    """Return the minimum preheat against cold cracks; ``thickness`` is that of the thicker single plate."""


def _plain(*shares: Quantity) -> tuple[float, ...]:
    return tuple(magnitude(share, "1") for share in shares)


def metal_figures(group: SeamGroup, heat: Quantity, known: float = 0.0, passes: int = 1) -> tuple[Figure, ...]:
    """Return carbon equivalents of the more hardenable component, preheat, shortest and longest cooling time.

    ``known`` is the share of itself to which the heat input is known.
    """
    material = _decisive(group)
    ce = _equivalent(CE, carbon_equivalent_iiw, material, CE_RANGES)
    cet = _equivalent(CET, carbon_equivalent_cet, material, CET_RANGES)
    pcm = _equivalent(PCM, crack_parameter, material, PCM_RANGES)
    preheat = _preheat(group, cet, heat)
    if _is_stainless(material):
        why = _unfit(material, {})
        return ce, cet, pcm, preheat, no_number(SHORTEST, why), no_number(LONGEST, why)
    return ce, cet, pcm, preheat, *_cooling(group, preheat, heat, known, passes)


def _decisive(group: SeamGroup) -> Material:
    """Return the component's material that hardens more: stainless first (no method applies), else the greater CE."""
    first, second = group.materials
    if first.id == second.id:
        return first
    return max(group.materials, key=lambda material: (_is_stainless(material), _ce(material)))


def _is_stainless(material: Material) -> bool:
    return material.base == "austenitic stainless"


def _ce(material: Material) -> float:
    return magnitude(carbon_equivalent_iiw(**_shares(carbon_equivalent_iiw, material)), "1")


def _shares(formula: Formula, material: Material) -> dict[str, Quantity]:
    """Return mass per cent by argument of a formula; an element that the table does not state counts as none."""
    stated = {str(symbol): float(number) for symbol, number in material.composition.items()}
    return {item.name: quantity(stated.get(_SYMBOLS[item.name], 0.0), "1") for item in formula.inputs}


def _equivalent(name: Name, formula: Formula, material: Material, ranges: _Ranges) -> Figure:
    reasons = _unfit(material, ranges)
    if reasons:
        return no_number(name, reasons)
    remarks = (
        Remark(Weight.NOTE, f"{material.designation}: {material.composition_basis}", reader="auditor"),
        *_missing(formula, material),
    )
    return result(name, formula.work(**_shares(formula, material)), digits=2, remarks=remarks)


def _unfit(material: Material, ranges: _Ranges) -> str:
    if _is_stainless(material):
        return f"{material.designation} is austenitic stainless, the method is for unalloyed and low-alloy steel"
    stated = {str(symbol): float(number) for symbol, number in material.composition.items()}
    absent = " and ".join(word for symbol, word in _NEEDED.items() if symbol not in stated)
    if absent:
        return f"the table of materials states no {absent} content of {material.designation}"
    faults = (
        f"{symbol} {stated[symbol]:g} % is not in {low:g} to {high:g} %"
        for symbol, (low, high) in ranges.items()
        if symbol in stated and not low <= stated[symbol] <= high
    )
    return ", ".join(faults)


def _missing(formula: Formula, material: Material) -> tuple[Remark, ...]:
    used = [_SYMBOLS[item.name] for item in formula.inputs]
    absent = ", ".join(symbol for symbol in used if symbol not in material.composition)
    return (Remark(Weight.NOTE, f"not stated by the table of materials and taken as none: {absent}"),) if absent else ()


def _preheat(group: SeamGroup, cet: Figure, heat: Quantity) -> Figure:
    thickest = max((component.thickness for component in group.components), key=in_mm)
    reasons = separated(_preheat_faults(group, cet, heat, thickest))
    hydrogen = None if group.filler is None else group.filler.hydrogen
    if reasons or cet.value is None or hydrogen is None:
        return replace(no_number(PREHEAT, reasons), remarks=tuple(_instead(group)))
    worked = preheat_temperature.work(equivalent=cet.value, thickness=thickest, hydrogen=hydrogen, heat=heat)
    origin = Given("diffusible hydrogen", hydrogen, "ml/100g", group.wire.hydrogen_source)
    remarks = [Remark(Weight.WARNING, "the constants rest on memory", preheat_temperature.source)]
    if in_celsius(worked.result) < in_celsius(ROOM):
        remarks.append(Remark(Weight.NOTE, "below room temperature: no preheat, weld dry parts at room temperature"))
    return result(PREHEAT, worked, before=(origin,), digits=2, remarks=tuple(remarks))


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


def _cooling(group: SeamGroup, preheat: Figure, heat: Quantity, known: float, passes: int) -> tuple[Figure, Figure]:
    start = ROOM if preheat.value is None else max(ROOM, preheat.value, key=in_celsius)
    words = "20 °C ambient; no preheat calculated" if preheat.value is None else "preheat, or a room at 20 °C"
    origin = Given("temperature before welding", start, "°C", words)
    warmest = interpass_maximum(group)
    again = None
    if passes > 1 and warmest is not None:
        again = Given("temperature before a further pass", warmest.value, "°C", warmest.source)
    return cooling_times(group, origin, heat, known, again)
