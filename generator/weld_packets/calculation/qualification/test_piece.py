"""Which test piece would qualify the most of the welds that no record covers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from weld_packets.calculation.qualification.judging import judged
from weld_packets.calculation.qualification.rules import Line
from weld_packets.calculation.qualification.values import Case, Tested
from weld_packets.calculation.qualification.verdict import compared


class Open(NamedTuple):
    """Welds that no record covers, with what somebody calls them."""

    name: str
    case: Case


class Piece(NamedTuple):
    """A test piece welded just as some open welds are, and all open welds that it would bring inside."""

    of: Open
    covers: tuple[Open, ...]


def most_covering(found: Sequence[Open], lines: Sequence[Line]) -> Piece | None:
    """Return the test piece that brings the most of some welds inside, the first of equals; None where none are open.

    Each candidate is welded as one of them, so that it covers at least that one. A change counts only by a line that
    decides.
    """
    pieces = [Piece(each, tuple(other for other in found if _covers(each, other, lines))) for each in found]
    return max(pieces, key=lambda piece: sum(len(each.case.welds) for each in piece.covers), default=None)


def _covers(tested: Open, other: Open, lines: Sequence[Line]) -> bool:
    if tested is other:
        return True
    proved: Tested = {variable: value for variable, value in tested.case.has.items() if value is not None}
    variables = compared(other.case, proved, lines)
    return all(judged(variable, other.case, proved, lines).outcome == "inside" for variable in variables)
