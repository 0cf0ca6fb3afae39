"""Which chart a group of seams from a tungsten electrode is set from."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.errors import refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.processes.arc.asked import Ask
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenChart
from weld_packets.units import as_written, in_mm, same


def charts(approved: ApprovedTables) -> dict[str, TungstenChart]:
    """Return the charts of a plant by their table identifier."""
    return {name: table for name, table in approved.tables.items() if isinstance(table, TungstenChart)}


def chart_for(ask: Ask, electrode: Electrode, named: str | None, approved: ApprovedTables) -> TungstenChart:
    """Return the chart that the operation names, or else the only one that fits.

    Raises OutOfRangeError that says of each chart why it does not fit.
    """
    known = charts(approved)
    if named is not None:
        misfits = list(_misfits(known[named], ask, electrode))
        if misfits:
            raise refusal(
                f"chart {named} does not fit: {', '.join(misfits)}",
                "name another chart, or leave it out to let the fitting one be found",
                value=named,
            )
        return known[named]
    misfits_of = {name: list(_misfits(chart, ask, electrode)) for name, chart in known.items()}
    fitting = [name for name, misfits in misfits_of.items() if not misfits]
    if len(fitting) == 1:
        return known[fitting[0]]
    if fitting:
        raise refusal(f"{len(fitting)} charts fit: {', '.join(fitting)}", "name one as 'chart' of the operation")
    reasons = (
        "; ".join(f"{name} {', '.join(misfits)}" for name, misfits in misfits_of.items()) or "the tables hold none"
    )
    raise refusal(
        f"no tungsten chart fits a {ask.seam.joint} in {ask.seam.position} with electrode {electrode.id}: {reasons}",
        "change the seam or the operation, or add an approved chart",
        value=ask.seam.joint,
    )


def _misfits(chart: TungstenChart, ask: Ask, electrode: Electrode) -> Iterator[str]:
    seam = ask.seam
    if chart.process != ask.process:
        yield f"is for process {chart.process}"
    if chart.gas != ask.gas.id:
        yield f"is for gas {chart.gas}"
    if not same(in_mm(chart.electrode_diameter), in_mm(electrode.diameter)):
        yield f"is for an electrode of {as_written(chart.electrode_diameter)}"
    if chart.polarity != electrode.polarity:
        yield f"is for {chart.polarity}"
    yield from _wire_misfits(chart, ask)
    for base in sorted({material.base for material in ask.materials} - set(chart.bases)):
        yield f"is not for {base}"
    if seam.joint not in chart.joints:
        yield f"is for {' or '.join(chart.joints)}"
    if seam.position not in chart.positions:
        yield f"is for position {' or '.join(chart.positions)}"


def _wire_misfits(chart: TungstenChart, ask: Ask) -> Iterator[str]:
    if ask.filler is None:
        return
    if chart.wire_diameter is None:
        yield "is for welding without filler"
    elif not same(in_mm(chart.wire_diameter), in_mm(ask.filler.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"
