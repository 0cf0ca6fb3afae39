"""Something that is fitted for an operation and wears or runs out, and what one part takes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from weld_packets.calculation.trace import Given
from weld_packets.units import Kind, Quantity, exact


@dataclass(frozen=True)
class Recorded:
    """How an order records a consumable: the key of its state, whether that is what is left or what is used."""

    key: str
    counts: Literal["left", "used"]


@dataclass(frozen=True)
class ProveOutUse:
    """What a prove-out takes of a consumable besides its first-off part: ``what`` takes it, and on what authority.

    ``amount`` is in the unit of a part's; ``wear`` is the share of one that it is, exactly.
    """

    what: str
    amount: Quantity
    wear: Fraction
    source: str


@dataclass(frozen=True)
class Supply:
    """A consumable at one place of the line.

    Attributes:
        operation: name of the operation.
        cell: its cell.
        robot: the robot; empty where both robots of the cell share it.
        what: the consumable; ``kind`` is that of its amounts, ``unit`` and ``run_unit`` show a part's and a run's.
        word: how an order calls it.
        item: its identifier in its table; that of the wire for a contact tip.
        per_part: what one part takes.
        lasts: what one spool, cylinder, tip or dressing lasts for, and on what authority.
        holds: what one of them holds; None for caps, which wear by coating.
        wear: the share of that which one part takes, exactly.
        change: what to do when it falls due.
        changed: why a new one is taken for granted where the order before used another one.
        lesser: what to do instead, ``turns`` times before each change, such as dressing a cap; empty for nothing.
        lesser_noun: that in one word, such as dressing.
        turns_source: what that number of times rests on; empty for nothing.
        turns_key: by which key an order records how often that was done; empty where it cannot.
        change_time: for how long the cell stands still for one change, ``lesser_time`` for one lesser turn; None where
            no table says so.
        times_source: where both are from.
        one_each: whether a place can hold only one item for all operations of an order.
        recorded: how an order records it; None where it does so by welds since a dressing.
        intervals: welds between dressings by coating, for what wears by them.
        prove_out: what a prove-out takes besides its first-off part.
        not_counted: what else it takes, and why that is not known.
        renewed_with: the consumable at the same place that brings a new one when it is changed; empty for none.

    """

    operation: str
    cell: str
    robot: str
    what: str
    word: str
    item: str
    kind: Kind
    unit: str
    run_unit: str
    per_part: Quantity
    lasts: tuple[Given, ...]
    holds: Quantity | None
    wear: Fraction
    change: str
    changed: str = ""
    lesser: str = ""
    lesser_noun: str = ""
    turns: int = 0
    turns_source: str = ""
    turns_key: str = ""
    change_time: Quantity | None = None
    lesser_time: Quantity | None = None
    times_source: str = ""
    one_each: bool = False
    recorded: Recorded | None = None
    intervals: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    prove_out: tuple[ProveOutUse, ...] = ()
    not_counted: tuple[str, ...] = ()
    renewed_with: str = ""

    @property
    def proof(self) -> Fraction:
        """The share of one that the prove-out takes: the first-off part and what else is known."""
        return self.wear + sum((each.wear for each in self.prove_out), Fraction(0)) if self.wear else Fraction(0)

    @property
    def place(self) -> str:
        """Where it is fitted: at the robot, or in the cell."""
        return self.robot or self.cell


NO_COUPON_PROGRAM = "coupons: the order names no coupon program of the robot"
"""Why what the coupons of a robot take is not counted."""


def share(taken: Quantity, whole: Quantity, unit: str) -> Fraction:
    """Return exactly which share of a whole is taken."""
    return Fraction(exact(taken, unit)) / Fraction(exact(whole, unit))
