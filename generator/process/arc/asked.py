"""What an arc row asks: its seams resolved against the shop, and gathered into groups that are set alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from generator.errors import Gathering, OutOfRangeError, Problem, refusal
from generator.model.machines import Arm, PowerSource
from generator.model.order import ArcRow, Part, Seam
from generator.model.shop import Shop
from generator.model.tables import Gas, Material, Wire
from generator.model.trade import QualityLevel
from generator.process.arc.path import length_mm
from generator.process.measure import in_mm
from generator.units import Quantity

Entry = TypeVar("Entry")
FILLETS = ("T fillet", "lap fillet", "corner fillet")


@dataclass(frozen=True)
class Means:
    """What a row welds with: wire, gas, and per arm its power source."""

    wire: Wire
    gas: Gas
    arms: Mapping[str, tuple[Arm, PowerSource]]


@dataclass(frozen=True)
class Ask:
    """Seams of one arm that are set alike, with their places in the row and their lengths in mm."""

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

    @property
    def seam(self) -> Seam:
        """The first of the seams, which stands for all in everything but its path."""
        return self.seams[0]

    @property
    def governing(self) -> Quantity:
        """The thickness that decides the row of a schedule: that of the thinner part."""
        return min((part.thickness for part in self.parts), key=in_mm)

    @property
    def is_fillet(self) -> bool:
        """Whether the weld has a throat rather than a gap."""
        return self.seam.joint in FILLETS


def means(row: ArcRow, shop: Shop) -> Means:
    """Return wire, gas and arms of a row; raises OutOfRangeError with every name that the tables lack."""
    gathering = Gathering()
    arms: dict[str, tuple[Arm, PowerSource]] = {}
    with gathering.step(key="wire"):
        wire = known(shop.wires, row.wire, "wire", "wires")
        if wire.process != row.process:
            raise refusal(
                f"wire {wire.id} is for process {wire.process}, the row is process {row.process}",
                "choose a wire of this process",
                value=row.wire,
            )
    with gathering.step(key="gas"):
        gas = known(shop.gases, row.gas, "gas", "gases")
    for side, name in enumerate(row.arms):
        with gathering.step(key=f"arms[{side}]"):
            arm = known(shop.arms, name, "arm", "arms of the table of machines")
            arms[name] = arm, known(shop.power_sources, arm.equipment, "power source", "power sources of that table")
    gathering.finish(OutOfRangeError)
    return Means(wire, gas, arms)


def known(entries: Mapping[str, Entry], name: str, what: str, where: str) -> Entry:
    """Return the entry of that name; raises OutOfRangeError that lists the names there are."""
    if name not in entries:
        there = ", ".join(sorted(entries)) or "none"
        raise refusal(f"no {what} is called {name}", f"choose one of the {where}: {there}", value=name)
    return entries[name]


def asks(row: ArcRow, using: Means, shop: Shop, gathering: Gathering) -> tuple[Ask, ...]:
    """Return the groups of seams in the order in which they first appear; problems go to ``gathering``."""
    grouped: dict[tuple[Any, ...], list[tuple[int, Seam, float]]] = {}
    for index, seam in enumerate(row.seams):
        before = len(gathering.problems)
        _check(row, index, gathering)
        with gathering.step(key=f"seams[{index}]"):
            length = length_mm(seam.path)
            if len(gathering.problems) == before:
                grouped.setdefault(_alike(seam, row), []).append((index, seam, length))
    asked = []
    for members in grouped.values():
        with gathering.step(key=f"seams[{members[0][0]}]"):
            asked.append(_ask(members, row, using, shop))
    return tuple(asked)


def _ask(members: list[tuple[int, Seam, float]], row: ArcRow, using: Means, shop: Shop) -> Ask:
    seam = members[0][1]
    first, second = (_part(row, name) for name in seam.parts)
    arm, machine = using.arms[seam.arm]
    return Ask(
        indices=tuple(index for index, *_ in members),
        seams=tuple(member for _, member, _ in members),
        lengths=tuple(length for *_, length in members),
        parts=(first, second),
        materials=(_material(first, shop), _material(second, shop)),
        arm=arm,
        machine=machine,
        wire=using.wire,
        gas=using.gas,
        quality=row.quality,
    )


def _part(row: ArcRow, name: str) -> Part:
    return next(part for part in row.parts if part.id == name)


def _material(part: Part, shop: Shop) -> Material:
    return known(shop.materials, part.material, "material", "materials")


def _alike(seam: Seam, row: ArcRow) -> tuple[Any, ...]:
    """Return everything that decides the settings of a seam; sizes rounded to drop noise of a unit's conversion."""
    sizes = (seam.throat, seam.leg, seam.gap, seam.cap_width, seam.cap_height)
    parts = (_part(row, name) for name in seam.parts)
    sheets = tuple((part.material, round(in_mm(part.thickness), 9)) for part in parts)
    return (
        seam.arm,
        seam.joint,
        seam.position,
        sheets,
        tuple(None if size is None else round(in_mm(size), 9) for size in sizes),
        seam.work_angle,
        seam.travel_angle,
    )


def _check(row: ArcRow, index: int, gathering: Gathering) -> None:
    seam = row.seams[index]
    key = f"seams[{index}]"
    parts = [part.id for part in row.parts]
    for side, name in enumerate(seam.parts):
        if name not in parts:
            offered = ", ".join(parts)
            gathering.add(_problem(f"{key}.parts[{side}]", name, "this row has no such part", f"choose from {offered}"))
    if seam.arm not in row.arms:
        offered = " or ".join(row.arms)
        gathering.add(_problem(f"{key}.arm", seam.arm, "not an arm of this row", f"write {offered}"))
    for name, message, remedy in _size_faults(seam):
        gathering.add(_problem(f"{key}.{name}", "", message, remedy))


def _size_faults(seam: Seam) -> list[tuple[str, str, str]]:
    butt_sizes = [name for name in ("gap", "cap_width", "cap_height") if getattr(seam, name) is not None]
    fillet_sizes = [name for name in ("throat", "leg") if getattr(seam, name) is not None]
    faults = []
    if seam.joint in FILLETS:
        if len(fillet_sizes) != 1:
            faults.append(("throat", "a fillet needs either its throat or its leg", "give exactly one of the two"))
        faults += [(name.replace("_", " "), "a fillet has none", "remove it") for name in butt_sizes]
        return faults
    faults += [(name, "a butt weld has none", "remove it, and give the gap") for name in fillet_sizes]
    if seam.gap is None:
        faults.append(("gap", "a butt weld needs its gap", "give the gap, 0 mm where the edges touch"))
    if (seam.cap_width is None) != (seam.cap_height is None):
        faults.append(("cap width", "a cap needs width and height", "give both, or neither"))
    return faults


def _problem(key: str, value: str, message: str, remedy: str) -> Problem:
    return Problem("", 0, key, value, message, remedy)
