"""T fillets that are none: seams along the rounded corner of a tube."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import cos, dist, radians

from weld_packets.calculation.acts import TUBE_CORNER
from weld_packets.calculation.measure import length, lengths
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Section
from weld_packets.model.tables import Material
from weld_packets.processes.arc.seams.on_edges import Seen
from weld_packets.processes.arc.seams.placing import Body
from weld_packets.processes.arc.size.flare import is_angular, outer_radius
from weld_packets.units.digits import TENTH

SAME_DIRECTION = cos(radians(10))
"""Cosine of the angle between a seam and a tube's axis up to which the seam runs along the tube."""
LONG = 0.99
"""Share of a tube's longest edge from which on an edge is one of its long ones."""
_AXES = {"X": (1.0, 0.0, 0.0), "Y": (0.0, 1.0, 0.0), "Z": (0.0, 0.0, 1.0)}
_STANDARD = (
    "EN 10219-2 and EN 1993-1-8 4.6, from memory: corners of tubes are round, flare bevels have rules of their own"
)


def corner_verdicts(seen: Sequence[Seen], materials: Mapping[str, Material]) -> Iterator[Verdict]:
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
        subject = f"seam {each.seam.id}"
        yield Verdict("tube_corner", subject, text, None, _STANDARD, warns=True, act=TUBE_CORNER)
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
        edge = body.edge_at(_middle(start, end))
        direction = _AXES[section.axis] if section.axis else edge
        long = section.axis is not None or dist(edge, (0.0, 0.0, 0.0)) >= LONG * body.longest_edge
        if long and _parallel(start, end, direction):
            return True
    return False


def _middle(start: Point, end: Point) -> Point:
    x, y, z = ((one + other) / 2 for one, other in zip(start, end, strict=True))
    return x, y, z


def _parallel(start: Point, end: Point, direction: Point) -> bool:
    step = [other - one for one, other in zip(start, end, strict=True)]
    along = abs(sum(one * other for one, other in zip(step, direction, strict=True)))
    return along >= SAME_DIRECTION * dist(start, end) * dist(direction, (0.0, 0.0, 0.0))


def _unsaid(name: str, seams: Sequence[str]) -> Verdict:
    text = (
        f"{name} is of a steel for hollow sections and its section is not said; "
        f"a seam along the corner of a tube is a flare-bevel joint ({', '.join(seams)} follow its edges)"
    )
    return Verdict("tube_corner", name, text, None, _STANDARD, warns=True, act=TUBE_CORNER)
