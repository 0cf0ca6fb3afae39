"""Which test piece would qualify the most of the welds that no record covers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from weld_packets.calculation.qualification.judging import judged
from weld_packets.calculation.qualification.rules import Line
from weld_packets.calculation.qualification.values import Case, Tested
from weld_packets.calculation.qualification.verdict import compared


class Open(NamedTuple):
    """Welds of an order that no record covers, with what somebody calls them."""

    order: str
    name: str
    case: Case


class Piece(NamedTuple):
    """A test piece welded just as some open welds are, and all open welds that it would bring inside."""

    of: Open
    covers: tuple[Open, ...]


def most_covering(found: Sequence[Open], lines: Sequence[Line]) -> Piece | None:
    """Return the test piece that brings welds of the most orders inside; None where none are open.

    Of pieces for equally many orders it is that for the most welds, then the first one. Each candidate is welded as one
    of the open welds, so that it covers at least those. A change counts only by a line that decides.
    """
    pieces = [Piece(each, tuple(other for other in found if _covers(each, other, lines))) for each in found]
    return max(pieces, key=_use, default=None)


def _use(piece: Piece) -> tuple[int, int]:
    return len({each.order for each in piece.covers}), sum(len(each.case.welds) for each in piece.covers)


def _covers(tested: Open, other: Open, lines: Sequence[Line]) -> bool:
    if tested is other:
        return True
    proved: Tested = {variable: value for variable, value in tested.case.has.items() if value is not None}
    variables = compared(other.case, proved, lines)
    return all(judged(variable, other.case, proved, lines).outcome == "inside" for variable in variables)
