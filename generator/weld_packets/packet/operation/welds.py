"""The welds of an operation as lines of a table and as places for comparison."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import singledispatch
from typing import Literal, NamedTuple

from weld_packets.calculation.reach import points_in_space
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Arc, ArcOperation, Component, Coordinates, Line, Path, Seam, Spot, SpotOperation
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import ComponentOutline, SettingGroup, WeldGeometry, WeldLine
from weld_packets.processes.arc.path import length_mm
from weld_packets.units import Quantity, exact, plain, rounded, spelling
from weld_packets.units.digits import HUNDREDTH
from weld_packets.units.scales import converted, quantum_elsewhere, quantum_of, sheet_amount

SPOT_COLUMNS = ("Spot", "Robot", "Stack")
INCHES = ("in", "ft")
FINEST = {"mm": Decimal("0.1"), "in": Decimal("0.01")}
"""A coordinate converted from another unit has at least these digits."""
SEAM_COLUMNS = ("Seam", "Robot", "Joint", "Size", "Position", "Passes", "Components")


def welds_of(operation: ArcOperation | SpotOperation, robot: str) -> tuple[str, ...]:
    """Return the welds of one robot in sequence."""
    return tuple(weld.id for weld in _all(operation) if weld.robot == robot)


def _all(operation: ArcOperation | SpotOperation) -> tuple[Seam, ...] | tuple[Spot, ...]:
    return operation.seams if isinstance(operation, ArcOperation) else operation.spots


class Numbered(NamedTuple):
    """A weld with the side of the pair whose robot makes it, and its number in that robot's sequence."""

    weld: Seam | Spot
    side: Literal["A", "B"]
    number: int

    @property
    def mark(self) -> str:
        """Side and number, such as ``A3``."""
        return f"{self.side}{self.number}"


def numbered(view: OperationView) -> Iterator[Numbered]:
    """Yield each weld of an operation, numbered in its robot's sequence."""
    counts = dict.fromkeys((robot.id for robot in view.robots), 0)
    for weld in _all(view.operation):
        counts[weld.robot] += 1
        yield Numbered(weld, view.side(weld.robot), counts[weld.robot])


def weld_columns(view: OperationView) -> tuple[str, ...]:
    """Return the heads of the table of welds."""
    if isinstance(view.operation, ArcOperation):
        unit = _unit(view)
        return (*SEAM_COLUMNS, f"Start x, y, z, {unit}", f"Stop x, y, z, {unit}", f"Length, {unit}")
    return (*SPOT_COLUMNS, *(f"{axis}, {_unit(view)}" for axis in "xyz"))


def _unit(view: OperationView) -> str:
    return "in" if view.order.show_first == "US customary" else "mm"


def weld_lines(view: OperationView) -> tuple[WeldLine, ...]:
    """Return every weld in sequence."""
    if isinstance(view.operation, SpotOperation):
        return tuple(_spot_lines(view, view.operation))
    groups = {weld: group for group in view.groups for weld in group.welds}
    return tuple(
        WeldLine(key=each.weld.id, cells=_cells(each.weld, view, groups))
        for each in numbered(view)
        if isinstance(each.weld, Seam)
    )


def _spot_lines(view: OperationView, operation: SpotOperation) -> Iterator[WeldLine]:
    """Yield the spots; the coordinates of one axis carry as many decimals as the finest of them."""
    places = [_written(spot, _unit(view)) for spot in operation.spots]
    quanta = [min(quantum_of(number) for number in axis) for axis in zip(*places, strict=True)]
    for each, place in zip(numbered(view), places, strict=True):
        spot = each.weld
        if isinstance(spot, Spot):
            texts = (plain(rounded(number, quantum)) for number, quantum in zip(place, quanta, strict=True))
            yield WeldLine(key=spot.id, cells=(spot.id, spot.robot, spot.stack, *texts))


def _cells(weld: Seam, view: OperationView, groups: dict[str, SettingGroup]) -> tuple[str, ...]:
    size = seam_size(weld, view)
    runs, parts = str(groups[weld.id].runs), " + ".join(weld.components)
    return (weld.id, weld.robot, weld.joint, size, weld.position, runs, parts, *_course(weld.path, _unit(view)))


def _course(path: Path, unit: str) -> tuple[str, str, str]:
    """Return start, stop and length of a seam in ``unit``."""
    start, stop = (", ".join(_coordinate(number, path.unit, unit) for number in at) for at in (path.start, _stop(path)))
    length = converted(Decimal(str(length_mm(path))), "mm", unit)
    return start, stop, plain(rounded(length, FINEST[unit]))


def _stop(path: Path) -> Coordinates:
    return path.pieces[-1].to


def _coordinate(number: Decimal, source: str, unit: str) -> str:
    """Return a coordinate in ``unit``: digits as its source has them, or rounded."""
    if source == unit:
        return plain(number)
    quantum = quantum_elsewhere(quantum_of(number), source, unit)
    return plain(rounded(converted(number, source, unit), min(quantum, FINEST[unit])))


def seam_size(seam: Seam, view: OperationView) -> str:
    """Return the asked size of a seam: throat a, leg z or gap b."""
    asked = (("a", seam.throat), ("z", seam.leg), ("b", seam.gap))
    return " ".join(
        f"{letter} {sheet_amount(size, view.order.show_first).text}" for letter, size in asked if size is not None
    )


def geometry(view: OperationView) -> tuple[WeldGeometry, ...]:
    """Return the place of every weld as decimal text in mm."""
    return tuple(
        WeldGeometry(
            key=each.weld.id,
            robot=each.weld.robot,
            side=each.side,
            form="spot" if isinstance(each.weld, Spot) else "seam",
            pieces=_pieces(each.weld),
            label=each.mark,
        )
        for each in numbered(view)
    )


def spot_place(spot: Spot) -> tuple[str, str, str]:
    """Return the coordinates of a spot as decimal text in mm."""
    return plain(exact(spot.x, "mm")), plain(exact(spot.y, "mm")), plain(exact(spot.z, "mm"))


def _written(spot: Spot, unit: str) -> tuple[Decimal, ...]:
    """Return the coordinates of a spot in ``unit``: digits as its source has them, or rounded."""
    return tuple(_in_unit(value, unit) for value in (spot.x, spot.y, spot.z))


def _in_unit(value: Quantity, unit: str) -> Decimal:
    source = spelling(value)
    number = exact(value, unit)
    if (source in INCHES) == (unit in INCHES):
        return number
    quantum = quantum_elsewhere(quantum_of(exact(value, source)), source, unit)
    return rounded(number, min(quantum, FINEST[unit]))


@singledispatch
def _pieces(weld: Seam | Spot) -> tuple[tuple[str, ...], ...]:
    raise TypeError(type(weld).__name__)


@_pieces.register
def _spot_pieces(weld: Spot) -> tuple[tuple[str, ...], ...]:
    return (spot_place(weld),)


@_pieces.register
def _seam_pieces(weld: Seam) -> tuple[tuple[str, ...], ...]:
    path = weld.path
    return (_point(path.start, path.unit), *(_piece(piece, path.unit) for piece in path.pieces))


def _piece(piece: Arc | Line, unit: str) -> tuple[str, ...]:
    end = _point(piece.to, unit)
    return (*_point(piece.via, unit), *end) if isinstance(piece, Arc) else end


def _point(coordinates: Coordinates, unit: str) -> tuple[str, ...]:
    return tuple(plain(in_mm(number, unit)) for number in coordinates)


def in_mm(number: Decimal, unit: str) -> Decimal:
    """Return a coordinate in mm."""
    return number.normalize() if unit == "mm" else converted(number, unit, "mm")


def sheets_of(operation: ArcOperation | SpotOperation, weld: str) -> tuple[Component, ...]:
    """Return the parts that a weld joins, in the order in which the operation names them."""
    components = {component.id: component for component in operation.components}
    return tuple(components[name] for name in _names(operation, weld))


def _names(operation: ArcOperation | SpotOperation, weld: str) -> tuple[str, ...]:
    if isinstance(operation, ArcOperation):
        return next(seam.components for seam in operation.seams if seam.id == weld)
    stack = next(spot.stack for spot in operation.spots if spot.id == weld)
    return next(each.sheets for each in operation.stacks if each.id == stack)


def component_outlines(view: OperationView) -> tuple[ComponentOutline, ...]:
    """Return the outlines of an operation's components as decimal text, in mm."""
    return tuple(
        ComponentOutline(component=component.name, points=tuple(map(_as_text, points_in_space(outline))))
        for component in view.operation.components
        for outline in component.outlines
        if outline.points
    )


def _as_text(point: Point) -> tuple[str, str, str]:
    x, y, z = (plain(Decimal(number).quantize(HUNDREDTH)) for number in point)
    return x, y, z
