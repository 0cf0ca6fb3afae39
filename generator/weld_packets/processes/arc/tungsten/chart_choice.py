"""Which chart a group of seams from a tungsten electrode is set from."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.errors import refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenChart
from weld_packets.units import as_written, in_mm, same


def charts(approved: ApprovedTables) -> dict[str, TungstenChart]:
    """Return the charts of a plant by their table identifier."""
    return {name: table for name, table in approved.tables.items() if isinstance(table, TungstenChart)}


def chart_for(group: SeamGroup, electrode: Electrode, named: str | None, approved: ApprovedTables) -> TungstenChart:
    """Return the chart that the operation names, or else the only one that fits.

    Raises OutOfRangeError that says of each chart why it does not fit.
    """
    known = charts(approved)
    if named is not None:
        misfits = list(_misfits(known[named], group, electrode))
        if misfits:
            raise refusal(
                f"chart {named} does not fit: {', '.join(misfits)}",
                "name another chart, or leave it out to let the fitting one be found",
                value=named,
            )
        return known[named]
    misfits_of = {name: list(_misfits(chart, group, electrode)) for name, chart in known.items()}
    fitting = [name for name, misfits in misfits_of.items() if not misfits]
    if len(fitting) == 1:
        return known[fitting[0]]
    if fitting:
        raise refusal(f"{len(fitting)} charts fit: {', '.join(fitting)}", "name one as 'chart' of the operation")
    reasons = (
        "; ".join(f"{name} {', '.join(misfits)}" for name, misfits in misfits_of.items()) or "the tables hold none"
    )
    raise refusal(
        f"no tungsten chart fits a {group.seam.joint} in {group.seam.position} with electrode {electrode.id}: "
        f"{reasons}",
        "change the seam or the operation, or add an approved chart",
        value=group.seam.joint,
    )


def _misfits(chart: TungstenChart, group: SeamGroup, electrode: Electrode) -> Iterator[str]:
    seam = group.seam
    if chart.process != group.process:
        yield f"is for process {chart.process}"
    if chart.gas != group.gas.id:
        yield f"is for gas {chart.gas}"
    if not same(in_mm(chart.electrode_diameter), in_mm(electrode.diameter)):
        yield f"is for an electrode of {as_written(chart.electrode_diameter)}"
    if chart.polarity != electrode.polarity:
        yield f"is for {chart.polarity}"
    yield from _wire_misfits(chart, group)
    for base in sorted({material.base for material in group.materials} - set(chart.bases)):
        yield f"is not for {base}"
    if seam.joint not in chart.joints:
        yield f"is for {' or '.join(chart.joints)}"
    if seam.position not in chart.positions:
        yield f"is for position {' or '.join(chart.positions)}"


def _wire_misfits(chart: TungstenChart, group: SeamGroup) -> Iterator[str]:
    if group.filler is None:
        return
    if chart.wire_diameter is None:
        yield "is for welding without filler"
    elif not same(in_mm(chart.wire_diameter), in_mm(group.filler.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"
