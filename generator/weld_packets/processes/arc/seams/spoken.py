"""Lengths and places of seams in messages, in the unit in which the order writes the path."""

from __future__ import annotations

from decimal import Decimal

from weld_packets.calculation.measure import length
from weld_packets.calculation.trace import Measured
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import LengthUnit
from weld_packets.units import exact, plain, quantity, rounded, with_unit
from weld_packets.units.digits import TENTH

_THOUSANDTH = Decimal("0.001")


def distance_in(millimetres: float, unit: LengthUnit) -> str:
    """Return a distance: mm to a tenth, and before it inches to a thousandth where the path is written in inches."""
    metric = length(millimetres, TENTH).text
    return f"{_inches(millimetres)} ({metric})" if unit == "in" else metric


def place_in(point: Point, unit: LengthUnit) -> str:
    """Return a place in the fixture datum."""
    if unit == "in":
        return f"x {_inches(point[0])}, y {_inches(point[1])}, z {_inches(point[2])}"
    return "x {}, y {}, z {}".format(*(each.text for each in measured_place(point)))


def measured_place(point: Point) -> tuple[Measured, Measured, Measured]:
    """Return the coordinates of a place as lengths that a check can show in either system of units."""
    x, y, z = (length(coordinate, TENTH) for coordinate in point)
    return x, y, z


def _inches(millimetres: float) -> str:
    return with_unit(plain(rounded(exact(quantity(millimetres, "mm"), "in"), _THOUSANDTH)), "in")
