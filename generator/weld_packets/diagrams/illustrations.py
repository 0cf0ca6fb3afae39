"""The pictures of a packet, drawn last: from the operations of its order to what each diagram is drawn from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from weld_packets.calculation.places.millimetres import point_in_mm, points_in_space
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.diagrams.charts.of_settings import settings_charts
from weld_packets.diagrams.charts.pair import pair_charts
from weld_packets.diagrams.joint_sketch import JointSection, joint_picture
from weld_packets.diagrams.scale_and_legend import drawn_sign
from weld_packets.diagrams.scene import Bend, JointForm, Lengths, Outline, Scene, SeamLine, SpotPoint, Straight, Trail
from weld_packets.diagrams.seams.map import seam_pictures
from weld_packets.diagrams.spots.map import spot_pictures
from weld_packets.diagrams.spots.words import setting_sample
from weld_packets.grouping import grouped
from weld_packets.model.order import Arc, Line, Path
from weld_packets.model.trade import Joint, TravelDirection
from weld_packets.packet.operation.pair import turn_words
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import numbered, shown_sizes
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import Picture
from weld_packets.packet.settings.values import amount_of
from weld_packets.planning.pair.records import PairPlan
from weld_packets.planning.records import OperationPlan, OrderPlan
from weld_packets.processes.answers import Weld
from weld_packets.units import SystemOfUnits, in_mm, magnitude, quantity, with_unit, working
from weld_packets.units.digits import STATED_DIGITS
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.titles import sheets_text, title_of

_DIAMETER = "target_weld_diameter"
_DRAWN_SIZES = ("a", "z")
"""Sizes that are written before a symbol; the gap of a butt is written in it."""
_GAP = "b"
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
    signs = _signs(view)
    groups = tuple(
        group.model_copy(
            update={"charts": settings_charts(settings[group.key], view.showing), "sign": signs.get(group.welds[0], "")}
        )
        for group in sheet.groups
    )
    pair = sheet.pair
    waits = tuple(turn_words(lock) for lock in pair.interlocks) if pair else ()
    if pair is not None and isinstance(planned.pair, PairPlan):
        pair = pair.model_copy(update={"pictures": _pair_charts(planned.pair, view)})
    procedure = sheet.procedure
    if procedure is not None:
        procedure = procedure.model_copy(update={"pictures": tuple(joint_sketches(view))})
    drawn = {"groups": groups, "pictures": weld_maps(view, waits), "pair": pair, "procedure": procedure}
    return sheet.model_copy(update=drawn)


def joint_sketches(view: OperationView) -> Iterator[Picture]:
    """Yield a section of every kind of joint of an operation, each once; none of a kind that names no sheets."""
    welds = {weld.id: weld for weld in view.welds}
    stated = (each for each in view.result.settings if each.kind.sheets)
    drawn = grouped((_section(welds[each.welds[0]], each, view), each) for each in stated)
    for number, (section, shared) in enumerate(drawn.items(), 1):
        title = title_of(settings.kind for settings in shared)
        yield joint_picture(f"{view.key}-joint-{number}", title, section)


def _section(weld: Weld, settings: WeldSettings, view: OperationView) -> JointSection:
    first = view.order.show_first
    return JointSection(
        joint=weld.joint,
        thicknesses=tuple(in_mm(sheet) for sheet in settings.kind.sheets),
        named=tuple(sheet_amount(sheet, first).first_text for sheet in settings.kind.sheets),
        sizes=tuple(f"{letter} {amount.first_text}" for letter, amount in shown_sizes(weld, first)),
        leg=_leg(settings),
        passes=settings.pass_count,
    )


def _leg(settings: WeldSettings) -> float | None:
    found = (figure.value for figure in settings.figures() if figure.key == "leg" and figure.value is not None)
    leg = next(found, None)
    return None if leg is None else in_mm(leg)


def _pair_charts(pair: PairPlan, view: OperationView) -> tuple[Picture, ...]:
    sides = view.side(pair.names[0]), view.side(pair.names[1])
    return pair_charts(pair, view.key, sides, view.order.show_first)


def _signs(view: OperationView) -> dict[str, str]:
    """Return by weld the sign of its setting as its spots have it on the map; nothing where all are set as one."""
    points = spot_points(view)
    sides = {
        setting: sorted({point.side for point in points if point.setting == setting})
        for setting in {point.setting for point in points}
    }
    drawn = {setting: drawn_sign(setting_sample(own, setting)) for setting, own in sides.items() if len(sides) > 1}
    return {point.label: drawn[point.setting] for point in points if point.setting in drawn}


def weld_maps(view: OperationView, waits: tuple[str, ...] = ()) -> tuple[Picture, ...]:
    """Return the diagrams of an operation; ``waits`` says who goes first where its robots share a place."""
    scene = replace(scene_of(view), waits=waits)
    lines, points = seam_lines(view), spot_points(view)
    return (*(seam_pictures(scene, lines) if lines else ()), *(spot_pictures(scene, points) if points else ()))


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
        weld=view.words.weld,
        undrawn=tuple(each.name for each in view.operation.components if not any(o.points for o in each.outlines)),
    )


def spot_points(view: OperationView) -> tuple[SpotPoint, ...]:
    """Return the spots of an operation, each with its number in its robot's sequence."""
    settings = _settings_by_weld(view)
    dialled = {each.key: _dialled(each) for each in view.result.settings}
    places = {values: place for place, values in enumerate(dict.fromkeys(dialled.values()))}
    return tuple(
        SpotPoint(
            each.number,
            each.weld.id,
            each.side,
            each.weld.ends[0],
            stack=sheets_text(settings[each.weld.id].kind.sheets),
            size=_diameter(settings[each.weld.id], view),
            process=view.operation.process,
            setting=places[dialled[settings[each.weld.id].key]],
            schedule=str(settings[each.weld.id].weld_schedule or ""),
        )
        for each in numbered(view)
        if each.weld.path is None
    )


def _dialled(settings: WeldSettings) -> tuple[tuple[str, Decimal | None, str], ...]:
    """Return what is set for a weld: what two welds share if neither machine has to change between them."""
    return tuple((figure.key, figure.text, figure.unit) for figure in settings.dialled)


def _settings_by_weld(view: OperationView) -> dict[str, WeldSettings]:
    return {weld: each for each in view.result.settings for weld in each.welds}


def _diameter(settings: WeldSettings, view: OperationView) -> str:
    figure = {each.key: each for each in settings.derived}.get(_DIAMETER)
    amount = None if figure is None else amount_of(figure, view.showing)
    return "" if amount is None else amount.value


def seam_lines(view: OperationView) -> tuple[SeamLine, ...]:
    """Return the seams of an operation, each with its number in its robot's sequence and its torch angles."""
    settings = _settings_by_weld(view)
    return tuple(
        _seam_line(each.weld, each.weld.path, each.number, settings[each.weld.id], view)
        for each in numbered(view)
        if each.weld.path is not None
    )


def _seam_line(seam: Weld, path: Path, sequence: int, settings: WeldSettings, view: OperationView) -> SeamLine:
    figures = {figure.key: figure for figure in settings.dialled}
    distance = figures.get("contact_distance")
    stick_out = None if distance is None else amount_of(distance, view.showing)
    overlap = seam.overlap or view.approved.plant.closed_seam_overlap
    return SeamLine(
        sequence=sequence,
        label=seam.id,
        side=view.side(seam.robot),
        trail=_trail(path),
        joint=_JOINT_FORMS[seam.joint or "T fillet"],
        size=_size(seam, view.order.show_first),
        process=view.operation.process,
        position=seam.position,
        work_angle=_degrees(figures.get("work_angle")),
        travel_angle=_leaning(_degrees(figures.get("travel_angle")), settings.travel_direction),
        stick_out="" if stick_out is None else stick_out.first_text,
        passes=settings.pass_count,
        gap=_letter_size(seam, view.order.show_first, _GAP),
        overlap=0.0 if overlap is None else in_mm(overlap),
    )


def _degrees(figure: Figure | None) -> float | None:
    return None if figure is None or figure.value is None else magnitude(figure.value, "°")


def _leaning(angle: float | None, direction: TravelDirection | None) -> float | None:
    """Return the travel angle, negative where the torch drags."""
    return -abs(angle) if angle and direction == "drag" else angle


def _size(seam: Weld, first: SystemOfUnits) -> str:
    sizes = (f"{letter}{amount.value}" for letter, amount in shown_sizes(seam, first) if letter in _DRAWN_SIZES)
    return next(sizes, "")


def _letter_size(seam: Weld, first: SystemOfUnits, letter: str) -> str:
    return next((amount.value for known, amount in shown_sizes(seam, first) if known == letter), "")


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
