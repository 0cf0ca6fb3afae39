"""Reading charts of settings by thickness: points are interpolated, bands are not, nothing is extrapolated."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Any

from weld_packets.calculation.sentences import refused, stated
from weld_packets.calculation.trace import AllowedRange, Lookup, Words
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.model.tables.charts import Chart, ChartRow
from weld_packets.units import Quantity, as_written, exact, in_mm, kinds, magnitude, quantity, same, spelling
from weld_packets.units.digits import in_band

_FRACTION = Decimal("0.000001")


@dataclass(frozen=True)
class Place:
    """Where a thickness is in a chart: one row, or two neighbours and the fraction from the first to the second.

    ``labels`` are the thicknesses of the rows as printed.
    """

    table: Chart
    at: Quantity
    rows: tuple[ChartRow, ...]
    labels: tuple[str, ...]
    share: float


def locate(table: Chart, at: Quantity) -> Place:
    """Return the row or rows of ``table`` that a thickness falls on.

    Raises OutOfRangeError below the first row, above the last, in a gap, or where two bands claim the thickness.
    """
    find = _on_points if table.form == "points" else _in_band
    rows, share = find(table, at)
    return Place(table, at, rows, tuple(row_label(row) for row in rows), share)


def _on_points(table: Chart, at: Quantity) -> tuple[tuple[ChartRow, ...], float]:
    wanted = in_mm(at)
    points = [(in_mm(_stated(row.thickness, table)), row) for row in table.rows]
    for point, row in points:
        if same(point, wanted):
            return (row,), 0.0
    for (low, first), (high, second) in pairwise(points):
        if low < wanted < high:
            return (first, second), (wanted - low) / (high - low)
    raise _outside(table, at)


def _in_band(table: Chart, at: Quantity) -> tuple[tuple[ChartRow, ...], float]:
    wanted = exact(at, "mm")
    found = [row for row in table.rows if _holds(row, wanted, table)]
    if not found:
        raise _outside(table, at)
    if len(found) > 1:
        raise refusal(
            f"table {table.table} has {len(found)} bands that claim {as_written(at)}: "
            + ", ".join(row_label(row) for row in found),
            "correct the bands so that each ends where the next begins",
            value=as_written(at),
        )
    return (found[0],), 0.0


def _holds(row: ChartRow, wanted: Decimal, table: Chart) -> bool:
    return in_band(wanted, _stated(row.over, table), _stated(row.up_to, table))


def _stated(value: Quantity | None, table: Chart) -> Quantity:
    if value is None:
        raise refusal(
            f"table {table.table} is a chart of {table.form} but a row lacks its thickness",
            "give 'thickness' in every row of a point chart, 'over' and 'up to' in every row of a band chart",
        )
    return value


def _outside(table: Chart, at: Quantity) -> OutOfRangeError:
    return refused(
        ("thickness ", stated(at, kinds.THICKNESS), f" is outside table {table.table} revision {table.revision}, ",
         "which covers ", *_reach(table, at)),
        "use a chart that covers this thickness; a chart is never extrapolated",
        value=as_written(at),
    )  # fmt: skip


def _reach(table: Chart, at: Quantity) -> Words:
    """Return from which thickness to which a chart covers, in both systems of units, and whether ``at`` is in a gap."""
    first, last = table.rows[0], table.rows[-1]
    if first.thickness is not None:
        return "from ", stated(first.thickness, kinds.THICKNESS), " to ", stated(_end(last, table), kinds.THICKNESS)
    low, high = _stated(first.over, table), _end(last, table)
    gap = ", with a gap between two rows" if in_mm(low) < in_mm(at) < in_mm(high) else ""
    return "over ", stated(low, kinds.THICKNESS), " up to ", stated(high, kinds.THICKNESS), gap


def _end(row: ChartRow, table: Chart) -> Quantity:
    return _stated(row.thickness if row.thickness is not None else row.up_to, table)


def row_label(row: ChartRow) -> str:
    """Return a row's thickness as printed: ``1.2 mm``, or ``over 1 up to 1.2 mm``."""
    if row.thickness is not None:
        return as_written(row.thickness)
    ends = [as_written(end) for end in (row.over, row.up_to) if end is not None]
    return "over " + " up to ".join(ends)


def carries(place: Place, column: str) -> bool:
    """Return whether the chart states ``column`` in the rows of this place."""
    return all(_cell(row, column) for row in place.rows)


def _cell(row: ChartRow, column: str) -> tuple[Quantity, ...]:
    """Return the one value, both ends of the range, or nothing."""
    single = getattr(row, column, None)
    if single is not None:
        return (single,)
    ends = (getattr(row, f"{column}_from", None), getattr(row, f"{column}_to", None))
    return tuple(end for end in ends if end is not None) if None not in ends else ()


def read_count(place: Place, column: str) -> int | None:
    """Return a whole number such as the pulses of a weld; None where the chart does not state it.

    Raises OutOfRangeError between two rows that state different numbers: half a pulse does not exist.
    """
    stated = {getattr(row, column) for row in place.rows}
    if len(stated) > 1:
        raise refusal(
            f"table {place.table.table} changes {worded(column)} between its rows {' and '.join(place.labels)}",
            "choose a thickness on a row, or add a row to the table",
            value=as_written(place.at),
        )
    found: int | None = stated.pop()
    return found


def worded(column: str) -> str:
    """Return a column's name as a source writes it."""
    return column.replace("_", " ")


def read(place: Place, column: str) -> tuple[Lookup, AllowedRange | None]:
    """Return the value of ``column`` at a place, and the range where the chart states one.

    The value of a range is its middle. Between two points both value and range are interpolated linearly.
    """
    cells = [_cell(row, column) for row in place.rows]
    if not all(cells) or len({len(cell) for cell in cells}) > 1:
        raise refusal(
            f"table {place.table.table} does not state {worded(column)} at {' and '.join(place.labels)}",
            "complete the column in the table, in one form, or choose another chart",
        )
    unit = spelling(cells[0][0])
    ends = [_between([cell[side] for cell in cells], place.share, unit) for side in range(len(cells[0]))]
    allowed_range = AllowedRange(ends[0], ends[1], origin(place)) if len(ends) > 1 else None
    return _looked_up(
        place, column, cells, quantity(sum(end.magnitude for end in ends) / len(ends), unit)
    ), allowed_range


def _between(values: list[Quantity], share: float, unit: str) -> Quantity:
    first, last = (magnitude(value, unit) for value in (values[0], values[-1]))
    return quantity(first + (last - first) * share, unit)


def _looked_up(place: Place, column: str, cells: list[tuple[Quantity, ...]], result: Quantity) -> Lookup:
    fraction = Decimal(place.share).quantize(_FRACTION) if len(place.rows) > 1 else None
    return Lookup(
        table=place.table.table,
        revision=place.table.revision,
        source=place.table.source,
        column=worded(column),
        at=place.at,
        rows=place.labels,
        values=tuple(" to ".join(as_written(value) for value in cell) for cell in cells),
        fraction=fraction,
        result=result,
    )


def origin(place: Place) -> str:
    """Return table and rows of a place, as the origin of an allowed range.

    The revision is given in the packet's list of tables and at each look-up, so that a new one changes no other text.
    """
    return f"table {place.table.table}, row {' to '.join(place.labels)}"


def read_range(place: Place, column: str) -> tuple[Lookup, AllowedRange]:
    """Return value and allowed range of ``column`` at a place.

    A range of the chart is it, and at least as wide as the table's tolerance of its middle where that states one.
    Raises OutOfRangeError where the chart states one value and the table no tolerance for it.
    """
    lookup, allowed_range = read(place, column)
    if allowed_range is None:
        return lookup, _toleranced(place, column, lookup.result)
    if worded(column) in getattr(place.table, "tolerance", {}):
        return lookup, _widened(allowed_range, _toleranced(place, column, lookup.result))
    return lookup, allowed_range


def _widened(allowed_range: AllowedRange, minimum: AllowedRange) -> AllowedRange:
    """Return an allowed range that reaches at least as far as another one on either side."""
    lows, highs = (allowed_range.low, minimum.low), (allowed_range.high, minimum.high)
    low, high = min(end for end in lows if end is not None), max(end for end in highs if end is not None)
    return (
        allowed_range
        if (low, high) == (allowed_range.low, allowed_range.high)
        else AllowedRange(low, high, minimum.origin)
    )


def _toleranced(place: Place, column: str, value: Quantity) -> AllowedRange:
    table: Any = place.table
    share = getattr(table, "tolerance", {}).get(worded(column))
    if share is None:
        raise refusal(
            f"table {table.table} gives one value for {worded(column)} and no tolerance, so no allowed range follows",
            f"state 'tolerance' for '{worded(column)}' in the table, with its source",
        )
    part = magnitude(share, "1")
    unit = spelling(value)
    low, high = (quantity(value.magnitude * factor, unit) for factor in (1 - part, 1 + part))
    return AllowedRange(low, high, f"{origin(place)}, ± {as_written(share)} ({table.tolerance_source})")
