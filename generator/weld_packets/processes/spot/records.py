"""What an order says of a spot operation: its stacks and its spots."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Length, Mark, Record, Whole
from weld_packets.model.order import Operation
from weld_packets.model.processes import numbers

if TYPE_CHECKING:
    _Number = str
else:  # a word that distinguishes records must be a literal; the table of processes says which ones there are
    _Number = Literal[numbers("spot")]


class Stack(Record):
    """Two or three sheets between the electrode caps, named from the moving cap's side.

    ``weld_schedule`` is the number under which the welding controls of the robots store the settings of its spots.
    ``visible`` names the outer sheet that is seen from outside on the finished product.
    """

    id: Mark
    sheets: Annotated[tuple[Mark, ...], Field(min_length=2, max_length=3)]
    visible: Mark | None = None
    weld_schedule: Whole | None = None


class Spot(Record):
    """One spot weld point in the fixture datum."""

    id: Mark
    robot: Mark
    stack: Mark
    x: Length
    y: Length
    z: Length


class SpotOperation(Operation):
    """A pair of robots that weld spots; ``spacing_rule`` EN 1993-1-3 checks distances besides the chart."""

    process: _Number
    chart: Mark | None = None
    spacing_rule: Literal["chart", "EN 1993-1-3"] = "chart"
    stacks: Annotated[tuple[Stack, ...], Field(min_length=1)]
    spots: Annotated[tuple[Spot, ...], Field(min_length=1, max_length=2000)]

    def weld_schedules(self, robot: str) -> frozenset[int | None]:
        """Return the numbers of the weld schedules that a robot's spots use; None for a spot without one."""
        numbers = {stack.id: stack.weld_schedule for stack in self.stacks}
        return frozenset(numbers[spot.stack] for spot in self.spots if spot.robot == robot and spot.stack in numbers)
