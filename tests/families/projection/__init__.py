"""Projection welding (ISO 4063: 23) as a trial family: one folder and one entry; nothing else of the program knows it.

Current and force of a weld are those of one projection times their number. All figures are test figures.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated, ClassVar, Literal

from pydantic import Field
from weld_packets.calculation.chart import Place, locate, read_range
from weld_packets.calculation.dial import between, set_inside
from weld_packets.calculation.formula import Duration, Number, Source, Standing, Time, Worked, formula
from weld_packets.calculation.readings import result, value_of
from weld_packets.calculation.results import NamedKind, OperationResult, WeldSettings, of_robot, safe_name
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Name
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.fields import Force, Length, Mark, Record, SpotCurrent, Text, Whole
from weld_packets.model.fields import Name as Named
from weld_packets.model.fields import Time as WeldTime
from weld_packets.model.order import Operation
from weld_packets.model.processes import FittedPlace, MaximumCurrent, Process, Route
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import Chart, ChartRow
from weld_packets.model.tables.machines import Robot
from weld_packets.processes.answers import FamilyWords, Fitted, FittedFact, Weld
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Scope, names, step_key
from weld_packets.processes.family import Family
from weld_packets.processes.supplies import Supply
from weld_packets.processes.view import View
from weld_packets.units import Kind, Quantity, in_mm, kinds, quantity, spelling

ENTRY = Process(
    "23",
    "projection welding",
    "projection",
    ("die",),
    MaximumCurrent(200.0, "kA", "test figure, no source"),
    ("PROJECTION",),
)


class Projected(Record):
    """One weld: how many projections are pressed flat at once, between which components, and where their middle is."""

    id: Mark
    robot: Mark
    components: tuple[Mark, Mark]
    projections: Annotated[Whole, Field(description="how many projections are pressed flat at once")]
    weld_schedule: Whole | None = None
    x: Length
    y: Length
    z: Length


class ProjectionOperation(Operation):
    """A pair of robots that weld projections."""

    process: Literal["23"]
    chart: Mark
    presses: Annotated[tuple[Projected, ...], Field(min_length=1, description="welds in their sequence")]

    def weld_schedules(self, robot: str) -> frozenset[int | None]:
        """Return the numbers of the weld schedules that a robot uses."""
        return frozenset(weld.weld_schedule for weld in self.presses if weld.robot == robot)


class Ram(Record):
    """What a robot carries: a ram with two flat dies."""

    id: Mark
    name: Named
    force_from: Force
    force_to: Force
    force_step: Force
    current_from: SpotCurrent
    current_to: SpotCurrent
    current_step: SpotCurrent
    time_step: WeldTime
    die: Annotated[Named, Field(description="what both dies are")]
    die_lasts: Annotated[Whole, Field(description="welds that a pair of dies makes")]
    die_source: Text


class Rams(Table):
    """Table of rams."""

    kind: Literal["rams"]
    entries: Annotated[tuple[Ram, ...], Field(min_length=1)]


class ProjectionRow(ChartRow):
    """Settings for one projection."""

    force: Force | None = None
    force_from: Force | None = None
    force_to: Force | None = None
    weld_time: WeldTime | None = None
    weld_time_from: WeldTime | None = None
    weld_time_to: WeldTime | None = None
    current: SpotCurrent | None = None
    current_from: SpotCurrent | None = None
    current_to: SpotCurrent | None = None


class ProjectionChart(Chart):
    """Settings by the thickness of the sheet with the projections."""

    needed: ClassVar[tuple[str, ...]] = ("force", "weld_time", "current")
    dialled: ClassVar[tuple[str, ...]] = ("force", "weld_time", "current")

    kind: Literal["projection chart"]
    rows: Annotated[tuple[ProjectionRow, ...], Field(min_length=1)]


FORCE = Name("die_force", "Force on the dies", "F", kinds.FORCE)
CURRENT = Name("weld_current", "Weld current", "I", kinds.SPOT_CURRENT)
TIME = Name("weld_time", "Weld time", "t", kinds.TIME)
PRESSED = Name("time_pressed", "Time under force", "t_F", kinds.TIME)


@formula("3 * t", symbol="t_F", source=Source("test figure", standing=Standing.COMMON_PRACTICE), t="weld_time")
def time_pressed(*, weld_time: Time) -> Time:
    """Return for how long the dies press: before, during and after the current, each for the weld time."""


@formula(
    "N * (t_F / 1000 + t_o)",
    symbol="t_w",
    source=Source("sum of times", standing=Standing.GEOMETRY),
    N="welds",
    t_F="pressed",
    t_o="overhead",
)
def pressing_time(*, welds: Number, pressed: Time, overhead: Duration) -> Duration:
    """Return the time of some welds."""


def _times(value: Quantity, number: int) -> Quantity:
    return quantity(value.magnitude * number, spelling(value))


def _dialled(name: Name, column: str, number: int, place: Place, ram: Ram) -> Figure:
    lookup, allowed_range = read_range(place, column)
    low, high = (None if end is None else _times(end, number) for end in (allowed_range.low, allowed_range.high))
    of = f"for each of {number} projections, {allowed_range.origin}" if number > 1 else allowed_range.origin
    setting = {
        FORCE: lambda: between(f"ram {ram.id}", ram.force_from, ram.force_to, ram.force_step),
        CURRENT: lambda: between(f"ram {ram.id}", ram.current_from, ram.current_to, ram.current_step),
        TIME: lambda: between(f"ram {ram.id}", ram.time_step, quantity(1000.0, "ms"), ram.time_step),
    }[name]()
    return set_inside(name, _times(lookup.result, number), AllowedRange(low, high, of), setting, (lookup,))


def _charts(approved: ApprovedTables) -> dict[str, ProjectionChart]:
    return {name: table for name, table in approved.tables.items() if isinstance(table, ProjectionChart)}


class ProjectionFamily(Family[ProjectionOperation]):
    """Welds at projections between the two dies of a ram."""

    operation = ProjectionOperation
    tables: Mapping[str, type[Table]] = MappingProxyType({"rams": Rams, "projection chart": ProjectionChart})
    settings: Mapping[str, Kind] = MappingProxyType({each.key: each.kind for each in (FORCE, CURRENT, TIME)})
    current_key = CURRENT.key
    force_key = FORCE.key
    shown_at_welding: Mapping[str, str] = MappingProxyType({CURRENT.key: ""})
    welds_key = "presses"
    sheet = "points"
    once: Mapping[Route, str] = MappingProxyType({("presses", "*", "id"): "weld"})
    within: Mapping[Route, Route] = MappingProxyType(
        {
            ("presses", "*", "robot"): ("robots", "*"),
            ("presses", "*", "components", "*"): ("components", "*", "id"),
        }
    )
    duration_key = PRESSED.key

    def kinds(self, number: str) -> tuple[str, ...]:
        """Return the chart and the machines."""
        return "projection chart", "rams"

    def named(self, number: str, approved: ApprovedTables) -> Mapping[Route, tuple[Collection[str], str]]:
        """Return where the chart must lead."""
        return {("chart",): (_charts(approved), "projection chart")}

    def equipment(self, number: str, approved: ApprovedTables) -> Collection[str]:
        """Return the rams."""
        return approved.entries("rams")

    def equipment_kind(self, operation: ProjectionOperation) -> str:
        """Return the kind of table that holds the rams."""
        return "rams"

    def places(
        self, operation: ProjectionOperation, approved: ApprovedTables
    ) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
        """Yield the robots with their dies, and the cell."""
        yield from ((("robot", name), FittedPlace(("die",), {})) for name in operation.robots)
        yield ("cell", operation.cell), FittedPlace((), {})

    def compute(self, operation: ProjectionOperation, approved: ApprovedTables) -> OperationResult:
        """Return the settings of every weld; one that no ram can make is refused."""
        gathering = Gathering()
        settings = []
        for index, weld in enumerate(operation.presses):
            with gathering.step(key=f"presses[{index}]"):
                settings.append(self._settings(weld, operation, approved))
        gathering.finish(OutOfRangeError)
        return OperationResult(operation, tuple(settings), ())

    def _settings(self, weld: Projected, operation: ProjectionOperation, approved: ApprovedTables) -> WeldSettings:
        if weld.projections < 1:
            raise refusal("a weld needs at least one projection", "state how many", key="projections", value="0")
        sheets = {each.id: each.thickness for each in operation.components}
        thickness = tuple(sheets[name] for name in weld.components)
        chart: ProjectionChart = _charts(approved)[operation.chart]
        ram: Ram = approved.entries("rams")[approved.robots[weld.robot].equipment]
        many = weld.projections
        force, current, time = (
            _dialled(name, column, number, locate(chart, min(thickness, key=in_mm)), ram)
            for name, column, number in ((FORCE, "force", many), (CURRENT, "current", many), (TIME, "weld_time", 1))
        )
        pressed = result(PRESSED, time_pressed.work(weld_time=value_of(time)))
        return WeldSettings(
            key=safe_name(weld.id, weld.robot),
            kind=NamedKind(f"{many} projections", thickness),
            robot=weld.robot,
            welds=(weld.id,),
            pass_count=1,
            dialled=(force, current, time),
            derived=(pressed,),
            verdicts=(),
            weld_schedule=weld.weld_schedule,
        )

    def welds(self, operation: ProjectionOperation) -> tuple[Weld, ...]:
        """Return the welds."""
        return tuple(
            Weld(each.id, each.robot, each.components, point=(each.x, each.y, each.z), numbered_at=f"presses[{index}]")
            for index, each in enumerate(operation.presses)
        )

    def weld_time(self, robot: Robot, settings: WeldSettings) -> Worked:
        """Return the time under force of some welds, and closing and opening."""
        return pressing_time.work(
            welds=quantity(len(settings.welds), "1"),
            pressed=value_of(settings.figure(PRESSED.key)),
            overhead=robot.weld_overhead,
        )

    def supplies(self, found: OperationResult, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield the dies of both rams."""
        operation: ProjectionOperation = found.operation
        for robot in operation.robots:
            ram: Ram = approved.entries("rams")[approved.robots[robot].equipment]
            welds = sum(len(each.welds) for each in of_robot(found, robot))
            lasts = quantity(ram.die_lasts, "1")
            yield Supply(
                operation=operation.name,
                cell=operation.cell,
                robot=robot,
                what="Dies",
                word="die",
                item=ram.die,
                kind=kinds.NUMBER,
                unit="1",
                run_unit="1",
                per_part=quantity(welds, "1"),
                lasts=(Given("welds of a pair of dies", lasts, "1", ram.die_source),),
                holds=lasts,
                wear=Fraction(welds, ram.die_lasts),
                change=f"Change both dies ({ram.die})",
            )

    def words(self, operation: ProjectionOperation) -> FamilyWords:
        """Return its words."""
        return FamilyWords(
            weld="projection weld",
            stops="every projection weld",
            tool_point="The fixed die",
            runaway="metal is expelled",
            tools=("ram",),
            worn=("dies",),
            handed_over=("welds since the dies were changed",),
        )

    def carried(self, view: View) -> str:
        """Return what both robots carry."""
        return "ram with dies"

    def fitted(self, operation: ProjectionOperation, approved: ApprovedTables) -> tuple[Fitted, ...]:
        """Return the dies."""
        rams = ((robot, approved.entries("rams")[approved.robots[robot].equipment]) for robot in operation.robots)
        return tuple(Fitted("die", robot, ram.die) for robot, ram in rams)

    def fitted_facts(self, view: View) -> Iterator[FittedFact]:
        """Yield the dies."""
        for each in self.fitted(view.operation, view.approved):
            yield FittedFact("Dies", each.place, each.item)

    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the change of dies."""
        new = [robot for robot in view.robots if robot.id in scope.places("die")]
        if new:
            yield Draft(
                f"Fit both dies on {names(new)}.",
                see="Faces flat, clean and parallel",
                key=step_key("fit-dies", names(new)),
                acts=(acts.ENTER, acts.REACH_IN),
            )

    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield nothing."""
        return iter(())


FAMILY = ProjectionFamily()
