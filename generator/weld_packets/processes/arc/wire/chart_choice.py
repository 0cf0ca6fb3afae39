"""Which arc chart a group of seams is set from; its wire feeds held against the melting data of its wires."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.chart import Place, carries, read, row_label
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart
from weld_packets.model.tables.materials import Wire
from weld_packets.processes.answers import RowContradicted
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.chart_choice import bases_of, chart_for
from weld_packets.processes.arc.wire.feed import contradicts
from weld_packets.processes.arc.wire.wire_data import wire_data
from weld_packets.units import as_written, in_mm, same


def arc_chart_for(group: SeamGroup, named: str | None, approved: ApprovedTables) -> ArcChart:
    """Return the arc chart of a group by ``chart_choice.chart_for``, which raises OutOfRangeError where none fits."""
    bases = " and ".join(bases_of(group))
    wanted = "arc chart", f"of {bases} with wire {group.wire.id} under {group.gas.id}"
    return chart_for(group, approved.arc_charts, named, lambda chart: _wire_misfits(chart, group.wire), wanted)


def _wire_misfits(chart: ArcChart, wire: Wire) -> Iterator[str]:
    if not same(in_mm(chart.wire_diameter), in_mm(wire.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"


# ---------------------------------------------------------------- feeds of a chart held against melting data


def contradicted_rows(approved: ApprovedTables) -> Iterator[RowContradicted]:
    """Yield every row of a chart whose wire feed and current one wire cannot have together, by its melting data."""
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
            yield RowContradicted(table.table, row_label(row), remark)
