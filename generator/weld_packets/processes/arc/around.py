"""Components that a fillet runs all around in a circle: a round one is upright there, and so no plate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, tau

from weld_packets.calculation.path import pieces_of
from weld_packets.geometry.arcs import Arc
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Component, Seam

_ALL_AROUND = 0.95
"""Share of a circle from which on it is welded all around: seams that meet may leave a little between them."""
_ONE_CENTRE = 1.0
"""Millimetres within which two arcs have one centre."""


@dataclass
class _Circle:
    pair: frozenset[str]
    centre: Point
    sweep: float = 0.0


def welded_around(seams: Sequence[Seam]) -> frozenset[frozenset[str]]:
    """Return the pairs of components of which one is upright on the other and is welded all around in a circle.

    Only a T fillet has an upright component; a disc that lies flat is welded around by a lap fillet, and is a plate.
    A circle may be of several seams, by either robot.
    """
    circles: list[_Circle] = []
    for seam in seams:
        if seam.joint == "T fillet":
            for piece in pieces_of(seam.path):
                if isinstance(piece, Arc):
                    _circle(circles, frozenset(seam.components), piece.centre).sweep += piece.sweep
    return frozenset(each.pair for each in circles if each.sweep >= _ALL_AROUND * tau)


def _circle(circles: list[_Circle], pair: frozenset[str], centre: Point) -> _Circle:
    known = next((each for each in circles if each.pair == pair and dist(each.centre, centre) <= _ONE_CENTRE), None)
    if known is None:
        circles.append(known := _Circle(pair, centre))
    return known


def is_said_round(components: Sequence[Component]) -> bool:
    """Return whether the order says of one of some components that it is a round tube."""
    return any(each.section is not None and each.section.form == "round tube" for each in components)
