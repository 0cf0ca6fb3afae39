"""Which parts of an order a check in process looks at: by the plant's table of sample sizes, or after every so many."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from weld_packets.model.tables.inspection import Inspection, SampleSize, SampleSizes
from weld_packets.units import exact


@dataclass(frozen=True)
class Sample:
    """The parts that a check looks at: after which part numbers, of how many; table and row where these say it."""

    turns: tuple[int, ...]
    of: int
    table: str = ""
    row: str = ""

    @property
    def basis(self) -> str:
        """Table and row in a line; empty where the check itself says after how many parts it is made."""
        return f"table {self.table}, row {self.row}" if self.row else ""


def sample_of(check: Inspection, quantity: int, table: SampleSizes | None) -> Sample | None:
    """Return the sample of a check in an order of so many parts; None where the plant counts none for it.

    A check that the table names has its sample from there; one that is made after every so many parts has each part
    that completes them.
    """
    if check.stage != "in process":
        return None
    if table is not None:
        for row in table.entries:
            if check.id in row.checks and _holds(row, quantity):
                return Sample(spread(size_of(row, quantity), quantity), quantity, table.table, row.id)
    if check.after_parts:
        return Sample(tuple(range(check.after_parts, quantity + 1, check.after_parts)), quantity)
    return None


def size_of(row: SampleSize, quantity: int) -> int:
    """Return how many parts a row requires of an order; never more than there are."""
    share = 0 if row.share is None else ceil(exact(row.share, "1") * quantity)
    return min(row.parts or share, quantity)


def spread(count: int, quantity: int) -> tuple[int, ...]:
    """Return part numbers that lie evenly over the order, the last one at its end (common practice, no source)."""
    return tuple(ceil(number * quantity / count) for number in range(1, count + 1))


def _holds(row: SampleSize, quantity: int) -> bool:
    return quantity > row.over and (row.up_to is None or quantity <= row.up_to)
