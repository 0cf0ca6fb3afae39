"""Gauges of sheet that cannot be: a number twice, a thickness that does not fall, a slip of a digit."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from weld_packets.calculation.table_checks.figures import table_problem
from weld_packets.errors import Problem
from weld_packets.model.sheet_gauges import STANDARD_GAUGE, SheetGauges
from weld_packets.units import as_written, exceeds, is_between, magnitude

_LOWEST, _HIGHEST = 0.8, 1.4
"""Shares of the manufacturers' standard gauge between which that of any sheet lies: coated sheet is thicker by its
coating, most where it is thinnest. Common practice, no source."""


def sheet_gauge_problems(table: SheetGauges) -> Iterator[Problem]:
    """Yield every fault of the rows, with its key path within the table."""
    rows = sorted(enumerate(table.rows), key=lambda found: found[1].gauge)
    for (_, lower), (index, row) in pairwise(rows):
        if row.gauge == lower.gauge:
            yield table_problem(
                f"rows[{index}].gauge", str(row.gauge), "is in the table twice", "take one of the two rows out"
            )
        elif not exceeds(magnitude(lower.thickness, "in"), magnitude(row.thickness, "in")):
            message = f"is not thinner than gauge {lower.gauge}, {as_written(lower.thickness)}"
            remedy = "a higher gauge is thinner sheet: correct one of the two"
            yield table_problem(f"rows[{index}].thickness", as_written(row.thickness), message, remedy)
    for index, row in rows:
        yield from _slips(row.gauge, magnitude(row.thickness, "in"), f"rows[{index}]", as_written(row.thickness))


def _slips(gauge: int, inches: float, key: str, written: str) -> Iterator[Problem]:
    if gauge not in STANDARD_GAUGE:
        known = f"{min(STANDARD_GAUGE)} to {max(STANDARD_GAUGE)}"
        yield table_problem(f"{key}.gauge", str(gauge), f"gauges of sheet are {known}", "take the row out")
        return
    standard = float(STANDARD_GAUGE[gauge])
    if not is_between(standard * _LOWEST, inches, standard * _HIGHEST):
        shares = f"{_LOWEST:g} to {_HIGHEST:g} times"
        message = f"is not within {shares} the manufacturers' standard gauge, {STANDARD_GAUGE[gauge]} in"
        yield table_problem(f"{key}.thickness", written, message, "correct the digit or the unit")
