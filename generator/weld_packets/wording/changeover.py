"""Labels and sentences of a changeover, and what a page reads from those that a record holds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from weld_packets.wording.english import listed

ChangeoverTopic = Literal[
    "operation", "process", "fixture", "components", "fitted", "program", "coupon programs", "welds", "weld length",
    "coupon limit", "weld schedule", "setting", "cell",
]  # fmt: skip
CHANGEOVER_LABELS: dict[ChangeoverTopic, str] = {
    "operation": "Operation",
    "process": "Process",
    "fixture": "Fixture",
    "components": "Components",
    "program": "Program",
    "coupon programs": "Coupon programs",
    "welds": "Welds",
    "weld length": "Weld length",
    "coupon limit": "Coupon limit",
    "weld schedule": "Weld schedule",
    "cell": "Cell",
}
"""A setting has the label of its value, and what is fitted the one that its process family gives it."""
NOT_USED = "not used"
_NO_LONGER_USED = "no longer used"
_CELL = "Cell "
_AS_RELEASED = "Compared with "


def basis_words(order: str, revision: str = "", *, is_as_released: bool = False) -> str:
    """Return what of the previous order was compared: its draft, its last released revision, or files edited since."""
    if not revision:
        return f"{order} has no released revision: compared with its draft. Read every 'before' at the cell."
    if is_as_released:
        return f"{_AS_RELEASED}{order} revision {revision}."
    return f"The sources of {order} have changed since its revision {revision}: read every 'before' at the cell."


def is_as_released(basis: str) -> bool:
    """Return whether a released revision was compared as it is; a record holds the sentence alone."""
    return basis.startswith(_AS_RELEASED)  # that records of any age hold


def changed_words(changes: Sequence[tuple[str, str, str]]) -> str:
    """Return what changes in a cell, in a line, from what is compared, before and after."""
    if [(what, after) for what, _, after in changes] == [(CHANGEOVER_LABELS["cell"], NOT_USED)]:
        return _NO_LONGER_USED
    if all(before == NOT_USED for _, before, _ in changes):
        return "not used before, everything is new"
    return "; ".join(what for what, _, _ in changes)


def cell_heading(cell: str, operations: Sequence[str]) -> str:
    """Return the heading of a cell in a list that goes from cell to cell."""
    return f"{_CELL}{cell}: {listed(operations) or _NO_LONGER_USED}"


def cell_of_heading(heading: str) -> str:
    """Return the cell of a heading, empty for none; a record holds the heading alone."""
    return heading.partition(":")[0].removeprefix(_CELL)  # that records of any age hold
