"""What an arc row asks: its seams with what they are welded of and with, gathered into groups that are set alike.

Names have been checked against the tables by the room that reads the order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, cast

from weld_packets.calculation.listed import check_listed
from weld_packets.calculation.measure import in_mm
from weld_packets.errors import Gathering, refusal
from weld_packets.model.approved_tables import Shop
from weld_packets.model.machines import Arm, PowerSource
from weld_packets.model.order import ArcRow, Part, Seam, Tacks
from weld_packets.model.tables import Gas, Material, Wire
from weld_packets.model.trade import QualityLevel
from weld_packets.processes.arc.size.closed import welded_length_mm
from weld_packets.processes.arc.size.flare import FLARE, check_throat
from weld_packets.units import Quantity

BUTT = "square butt"
_SIZES = ("throat", "leg", "gap", "cap_width", "cap_height")


@dataclass(frozen=True)
class Ask:
    """Seams of one arm that are set alike, with their places in the row and their welded lengths in mm.

    Tacks, arc start and crater are as the order states them, None where it does not.
    """

    indices: tuple[int, ...]
    seams: tuple[Seam, ...]
    lengths: tuple[float, ...]
    parts: tuple[Part, Part]
    materials: tuple[Material, Material]
    arm: Arm
    machine: PowerSource
    wire: Wire
    gas: Gas
    quality: QualityLevel
    tacks: Tacks | None = None
    arc_start: str | None = None
    crater_fill: str | None = None

    @property
    def seam(self) -> Seam:
        """The first of the seams, which stands for all in everything but its path."""
        return self.seams[0]

    @property
    def governing(self) -> Quantity:
        """The thickness that decides the row of a schedule: that of the thinner part."""
        return min((part.thickness for part in self.parts), key=in_mm)

    @property
    def is_butt(self) -> bool:
        """Whether the weld fills the gap of a butt."""
        return self.seam.joint == BUTT

    @property
    def is_fillet(self) -> bool:
        """Whether the weld is a fillet, whose throat follows from its cross-section."""
        return self.seam.joint not in (BUTT, FLARE)


def asks(row: ArcRow, shop: Shop, gathering: Gathering) -> tuple[Ask, ...]:
    """Return the groups of seams in the order in which they first appear; problems go to ``gathering``."""
    grouped: dict[tuple[Any, ...], list[tuple[int, Seam, float]]] = {}
    for index, seam in enumerate(row.seams):
        with gathering.step(key=f"seams[{index}]"):
            _check_cap(seam)
            for part in (_part(row, name) for name in seam.parts):
                check_listed(part, shop.materials[part.material], "parts")
            _check_wire(seam, row, shop)
            if seam.joint == FLARE:
                first, second = (_part(row, name) for name in seam.parts)
                check_throat((first, second), cast("Quantity", seam.throat))
            member = index, seam, welded_length_mm(seam, shop.plant)
            grouped.setdefault(tuple(_alike(seam, row)), []).append(member)
    return tuple(_ask(members, row, shop) for members in grouped.values())


def _ask(members: list[tuple[int, Seam, float]], row: ArcRow, shop: Shop) -> Ask:
    indices, seams, lengths = zip(*members, strict=True)
    arm = shop.arms[seams[0].arm]
    first, second = (_part(row, name) for name in seams[0].parts)
    return Ask(
        indices=indices,
        seams=seams,
        lengths=lengths,
        parts=(first, second),
        materials=(shop.materials[first.material], shop.materials[second.material]),
        arm=arm,
        machine=shop.power_sources[arm.equipment],
        wire=shop.wires[row.wire],
        gas=shop.gases[row.gas],
        quality=row.quality,
        tacks=seams[0].tacks or row.tacks,
        arc_start=row.arc_start,
        crater_fill=row.crater_fill,
    )


def _part(row: ArcRow, name: str) -> Part:
    return next(part for part in row.parts if part.id == name)


def _alike(seam: Seam, row: ArcRow) -> Iterator[object]:
    """Yield everything that decides the settings of a seam; sizes rounded to drop noise of a unit's conversion."""
    yield from (seam.arm, seam.joint, seam.position, str(seam.work_angle), str(seam.travel_angle), seam.set_number)
    parts = (_part(row, name) for name in seam.parts)
    yield from sorted((part.material, round(in_mm(part.thickness), 9), str(part.section)) for part in parts)
    yield from (seam.edge, seam.flush, str(seam.tacks), str(seam.overlap))
    for size in (getattr(seam, name) for name in _SIZES):
        yield None if size is None else round(in_mm(size), 9)


def _check_cap(seam: Seam) -> None:
    if seam.joint != BUTT and not (seam.cap_width is None and seam.cap_height is None):
        raise refusal("a fillet has no cap", "remove 'cap width' and 'cap height'", key="cap width")
    if (seam.cap_width is None) != (seam.cap_height is None):
        raise refusal("a cap needs both width and height", "give both, or neither", key="cap width")


def _check_wire(seam: Seam, row: ArcRow, shop: Shop) -> None:
    wire = shop.wires[row.wire]
    for name in seam.parts:
        base = shop.materials[_part(row, name).material].base
        if base not in wire.bases:
            raise refusal(
                f"wire {wire.id} is for {' and '.join(wire.bases)}; part {name} is {base}",
                "choose a wire for this base metal, or check the material of the part",
                key="parts",
                value=wire.id,
            )
