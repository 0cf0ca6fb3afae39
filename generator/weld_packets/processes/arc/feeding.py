"""How an arc gets its filler: a wire that melts in it, cold wire into the pool of a tungsten arc, or none."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection, Iterator, Mapping, Sequence

from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.model.processes import FittedPlace, Misstatement
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import ArcSource
from weld_packets.processes.answers import FamilyWords, FittedFact
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope
from weld_packets.processes.supplies import Supply
from weld_packets.processes.view import Kit, View


class Feeding(ABC):
    """The answers of the arc family that depend on it.

    ``equipment_kind`` is the table that holds its machines, ``kinds`` are the tables that it needs.
    """

    equipment_kind: str
    kinds: tuple[str, ...]

    @abstractmethod
    def machines(self, approved: ApprovedTables) -> Mapping[str, ArcSource]:
        """Return the machines that a robot may carry, by identifier."""

    @abstractmethod
    def charts(self, approved: ApprovedTables) -> tuple[Collection[str], str]:
        """Return the charts that an operation may name, and what such a chart is called."""

    @abstractmethod
    def misstatements(self, operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield consumables that an operation lacks or has too many of, and those of another process."""

    @abstractmethod
    def places(self, operation: ArcOperation, approved: ApprovedTables) -> FittedPlace:
        """Return what an order may record as fitted at each robot."""

    @abstractmethod
    def settings(self, group: SeamGroup, key: str, named: str | None, approved: ApprovedTables) -> WeldSettings:
        """Return the settings of a group of seams; raise OutOfRangeError with all that forbids them."""

    @abstractmethod
    def supplies(self, found: OperationResult, robot: str, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield what is fitted at a robot."""

    @abstractmethod
    def words(self, operation: ArcOperation) -> FamilyWords:
        """Return its words inside shared steps."""

    @abstractmethod
    def carried(self, view: View) -> str:
        """Return what both robots carry."""

    @abstractmethod
    def fitted(self, operation: ArcOperation) -> Iterator[tuple[str, str]]:
        """Yield what is fitted at each robot: the word of the consumable and its identifier."""

    @abstractmethod
    def facts(self, view: View) -> Iterator[FittedFact]:
        """Yield what is fitted at the robots, as a changeover compares it."""

    @abstractmethod
    def entries(self, operation: ArcOperation) -> Iterator[tuple[str, str]]:
        """Yield the table rows of its consumables: kind of table and identifier."""

    @abstractmethod
    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what is fitted at the robots under lock."""

    @abstractmethod
    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what follows with energy back."""

    @abstractmethod
    def flow_how(self, view: View) -> str:
        """Return what to look after while the gas flow is measured."""

    @abstractmethod
    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what is done under lock for something that is due at a robot before the first part."""

    @abstractmethod
    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what follows it with energy back."""

    @abstractmethod
    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists for what is changed at the robots during a run."""
