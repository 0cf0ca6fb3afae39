"""What the plan of an order says: times by row and arm, consumables, and what falls due at which part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.process.trace import Figure, Verdict


@dataclass(frozen=True)
class ArmPlan:
    """One arm's share of a row: ``weld_time``, ``move_time``, ``arm_time``, and ``arc_share`` of an arc arm."""

    arm: str
    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...] = ()

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        return {figure.key: figure for figure in self.figures}[key]


@dataclass(frozen=True)
class RowPlan:
    """One row's time for one part: both arms, then ``load_time`` and ``row_time``."""

    row: str
    cell: str
    arms: tuple[ArmPlan, ...]
    figures: tuple[Figure, ...]

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        return {figure.key: figure for figure in self.figures}[key]


@dataclass(frozen=True)
class Use:
    """One consumable of one arm, or of a whole cell (``arm`` empty), with what a part and the whole run take.

    Figures: ``per_part``, ``over_run``, ``parts_between`` changes, ``changes`` during the run after the one that is
    new at the start, and ``dressings`` of electrode caps.
    """

    row: str
    cell: str
    arm: str
    what: str
    figures: tuple[Figure, ...]

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        return {figure.key: figure for figure in self.figures}[key]


@dataclass(frozen=True)
class Event:
    """Something that falls due: after a part is finished, or while it is welded.

    ``basis`` says from what the part number follows and on what authority; ``supply`` is the consumable.
    """

    part_number: int
    row: str
    arm: str
    what: str
    when: Literal["after", "during"]
    cell: str
    basis: str
    supply: str = ""


@dataclass(frozen=True)
class OrderPlan:
    """Times and consumables of the whole quantity.

    Attributes:
        quantity: parts of the order.
        rows: times of each row, in the order's sequence.
        bottleneck: name of the slowest row; the first of several that are equally slow.
        model: how the run duration is reckoned, in a sentence for the reader.
        figures: ``first_part_time`` and ``run_duration``.
        uses: consumables, by row and arm.
        events: what falls due, by part number, then row and arm.

    """

    quantity: int
    rows: tuple[RowPlan, ...]
    bottleneck: str
    model: str
    figures: tuple[Figure, ...]
    uses: tuple[Use, ...]
    events: tuple[Event, ...]

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        return {figure.key: figure for figure in self.figures}[key]
