"""What a family writes its steps from: an operation as a packet shows it, and what the lists of a run share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Protocol

from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import Occasion
from weld_packets.model.tables.machines import Cell, Robot
from weld_packets.processes.cell.drafts import Draft, listed
from weld_packets.units import Quantity


class View(Protocol):
    """What a packet shows of an operation, from which a family writes its steps; numbers are texts in both systems."""

    @property
    def operation(self) -> Any:
        """The operation as the order states it."""

    @property
    def approved(self) -> ApprovedTables:
        """The tables."""

    @property
    def cell(self) -> Cell:
        """The cell."""

    @property
    def robots(self) -> tuple[Robot, ...]:
        """Both robots, side A first."""

    def length(self, length: Quantity) -> str:
        """Return a nominal length in both systems."""

    def stated(self, value: Quantity) -> str:
        """Return a quantity as its table states it."""

    def flow(self, value: Quantity) -> str:
        """Return a flow of water in both systems."""

    def amounts(self, key: str, robot: str = "") -> tuple[str, ...]:
        """Return the values of a setting, each once: of all welds, or of those of a robot."""

    def listed(self, names: Iterable[str]) -> str:
        """Return names as a sentence lists them, each once."""

    def by_value(self, key: str, how: str) -> Iterator[tuple[str, str, str]]:
        """Yield robots, value and what to see, once for each value and allowed range that some settings share."""


class Kit(Protocol):
    """What the lists of a run share, whatever is changed: how one goes in, comes out, and proves what is new."""

    def changed(
        self, locked: Iterable[Draft], energised: Iterable[Draft], what: str, checks: Iterable[Draft] = ()
    ) -> tuple[Draft, ...]:
        """Return the steps of a change: in and locked out, ``locked``, the lock off, ``energised``, out and running.

        ``checks`` are made of the next part, and it is noted that ``what`` was done.
        """

    def checks(self, views: Sequence[View], occasion: Occasion) -> Iterator[Draft]:
        """Yield what the plan of inspections requires of the next part after something was done."""

    def coupons(self, view: View, made_ready: Iterable[Draft]) -> Iterator[Draft]:
        """Yield the steps that make room for coupons, ``made_ready``, prove them, and load the part welded next."""


def cells_of(views: Iterable[View]) -> str:
    """Return the cells of some operations, each once, as a sentence lists them."""
    return listed(dict.fromkeys(view.cell.id for view in views))
