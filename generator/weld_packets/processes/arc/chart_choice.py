"""Which arc chart a group of seams is set from; its wire feeds held against the melting data of its wires."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.calculation.chart import Place, carries, locate, read, row_label
from weld_packets.calculation.trace import Remark
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.charts import ArcChart
from weld_packets.model.tables import Wire
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.wire.feed import contradicts
from weld_packets.processes.arc.wire.wire_data import wire_data
from weld_packets.units import as_written, in_mm, same

_NAMED_AT_MOST = 3
"""Charts that a refusal names."""


def chart_for(group: SeamGroup, named: str | None, approved: ApprovedTables) -> ArcChart:
    """Return the chart that the operation names, or else the only one that fits.

    Where several fit but for thickness, the one whose rows reach the thickness is meant.
    Raises OutOfRangeError that says of the nearest charts why they do not fit.
    """
    if named is not None:
        return _named(group, named, approved)
    fitting = [table for table in approved.arc_charts.values() if not list(_misfits(table, group))]
    if len(fitting) > 1:
        fitting = [table for table in fitting if _covers(table, group)] or fitting
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        names = ", ".join(table.table for table in fitting)
        raise refusal(f"{len(fitting)} charts fit: {names}", "name one as 'chart' of the operation")
    raise refusal(
        f"no arc chart fits {_wanted(group)}; {_nearest(group, approved)}",
        "change the seam or the operation, or add an approved chart",
        value=group.seam.joint,
    )


def _wanted(group: SeamGroup) -> str:
    bases = " and ".join(sorted({material.base for material in group.materials}))
    return f"a {group.seam.joint} in {group.seam.position} of {bases} with wire {group.wire.id} under {group.gas.id}"


def _nearest(group: SeamGroup, approved: ApprovedTables) -> str:
    """Return what keeps the charts from fitting that differ in fewest things, and how many more there are."""
    misfits = {table.table: list(_misfits(table, group)) for table in approved.arc_charts.values()}
    near = sorted(misfits, key=lambda name: len(misfits[name]))
    if not near:
        return "the tables hold none"
    named = "; ".join(f"{name} {', '.join(misfits[name])}" for name in near[:_NAMED_AT_MOST])
    left = len(near) - _NAMED_AT_MOST
    return f"nearest: {named}" + (f"; {left} more fit less" if left > 0 else "")


def _named(group: SeamGroup, named: str, approved: ApprovedTables) -> ArcChart:
    table = approved.arc_charts[named]
    reasons = list(_misfits(table, group))
    if reasons:
        raise refusal(
            f"chart {named} does not fit: {', '.join(reasons)}",
            "name another chart, or leave it out to let the fitting one be found",
            value=named,
        )
    return table


def _covers(table: ArcChart, group: SeamGroup) -> bool:
    try:
        locate(table, group.governing)
    except OutOfRangeError:
        return False
    return True


def _misfits(table: ArcChart, group: SeamGroup) -> Iterator[str]:
    seam = group.seam
    if table.process != group.process:
        yield f"is for process {table.process}"
    if table.gas != group.gas.id:
        yield f"is for gas {table.gas}"
    if not same(in_mm(table.wire_diameter), in_mm(group.wire.diameter)):
        yield f"is for wire {as_written(table.wire_diameter)}"
    for base in sorted({material.base for material in group.materials} - set(table.bases)):
        yield f"is not for {base}"
    if seam.joint not in table.joints:
        yield f"is for {' or '.join(table.joints)}"
    if seam.position not in table.positions:
        yield f"is for position {' or '.join(table.positions)}"


# ---------------------------------------------------------------- feeds of a chart held against melting data


@dataclass(frozen=True)
class RowContradicted:
    """A row of a chart whose wire feed and current one wire cannot have together, within the scatter of its data."""

    table: str
    row: str
    wire: str
    remark: Remark


def contradicted_rows(approved: ApprovedTables) -> Iterator[RowContradicted]:
    """Yield every row of every chart that publishes a feed which contradicts the melting data of a wire."""
    for table in approved.arc_charts.values():
        for wire in (wire for wire in approved.wires.values() if _is_for(table, wire)):
            yield from _contradicted(table, wire, approved)


def _is_for(table: ArcChart, wire: Wire) -> bool:
    diameter = same(in_mm(table.wire_diameter), in_mm(wire.diameter))
    return diameter and table.process == wire.process and bool(set(table.bases) & set(wire.bases))


def _contradicted(table: ArcChart, wire: Wire, approved: ApprovedTables) -> Iterator[RowContradicted]:
    for row in table.rows:
        place = Place(table, row.thickness or row.up_to or table.wire_diameter, (row,), (row_label(row),), 0.0)
        if not (carries(place, "wire_feed") and carries(place, "current")):
            continue
        distance = read(place, "contact_distance")[0].result
        data = wire_data(wire, table.gas, table.transfer, distance, approved.owner("wires"))
        remark = None if data is None else contradicts(read(place, "wire_feed")[0].result, place, data)
        if remark is not None:
            yield RowContradicted(table.table, row_label(row), wire.id, remark)
