"""From an operation of an order to what its diagrams are drawn from."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from weld_packets.calculation.measure import in_mm
from weld_packets.calculation.reach import point_in_mm, spot_point
from weld_packets.calculation.results import WeldSettings
from weld_packets.model.order import Arc, ArcOperation, Component, Line, Path, Seam, Spot
from weld_packets.model.order import Outline as Drawn
from weld_packets.model.trade import Joint, SystemOfUnits
from weld_packets.packet.diagrams.geometry import (
    Bend,
    JointForm,
    Lengths,
    Outline,
    Point3,
    Scene,
    SeamLine,
    SpotPoint,
    Straight,
    Trail,
)
from weld_packets.packet.diagrams.seams import seam_pictures
from weld_packets.packet.diagrams.spots import spot_pictures
from weld_packets.packet.numbers import STATED_DIGITS, sheet_amount, working
from weld_packets.packet.operation_view import OperationView
from weld_packets.packet.records import ComponentOutline, Picture, SettingGroup, Value
from weld_packets.packet.values import value_of
from weld_packets.packet.welds import sequence
from weld_packets.packet.wording import first_text, notes_of
from weld_packets.units import plain, quantity, with_unit

_DIAMETER = "target_weld_diameter"
_OUTLINE_DIGIT = Decimal("0.01")
_JOINT_FORMS: dict[Joint, JointForm] = {
    "T fillet": "T",
    "lap fillet": "lap",
    "corner fillet": "corner",
    "square butt": "butt",
    "flare bevel": "flare-bevel",
}


def pictures(view: OperationView) -> tuple[Picture, ...]:
    """Return the diagrams of an operation."""
    scene = scene_of(view)
    if isinstance(view.operation, ArcOperation):
        return seam_pictures(scene, seam_lines(view))
    return spot_pictures(scene, spot_points(view))


def scene_of(view: OperationView) -> Scene:
    """Return what all diagrams of an operation share: robots, datum, outlines, how lengths are written."""
    first, second = view.robots
    return Scene(
        key=view.key,
        datum=view.operation.datum,
        robots=(first.id, second.id),
        outlines=tuple(outline for component in view.operation.components for outline in _outlines(component)),
        lengths=_lengths(view.order.show_first),
    )


def component_outlines(view: OperationView) -> tuple[ComponentOutline, ...]:
    """Return the outlines of an operation's parts as decimal text."""
    drawn = (outline for component in view.operation.components for outline in _outlines(component))
    return tuple(
        ComponentOutline(component=outline.name, points=tuple(map(_as_text, outline.points))) for outline in drawn
    )


def _as_text(point: Point3) -> tuple[str, str, str]:
    x, y, z = (plain(Decimal(number).quantize(_OUTLINE_DIGIT)) for number in point)
    return x, y, z


def spot_points(view: OperationView) -> tuple[SpotPoint, ...]:
    """Return the spots of an operation, each with its number in its robot's sequence."""
    sizes = {weld: (_sheets(each), _diameter(each, view)) for each in view.result.settings for weld in each.welds}
    return tuple(
        SpotPoint(int(mark[1:]), spot.id, view.side(spot.robot), spot_point(spot), *sizes.get(spot.id, ("", "")))
        for spot, mark in sequence(view)
        if isinstance(spot, Spot)
    )


def _sheets(settings: WeldSettings) -> str:
    """Return the thicknesses of a stack, which stand after its name."""
    return settings.title.rpartition(": ")[2]


def _diameter(settings: WeldSettings, view: OperationView) -> str:
    figure = {each.key: each for each in settings.derived}.get(_DIAMETER)
    amount = None if figure is None else value_of(figure, view.showing, view.key).amount
    return "" if amount is None else amount.value


def seam_lines(view: OperationView) -> tuple[SeamLine, ...]:
    """Return the seams of an operation, each with its number in its robot's sequence and its torch angles."""
    groups = {weld: group for group in view.groups for weld in group.welds}
    return tuple(
        _seam_line(seam, int(mark[1:]), groups[seam.id], view)
        for seam, mark in sequence(view)
        if isinstance(seam, Seam)
    )


def _seam_line(seam: Seam, order: int, group: SettingGroup, view: OperationView) -> SeamLine:
    figures = {value.key: value for value in group.dialled}
    distance = figures.get("contact_distance")
    return SeamLine(
        order=order,
        label=seam.id,
        side=view.side(seam.robot),
        trail=_trail(seam.path),
        joint=_JOINT_FORMS[seam.joint],
        size=_size(seam, view.order.show_first),
        process=view.operation.process,
        position=seam.position,
        work_angle=_degrees(figures.get("work_angle")),
        travel_angle=_leaning(figures.get("travel_angle")),
        stick_out="" if distance is None else first_text(distance),
        runs=group.runs,
    )


def _degrees(value: Value | None) -> float | None:
    return None if value is None or value.amount is None else float(value.amount.value)


def _leaning(value: Value | None) -> float | None:
    """Return the travel angle, negative where the torch drags."""
    angle = _degrees(value)
    return -abs(angle) if angle and value is not None and "drag" in notes_of(value) else angle


def _size(seam: Seam, first: SystemOfUnits) -> str:
    for letter, size in (("a", seam.throat), ("z", seam.leg)):
        if size is not None:
            return f"{letter}{sheet_amount(size, first).value}"
    return ""


def _trail(path: Path) -> Trail:
    return Trail(point_in_mm(path.start, path.unit), tuple(_piece(piece, path) for piece in path.pieces))


def _piece(piece: Arc | Line, path: Path) -> Bend | Straight:
    end = point_in_mm(piece.to, path.unit)
    return Bend(point_in_mm(piece.via, path.unit), end) if isinstance(piece, Arc) else Straight(end)


def _outlines(component: Component) -> Iterator[Outline]:
    for outline in component.outlines:
        if outline.points:
            yield Outline(component.name, tuple(_in_space(outline)))


def _in_space(outline: Drawn) -> Iterator[Point3]:
    offset = 0.0 if outline.offset is None else in_mm(outline.offset)
    scale = in_mm(quantity(1.0, outline.unit or "mm"))
    for across, up in ((float(x) * scale, float(y) * scale) for x, y in outline.points):
        yield {"XY": (across, up, offset), "XZ": (across, offset, up), "YZ": (offset, across, up)}[outline.plane]


def _lengths(first: SystemOfUnits) -> Lengths:
    if first == "metric":
        return Lengths(lambda length: _length(length, "mm", "0.1"))
    inch = in_mm(quantity(1.0, "in"))
    return Lengths(lambda length: _length(length / inch, "in", "0.01"), inch)


def _length(number: float, unit: str, digit: str) -> str:
    return with_unit(working(Decimal(number).quantize(Decimal(digit)), STATED_DIGITS), unit)
