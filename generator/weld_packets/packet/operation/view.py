"""One operation with everything that its pages are written from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from weld_packets.calculation.qualification.values import Case
from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.trace import Figure
from weld_packets.grouping import grouped
from weld_packets.model.order import Component, Order
from weld_packets.model.processes import process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.inspection import Inspection
from weld_packets.model.tables.machines import Cell, Robot
from weld_packets.model.tables.materials import Gas, Material
from weld_packets.packet.operation.weld_limits import weld_limits
from weld_packets.packet.records.settings import SettingGroup, WeldLimit
from weld_packets.packet.records.values import Value
from weld_packets.packet.settings.merging import setting_groups
from weld_packets.packet.settings.values import Showing, largest_allowed
from weld_packets.planning.times import inspections_for
from weld_packets.processes.answers import FamilyWords, Weld
from weld_packets.processes.family import Family, family_of
from weld_packets.units import Quantity, as_written, kinds
from weld_packets.units.scales import sheet_amount, stated_amount
from weld_packets.wording.english import capital, joined, listed
from weld_packets.wording.phrases import call_words

_STAGES = ("coupon", "first-off", "in process", "last-off")


@dataclass(frozen=True)
class OperationView:
    """A computed operation of an order, its machines and materials looked up, its settings as printed."""

    number: int
    order: Order
    result: OperationResult
    approved: ApprovedTables

    @property
    def operation(self) -> Any:
        """The operation as the order states it, a record of its family."""
        return self.result.operation

    @property
    def key(self) -> str:
        """Safe name of the operation."""
        return f"operation-{self.number}"

    @property
    def cell(self) -> Cell:
        """The cell that the operation runs in."""
        return self.approved.cells[self.operation.cell]

    @property
    def process(self) -> str:
        """ISO 4063 number and name of the process."""
        return f"{self.operation.process} {self.process_name}"

    @property
    def process_name(self) -> str:
        """Name of the process."""
        return process(self.operation.process).name

    @cached_property
    def robots(self) -> tuple[Robot, ...]:
        """Both robots, side A first."""
        return tuple(
            sorted((self.approved.robots[robot] for robot in self.operation.robots), key=lambda robot: robot.side)
        )

    @cached_property
    def showing(self) -> Showing:
        """How the operation's numbers are shown."""
        return Showing(self.order.show_first, round(self.cell.mains.magnitude))

    @cached_property
    def groups(self) -> tuple[SettingGroup, ...]:
        """Settings as printed."""
        return setting_groups(self.result.settings, self.showing)

    @cached_property
    def limits(self) -> tuple[WeldLimit, ...]:
        """Limits of imperfections for the welds; none for welds that ISO 5817 does not judge."""
        table, level = self.approved.imperfections, self.family.quality(self.operation)
        if table is None or level is None:
            return ()
        return weld_limits(tuple(self.family.judged(self.result)), level, table, self.order.show_first)

    def limit_lines(self, keys: Iterable[str]) -> tuple[str, ...]:
        """Return the limits of the imperfections of these keys, each in a line."""
        wanted = set(keys)
        return tuple(limit.line for limit in self.limits if limit.key in wanted)

    @cached_property
    def family(self) -> Family[Any]:
        """The family that answers for its process."""
        return family_of(self.operation.process)

    @cached_property
    def words(self) -> FamilyWords:
        """Its words inside steps that all families share."""
        return self.family.words(self.operation)

    @cached_property
    def welds(self) -> tuple[Weld, ...]:
        """Its welds in sequence."""
        return self.family.welds(self.operation)

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """Its welds, those together that are equal in all that a qualification record is compared by."""
        return tuple(self.family.qualified(self.result, self.approved))

    @cached_property
    def inspections(self) -> tuple[Inspection, ...]:
        """The checks for its process, level and joints, in the order of the stages."""
        holding = inspections_for(self.operation, self.approved)
        return tuple(sorted(holding, key=lambda check: _STAGES.index(check.stage)))

    @property
    def call(self) -> str:
        """Whom to call when work stops, and how."""
        return call_words(self.approved.plant.supervisor)

    @property
    def gas(self) -> Gas | None:
        """Its shielding gas, if any."""
        return self.family.gas(self.operation, self.approved)

    def length(self, length: Quantity) -> str:
        """Return a nominal length in both systems."""
        return sheet_amount(length, self.order.show_first).text

    def stated(self, value: Quantity) -> str:
        """Return a quantity as its table states it."""
        return as_written(value)

    def flow(self, value: Quantity) -> str:
        """Return a flow of water in both systems."""
        return stated_amount(value, kinds.WATER_FLOW, self.showing.first, self.showing.mains).text

    def listed(self, names: Iterable[str]) -> str:
        """Return names as a sentence lists them, each once."""
        return listed(dict.fromkeys(names))

    def amounts(self, key: str, robot: str = "") -> tuple[str, ...]:
        """Return the values of a setting, each once: of all welds, or of those of a robot."""
        found = (value.text for group, value in self.values(key) if not robot or robot in group.robots)
        return tuple(dict.fromkeys(found))

    def by_value(self, key: str, how: str) -> Iterator[tuple[str, str, str]]:
        """Yield robots, value and what to see, once for each value and allowed range that some settings share."""
        equal = grouped(((value.text, value.allowed), group) for group, value in self.values(key))
        for (amount, allowed), groups in equal.items():
            robots = listed(dict.fromkeys(robot for group in groups for robot in group.robots))
            several = "" if len(groups) == len(self.groups) else listed(group.name for group in groups)
            yield robots, amount, capital(joined((several, f"allowed {allowed}" if allowed else "", how)))

    def material(self, component: Component) -> Material:
        """Return the material of a component."""
        return self.approved.materials[component.material]

    @cached_property
    def materials(self) -> tuple[Material, ...]:
        """The materials of all components, each once."""
        return tuple({component.material: self.material(component) for component in self.operation.components}.values())

    def coupon_programs(self, robot: str) -> tuple[tuple[int | None, str], ...]:
        """Return the coupon programs of a robot, each with the number of the weld schedule that it calls, if any."""
        return tuple(self.operation.coupon_programs_of(robot))

    def side(self, robot: str) -> Literal["A", "B"]:
        """Return the side of the pair that a robot belongs to."""
        return self.approved.robots[robot].side

    def largest_allowed(self, key: str) -> tuple[Quantity, str] | None:
        """Return the largest value that a setting is allowed anywhere in the operation, in both systems.

        None where the operation has no such setting. Protection never goes by the value that is set: a
        setter may go to the end of the allowed range.
        """
        if key not in self._largest:
            found = (largest_allowed(figure, self.showing) for figure in self._figures.get(key, ()))
            allowed = [(number, amount.text) for number, amount in filter(None, found)]
            self._largest[key] = max(allowed, key=lambda each: each[0], default=None)
        return self._largest[key]

    @cached_property
    def _largest(self) -> dict[str, tuple[Quantity, str] | None]:
        """What ``largest_allowed`` has found, by key; several messages ask for the same."""
        return {}

    @cached_property
    def _figures(self) -> dict[str, list[Figure]]:
        """All figures that have a number, by key."""
        figures = (figure for settings in self.result.settings for figure in settings.figures())
        return grouped((figure.key, figure) for figure in figures if figure.value is not None)

    @cached_property
    def _values(self) -> dict[str, list[tuple[SettingGroup, Value]]]:
        return grouped(
            (value.figure, (group, value)) for group in self.groups for value in (*group.dialled, *group.derived)
        )

    def values(self, key: str) -> Sequence[tuple[SettingGroup, Value]]:
        """Return every group that has a figure of that key, with the figure as printed."""
        return self._values.get(key, ())
