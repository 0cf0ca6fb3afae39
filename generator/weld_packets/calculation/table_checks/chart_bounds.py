"""Charts against physics: a figure that no published chart comes near is refused at its place in the chart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.chart import worded
from weld_packets.calculation.plausibility import admitting_limit
from weld_packets.errors import PacketError, Problem, located
from weld_packets.model.charts import Chart
from weld_packets.model.tables import Limit
from weld_packets.units import Quantity


def bound_problems(table: Chart, limits: Sequence[Limit]) -> tuple[Problem, ...]:
    """Return every value of a chart, and every end of a range, that the limits refuse.

    Each is reported once, for the first base metal of the chart that it cannot be meant for.
    """
    found: dict[Problem, None] = {}
    if table.subject is None:
        return ()
    process, bases, coatings = table.subject
    for key, quantity, value in _values(table, table.bounded):
        for base in bases:
            try:
                with located(key=key):
                    admitting_limit(quantity, value, process, base, coatings, limits)
            except PacketError as error:
                found |= dict.fromkeys(error.problems)
                break
    return tuple(found)


def _values(table: Chart, names: Mapping[str, str]) -> Iterator[tuple[str, str, Quantity]]:
    """Yield the key path, the quantity and the value of each bounded cell."""
    for index, row in enumerate(table.rows):
        for stem, quantity in names.items():
            for field in (stem, f"{stem}_from", f"{stem}_to"):
                value = getattr(row, field, None)
                if value is not None:
                    yield f"rows[{index}].{worded(field)}", quantity, value
