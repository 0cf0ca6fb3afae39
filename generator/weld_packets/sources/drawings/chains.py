"""Joining loose pieces of an outline end to end into closed rings."""

from __future__ import annotations

from collections.abc import Sequence

from ezdxf.edgeminer import Deposit, Edge, find_simple_chain, make_edge

from weld_packets.errors import Problem, SourceError
from weld_packets.sources.reading.places import capped

Point = tuple[float, float]
Ring = tuple[Point, ...]
_MINIMUM_CORNERS = 3
_REMEDY = "close the outline in the drawing so that each end meets exactly one other"


def join(pieces: Sequence[Ring], file: str, tolerance: float) -> tuple[Ring, ...]:
    """Return the closed rings that ``pieces`` form, each without repeating its first point.

    Ends within ``tolerance`` of each other are one. Raises SourceError for every end that meets no other end or
    several, and for rings without area.
    """
    edges = [make_edge(piece[0], piece[-1], payload=piece) for piece in pieces if len(set(piece)) > 1]
    if not edges:
        return ()
    deposit = Deposit(edges, gap_tol=tolerance)
    _refuse_open(deposit, file)
    return tuple(_rings(deposit, file))


def _refuse_open(deposit: Deposit, file: str) -> None:
    problems: list[Problem] = []
    looked_at: set[tuple[int, bool]] = set()
    """Edges, each with whether it is its end: where a thousand meet, the place is looked at once."""
    for edge in deposit.edges:
        for is_end, end in ((False, edge.start), (True, edge.end)):
            if (edge.id, is_end) in looked_at:
                continue
            met = deposit.edges_linked_to(end)
            looked_at |= {(each.id, end.distance(each.start) > end.distance(each.end)) for each in met}
            if len(met) != 2:  # noqa: PLR2004 - an outline goes in and out of each corner
                fault = "is open" if len(met) == 1 else f"branches ({len(met)} ends meet)"
                place = f"x {end.x:.3f} mm, y {end.y:.3f} mm"
                problems.append(Problem(file, 0, "", place, f"the outline {fault} here", _REMEDY))
    if problems:
        raise SourceError(capped(problems))


def _rings(deposit: Deposit, file: str) -> list[Ring]:
    """Return the rings in the order in which their first pieces are drawn: every end meets one other by now."""
    rings: list[Ring] = []
    walked: set[Edge] = set()
    for edge in deposit.edges:
        if edge not in walked:
            chain = find_simple_chain(deposit, edge)
            walked.update(chain)
            ring = tuple(point for each in chain for point in _forward(each)[:-1])
            if len(ring) < _MINIMUM_CORNERS:
                raise SourceError([Problem(file, 0, "", "", "a closed outline has no area", "delete the doubled line")])
            rings.append(ring)
    return rings


def _forward(edge: Edge) -> Ring:
    points: Ring = edge.payload
    return points[::-1] if edge.is_reverse else points
