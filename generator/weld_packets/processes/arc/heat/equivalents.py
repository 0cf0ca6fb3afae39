"""Carbon equivalents of the component that hardens more, and the steels for which each was made."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from weld_packets.calculation.formula import Formula, Number, Source, formula
from weld_packets.calculation.readings import no_number, result
from weld_packets.calculation.trace import Figure, Name, Remark, Weight
from weld_packets.model.tables.materials import Material
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, kinds, magnitude, quantity

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
"""EN 1011-2 method B, as quoted in the same list; its titanium to 0.12 % is no element of the table of materials."""
PCM_RANGES: _Ranges = MappingProxyType({"C": (0, 0.18)})
"""Carbon up to which Pcm is used, from memory."""
_NEEDED = MappingProxyType({"C": "carbon", "Mn": "manganese"})
"""Every unalloyed steel holds both, so that a list without one is no analysis; the rest may be too little to state."""
IIW = Source("EN 1011-2:2001", "carbon equivalent CE of the IIW")
CET_SOURCE = Source("EN 1011-2:2001", "C.3, carbon equivalent CET, as quoted in a list of a maker of fasteners, 2021")
PCM_SOURCE = Source("Ito and Bessyo", "crack parameter Pcm, as quoted in a list of a maker of fasteners, 2021")


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


def equivalents(material: Material) -> tuple[Figure, Figure, Figure]:
    """Return the carbon equivalents CE and CET and the crack parameter Pcm, without a number outside their ranges."""
    return (
        _equivalent(CE, carbon_equivalent_iiw, material, CE_RANGES),
        _equivalent(CET, carbon_equivalent_cet, material, CET_RANGES),
        _equivalent(PCM, crack_parameter, material, PCM_RANGES),
    )


def decisive(group: SeamGroup) -> Material:
    """Return the component's material that hardens more: stainless first (no method applies), else the greater CE."""
    first, second = group.materials
    if first.id == second.id:
        return first
    return max(group.materials, key=lambda material: (is_stainless(material), _ce(material)))


def is_stainless(material: Material) -> bool:
    """Return whether a material is austenitic stainless steel, for which no method here is made."""
    return material.base == "austenitic stainless"


def _ce(material: Material) -> float:
    return magnitude(carbon_equivalent_iiw(**_shares(carbon_equivalent_iiw, material)), "1")


def _shares(formula: Formula, material: Material) -> dict[str, Quantity]:
    """Return mass per cent by argument of a formula; an element that the table does not state counts as none."""
    stated = {str(symbol): float(number) for symbol, number in material.composition.items()}
    return {item.name: quantity(stated.get(_SYMBOLS[item.name], 0.0), "1") for item in formula.inputs}


def _equivalent(name: Name, formula: Formula, material: Material, ranges: _Ranges) -> Figure:
    reasons = unfit(material, ranges)
    if reasons:
        return no_number(name, reasons)
    remarks = (
        Remark(Weight.NOTE, f"{material.designation}: {material.composition_basis}", reader="auditor"),
        *_missing(formula, material),
    )
    return result(name, formula.work(**_shares(formula, material)), digits=2, remarks=remarks)


def unfit(material: Material, ranges: _Ranges) -> str:
    """Return why a method does not hold for a material, by the elements of its ``ranges``; empty where it does."""
    if is_stainless(material):
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
