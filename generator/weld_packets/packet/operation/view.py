"""One operation with everything that its pages are written from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.trace import Figure
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.machines import Cell, Gun, Robot
from weld_packets.model.order import ArcOperation, Component, Order, SpotOperation
from weld_packets.model.tables import Cap, Gas, Material, Wire
from weld_packets.model.trade import PROCESS_NAMES
from weld_packets.packet.operation.weld_limits import weld_limits
from weld_packets.packet.records import SettingGroup, Value, WeldLimit
from weld_packets.packet.settings.merging import setting_groups
from weld_packets.packet.settings.values import Showing, largest_allowed
from weld_packets.units import Quantity, kinds
from weld_packets.units.scales import stated_amount


@dataclass(frozen=True)
class OperationView:
    """A computed operation of an order, its machines and materials looked up, its settings as printed."""

    number: int
    order: Order
    result: OperationResult
    approved: ApprovedTables

    @property
    def operation(self) -> ArcOperation | SpotOperation:
        """The operation as the order states it."""
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
        return PROCESS_NAMES[self.operation.process]

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
        """Limits of imperfections for the welds of an arc operation; none for spots, which ISO 5817 does not judge."""
        table = self.approved.imperfections
        if table is None or not isinstance(self.operation, ArcOperation):
            return ()
        return weld_limits(self.operation, self.result.settings, table, self.order.show_first)

    def limit_lines(self, keys: Iterable[str]) -> tuple[str, ...]:
        """Return the limits of the imperfections of these keys, each in a line."""
        wanted = set(keys)
        return tuple(limit.line for limit in self.limits if limit.key in wanted)

    @property
    def wire(self) -> Wire | None:
        """The wire of an arc operation."""
        return self.approved.wires[self.operation.wire] if isinstance(self.operation, ArcOperation) else None

    @property
    def gas(self) -> Gas | None:
        """The gas of an arc operation."""
        return self.approved.gases[self.operation.gas] if isinstance(self.operation, ArcOperation) else None

    def gun(self, robot: Robot) -> Gun | None:
        """Return the spot gun of an arm; None where it carries a torch."""
        return self.approved.guns.get(robot.equipment)

    def cap(self, robot: Robot) -> Cap | None:
        """Return the electrode cap of an arm's gun."""
        gun = self.gun(robot)
        return None if gun is None else self.approved.caps[gun.cap]

    def cooling(self, robot: Robot) -> str:
        """Return how much water cools each electrode of an arm's gun at least; empty where no table states it."""
        gun = self.gun(robot)
        if gun is None or gun.cooling_flow is None:
            return ""
        flow = stated_amount(gun.cooling_flow, kinds.WATER_FLOW, self.showing.first, self.showing.mains)
        return f"at least {flow.text} through each electrode"

    def material(self, component: Component) -> Material:
        """Return the material of a part."""
        return self.approved.materials[component.material]

    @cached_property
    def materials(self) -> tuple[Material, ...]:
        """The materials of all parts, each once."""
        return tuple({component.material: self.material(component) for component in self.operation.components}.values())

    def coupon_programs(self, robot: str) -> tuple[tuple[int | None, str], ...]:
        """Return the coupon programs of a robot, each with the number of the weld schedule that it calls, if any."""
        return self.operation.coupon_programs_of(robot)

    def side(self, robot: str) -> Literal["A", "B"]:
        """Return the side of the pair on which a robot stands."""
        return self.approved.robots[robot].side

    def largest_allowed(self, *keys: str) -> tuple[Quantity, str] | None:
        """Return the largest value that the settings of these keys allow anywhere in the operation, in both systems.

        None where the operation has no such setting. Protection never goes by the value that is set: a
        setter may go to the end of the allowed range.
        """
        if keys not in self._largest:
            found = (largest_allowed(figure, self.showing) for key in keys for figure in self._figures.get(key, ()))
            allowed = [(number, amount.text) for number, amount in filter(None, found)]
            self._largest[keys] = max(allowed, key=lambda each: each[0], default=None)
        return self._largest[keys]

    @cached_property
    def _largest(self) -> dict[tuple[str, ...], tuple[Quantity, str] | None]:
        """What ``largest_allowed`` has found, by keys; several messages ask for the same."""
        return {}

    @cached_property
    def _figures(self) -> dict[str, list[Figure]]:
        """All figures that have a number, by key."""
        found: dict[str, list[Figure]] = {}
        for figure in (figure for settings in self.result.settings for figure in settings.figures()):
            if figure.value is not None:
                found.setdefault(figure.key, []).append(figure)
        return found

    @cached_property
    def _values(self) -> dict[str, list[tuple[SettingGroup, Value]]]:
        found: dict[str, list[tuple[SettingGroup, Value]]] = {}
        for group in self.groups:
            for value in (*group.dialled, *group.derived):
                found.setdefault(value.figure, []).append((group, value))
        return found

    def values(self, key: str) -> Sequence[tuple[SettingGroup, Value]]:
        """Return every group that has a figure of that key, with the figure as printed."""
        return self._values.get(key, ())
