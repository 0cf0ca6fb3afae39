"""Seams drawn twice: two paths on one line, in either direction, by one robot or by both."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import dist

from weld_packets.calculation.acts import OVERLAP
from weld_packets.calculation.measure import length
from weld_packets.calculation.path import points_mm, stations_mm
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Seam
from weld_packets.processes.arc.seams.placing import Body, bodies_of
from weld_packets.units.digits import WHOLE

TOGETHER = 0.25
"""Share of the thinner component's thickness within which two paths are one line: seams on both sides of a sheet lie a
whole thickness apart."""
USUAL_OVERLAP = 20.0
"""Millimetres by which the end of a closed seam is welded over its start on plate, and seams that meet may overlap."""
STEP = 1.0
"""Millimetres to which the length is measured that two paths share."""
PRACTICE = "common practice, no source: the end of a closed seam is welded at most 20 mm over its start"


@dataclass(frozen=True)
class _Line:
    """A seam with the corners of its path, the box around them, and how near another path is on its line, all in mm."""

    index: int
    seam: Seam
    corners: tuple[Point, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    near: float


def twice_verdicts(seams: Mapping[int, Seam], components: Mapping[str, Body]) -> Iterator[Verdict]:
    """Yield a warning for each two seams, given by their places in the order, that share more than a usual overlap.

    Raises OutOfRangeError with every two seams of which one lies wholly on the other.
    """
    lines = [_line(index, seam, components) for index, seam in seams.items()]
    gathering = Gathering()
    verdicts: list[Verdict] = []
    for one, other in combinations(lines, 2):
        if not _near(one, other):
            continue
        shared, whole = max(_shared(one, other), _shared(other, one), key=lambda found: found[0] / found[1])
        with gathering.step(key=f"seams[{other.index}].path"):
            if shared >= whole:
                raise _refused(one.seam, other.seam)
        if USUAL_OVERLAP < shared < whole:
            verdicts.append(_overlap(one.seam, other.seam, shared))
    gathering.finish(OutOfRangeError)
    yield from verdicts


def _line(index: int, seam: Seam, components: Mapping[str, Body]) -> _Line:
    thinner = min(body.thickness for body in bodies_of(seam, components))
    corners = points_mm(seam.path)
    axes = tuple(zip(*corners, strict=True))
    return _Line(index, seam, corners, tuple(map(min, axes)), tuple(map(max, axes)), TOGETHER * thinner)


def _near(one: _Line, other: _Line) -> bool:
    """Return quickly whether the boxes around two paths touch."""
    near = min(one.near, other.near)
    starts, ends = map(max, one.low, other.low), map(min, one.high, other.high)
    return all(start - near <= end for start, end in zip(starts, ends, strict=True))


def _shared(one: _Line, other: _Line) -> tuple[float, float]:
    """Return how much of a path lies on another, and its whole length, in mm as counted between places looked at."""
    near = min(one.near, other.near)
    stations = stations_mm(one.seam.path, STEP)
    on = [_away(point, other.corners) <= near for point in stations]
    steps = [dist(start, end) for start, end in pairwise(stations)]
    both = (step for step, (start, end) in zip(steps, pairwise(on), strict=True) if start and end)
    return sum(both), sum(steps)


def _away(point: Point, line: Sequence[Point]) -> float:
    return min(_to_piece(point, start, end) for start, end in pairwise(line))


def _to_piece(point: Point, start: Point, end: Point) -> float:
    along = [b - a for a, b in zip(start, end, strict=True)]
    out = [b - a for a, b in zip(start, point, strict=True)]
    square = sum(component * component for component in along)
    share = min(1.0, max(0.0, sum(a * b for a, b in zip(along, out, strict=True)) / square)) if square else 0.0
    return dist(out, [share * component for component in along])


def _by(one: Seam, other: Seam) -> str:
    return f"by {one.robot}" if one.robot == other.robot else f"by both robots ({one.robot} and {other.robot})"


def _refused(one: Seam, other: Seam) -> OutOfRangeError:
    return refusal(
        f"seams {one.id} and {other.id} are one seam, welded twice {_by(one, other)}",
        "delete one of them; the passes of a seam are counted by the program, and each seam has one robot",
        value=other.id,
    )


def _overlap(one: Seam, other: Seam, shared: float) -> Verdict:
    found, usual = length(shared, WHOLE), length(USUAL_OVERLAP, WHOLE)
    said = ("run on one line for ", found, f", {_by(one, other)}; a usual overlap is at most ", usual)
    return Verdict(
        "seam_overlap",
        f"seams {one.id} and {other.id}",
        said,
        passed=None,
        source=PRACTICE,
        warns=True,
        act=OVERLAP,
    )
