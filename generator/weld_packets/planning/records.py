"""What the plan of an order says: times by operation and robot, consumables, and what falls due at which part."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from typing import Literal

from weld_packets.calculation.trace import Figure, Verdict
from weld_packets.planning.due import NEW
from weld_packets.planning.pair.records import NotChecked, PairPlan
from weld_packets.processes.supplies import Supply
from weld_packets.units import Quantity


class _Figured:
    """Something that was calculated: its figures are found by their keys."""

    figures: tuple[Figure, ...]

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        return {figure.key: figure for figure in self.figures}[key]


@dataclass(frozen=True)
class RobotPlan(_Figured):
    """One robot's share of an operation: ``weld_time``, ``move_time``, ``robot_time``, and ``arc_share`` of an arc."""

    robot: str
    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...] = ()


@dataclass(frozen=True)
class OperationPlan(_Figured):
    """One operation's time for one part: both robots, then ``load_time`` and ``operation_time``; then the run.

    Of the run ``stops_time`` and ``operation_run``; ``not_counted`` names stops that no table gives a time for.
    ``pair`` says how both robots keep clear of each other, or why that is not known.
    """

    operation: str
    cell: str
    robots: tuple[RobotPlan, ...]
    figures: tuple[Figure, ...]
    pair: PairPlan | NotChecked
    verdicts: tuple[Verdict, ...] = ()
    not_counted: tuple[str, ...] = ()


@dataclass(frozen=True)
class Left:
    """A consumable as an order leaves it.

    Attributes:
        place: the robot, or the cell.
        what: the consumable.
        item: its identifier in its table; that of the wire for a contact tip.
        used: share that is used of one spool, cylinder, contact tip, or of the welds between two dressings.
        dressings: how often electrode caps were dressed since they were new.
        order: number of the order that used it last.
        revision: its revision, empty where that was computed from its sources.
        wear: share that one part of that order takes.
        counted: what was counted at the cell of it, and whether that counts; empty where nothing was.
        begun: share that was used before the prove-out of that order; None where its record does not say it.
        dressings_begun: how often electrode caps were dressed then.
        turns: how often they are dressed before they are changed.
        lesser_noun: what that is called, such as grinding of a tungsten electrode.
        proof: share that the prove-out of that order takes; 0 where its record does not count it.
        renewed_with: what at the same place brings a new one when it is changed; empty for nothing.

    """

    place: str
    what: str
    item: str
    used: Fraction
    dressings: int
    order: str
    revision: str = ""
    wear: Fraction = field(default=NEW, compare=False)
    counted: str = ""
    begun: Fraction | None = field(default=None, compare=False)
    dressings_begun: int = field(default=0, compare=False)
    turns: int = field(default=0, compare=False)
    lesser_noun: str = field(default="", compare=False)
    proof: Fraction = field(default=NEW, compare=False)
    renewed_with: str = field(default="", compare=False)


class Origin(Enum):
    """On what the state before the first part rests."""

    CARRIED = "carried over"
    WITHIN = "left by the operation before in the same cell"
    RECORDED = "recorded"
    RENEWED = "recorded as new"
    CHANGED = "changes at the changeover"
    UNUSED = "not used by any earlier order"
    NONE_NAMED = "no previous order is named"


@dataclass(frozen=True)
class Start:
    """A consumable before the prove-out, and on what that rests; ``order`` and ``revision`` left it so.

    Within an order ``operation`` did, the one before it in the same cell. After ``renewals``, numbers of parts, it is
    renewed with something else.
    ``counted`` says what was counted of it at the cell in that order, and whether that counts.
    """

    used: Fraction = NEW
    dressings: int = 0
    origin: Origin = Origin.NONE_NAMED
    order: str = ""
    revision: str = ""
    counted: str = ""
    operation: str = ""
    renewals: tuple[int, ...] = ()

    @property
    def is_known(self) -> bool:
        """Whether it was carried over or recorded, and is not taken as new."""
        return self.origin in (Origin.CARRIED, Origin.WITHIN, Origin.RECORDED)


@dataclass(frozen=True)
class Use(_Figured):
    """One consumable of one robot, or of a whole cell (``robot`` empty), with what a part and the whole run take.

    Figures: ``per_part``, ``in_prove_out``, ``over_run``, ``used_at_start``, ``used_at_first``, ``parts_to_first`` and
    ``parts_between`` what falls due, ``changes`` and, of electrode caps, ``dressings`` from the prove-out to the last
    part, ``used_at_end``; of electrode caps also ``dressings_at_start`` and ``dressings_at_end``. ``origin`` says on
    what ``start`` rests, as the end of a sentence; ``holds`` is what one holds, None for electrode caps; ``turns`` is
    how often those are dressed before a change; ``every`` is after how many whole parts the next one is due, 0 where
    one does not last a part. ``lesser_noun`` is what is done between two changes, in a word; both times are for how
    long the cell stands still. ``not_counted`` is what of the prove-out no table or order says.
    """

    operation: str
    cell: str
    robot: str
    what: str
    figures: tuple[Figure, ...]
    start: Start = Start()
    origin: str = ""
    holds: Figure | None = None
    turns: int = 0
    every: int = 0
    lesser_noun: str = ""
    change_time: Quantity | None = None
    lesser_time: Quantity | None = None
    times_source: str = ""
    not_counted: tuple[str, ...] = ()


@dataclass(frozen=True)
class Event:
    """Something that falls due: after a part is finished, or while it is welded.

    After part 0 is before the prove-out, during part 0 with its first-off part.

    ``basis`` says from what the part number follows and on what authority; ``supply`` is the consumable, ``word``
    what an order calls it. ``dressing`` is true where it recurs between two changes.
    """

    part_number: int
    operation: str
    robot: str
    what: str
    when: Literal["after", "during"]
    cell: str
    basis: str
    supply: str = ""
    word: str = ""
    dressing: bool = False


@dataclass(frozen=True)
class OrderPlan(_Figured):
    """Times and consumables of the whole quantity.

    Attributes:
        operations: times of each operation, in the order's sequence.
        bottleneck: name of the operation that runs longest in the cell that runs longest; the first of several.
        model: what the run duration counts and what it does not, for the reader.
        figures: ``run_duration``.
        uses: consumables, by operation and robot.
        events: what falls due, by part number, then operation and robot.
        left: what is fitted after the last part, also where only earlier orders used it.
        stock: everything that is fitted for the order, by operation.

    """

    operations: tuple[OperationPlan, ...]
    bottleneck: str
    model: str
    figures: tuple[Figure, ...]
    uses: tuple[Use, ...]
    events: tuple[Event, ...]
    left: tuple[Left, ...] = ()
    stock: tuple[Supply, ...] = ()
