"""What a family of processes answers: every question that another package may ask of an operation.

A family is one folder of this package with an object ``FAMILY``; ``model.processes`` names its module. No other package
asks which family an operation has. ``answers.py`` has the records that it answers with; what is the same for all is
computed and written from them elsewhere. A family writes its steps from what ``view.py`` shows it.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Generic, Literal, TypeVar, cast

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.qualification.values import Case
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.model.order import Operation
from weld_packets.model.processes import FAMILIES, FittedPlace, Misstatement, Route, family, process
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import Inspection
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.materials import Gas
from weld_packets.model.tables.safety import FactName
from weld_packets.model.trade import QualityLevel
from weld_packets.processes.answers import (
    NO_PROCEDURE,
    FailureType,
    FamilyWords,
    Fitted,
    FittedFact,
    Judged,
    MachineFact,
    MeasuredSize,
    Procedure,
    RowContradicted,
    Weld,
)
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope
from weld_packets.processes.supplies import Supply
from weld_packets.processes.view import Kit, View
from weld_packets.units import Kind, Quantity

OperationType = TypeVar("OperationType", bound=Operation)
ViewType = TypeVar("ViewType", bound=View)


class Family(ABC, Generic[OperationType]):
    """The questions; those with an answer here are answered so by a family that has nothing to say.

    Attributes:
        operation: the record of an operation, whose ``process`` is one of the family's numbers.
        tables: the kinds of table that the family brings, besides those of every plant.
        settings: figures that are set, by which tables of faults and limits name them, with the kind of each.
        current_key: the figure of the welding current, by whose largest allowed value safety messages are chosen.
        force_key: the same of the force that closes on a weld, and on a hand.
        shown_at_welding: figures that a machine shows while it welds, with what a step calls those that it names
            otherwise than the settings do.
        changed_alone: pairs of settings of which one is changed while the other is as set, where they limit each other.
        moved_readings: by setting the reading that it moves, which may leave its own range first.
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
    settings: Mapping[str, Kind] = MappingProxyType({})
    current_key: str = ""
    force_key: str = ""
    shown_at_welding: Mapping[str, str] = MappingProxyType({})
    changed_alone: tuple[frozenset[str], ...] = ()
    moved_readings: Mapping[str, str] = MappingProxyType({})
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
    sizes: tuple[MeasuredSize, ...] = ()
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

    def misstatements(self, operation: OperationType, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield what an operation says too much, too little or against itself."""
        return iter(())

    def contradicted(self, approved: ApprovedTables) -> Iterator[RowContradicted]:
        """Yield rows of the family's charts that contradict what another table says."""
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
    def words(self, operation: OperationType) -> FamilyWords:
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

    def entries(self, operation: OperationType, approved: ApprovedTables) -> Iterator[tuple[str, str]]:
        """Yield the table rows of what is fitted, each once: kind of table and identifier."""
        fitted = self.fitted(operation, approved)
        yield from dict.fromkeys((each.kind, each.item) for each in fitted if each.kind)

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

    def measured_of(self, figure: str, stage: str, checks: Iterable[Inspection]) -> Iterator[MeasuredSize]:
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


def by_family(views: Sequence[ViewType]) -> Iterator[tuple[Family[Any], list[ViewType]]]:
    """Yield each family of some operations, in the order of the table, with the operations that it answers for."""
    for each in families(view.operation.process for view in views):
        yield each, [view for view in views if family_of(view.operation.process) is each]
