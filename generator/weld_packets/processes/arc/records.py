"""What an order says of an arc operation: its consumables and its seams."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Angle, Length, Mark, Name, Record, Size, Text, Whole
from weld_packets.model.order import Operation, Path
from weld_packets.model.processes import numbers
from weld_packets.model.trade import Joint, Position, QualityLevel

if TYPE_CHECKING:
    _Number = str
else:  # a word that distinguishes records must be a literal; the table of processes says which ones there are
    _Number = Literal[numbers("arc")]


class Tacks(Record):
    """Tack welds of one seam: how many, how long each, and who makes them; ``number`` 0 where clamps alone hold."""

    number: Whole
    length: Size | None = None
    made_by: Name | None = None


class Seam(Record):
    """One arc seam of one robot; exactly one of throat and leg for fillets, throat for flare bevels, gap for butts.

    A butt may require width and height of its weld cap; without them the middle travel speed of the chart is used.
    ``weld_schedule`` is the number under which the welding control of the robot stores the settings of the seam.
    ``edge`` is the component of a lap that has its edge melted. ``flush`` is the side on which two sheets of a butt of
    unequal thickness lie in one plane. ``overlap`` is how far the weld of a closed path runs on over its start.
    """

    id: Mark
    robot: Mark
    joint: Joint
    position: Position
    components: tuple[Mark, Mark]
    throat: Length | None = None
    leg: Length | None = None
    gap: Length | None = None
    weld_cap_width: Length | None = None
    weld_cap_height: Length | None = None
    work_angle: Angle | None = None
    travel_angle: Angle | None = None
    weld_schedule: Whole | None = None
    edge: Mark | None = None
    flush: Literal["face", "root", "neither"] | None = None
    tacks: Tacks | None = None
    overlap: Size | None = None
    path: Path


class ArcOperation(Operation):
    """A pair of robots that weld seams with an arc process.

    Which of ``wire`` and ``electrode`` it needs follows from how its process gets its filler.
    """

    process: _Number
    wire: Mark | None = None
    electrode: Mark | None = None
    gas: Mark
    quality: QualityLevel = "C"
    chart: Mark | None = None
    tacks: Tacks | None = None
    arc_start: Text | None = None
    crater_fill: Text | None = None
    seams: Annotated[tuple[Seam, ...], Field(min_length=1, max_length=200)]

    def weld_schedules(self, robot: str) -> frozenset[int | None]:
        """Return the numbers of the weld schedules that a robot's seams use; None for a seam without one."""
        return frozenset(seam.weld_schedule for seam in self.seams if seam.robot == robot)
