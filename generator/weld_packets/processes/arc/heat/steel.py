"""Composition: carbon equivalents and the preheat that follows from one of them."""

from __future__ import annotations

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
from weld_packets.units import Quantity, magnitude

IIW = Source("EN 1011-2:2001", "carbon equivalent CE of the IIW")
CET_SOURCE = Source("EN 1011-2:2001", "C.3, carbon equivalent CET", Standing.FROM_MEMORY)
PCM_SOURCE = Source("Ito and Bessyo", "crack parameter Pcm", Standing.FROM_MEMORY)
PREHEAT = Source("EN 1011-2:2001", "C.3, method B", Standing.FROM_MEMORY)


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
    source=PREHEAT,
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
