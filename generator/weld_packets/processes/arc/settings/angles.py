"""The angles of the torch of seams that are set the same."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from weld_packets.calculation.countermeasures import SECTION
from weld_packets.calculation.formula import Source
from weld_packets.calculation.readings import ordered
from weld_packets.calculation.trace import Figure, Name, Remark, Weight
from weld_packets.model.tables.charts import SeamChart
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, as_written, kinds, magnitude

WORK_ANGLE = Name("work_angle", "Work angle", "β", kinds.ANGLE)
TRAVEL_ANGLE = Name("travel_angle", "Travel angle", "τ", kinds.ANGLE)
ANGLES = Source("a power-source maker's manual", "butt ± 15°, fillet at 45°")
MAXIMUM_TURN = 15.0
"""Degrees by which an order may turn the torch from the chart's angle without a warning."""


def angles(group: SeamGroup, table: SeamChart) -> tuple[Figure, Figure]:
    """Return the angles of the torch: the order's own, else the chart's, with the direction of travel."""
    chart = f"table {table.table}: {table.angles_source}"
    found = []
    for name, own, usual in (
        (WORK_ANGLE, group.seam.work_angle, table.work_angle),
        (TRAVEL_ANGLE, group.seam.travel_angle, table.travel_angle),
    ):
        figure = ordered(name, usual if own is None else own, chart if own is None else "order")
        found.append(replace(figure, remarks=tuple(_turned(usual if own is None else own, usual))))
    direction = Remark(Weight.NOTE, table.travel_direction)
    return found[0], replace(found[1], remarks=(direction, *found[1].remarks))


def _turned(angle: Quantity, usual: Quantity) -> Iterator[Remark]:
    if abs(magnitude(angle, "°") - magnitude(usual, "°")) > MAXIMUM_TURN:
        words = f"more than {MAXIMUM_TURN:g}° from the {as_written(usual)} of the chart"
        yield Remark(Weight.WARNING, words, ANGLES, SECTION)
