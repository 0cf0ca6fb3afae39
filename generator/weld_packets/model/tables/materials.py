"""Tables of materials and of what is consumed: wires with their melting data, gases, electrode caps."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import (
    CoatingMass,
    Current,
    Density,
    Flag,
    Force,
    GasFlow,
    Hydrogen,
    Mark,
    Mass,
    Name,
    Number,
    Record,
    Share,
    Size,
    Stress,
    Temperature,
    Text,
    Thickness,
    Volume,
    Whole,
    WireFeed,
)
from weld_packets.model.processes import ArcNumber
from weld_packets.model.table import Table
from weld_packets.model.trade import BaseMetal, Coating, Polarity, TransferMode
from weld_packets.units import Quantity, in_mm, is_between, quantity

_HOLLOW = re.compile(r"S[0-9]{3}[A-Z0-9]*H\b")
"""Designations of EN 10219 and EN 10210, such as S235JRH; the last letter is for hollow sections."""

ROOM = quantity(20.0, "°C")
"""Temperature of a component that nobody has warmed."""


class Material(Record):
    """One sheet or plate material with its coating.

    ``working_temperature_minimum`` is what a component has before it is welded without preheat;
    ``interpass_maximum`` what it may have where another pass begins. ``tensile_strength`` is the minimum of its
    standard; spots of a material without one have no strengths.
    """

    id: Mark
    designation: Name
    standard: Name
    base: BaseMetal
    coating: Coating = "none"
    coating_mass: CoatingMass | None = None
    density: Density
    yield_strength: Stress | None = None
    tensile_strength: Stress | None = None
    composition: dict[Literal["C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "Nb", "B"], Number] = {}
    composition_basis: Text = "not stated"
    thickness_from: Thickness
    thickness_to: Thickness
    working_temperature_minimum: Temperature | None = None
    working_temperature_source: Text = "not stated"
    interpass_maximum: Temperature | None = None
    interpass_source: Text = "not stated"

    @property
    def is_hollow_section(self) -> bool:
        """Whether its designation is that of a hollow section, of which every component is a tube."""
        return _HOLLOW.search(self.designation) is not None

    def is_supplied_in(self, thickness: Quantity) -> bool:
        """Return whether a thickness lies in the range of stock, both ends included."""
        at, low, high = (in_mm(value) for value in (thickness, self.thickness_from, self.thickness_to))
        return is_between(low, at, high)


class Materials(Table):
    """Table of materials; composition in mass per cent."""

    kind: Literal["materials"]
    entries: Annotated[tuple[Material, ...], Field(min_length=1)]


class MeltingLaw(Record):
    """Constants of A·v = a·I + b·L·I²/A, which ties wire feed and current.

    A is the section of the wire (mm²), v its speed (mm/s), I the current (A), L the length that carries it (mm).
    ``arc`` is a in mm³/(A·s), ``resistance`` is b in mm⁴/(A²·s). ``arc_length`` is what the arc takes of the contact
    distance, by mode of transfer; the law is not used in a mode that is left out.
    """

    arc: Number
    resistance: Number
    arc_length: dict[TransferMode, Size]


class MeltingPoint(Record):
    """One wire feed with the current that it drew."""

    wire_feed: WireFeed
    current: Current


class Melting(Record):
    """How fast a wire melts under some gases: a law, or points measured over a range of contact distances.

    ``scatter`` is the share by which the wire feed of other machines differs at the same current.
    """

    gases: Annotated[tuple[Mark, ...], Field(min_length=1)]
    law: MeltingLaw | None = None
    points: tuple[MeltingPoint, ...] = ()
    contact_distance_from: Size | None = None
    contact_distance_to: Size | None = None
    scatter: Share
    source: Text
    from_memory: Flag = False


class Wire(Record):
    """One welding wire; without ``melting`` a chart must state its wire feed, and nothing is compared.

    ``classification`` is that of its standard without the diameter, by which qualification records name it; without it
    they name the identifier.
    """

    id: Mark
    designation: Name
    classification: Name | None = None
    standard: Name
    process: ArcNumber
    bases: tuple[BaseMetal, ...]
    diameter: Size
    density: Density
    efficiency: Share
    efficiency_source: Text
    hydrogen: Hydrogen | None = None
    hydrogen_source: Text = "not stated"
    current_from: Current
    current_to: Current
    current_source: Text
    spool: Mass
    chromium: Number | None = None
    polarity: Polarity | None = None
    polarity_source: Text = "not stated"
    melting: tuple[Melting, ...] = ()


class Wires(Table):
    """Table of wires."""

    kind: Literal["wires"]
    entries: Annotated[tuple[Wire, ...], Field(min_length=1)]


class Gas(Record):
    """One shielding gas by its ISO 14175 group; without ``carbon_dioxide`` its share of it is taken as unknown."""

    id: Mark
    group: Name
    content: Text
    flow_from: GasFlow
    flow_to: GasFlow
    cylinder: Volume
    cylinder_name: Name
    asphyxiant: Flag = True
    carbon_dioxide: Share | None = None


class Gases(Table):
    """Table of shielding gases."""

    kind: Literal["gases"]
    entries: Annotated[tuple[Gas, ...], Field(min_length=1)]


class CapLife(Record):
    """Welds between dressings on one coating."""

    coating: Coating
    welds_between_dressings: Whole
    basis: Text


class Cap(Record):
    """One electrode cap."""

    id: Mark
    designation: Name
    standard: Name
    body: Size
    face: Size
    maximum_force: Force
    dressings: Whole
    life: tuple[CapLife, ...]
    basis: Text


class Caps(Table):
    """Table of electrode caps."""

    kind: Literal["caps"]
    entries: Annotated[tuple[Cap, ...], Field(min_length=1)]
