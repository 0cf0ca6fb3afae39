"""What the table of machines says about a pair and its stops that cannot be so: no source, or out of reach."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from weld_packets.calculation.measure import lengths, refused
from weld_packets.calculation.reach import farthest, point_in_mm, within
from weld_packets.errors import Problem
from weld_packets.model.machines import Machines, Robot
from weld_packets.model.tables import Inspections, Plant, Table
from weld_packets.units import magnitude
from weld_packets.units.digits import WHOLE

_SOURCED: dict[type[Table], dict[str, dict[str, tuple[str, ...]]]] = {
    Machines: {
        "cells": {"margin_source": ("margin",)},
        "robots": {"keep_out_source": ("keep_out_radius",), "waiting_place_source": ("waiting_place",)},
        "guns": {"change_times_source": ("dressing_time", "cap_change_time")},
    },
    Plant: {"": {"change_times_source": ("wire_change_time", "contact_tip_change_time", "cylinder_change_time")}},
    Inspections: {"entries": {"stops_cell_source": ("stops_cell_for",)}},
}
"""Which source text each figure needs, by list of its table (none: the table itself)."""


def pair_problems(table: Table) -> Iterator[Problem]:
    """Yield every figure without its source, and every waiting place that its robot does not reach."""
    for name, sources in _SOURCED.get(type(table), {}).items():
        for key, entry in _entries(table, name):
            for source, figures in sources.items():
                if getattr(entry, source) is None:
                    yield from _unsourced(entry, figures, source, key)
    if isinstance(table, Machines):
        for index, robot in enumerate(table.robots):
            yield from _unreached(robot, f"robots[{index}].waiting place")


def _entries(table: Any, name: str) -> Iterator[tuple[str, Any]]:
    if not name:
        return iter([("", table)])
    return ((f"{name}[{index}].", entry) for index, entry in enumerate(getattr(table, name)))


def _unsourced(entry: Any, figures: tuple[str, ...], source: str, key: str) -> Iterator[Problem]:
    for figure in figures:
        if getattr(entry, figure) is not None:
            words = figure.replace("_", " ")
            remedy = f"add '{source.replace('_', ' ')}', such as an estimate of the works, to be measured"
            yield Problem("", 0, f"{key}{words}", "", f"{words} is given without its source", remedy)


def _unreached(robot: Robot, key: str) -> Iterator[Problem]:
    if robot.waiting_place is None:
        return
    _, far = farthest(robot, [point_in_mm(robot.waiting_place.at, robot.waiting_place.unit)])
    reach = magnitude(robot.reach, "mm")
    if not within(far, reach):
        found, limit = lengths(far, reach, WHOLE)
        said = ("the waiting place is ", found, f" from the base of {robot.id}, which reaches ", limit)
        written = ", ".join(str(each) for each in robot.waiting_place.at)
        yield from refused(said, "check the coordinates and their unit", key=key, value=written).problems
