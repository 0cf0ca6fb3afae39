"""The welds of an operation as lines of a table and as places for comparison."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Literal, NamedTuple

from weld_packets.calculation.places.millimetres import points_in_space
from weld_packets.calculation.places.path import length_mm
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Arc, Component, Coordinates, Line, Path
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.settings import ComponentOutline, SettingGroup, WeldGeometry, WeldLine
from weld_packets.processes.answers import Weld
from weld_packets.units import Amount, Quantity, SystemOfUnits, exact, plain, rounded, spelling
from weld_packets.units.digits import HUNDREDTH
from weld_packets.units.scales import converted, minimum_amount, quantum_elsewhere, quantum_of, sheet_amount
from weld_packets.wording.english import capital

INCHES = ("in", "ft")
_MINIMA = ("a", "z")
"""Sizes that a fillet must reach; the gap of a butt is nominal."""
FINEST = {"mm": Decimal("0.1"), "in": Decimal("0.01")}
"""A coordinate converted from another unit has at least these digits."""


def welds_of(view: OperationView, robot: str) -> tuple[str, ...]:
    """Return the welds of one robot in sequence."""
    return tuple(weld.id for weld in view.welds if weld.robot == robot)


class Numbered(NamedTuple):
    """A weld with the side of the pair whose robot makes it, and its number in that robot's sequence."""

    weld: Weld
    side: Literal["A", "B"]
    number: int

    @property
    def mark(self) -> str:
        """Side and number, such as ``A3``."""
        return f"{self.side}{self.number}"


def numbered(view: OperationView) -> Iterator[Numbered]:
    """Yield each weld of an operation, numbered in its robot's sequence."""
    counts = dict.fromkeys((robot.id for robot in view.robots), 0)
    for weld in view.welds:
        counts[weld.robot] += 1
        yield Numbered(weld, view.side(weld.robot), counts[weld.robot])


def weld_columns(view: OperationView) -> tuple[str, ...]:
    """Return the heads of the table of welds: along lines, or at points."""
    unit, words = _unit(view), view.words
    head = (capital(words.weld), "Robot")
    if any(weld.path is not None for weld in view.welds):
        course = (f"Start x, y, z, {unit}", f"Stop x, y, z, {unit}", f"Length, {unit}")
        return (*head, "Joint", "Size", "Position", "Passes", "Components", *course)
    return (*head, words.group, *(f"{axis}, {unit}" for axis in "xyz"))


def _unit(view: OperationView) -> str:
    return "in" if view.order.show_first == "US customary" else "mm"


def weld_lines(view: OperationView) -> tuple[WeldLine, ...]:
    """Return every weld in sequence."""
    groups = {weld: group for group in view.groups for weld in group.welds}
    return (*_along_lines(view, groups), *_at_points(view))


def _along_lines(view: OperationView, groups: dict[str, SettingGroup]) -> Iterator[WeldLine]:
    for weld in view.welds:
        if weld.path is not None:
            size, passes, joined = weld_size(weld, view), str(groups[weld.id].pass_count), " + ".join(weld.components)
            cells = (weld.id, weld.robot, weld.joint or "", size, weld.position, passes, joined)
            yield WeldLine(key=weld.id, cells=(*cells, *_course(weld.path, _unit(view))))


def _at_points(view: OperationView) -> Iterator[WeldLine]:
    """Yield welds at points; the coordinates of one axis carry as many decimals as the finest of them."""
    found = [(weld, weld.point) for weld in view.welds if weld.point is not None]
    places = [tuple(_in_unit(value, _unit(view)) for value in point) for _, point in found]
    quanta = [min(quantum_of(number) for number in axis) for axis in zip(*places, strict=True)]
    for (weld, _), place in zip(found, places, strict=True):
        texts = (plain(rounded(number, quantum)) for number, quantum in zip(place, quanta, strict=True))
        yield WeldLine(key=weld.id, cells=(weld.id, weld.robot, weld.group, *texts))


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


def weld_size(weld: Weld, view: OperationView) -> str:
    """Return the sizes of a weld as its order shows them: leg z, throat a, gap b."""
    return " ".join(f"{letter} {amount.text}" for letter, amount in shown_sizes(weld, view.order.show_first))


def shown_sizes(weld: Weld, first: SystemOfUnits) -> Iterator[tuple[str, Amount]]:
    """Yield the required sizes of a weld by their letters; where US customary comes first, a leg before its throat.

    There fillets are drawn and gauged by their legs. The leg is rounded up: the throat is a minimum.
    """
    for letter, size in weld.sizes:
        if letter == "a" and weld.leg is not None and first == "US customary":
            yield "z", minimum_amount(weld.leg, first)
        yield letter, minimum_amount(size, first) if letter in _MINIMA else sheet_amount(size, first)


def geometry(view: OperationView) -> tuple[WeldGeometry, ...]:
    """Return the place of every weld as decimal text in mm."""
    return tuple(
        WeldGeometry(
            key=each.weld.id,
            robot=each.weld.robot,
            side=each.side,
            form="spot" if each.weld.path is None else "seam",
            pieces=_pieces(each.weld),
            label=each.mark,
        )
        for each in numbered(view)
    )


def _in_unit(value: Quantity, unit: str) -> Decimal:
    source = spelling(value)
    number = exact(value, unit)
    if (source in INCHES) == (unit in INCHES):
        return number
    quantum = quantum_elsewhere(quantum_of(exact(value, source)), source, unit)
    return rounded(number, min(quantum, FINEST[unit]))


def _pieces(weld: Weld) -> tuple[tuple[str, ...], ...]:
    if weld.path is not None:
        path = weld.path
        return (_point(path.start, path.unit), *(_piece(piece, path.unit) for piece in path.pieces))
    return (tuple(plain(exact(each, "mm")) for each in weld.point or ()),)


def _piece(piece: Arc | Line, unit: str) -> tuple[str, ...]:
    end = _point(piece.to, unit)
    return (*_point(piece.via, unit), *end) if isinstance(piece, Arc) else end


def _point(coordinates: Coordinates, unit: str) -> tuple[str, ...]:
    return tuple(plain(in_mm(number, unit)) for number in coordinates)


def in_mm(number: Decimal, unit: str) -> Decimal:
    """Return a coordinate in mm."""
    return number.normalize() if unit == "mm" else converted(number, unit, "mm")


def sheets_of(view: OperationView, weld: str) -> tuple[Component, ...]:
    """Return the components that a weld joins, in the order in which the operation names them."""
    components = {component.id: component for component in view.operation.components}
    return tuple(components[name] for each in view.welds if each.id == weld for name in each.components)


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
