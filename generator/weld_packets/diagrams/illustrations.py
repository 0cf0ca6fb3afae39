"""The pictures of a packet, drawn last: from the operations of its order to what each diagram is drawn from."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from weld_packets.calculation.reach import point_in_mm, points_in_space, spot_point
from weld_packets.calculation.results import WeldSettings
from weld_packets.diagrams.charts.of_settings import settings_charts
from weld_packets.diagrams.charts.pair import pair_charts
from weld_packets.diagrams.scene import Bend, JointForm, Lengths, Outline, Scene, SeamLine, SpotPoint, Straight, Trail
from weld_packets.diagrams.seams.map import seam_pictures
from weld_packets.diagrams.spots.map import spot_pictures
from weld_packets.model.order import Arc, ArcOperation, Line, Path, Seam, Spot
from weld_packets.model.trade import Joint
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import sequence
from weld_packets.packet.records import OperationSheet, Packet, Picture, SettingGroup, Value
from weld_packets.packet.settings.values import value_of
from weld_packets.planning import OrderPlan
from weld_packets.planning.pair.records import PairPlan
from weld_packets.planning.records import OperationPlan
from weld_packets.units import SystemOfUnits, in_mm, quantity, with_unit, working
from weld_packets.units.digits import STATED_DIGITS
from weld_packets.units.scales import sheet_amount

_DIAMETER = "target_weld_diameter"
_JOINT_FORMS: dict[Joint, JointForm] = {
    "T fillet": "T",
    "lap fillet": "lap",
    "corner fillet": "corner",
    "square butt": "butt",
    "flare bevel": "flare-bevel",
}


def illustrated(packet: Packet, views: Sequence[OperationView], plan: OrderPlan) -> Packet:
    """Return a packet with the pictures of every operation: weld maps, torch views, charts."""
    drawn = zip(packet.operations, views, plan.operations, strict=True)
    return packet.model_copy(update={"operations": tuple(_illustrated(*each) for each in drawn)})


def _illustrated(sheet: OperationSheet, view: OperationView, planned: OperationPlan) -> OperationSheet:
    settings = {each.key: each for each in view.result.settings}
    groups = tuple(
        group.model_copy(update={"charts": settings_charts(settings[group.key], view.showing)})
        for group in sheet.groups
    )
    pair = sheet.pair
    if pair is not None and isinstance(planned.pair, PairPlan):
        pair = pair.model_copy(update={"pictures": _pair_charts(planned.pair, view)})
    return sheet.model_copy(update={"groups": groups, "pictures": weld_maps(view), "pair": pair})


def _pair_charts(pair: PairPlan, view: OperationView) -> tuple[Picture, ...]:
    sides = view.side(pair.names[0]), view.side(pair.names[1])
    return pair_charts(pair, view.key, sides, view.order.show_first)


def weld_maps(view: OperationView) -> tuple[Picture, ...]:
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
        outlines=tuple(
            Outline(component.name, tuple(points_in_space(outline)))
            for component in view.operation.components
            for outline in component.outlines
            if outline.points
        ),
        lengths=_lengths(view.order.show_first),
    )


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
        stick_out="" if distance is None else distance.first_text,
        runs=group.runs,
    )


def _degrees(value: Value | None) -> float | None:
    return None if value is None or value.amount is None else float(value.amount.value)


def _leaning(value: Value | None) -> float | None:
    """Return the travel angle, negative where the torch drags."""
    angle = _degrees(value)
    return -abs(angle) if angle and value is not None and "drag" in value.notes else angle


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


def _lengths(first: SystemOfUnits) -> Lengths:
    if first == "metric":
        return Lengths(lambda length: _length(length, "mm", "0.1"))
    inch = in_mm(quantity(1.0, "in"))
    return Lengths(lambda length: _length(length / inch, "in", "0.01"), inch)


def _length(number: float, unit: str, digit: str) -> str:
    return with_unit(working(Decimal(number).quantize(Decimal(digit)), STATED_DIGITS), unit)
