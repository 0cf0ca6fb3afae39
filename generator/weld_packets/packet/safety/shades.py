"""The filter shade for the largest current that the settings of a row allow."""

from __future__ import annotations

from weld_packets.errors import refusal
from weld_packets.model.processes import process
from weld_packets.model.tables import ShadeRow, Shades
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.safety.conditions import CURRENT_KEYS
from weld_packets.units import Quantity, as_written


def shade_row(view: OperationView) -> ShadeRow | None:
    """Return the row of the shade chart for the largest allowed current; None where the row burns no arc.

    An end that two rows share belongs to the darker one. Raises OutOfRangeError where no row covers the current.
    """
    found = view.largest_allowed(*CURRENT_KEYS)
    if found is None or not process(view.operation.process).burns_arc:
        return None
    current = found[0]
    table = _table(view)
    covering = [row for row in table.rows if row.process == view.operation.process and _covers(row, current)]
    if not covering:
        raise refusal(
            f"no row of table {table.table} gives a filter shade for process {view.operation.process} "
            f"at {as_written(current)}",
            "add a row to the table of shades from its source; a shade is never guessed",
            key=f"operations[{view.number - 1}]",
            value=as_written(current),
        )
    return max(covering, key=lambda row: (row.minimum_shade, row.suggested_shade or 0))


def _table(view: OperationView) -> Shades:
    """Return the table of shades, without which no operation with an arc is read."""
    if view.approved.shades is None:
        raise LookupError("shades")
    return view.approved.shades


def _covers(row: ShadeRow, current: Quantity) -> bool:
    return bool(row.over <= current <= row.up_to)


def shade_label(row: ShadeRow) -> str:
    """Return a row of the shade chart as printed."""
    return f"{row.process}, {as_written(row.over)} to {as_written(row.up_to)}"


def shade_words(view: OperationView) -> str:
    """Return the shade to wear; empty where the row burns no arc."""
    row = shade_row(view)
    if row is None:
        return ""
    more = f", suggested {row.suggested_shade}" if row.suggested_shade else ""
    return f"filter shade: minimum {row.minimum_shade}{more}"


def shade_origin(view: OperationView) -> str:
    """Return current and row of the chart that the shade is for; empty where the row burns no arc."""
    row, found = shade_row(view), view.largest_allowed(*CURRENT_KEYS)
    if row is None or found is None:
        return ""
    table = _table(view).table
    return f"filter shade for a largest allowed current of {found[1]} (table {table}, row {shade_label(row)})"
