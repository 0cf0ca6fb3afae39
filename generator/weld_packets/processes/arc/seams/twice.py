"""Seams drawn twice: two paths on one line, in either direction, by one robot or by both, and one path on itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import dist, pi

from weld_packets.calculation.countermeasures import OVERLAP
from weld_packets.calculation.places.path import pieces_of, points_mm, stations_mm
from weld_packets.calculation.sentences import length
from weld_packets.calculation.trace import Verdict, warned
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.outlines import foot_on
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Path
from weld_packets.processes.arc.records import Seam
from weld_packets.processes.arc.seams.placing import Body, bodies_of
from weld_packets.units.digits import WHOLE

TOGETHER = 0.25
"""Share of the thinner component's thickness within which two paths are one line: seams on both sides of a sheet lie a
whole thickness apart."""
USUAL_OVERLAP = 20.0
"""Millimetres by which the end of a closed seam is welded over its start on plate, and seams that meet may overlap."""
_STEP = 1.0
"""Millimetres to which the length is measured that two paths share."""
LOOKS = 16
"""Places of a piece of a path that are compared with the pieces before it."""
_APART = 4.0
"""How far on along a path, by its nearness, it may come back on itself: at a corner both pieces are near each other."""
_TURN = pi / 90
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

    Raises OutOfRangeError with every two seams of which one lies wholly on the other, and every seam on itself.
    """
    lines = [_line(index, seam, components) for index, seam in seams.items()]
    gathering = Gathering()
    verdicts: list[Verdict] = []
    for line in lines:
        with gathering.step(key=f"seams[{line.index}].path"):
            refuse_retraced(line.seam.path, line.seam.id, line.near)
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


@dataclass(frozen=True)
class _Course:
    """A piece of a path by its points, the box around them, and where on the path it ends, all in mm."""

    points: tuple[Point, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    end: float

    def holds(self, point: Point, near: float) -> bool:
        """Return whether a point lies on the piece."""
        inside = all(low - near <= at <= high + near for low, at, high in zip(self.low, point, self.high, strict=True))
        return inside and _away(point, self.points) <= near


def refuse_retraced(path: Path, seam: str, near: float) -> None:
    """Raise OutOfRangeError where the path of a seam runs over itself for more than a closed seam's overlap."""
    done: list[_Course] = []
    begin, again = 0.0, 0.0
    for piece in pieces_of(path):
        looks = ((share + 0.5) / LOOKS for share in range(LOOKS))
        again += piece.length / LOOKS * sum(_is_on(piece.at(at), begin + piece.length * at, done, near) for at in looks)
        if again > USUAL_OVERLAP:
            raise refusal(
                f"seam {seam} runs over itself for more than {length(USUAL_OVERLAP, WHOLE).text}",
                "end it where it has been; the passes of a seam are counted by the program",
                value=seam,
            )
        begin += piece.length
        points = (piece.at(0.0), *piece.points(_TURN))
        axes = tuple(zip(*points, strict=True))
        done.append(_Course(points, tuple(map(min, axes)), tuple(map(max, axes)), begin))


def _is_on(point: Point, at: float, done: Sequence[_Course], near: float) -> bool:
    """Return whether a place of a path, ``at`` so far along it, lies on a piece that ended well before."""
    return any(at - course.end > _APART * near and course.holds(point, near) for course in done)


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
    stations = stations_mm(one.seam.path, _STEP)
    on = [_away(point, other.corners) <= near for point in stations]
    steps = [dist(start, end) for start, end in pairwise(stations)]
    both = (step for step, (start, end) in zip(steps, pairwise(on), strict=True) if start and end)
    return sum(both), sum(steps)


def _away(point: Point, line: Sequence[Point]) -> float:
    return min(dist(point, foot_on(point, start, end)) for start, end in pairwise(line))


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
    return warned("seam_overlap", f"seams {one.id} and {other.id}", said, PRACTICE, OVERLAP)
