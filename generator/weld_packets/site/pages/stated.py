"""What a page of calculations has stated already, so that it need not state it for each weld again."""

from __future__ import annotations

from collections.abc import Hashable
from typing import NamedTuple

from weld_packets.packet.records.values import TracePoint

_LONG = 60
"""A shorter text takes no more room than the words that lead to its place."""


class Place(NamedTuple):
    """A value of the page, under which something is stated."""

    anchor: str
    label: str


class Stated:
    """Remembers for one page under which value each step, formula and source is stated first."""

    def __init__(self) -> None:
        """Begin a page on which nothing is stated."""
        self._places: dict[Hashable, Place] = {}

    def step(self, point: TracePoint, anchor: str, label: str) -> Place | None:
        """Return where the very same step is stated already; None where it is to be stated here."""
        if point.form in ("given", "rounded") and len(point.origin) < _LONG:
            return None
        return self._first(point, Place(anchor, label))

    def formula(self, point: TracePoint, anchor: str, label: str) -> Place | None:
        """Return where the formula of ``point`` is stated with its source and what its symbols mean."""
        names = tuple((put.symbol, put.name) for put in point.numbers)
        formula = (point.symbol, point.expression, point.clause, point.validity, point.standing, names)
        return self._first(formula, Place(anchor, label))

    def origin(self, point: TracePoint, anchor: str, label: str) -> Place | None:
        """Return where the source of a given value is stated, if it is long."""
        return self._first(point.origin, Place(anchor, label)) if len(point.origin) >= _LONG else None

    def _first(self, what: Hashable, here: Place) -> Place | None:
        place = self._places.setdefault(what, here)
        return None if place is here else place
