"""Charts against physics: a figure that no published schedule comes near is told where it stands, in the chart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.chart import worded
from weld_packets.calculation.plausibility import check_plausible
from weld_packets.errors import PacketError, Problem, located
from weld_packets.model.charts import ArcChart, SpotChart
from weld_packets.model.tables import Limit
from weld_packets.units import Quantity

_SPOT_PROCESS = "21"
_OF_SPOT = {"force": "electrode_force", "weld_time": "weld_time", "current": "weld_current"}
_OF_ARC = {
    "current": "welding_current",
    "voltage": "arc_voltage",
    "wire_feed": "wire_feed_speed",
    "travel_speed": "travel_speed",
    "gas_flow": "gas_flow",
    "contact_distance": "contact_distance",
}
"""Columns of a chart, and what the table of limits calls them."""


def bound_problems(table: SpotChart | ArcChart, limits: Sequence[Limit]) -> tuple[Problem, ...]:
    """Return every value of a chart, and every end of a range, that the limits refuse.

    Each is told once, for the first base metal of the chart that it cannot be meant for.
    """
    process, bases, coatings, names = _subject(table)
    found: dict[Problem, None] = {}
    for key, quantity, value in _values(table, names):
        for base in bases:
            try:
                with located(key=key):
                    check_plausible(quantity, value, process, base, coatings, limits)
            except PacketError as error:
                found |= dict.fromkeys(error.problems)
                break
    return tuple(found)


def _subject(table: SpotChart | ArcChart) -> tuple[str, Sequence[str], Sequence[str], Mapping[str, str]]:
    if isinstance(table, SpotChart):
        return _SPOT_PROCESS, (table.base,), table.coatings, _OF_SPOT
    return table.process, table.bases, ("none",), _OF_ARC


def _values(table: SpotChart | ArcChart, names: Mapping[str, str]) -> Iterator[tuple[str, str, Quantity]]:
    """Yield the key path, the quantity and the value of each bounded cell."""
    for index, row in enumerate(table.rows):
        for stem, quantity in names.items():
            for field in (stem, f"{stem}_from", f"{stem}_to"):
                value = getattr(row, field, None)
                if value is not None:
                    yield f"rows[{index}].{worded(field)}", quantity, value
