"""The seams of an arc operation, with what they are welded of and with, in groups of equal settings.

Names have been checked against the tables by the package that reads the order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import dist
from typing import Any, cast

from weld_packets.calculation.places.path import end_mm, length_mm, start_mm
from weld_packets.calculation.results import SeamKind
from weld_packets.errors import Gathering, refusal
from weld_packets.model.order import Component
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import ArcSource, PowerSource, Robot
from weld_packets.model.tables.materials import Gas, Material, Wire
from weld_packets.model.tables.plant import Plant
from weld_packets.model.trade import QualityLevel
from weld_packets.processes.arc.records import ArcOperation, Seam, Tacks
from weld_packets.processes.arc.size.flare import FLARE, check_throat
from weld_packets.units import Quantity, as_written, in_mm

BUTT = "square butt"


_SIZES = ("throat", "leg", "gap", "weld_cap_width", "weld_cap_height")


def sizes_by_letter(seam: Seam) -> tuple[tuple[str, Quantity], ...]:
    """Return the sizes that the order requires of a seam, each with its letter on a drawing."""
    sizes = (("a", seam.throat), ("z", seam.leg), ("b", seam.gap))
    return tuple((letter, size) for letter, size in sizes if size is not None)


@dataclass(frozen=True)
class SeamGroup:
    """Seams of one robot with equal settings, with their places in the operation and their welded lengths in mm.

    Tacks, arc start and crater are as the order states them, None where it does not.
    """

    indices: tuple[int, ...]
    seams: tuple[Seam, ...]
    lengths: tuple[float, ...]
    components: tuple[Component, Component]
    materials: tuple[Material, Material]
    robot: Robot
    machine: ArcSource
    process: str
    filler: Wire | None
    gas: Gas
    quality: QualityLevel
    electrode: str | None = None
    tacks: Tacks | None = None
    arc_start: str | None = None
    crater_fill: str | None = None

    @property
    def kind(self) -> SeamKind:
        """What kind of seams they are."""
        return SeamKind(
            joint=self.seam.joint,
            sizes=sizes_by_letter(self.seam),
            position=self.seam.position,
            sheets=tuple(component.thickness for component in self.components),
        )

    @property
    def wire(self) -> Wire:
        """The wire of a process that has one; ValueError for one that adds no filler."""
        if self.filler is None:
            raise ValueError(self.process)
        return self.filler

    @property
    def feeder(self) -> PowerSource:
        """The power source of a wire that melts in the arc; TypeError for another one."""
        if not isinstance(self.machine, PowerSource):
            raise TypeError(self.machine.name)
        return self.machine

    @property
    def seam(self) -> Seam:
        """The first of the seams, which represents all in everything but its path."""
        return self.seams[0]

    @property
    def governing(self) -> Quantity:
        """The thickness that decides the row of a chart: that of the thinner component."""
        return min((component.thickness for component in self.components), key=in_mm)

    @property
    def is_butt(self) -> bool:
        """Whether the weld fills the gap of a butt."""
        return self.seam.joint == BUTT

    @property
    def is_fillet(self) -> bool:
        """Whether the weld is a fillet, whose throat follows from its cross-section."""
        return self.seam.joint not in (BUTT, FLARE)


def seam_groups(
    operation: ArcOperation, approved: ApprovedTables, machines: Mapping[str, ArcSource], gathering: Gathering
) -> tuple[SeamGroup, ...]:
    """Return the groups of seams in the order in which they first appear; problems go to ``gathering``.

    ``machines`` are the power sources of the process by identifier.
    """
    grouped: dict[tuple[Any, ...], list[tuple[int, Seam, float]]] = {}
    for index, seam in enumerate(operation.seams):
        with gathering.step(key=f"seams[{index}]"):
            _check_cap(seam)
            if operation.wire is not None:
                _check_wire(seam, operation, approved.wires[operation.wire], approved)
            if seam.joint == FLARE:
                first, second = (_component(operation, name) for name in seam.components)
                check_throat((first, second), cast("Quantity", seam.throat))
            member = index, seam, welded_length_mm(seam, approved.plant)
            grouped.setdefault(tuple(_set_by(seam, operation)), []).append(member)
    return tuple(_group(members, operation, approved, machines) for members in grouped.values())


def _group(
    members: list[tuple[int, Seam, float]],
    operation: ArcOperation,
    approved: ApprovedTables,
    machines: Mapping[str, ArcSource],
) -> SeamGroup:
    indices, seams, lengths = zip(*members, strict=True)
    robot = approved.robots[seams[0].robot]
    first, second = (_component(operation, name) for name in seams[0].components)
    return SeamGroup(
        indices=indices,
        seams=seams,
        lengths=lengths,
        components=(first, second),
        materials=(approved.materials[first.material], approved.materials[second.material]),
        robot=robot,
        machine=machines[robot.equipment],
        process=operation.process,
        filler=None if operation.wire is None else approved.wires[operation.wire],
        electrode=operation.electrode,
        gas=approved.gases[operation.gas],
        quality=operation.quality,
        tacks=seams[0].tacks or operation.tacks,
        arc_start=operation.arc_start,
        crater_fill=operation.crater_fill,
    )


def _component(operation: ArcOperation, name: str) -> Component:
    return next(component for component in operation.components if component.id == name)


def _set_by(seam: Seam, operation: ArcOperation) -> Iterator[object]:
    """Yield everything that decides the settings of a seam; sizes rounded to drop noise of a unit's conversion."""
    yield from (seam.robot, seam.joint, seam.position, str(seam.work_angle), str(seam.travel_angle), seam.weld_schedule)
    components = (_component(operation, name) for name in seam.components)
    yield from sorted(
        (component.material, round(in_mm(component.thickness), 9), str(component.section)) for component in components
    )
    yield from (seam.edge, seam.flush, str(seam.tacks), str(seam.overlap))
    for size in (getattr(seam, name) for name in _SIZES):
        yield None if size is None else round(in_mm(size), 9)


def _check_cap(seam: Seam) -> None:
    if seam.joint != BUTT and not (seam.weld_cap_width is None and seam.weld_cap_height is None):
        raise refusal("a fillet has no weld cap", "remove 'weld cap width' and 'weld cap height'", key="weld cap width")
    if (seam.weld_cap_width is None) != (seam.weld_cap_height is None):
        raise refusal("a weld cap needs both width and height", "give both, or neither", key="weld cap width")


def _check_wire(seam: Seam, operation: ArcOperation, wire: Wire, approved: ApprovedTables) -> None:
    for name in seam.components:
        base = approved.materials[_component(operation, name).material].base
        if base not in wire.bases:
            raise refusal(
                f"wire {wire.id} is for {' and '.join(wire.bases)}; component {name} is {base}",
                "choose a wire for this base metal, or check the material of the component",
                key="components",
                value=wire.id,
            )


# ---------------------------------------------------------------- how long the weld on a seam is


CLOSES = 0.01
"""Millimetres within which a path ends where it started: closer than that no program distinguishes two points."""


def closes(seam: Seam) -> bool:
    """Return whether the path of a seam ends where it started."""
    return dist(start_mm(seam.path), end_mm(seam.path)) < CLOSES


def overlap_mm(seam: Seam, plant: Plant) -> float:
    """Return how far the weld of a closed path runs on over its start, in mm: 0 for an open one, or none stated.

    Raises OutOfRangeError for an overlap of an open path, and for one longer than the path.
    """
    if not closes(seam):
        if seam.overlap is not None:
            raise refusal(
                "an overlap is for a path that ends where it started",
                "remove 'overlap', or close the path",
                key="overlap",
                value=as_written(seam.overlap),
            )
        return 0.0
    overlap = seam.overlap or plant.closed_seam_overlap
    found = 0.0 if overlap is None else in_mm(overlap)
    if overlap is not None and found > length_mm(seam.path):
        raise refusal(
            "the overlap is longer than the path", "write a shorter 'overlap'", key="overlap", value=as_written(overlap)
        )
    return found


def welded_length_mm(seam: Seam, plant: Plant) -> float:
    """Return the length of weld on a seam in mm: its path, and the overlap of a closed one."""
    return length_mm(seam.path) + overlap_mm(seam, plant)
