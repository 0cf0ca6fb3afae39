"""The seams of an operation held against the outlines of its components, at corners and along their paths."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import pairwise
from math import cos, dist, hypot, radians

from weld_packets.calculation.countermeasures import COVERED, SEAM_PLACE, SEAM_PLACE_OF_ELECTRODE, TUBE_CORNER
from weld_packets.calculation.places.millimetres import SLACK
from weld_packets.calculation.places.path import pieces_of
from weld_packets.calculation.sentences import length, lengths
from weld_packets.calculation.trace import Countermeasure, Verdict, warned
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.outlines import FlatShape
from weld_packets.geometry.vectors import Point, along, dot, minus
from weld_packets.model.order import Section
from weld_packets.model.processes import arc_process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.materials import Material
from weld_packets.processes.arc.records import ArcOperation, Seam
from weld_packets.processes.arc.seams.on_edges import Limits, Seen, edge_verdicts, place_in, seen_seams
from weld_packets.processes.arc.seams.placing import Body
from weld_packets.processes.arc.seams.twice import twice_verdicts
from weld_packets.processes.arc.size.flare import is_angular, outer_radius
from weld_packets.units import in_mm
from weld_packets.units.digits import TENTH

_MISREAD = (".unit", ".file")
"""Ends of the keys of problems after which nothing more is known of where seams run."""
_ALL = "seams are not compared with the outlines of their components"
SAME_DIRECTION = cos(radians(10))
"""Cosine of the angle between a seam and a tube's axis up to which the seam runs along the tube."""
LONG = 0.99
"""Share of a tube's longest edge from which on an edge is one of its long ones."""
_AXES = {"X": (1.0, 0.0, 0.0), "Y": (0.0, 1.0, 0.0), "Z": (0.0, 0.0, 1.0)}
_STANDARD = (
    "EN 10219-2 and EN 1993-1-8 4.6, from memory: corners of tubes are round, flare bevels have rules of their own"
)
BESIDE = 0.25
"""Share of the thinner own component's thickness within which a path touches a third one: a component behind the
upright is at least half a thickness away, however it is drawn."""


def seam_verdicts(operation: ArcOperation, approved: ApprovedTables, gathering: Gathering) -> tuple[Verdict, ...]:
    """Return the checks of where the seams of an operation run; problems go to ``gathering``.

    A seam whose path makes no line is left to those who compute its length. Where the plant states no tolerance,
    nothing is compared, which is said. Seams or outlines that are read in a wrong unit are reported alone.
    """
    act = SEAM_PLACE if arc_process(operation.process).filler == "melting wire" else SEAM_PLACE_OF_ELECTRODE
    limits = _limits(approved, act)
    if limits is None:
        return _not_compared(f"{_ALL}: the plant's table states no seam tolerance", "table plant", act)
    components = {component.id: Body(component) for component in operation.components}
    seams = {index: seam for index, seam in enumerate(operation.seams) if _is_a_line(seam)}
    seen: list[Seen] = []
    with gathering.step():
        seen += seen_seams(seams, components)
    found: list[Verdict] = []
    with gathering.step():
        found += edge_verdicts(seen, components, limits)
    if any(problem.key.endswith(_MISREAD) for problem in gathering.problems):
        return ()
    checks: tuple[Callable[[], Iterable[Verdict]], ...] = (
        lambda: _passing_verdicts(seen, components, limits),
        lambda: _corner_verdicts(seen, approved.materials),
        lambda: twice_verdicts(seams, components),
    )
    for check in checks:
        with gathering.step():
            found += check()
    return (*found, *_without_outline(operation, components, act))


def _is_a_line(seam: Seam) -> bool:
    with suppress(OutOfRangeError):
        pieces_of(seam.path)
        return True
    return False


def _limits(approved: ApprovedTables, countermeasure: Countermeasure) -> Limits | None:
    plant = approved.plant
    if plant.seam_tolerance is None or plant.seam_refused_over is None:
        return None
    source = f"table {plant.table}: {plant.seam_source}"
    return Limits(in_mm(plant.seam_tolerance), in_mm(plant.seam_refused_over), source, countermeasure)


def _without_outline(
    operation: ArcOperation, components: Mapping[str, Body], countermeasure: Countermeasure
) -> tuple[Verdict, ...]:
    welded = dict.fromkeys(name for seam in operation.seams for name in seam.components)
    names = [components[name].component.name for name in welded if not components[name].shapes]
    if not names:
        return ()
    return _not_compared(
        f"seams are not compared with components that have no outline: {', '.join(names)}", "order", countermeasure
    )


def _not_compared(text: str, source: str, countermeasure: Countermeasure) -> tuple[Verdict, ...]:
    return (Verdict("seam_on_edge", "seams", text, passed=None, source=source, countermeasure=countermeasure),)


# ---------------------------------------------------------------- corners


def _corner_verdicts(seen: Sequence[Seen], materials: Mapping[str, Material]) -> Iterator[Verdict]:
    """Yield a warning for each fillet that may run along a tube's corner.

    Raises OutOfRangeError with every fillet that follows an edge of a tube along its axis.
    """
    gathering = Gathering()
    unsaid: dict[str, list[str]] = {}
    for each in (each for each in seen if each.seam.joint.endswith("fillet")):
        for body in _followed(each):
            if is_angular(body.component):
                with gathering.step(key=f"seams[{each.index}].joint"):
                    yield from _along_a_tube(each, body)
            elif body.component.section is None and materials[body.component.material].is_hollow_section:
                unsaid.setdefault(body.component.id, []).append(each.seam.id)
    gathering.finish(OutOfRangeError)
    names = {body.component.id: body.component.name for each in seen for body in each.bodies}
    for component, seams in unsaid.items():
        yield _unsaid(names[component], seams)


def _followed(each: Seen) -> Iterator[Body]:
    """Yield the components whose edge a seam follows."""
    return (body for body, edge in zip(each.bodies, each.fit.edges, strict=True) if edge and body.shapes)


def _along_a_tube(each: Seen, body: Body) -> Iterator[Verdict]:
    section = body.component.section
    if section is None or not _runs_along(each.stations, body, section):
        return
    if section.axis is None:
        text = (
            f"follows a long edge of {body.component.name}; along a tube's corner it is a flare-bevel joint, no fillet"
        )
        yield warned("tube_corner", f"seam {each.seam.id}", text, _STANDARD, TUBE_CORNER)
        return
    raise refusal(
        f"seam {each.seam.id} follows the corner of {body.component.name}, {_radius(body)}: "
        "this is a flare-bevel joint",
        "write 'joint: flare bevel' with its throat, or weld across the tube or on a sharp edge",
        value=each.seam.joint,
    )


def _radius(body: Body) -> str:
    radius = outer_radius(body.component)
    if radius.minimum == radius.maximum:
        return f"whose radius is {length(radius.minimum, TENTH).text}"
    minimum, maximum = lengths(radius.minimum, radius.maximum, TENTH)
    return f"whose radius is {minimum.text} to {maximum.text} ({radius.origin})"


def _runs_along(stations: Sequence[Point], body: Body, section: Section) -> bool:
    """Return whether any part of a seam runs along the tube: by its axis, else by the longest edges that are drawn."""
    for start, end in pairwise(stations):
        edge = body.edge_at(along(start, minus(end, start), 0.5))
        direction = _AXES[section.axis] if section.axis else edge
        long = section.axis is not None or hypot(*edge) >= LONG * body.longest_edge
        if long and _parallel(start, end, direction):
            return True
    return False


def _parallel(start: Point, end: Point, direction: Point) -> bool:
    return abs(dot(minus(end, start), direction)) >= SAME_DIRECTION * dist(start, end) * hypot(*direction)


def _unsaid(name: str, seams: Sequence[str]) -> Verdict:
    text = (
        f"{name} is of a steel for hollow sections and its section is not said; "
        f"a seam along the corner of a tube is a flare-bevel joint ({', '.join(seams)} follow its edges)"
    )
    return warned("tube_corner", name, text, _STANDARD, TUBE_CORNER)


# ---------------------------------------------------------------- seams that pass through a component


def _passing_verdicts(seen: Sequence[Seen], components: Mapping[str, Body], limits: Limits) -> Iterator[Verdict]:
    """Yield a warning for each seam that a component lies over.

    Raises OutOfRangeError with every seam whose path runs through a component that it does not join.
    """
    gathering = Gathering()
    verdicts: list[Verdict] = []
    for each in seen:
        for body in (body for name, body in components.items() if name not in each.seam.components):
            with gathering.step(key=f"seams[{each.index}].path"):
                _refuse_crossing(each, body, limits)
                verdicts += _covering(each, body, limits)
    gathering.finish(OutOfRangeError)
    yield from verdicts


def _refuse_crossing(each: Seen, body: Body, limits: Limits) -> None:
    beside = BESIDE * min(own.thickness for own in each.bodies)
    line = _closed(each.stations, limits.warns)
    for shape in body.shapes:
        for point in _crossings(line, shape):
            if shape.holds(point) or shape.edge_distance(point) <= beside:
                where = place_in(point, each.seam.path.unit)
                raise refusal(
                    f"seam {each.seam.id} runs through {body.component.name}, which it does not join, at {where}",
                    "end the seam before that component and go on behind it, or cut the component back there",
                    value=each.seam.id,
                )


def _closed(stations: Sequence[Point], near: float) -> Sequence[Point]:
    """Return the places of a path; of one that ends where it starts with the second once more, as the torch goes on."""
    return (*stations, stations[1]) if dist(stations[0], stations[-1]) <= near else stations


def _crossings(line: Sequence[Point], shape: FlatShape) -> Iterator[Point]:
    """Yield where a path passes from one side of a plane to the other; one that only touches it does not."""
    before: tuple[Point, float] | None = None
    inside: Point | None = None
    for point in line:
        rise = shape.rise(point)
        if abs(rise) <= SLACK:
            inside = inside or point
            continue
        if before and before[1] * rise < 0:
            yield inside or along(before[0], minus(point, before[0]), before[1] / (before[1] - rise))
        before, inside = (point, rise), None


def _covering(each: Seen, body: Body, limits: Limits) -> Iterator[Verdict]:
    """Yield a warning where a component is drawn over a seam; it is drawn in either face, so that this is not sure."""
    reach = min(limits.warns, body.thickness / 2)
    for shape in body.shapes:
        over = [
            point
            for point in each.stations
            if shape.height(point) <= reach and shape.holds(point) and shape.edge_distance(point) > limits.warns
        ]
        if len(over) > 1:
            text = f"{body.component.name}, which it does not join, is drawn over it"
            yield warned("seam_covered", f"seam {each.seam.id}", text, "outlines of the order", COVERED)
            return
