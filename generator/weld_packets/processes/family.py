"""What a family of processes answers: every question that another package may ask of an operation.

A family is one folder of this package with an object ``FAMILY``; ``model.processes`` names its module. No other package
asks which family an operation has. What is the same for all is computed and written where it always was, from what the
answers below hand on.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Generic, Literal, NamedTuple, Protocol, TypeVar, cast

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.imperfections import Measures
from weld_packets.calculation.path import end_mm, start_mm
from weld_packets.calculation.qualification.values import Case
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.geometry.vectors import Point
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.inspection import Inspection, Occasion
from weld_packets.model.machines import Cell, Robot
from weld_packets.model.materials import Gas
from weld_packets.model.order import Operation, Path
from weld_packets.model.processes import FAMILIES, Fault, FittedPlace, Route, family, process
from weld_packets.model.safety import FactName
from weld_packets.model.tables import Table
from weld_packets.model.trade import Joint, QualityLevel
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope
from weld_packets.processes.cell.state import Act
from weld_packets.processes.procedure import NO_PROCEDURE, Procedure
from weld_packets.processes.supplies import Supply
from weld_packets.units import Quantity, in_mm

OperationType = TypeVar("OperationType", bound=Operation)


@dataclass(frozen=True)
class Weld:
    """One weld of an operation, whatever made it.

    Attributes:
        id: its identifier.
        robot: the robot that makes it.
        components: what it joins.
        path: where a weld along a line runs; None for one at a point.
        point: where a weld at a point is: x, y and z in the fixture datum; None for one along a line.
        joint: the joint of a weld along a line; None at a point.
        position: its ISO 6947 position; empty at a point.
        sizes: the sizes that the order requires, each with its letter.
        group: what a weld at a point belongs to, such as its stack; empty along a line.
        numbered_at: the key path within the operation of its weld schedule number.

    """

    id: str
    robot: str
    components: tuple[str, ...]
    path: Path | None = None
    point: tuple[Quantity, Quantity, Quantity] | None = None
    joint: Joint | None = None
    position: str = ""
    sizes: tuple[tuple[str, Quantity], ...] = ()
    group: str = ""
    numbered_at: str = ""

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where it starts and stops, in mm; a weld at a point does both there."""
        if self.path is not None:
            return start_mm(self.path), end_mm(self.path)
        if self.point is None:
            raise ValueError(self.id)
        x, y, z = (in_mm(each) for each in self.point)
        return (x, y, z), (x, y, z)


@dataclass(frozen=True)
class Words:
    """Words of a family inside steps and tables that all families share.

    Attributes:
        weld: a weld in the singular, such as seam.
        group: what welds at points belong to, as the head of a column; empty for welds along lines.
        stops: the places of the welds that a dry run stops at.
        tool_point: what meets the pointer when the tool centre point is checked.
        closing: what moves besides the robot in a dry run, with where hands must not be; empty for nothing.
        runaway: what is seen of a weld that must be stopped at once, after ``Stop if``.
        tools: what hands go to, ``worn`` what is changed there, ``handed_over`` what is written down of it at the end.
        again: what to do with a coupon below its limit; empty where nothing is dressed.
        frees: how a robot is freed before it moves, and ``sticks`` what is done first where it cannot be; or nothing.
        on_fixture: what the family connects to a fixture besides air and plugs: off before it goes, on when one comes.
        opened: what is opened before anything welds; empty for nothing.

    """

    weld: str
    stops: str
    tool_point: str
    runaway: str
    tools: tuple[str, ...]
    worn: tuple[str, ...]
    handed_over: tuple[str, ...]
    group: str = ""
    closing: str = ""
    again: str = ""
    frees: str = ""
    sticks: str = ""
    on_fixture: tuple[str, ...] = ()
    opened: str = ""


class Fitted(NamedTuple):
    """Something that is fitted: the word of the consumable, the robot or cell, its identifier in its table."""

    word: str
    place: str
    item: str


@dataclass(frozen=True)
class FittedFact:
    """Something fitted in a cell that a changeover compares: ``text`` with ``{}`` in place of ``size``, if any.

    ``robot`` is empty for what the whole cell shares.
    """

    label: str
    robot: str
    text: str
    size: Quantity | None = None


@dataclass(frozen=True)
class Measured:
    """A size of a weld that is measured on a coupon or on the first part.

    Attributes:
        what: what is measured.
        figure: the figure that is its minimum.
        stages: when it is measured.
        excess: the imperfection whose limit says how far it may be above that; empty where nothing limits it.
        in_plan: the minimum that a check of the stage must name for it to be measured then; None where it always is.

    """

    what: str
    figure: str
    stages: tuple[Literal["coupon", "first-off"], ...]
    excess: str = ""
    in_plan: Literal["set-up", "production"] | None = None


class MachineFact(NamedTuple):
    """Something that a setter must know of both machines: of each what is stated, empty for nothing, and by whom."""

    name: str
    values: tuple[str, str]
    source: str = ""


@dataclass(frozen=True)
class FailureType:
    """How a weld of a coupon may fail in a destructive test, whether that is accepted, and who names it so."""

    text: str
    accepted: bool
    source: str


@dataclass(frozen=True)
class Judged:
    """Welds that are set the same, their joint, and what the limits of their imperfections are shares of."""

    settings: WeldSettings
    joint: Joint
    measures: Measures


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

    def go_in(self) -> Draft:
        """Return the step that goes in and locks out by the list for it."""

    def take_lock_off(self) -> Iterator[Draft]:
        """Yield the steps that give a locked cell its energy back."""

    def run_again(self, what: str, checks: Iterable[Draft] = ()) -> Iterator[Draft]:
        """Yield the steps that come out, run again, make ``checks`` of the next part and note ``what`` was done."""

    def checks(self, views: Sequence[View], occasion: Occasion) -> Iterator[Draft]:
        """Yield what the plan of inspections requires of the next part after something was done."""

    def coupons(self, view: View) -> Act:
        """Return the act of proving coupons as a whole."""

    def cells(self, views: Iterable[View]) -> str:
        """Return the cells of some operations as a list names them."""


class Family(ABC, Generic[OperationType]):
    """The questions; those with an answer here are answered so by a family that has nothing to say.

    Attributes:
        operation: the record of an operation, whose ``process`` is one of the family's numbers.
        tables: the kinds of table that the family brings, besides those of every plant.
        welds_key: the key of an operation that holds its welds; ``sheet`` is how a CSV list gives them.
        once: routes to the identifiers within an operation, with what each is called.
        within: routes to names that must lead to one of those identifiers.
        duration_key: the figure of some settings that says for how long they are welded: all along their paths, or
            each at its point.
        loaded_key: the figure that says for how long a power source is loaded, where the plant plans the share of it.
        elsewhere: figures that are set elsewhere than on the welding control.
        makes_fume: whether its welds need fume extraction also on bare metal.
        readings: figures that follow from the settings and that a machine shows or a gauge reads.
        in_one_line: figures that a card shows together in one line.
        sizes: what is measured on coupons and on the first part.
        procedure: what its procedure specification lists; nothing where no list is known.

    """

    operation: type[OperationType]
    tables: Mapping[str, type[Table]] = MappingProxyType({})
    welds_key: str
    sheet: Literal["paths", "points"]
    once: Mapping[Route, str]
    within: Mapping[Route, Route]
    duration_key: str
    loaded_key: str = ""
    elsewhere: frozenset[str] = frozenset()
    makes_fume: bool = False
    readings: frozenset[str] = frozenset()
    in_one_line: tuple[tuple[str, ...], ...] = ()
    sizes: tuple[Measured, ...] = ()
    procedure: Procedure = NO_PROCEDURE

    # ---- how an operation is written: asked by the sources

    @abstractmethod
    def kinds(self, number: str) -> tuple[str, ...]:
        """Return the kinds of table that an operation of a process needs, besides those of every plant."""

    @abstractmethod
    def named(self, number: str, approved: ApprovedTables) -> Mapping[Route, tuple[Collection[str], str]]:
        """Return routes to names that must lead to the tables: where to, and the names there, for one process."""

    @abstractmethod
    def equipment(self, number: str, approved: ApprovedTables) -> Collection[str]:
        """Return the identifiers of the machines that a robot may carry for one process."""

    def faults(self, operation: OperationType, approved: ApprovedTables) -> Iterator[Fault]:
        """Yield what an operation says too much, too little or against itself."""
        return iter(())

    @abstractmethod
    def places(
        self, operation: OperationType, approved: ApprovedTables
    ) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
        """Yield the robots and cells, by kind and name, at which an order may record what is fitted."""

    # ---- what is computed: asked by planning

    @abstractmethod
    def compute(self, operation: OperationType, approved: ApprovedTables) -> OperationResult:
        """Return settings and checks; raise OutOfRangeError with everything that cannot be computed."""

    @abstractmethod
    def welds(self, operation: OperationType) -> tuple[Weld, ...]:
        """Return the welds in the order in which they are made."""

    @abstractmethod
    def weld_time(self, robot: Robot, settings: WeldSettings) -> Worked:
        """Return for how long a robot makes the welds of some settings, with what each takes besides."""

    @abstractmethod
    def supplies(self, found: OperationResult, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield every consumable that is fitted; raise OutOfRangeError where one has no known life."""

    def quality(self, operation: OperationType) -> QualityLevel | None:
        """Return the ISO 5817 quality level; None where that standard does not judge the welds."""
        return None

    def qualified(self, found: OperationResult, approved: ApprovedTables) -> Iterator[Case]:
        """Yield welds that are equal in all that a qualification record is compared by; none where nothing is known."""
        return iter(())

    # ---- what is shown: asked by the packet

    @abstractmethod
    def words(self, operation: OperationType) -> Words:
        """Return its words inside shared steps."""

    @abstractmethod
    def carried(self, view: View) -> str:
        """Return what both robots carry, as somebody compares it."""

    @abstractmethod
    def fitted(self, operation: OperationType, approved: ApprovedTables) -> tuple[Fitted, ...]:
        """Return what is fitted for an operation."""

    @abstractmethod
    def fitted_facts(self, view: View) -> Iterator[FittedFact]:
        """Yield what is fitted, as a changeover compares it."""

    @abstractmethod
    def entries(self, operation: OperationType, approved: ApprovedTables) -> Iterator[tuple[str, str]]:
        """Yield the table rows that an operation names: kind of table and identifier; machines are not among them."""

    def equipment_kind(self, operation: OperationType) -> str:
        """Return the kind of table that holds its machines."""
        return "machines"

    def gas(self, operation: OperationType, approved: ApprovedTables) -> Gas | None:
        """Return the shielding gas, if any."""
        return None

    def chromium(self, operation: OperationType, approved: ApprovedTables) -> Mapping[str, Decimal]:
        """Return the chromium content in per cent of what is melted besides the components, by designation."""
        return {}

    def judged(self, found: OperationResult) -> Iterator[Judged]:
        """Yield what the limits of imperfections are shares of, for welds that ISO 5817 judges."""
        return iter(())

    def facts(self, view: View) -> Mapping[FactName, str]:
        """Return what a safety message adds of its machines, by name of the fact."""
        return {}

    def repeats(self, key: str, robots: Sequence[str], approved: ApprovedTables) -> tuple[Quantity, ...] | None:
        """Return the shares by which machines repeat a setting; None where nothing is smaller than they repeat it."""
        return None

    def measured_of(self, figure: str, stage: str, checks: Iterable[Inspection]) -> Iterator[Measured]:
        """Yield what is measured against a figure at a stage whose ``checks`` the plan of inspections lists."""
        named = {check.weld_diameter for check in checks}
        for each in self.sizes:
            if each.figure == figure and stage in each.stages and (each.in_plan is None or each.in_plan in named):
                yield each

    def failure_types(
        self, operation: OperationType, welds: Collection[str], approved: ApprovedTables
    ) -> tuple[FailureType, ...]:
        """Return how some welds of an operation may fail in a test; none where nobody names types for the family."""
        return ()

    def machine_lines(self, view: View) -> Iterator[MachineFact]:
        """Yield what a setter must know of both machines."""
        return iter(())

    # ---- what people do: asked by the lists of steps

    @abstractmethod
    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what is fitted under lock."""

    @abstractmethod
    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what follows with energy back, the gate open and the key in hand."""

    def measured(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what is measured once everything is set."""
        return iter(())

    def opened(self, view: View) -> Iterator[Draft]:
        """Yield what is opened before anything welds."""
        return iter(())

    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what is done under lock for something that is due before the first part."""
        return iter(())

    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what follows it with energy back."""
        return iter(())

    def due_outside(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what is done for it from outside in automatic; nothing where hands must go in."""
        return iter(())

    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists for what is changed during a run, for all operations of the family together."""
        return iter(())

    def at_the_end(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield what is shut at the end of a run or shift."""
        return iter(())

    def at_the_start(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield what is opened at the start of a shift."""
        return iter(())

    def at_every_restart(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield what is opened or read again after every entry, since a lock-out may have shut it."""
        return iter(())

    def cleared(self, view: View) -> Iterator[Draft]:
        """Yield what is shut where a cell falls out of use."""
        return iter(())


def family_of(number: str) -> Family[Any]:
    """Return the family that answers for a process of this ISO 4063 number; KeyError where no process has it."""
    return cast("Family[Any]", family(process(number).family))


def families(numbers: Iterable[str]) -> tuple[Family[Any], ...]:
    """Return the families of some processes, each once, in the order of the table."""
    named = {process(number).family for number in numbers}
    return tuple(cast("Family[Any]", family(name)) for name in FAMILIES if name in named)
