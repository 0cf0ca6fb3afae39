"""Components that obstruct a seam that they do not belong to: one that its path runs through, one that lies over it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import dist

from weld_packets.calculation.acts import COVERED
from weld_packets.calculation.reach import SLACK
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.outlines import FlatShape
from weld_packets.geometry.vectors import Point
from weld_packets.processes.arc.seams.on_edges import Limits, Seen, place_in
from weld_packets.processes.arc.seams.placing import Body

BESIDE = 0.25
"""Share of the thinner own component's thickness within which a path touches a third one: a component behind the
upright is at least half a thickness away, however it is drawn."""


def passing_verdicts(seen: Sequence[Seen], components: Mapping[str, Body], limits: Limits) -> Iterator[Verdict]:
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
            yield inside or _between(before[0], point, before[1] / (before[1] - rise))
        before, inside = (point, rise), None


def _between(one: Point, other: Point, share: float) -> Point:
    x, y, z = (start + share * (end - start) for start, end in zip(one, other, strict=True))
    return x, y, z


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
            yield Verdict(
                "seam_covered",
                f"seam {each.seam.id}",
                f"{body.component.name}, which it does not join, is drawn over it",
                passed=None,
                source="outlines of the order",
                warns=True,
                act=COVERED,
            )
            return
