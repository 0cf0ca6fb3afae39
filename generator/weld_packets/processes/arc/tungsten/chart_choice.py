"""Which chart a group of seams from a tungsten electrode is set from."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.chart_choice import chart_for
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenChart
from weld_packets.units import as_written, in_mm, same


def charts(approved: ApprovedTables) -> dict[str, TungstenChart]:
    """Return the charts of a plant by their table identifier."""
    return {name: table for name, table in approved.tables.items() if isinstance(table, TungstenChart)}


def tungsten_chart_for(
    group: SeamGroup, electrode: Electrode, named: str | None, approved: ApprovedTables
) -> TungstenChart:
    """Return the chart of a group by ``settings.chart_choice``, which raises OutOfRangeError where none fits."""
    wanted = "tungsten chart", f"with electrode {electrode.id}"
    return chart_for(group, charts(approved), named, lambda chart: _misfits(chart, group, electrode), wanted)


def _misfits(chart: TungstenChart, group: SeamGroup, electrode: Electrode) -> Iterator[str]:
    if not same(in_mm(chart.electrode_diameter), in_mm(electrode.diameter)):
        yield f"is for an electrode of {as_written(chart.electrode_diameter)}"
    if chart.polarity != electrode.polarity:
        yield f"is for {chart.polarity}"
    if group.filler is None:
        return
    if chart.wire_diameter is None:
        yield "is for welding without filler"
    elif not same(in_mm(chart.wire_diameter), in_mm(group.filler.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"
