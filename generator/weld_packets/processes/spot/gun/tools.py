"""What a robot of a spot operation welds with: gun, cap, and the mains that its times are counted in."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.calculation.dial import Bound, Setting, between
from weld_packets.errors import refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Cell, Gun, Robot
from weld_packets.model.tables.materials import Cap
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.units import SPELLINGS, as_written, quantity


@dataclass(frozen=True)
class Tools:
    """One robot with its gun and cap; ``mains`` in hertz."""

    robot: Robot
    gun: Gun
    cap: Cap
    mains: int

    def force(self) -> Setting:
        """Return how the force is set: the gun's range, cut at what the cap is rated for."""
        gun, cap = f"gun {self.gun.id}", f"cap {self.cap.id}"
        cap_limits = self.cap.maximum_force.m_as(SPELLINGS["kN"]) < self.gun.force_to.m_as(SPELLINGS["kN"])
        high = Bound(self.cap.maximum_force, cap) if cap_limits else Bound(self.gun.force_to, gun)
        return Setting(gun, self.gun.force_step, Bound(self.gun.force_from, gun), high)

    def current(self) -> Setting:
        """Return how the current is set."""
        gun = f"gun {self.gun.id}"
        return between(gun, self.gun.current_from, self.gun.current_to, self.gun.current_step)

    def time(self) -> Setting:
        """Return how times are set: in the control's own steps, else in whole cycles of the mains."""
        if self.gun.time_step is not None:
            return Setting(f"control of gun {self.gun.id}", self.gun.time_step)
        return Setting(f"whole cycles of the {self.mains} Hz mains", quantity(1.0, f"cycles@{self.mains}Hz"))


def tools_of(robot: str, operation: SpotOperation, approved: ApprovedTables) -> Tools:
    """Return what a robot of the operation welds with; raise OutOfRangeError where its mains are not 50 or 60 Hz."""
    found = approved.robots[robot]
    gun = approved.guns[found.equipment]
    return Tools(found, gun, approved.caps[gun.cap], _mains(approved.cells[operation.cell]))


def _mains(cell: Cell) -> int:
    hertz = float(cell.mains.m_as(SPELLINGS["Hz"]))
    if f"cycles@{hertz:g}Hz" not in SPELLINGS:
        raise refusal(
            f"cell {cell.id} has mains of {as_written(cell.mains)}; times are counted in cycles of 50 Hz or 60 Hz",
            "correct 'mains' of the cell in the table of machines",
            key="cell",
            value=as_written(cell.mains),
        )
    return int(hertz)
