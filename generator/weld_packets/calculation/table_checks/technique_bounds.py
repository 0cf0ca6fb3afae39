"""Bounds of what tables say of technique, so that a slip of a digit or a unit is refused when a table is loaded.

The bounds are wide: they hold back what no work does, and judge nothing. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from typing import NamedTuple

from weld_packets.errors import Problem
from weld_packets.model.charts import ArcChart
from weld_packets.model.machines import Machines, Torch
from weld_packets.model.tables import Materials, Plant, Table
from weld_packets.units import Quantity, as_written, magnitude


class Bounds(NamedTuple):
    """From and to what a figure of technique is believed, in a unit."""

    low: float
    high: float
    unit: str


WORKING = Bounds(-20, 60, "°C")
"""A component is welded without preheat neither far below freezing nor hotter than a hand bears."""
INTERPASS = Bounds(40, 400, "°C")
OVERLAP = Bounds(1, 50, "mm")
DISTANCE = Bounds(0.1, 5, "mm")
"""Tolerance of the contact distance: finer than a gauge reads, and a third of a usual distance."""
BORE = Bounds(6, 30, "mm")
SETBACK = Bounds(-15, 15, "mm")
FLOW = Bounds(0, 60, "s")
RATED = Bounds(20, 1000, "A")
SHARE = Bounds(10, 100, "%")
ADDED = Bounds(0.5, 8, "mm")
RATIO, OF_WIRE = (1.0, 10.0), (0.1, 2.0)


def technique_problems(table: Table) -> Iterator[Problem]:
    """Yield every figure of technique in a table that lies outside its bounds; keys are paths within the table."""
    yield from _of(table)


def _outside(key: str, value: Quantity | None, bounds: Bounds) -> Iterator[Problem]:
    if value is None or bounds.low <= magnitude(value, bounds.unit) <= bounds.high:
        return
    message = f"this is from {bounds.low:g} to {bounds.high:g} {bounds.unit}"
    yield _problem(key, as_written(value).replace("\N{NO-BREAK SPACE}", " "), message)


def _number(key: str, value: float, ends: tuple[float, float]) -> Iterator[Problem]:
    if not ends[0] <= value <= ends[1]:
        yield _problem(key, f"{value:g}", f"this is from {ends[0]:g} to {ends[1]:g}")


def _problem(key: str, value: str, message: str) -> Problem:
    return Problem("", 0, key, value, message, "check the number and its unit")


@singledispatch
def _of(_table: Table) -> Iterator[Problem]:
    return iter(())


@_of.register
def _materials(table: Materials) -> Iterator[Problem]:
    for index, entry in enumerate(table.entries):
        key = f"entries[{index}]"
        yield from _outside(f"{key}.working temperature minimum", entry.working_temperature_minimum, WORKING)
        yield from _outside(f"{key}.interpass maximum", entry.interpass_maximum, INTERPASS)


@_of.register
def _plant(table: Plant) -> Iterator[Problem]:
    yield from _outside("closed seam overlap", table.closed_seam_overlap, OVERLAP)
    yield from _outside("contact distance tolerance", table.contact_distance_tolerance, DISTANCE)
    if table.unequal_thickness is not None:
        yield from _number("unequal thickness.ratio", float(table.unequal_thickness.ratio), RATIO)
    if table.root_gap is not None:
        yield from _number("root gap.of wire", float(table.root_gap.of_wire), OF_WIRE)
        yield from _outside("root gap.added over", table.root_gap.added_over, ADDED)


@_of.register
def _chart(table: ArcChart) -> Iterator[Problem]:
    yield from _outside("pre flow", table.pre_flow, FLOW)
    yield from _outside("post flow", table.post_flow, FLOW)


@_of.register
def _machines(table: Machines) -> Iterator[Problem]:
    for index, entry in enumerate(table.power_sources):
        if entry.torch is not None:
            yield from _torch(entry.torch, f"power sources[{index}].torch")


def _torch(torch: Torch, key: str) -> Iterator[Problem]:
    yield from _outside(f"{key}.nozzle bore", torch.nozzle_bore, BORE)
    yield from _outside(f"{key}.contact tip setback", torch.contact_tip_setback, SETBACK)
    for index, rating in enumerate(torch.ratings):
        yield from _outside(f"{key}.ratings[{index}].current", rating.current, RATED)
        yield from _outside(f"{key}.ratings[{index}].share", rating.share, SHARE)
