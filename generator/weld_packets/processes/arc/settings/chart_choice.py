"""Which chart a group of seams is set from: the one that the order names, or the only one that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TypeVar

from weld_packets.calculation.chart import locate
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.model.tables.charts import SeamChart
from weld_packets.processes.arc.seam_groups import SeamGroup

_NAMED_AT_MOST = 3
"""Charts that a refusal names."""
ChartOf = TypeVar("ChartOf", bound=SeamChart)


def chart_for(
    group: SeamGroup,
    charts: Mapping[str, ChartOf],
    named: str | None,
    own_misfits: Callable[[ChartOf], Iterable[str]],
    wanted: tuple[str, str],
) -> ChartOf:
    """Return the chart that the operation names, or else the only one that fits.

    ``own_misfits`` says why a chart does not fit the consumables of its process; ``wanted`` are the kind of chart and,
    as a refusal says it, with what the seam is welded. Where several fit but for thickness, the one whose rows reach
    it is meant. Raises OutOfRangeError that says of the nearest charts why they do not fit.
    """
    if named is not None:
        reasons = list(_misfits(charts[named], group, own_misfits(charts[named])))
        if reasons:
            raise refusal(
                f"chart {named} does not fit: {', '.join(reasons)}",
                "name another chart, or leave it out to let the fitting one be found",
                value=named,
            )
        return charts[named]
    misfits = {name: list(_misfits(chart, group, own_misfits(chart))) for name, chart in charts.items()}
    fitting = [charts[name] for name, reasons in misfits.items() if not reasons]
    if len(fitting) > 1:
        fitting = [chart for chart in fitting if _covers(chart, group)] or fitting
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        names = ", ".join(chart.table for chart in fitting)
        raise refusal(f"{len(fitting)} charts fit: {names}", "name one as 'chart' of the operation")
    kind, welded_with = wanted
    raise refusal(
        f"no {kind} fits a {group.seam.joint} in {group.seam.position} {welded_with}; {_nearest(misfits)}",
        "change the seam or the operation, or add an approved chart",
        value=group.seam.joint,
    )


def bases_of(group: SeamGroup) -> tuple[str, ...]:
    """Return the base metals that a seam joins, in alphabetical order."""
    return tuple(sorted({material.base for material in group.materials}))


def _misfits(chart: SeamChart, group: SeamGroup, own: Iterable[str]) -> Iterator[str]:
    seam = group.seam
    if chart.process != group.process:
        yield f"is for process {chart.process}"
    if chart.gas != group.gas.id:
        yield f"is for gas {chart.gas}"
    yield from own
    for base in bases_of(group):
        if base not in chart.bases:
            yield f"is not for {base}"
    if seam.joint not in chart.joints:
        yield f"is for {' or '.join(chart.joints)}"
    if seam.position not in chart.positions:
        yield f"is for position {' or '.join(chart.positions)}"


def _covers(chart: SeamChart, group: SeamGroup) -> bool:
    try:
        locate(chart, group.governing)
    except OutOfRangeError:
        return False
    return True


def _nearest(misfits: Mapping[str, list[str]]) -> str:
    """Return what keeps the charts from fitting that differ in fewest things, and how many more there are."""
    near = sorted(misfits, key=lambda name: len(misfits[name]))
    if not near:
        return "the tables hold none"
    named = "; ".join(f"{name} {', '.join(misfits[name])}" for name in near[:_NAMED_AT_MOST])
    left = len(near) - _NAMED_AT_MOST
    return f"nearest: {named}" + (f"; {left} more fit less" if left > 0 else "")
