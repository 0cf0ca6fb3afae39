"""What cannot be right in a table of sample sizes: a row without a number, rows of one check that overlap."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.table_checks.figures import fault
from weld_packets.errors import Problem
from weld_packets.model.sampling import SampleSize, SampleSizes
from weld_packets.units import as_written, exact


def sampling_problems(table: SampleSizes) -> Iterator[Problem]:
    """Yield every fault of the rows, with its key path within the table."""
    ends: dict[str, tuple[int, SampleSize]] = {}
    for index, row in sorted(enumerate(table.entries), key=lambda found: found[1].over):
        key = f"entries[{index}]"
        yield from _form(row, key)
        for check in row.checks:
            end, before = ends.get(check, (0, row))
            if row.over < end:
                upper = "any more" if end == _OPEN else f"up to {end}"
                message = f"row {before.id!r} already says it for orders of {upper} parts"
                yield fault(f"{key}.over", str(row.over), message, "let one begin where the other ends")
            ends[check] = (_OPEN if row.up_to is None else row.up_to, row)


_OPEN = 10**9
"""More than any quantity: a row without an end."""


def _form(row: SampleSize, key: str) -> Iterator[Problem]:
    if (row.parts is None) == (row.share is None):
        yield fault(key, row.id, "gives 'parts' and 'share', or neither", "give one of the two")
    if row.parts == 0:
        yield fault(f"{key}.parts", "0", "a check that looks at no part is none", "take the row out")
    if row.share is not None and not 0 < exact(row.share, "1") <= 1:
        yield fault(f"{key}.share", as_written(row.share), "is not over 0 and up to 100 %", "check the number")
    if row.up_to is not None and row.up_to <= row.over:
        message = f"the range ends at or below its beginning {row.over}"
        yield fault(f"{key}.up to", str(row.up_to), message, "swap 'over' and 'up to'")
