"""Which chart a stack is welded by."""

from __future__ import annotations

from collections.abc import Mapping

from weld_packets.errors import refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.charts import SpotChart
from weld_packets.processes.spot.stack import SheetStack


def fits(chart: SpotChart, stack: SheetStack) -> bool:
    """Return whether a chart is for the stack's base metal and its most demanding coating."""
    return chart.base == stack.base and stack.coating in chart.coatings


def choose_chart(stack: SheetStack, wanted: str | None, approved: ApprovedTables) -> SpotChart:
    """Return the chart that the operation names, or else the only one that fits.

    Raises OutOfRangeError where the named one does not fit the stack, and with the candidates where none or several do.
    """
    fitting = {mark: chart for mark, chart in approved.spot_charts.items() if fits(chart, stack)}
    described = f"{stack.base} with coating {stack.coating}" if stack.coating != "none" else f"uncoated {stack.base}"
    if wanted is not None:
        return _named(wanted, fitting, described, approved)
    if len(fitting) == 1:
        return next(iter(fitting.values()))
    if fitting:
        raise refusal(
            f"{len(fitting)} charts fit {described}: {', '.join(sorted(fitting))}",
            "name one of them as the operation's 'chart'",
        )
    raise refusal(
        f"no spot chart fits {described}; the tables hold {', '.join(sorted(approved.spot_charts)) or 'none'}",
        "add an approved chart for it, or change the material",
    )


def _named(wanted: str, fitting: Mapping[str, SpotChart], described: str, approved: ApprovedTables) -> SpotChart:
    if wanted in fitting:
        return fitting[wanted]
    chart = approved.spot_charts[wanted]
    raise refusal(
        f"chart {wanted} is for {chart.base}, coating {' or '.join(chart.coatings)}; this stack is {described}",
        f"put stacks of different metal or coating into different operations; {described} is welded by "
        f"{', '.join(sorted(fitting)) or 'no chart of the tables'}",
        value=wanted,
    )
