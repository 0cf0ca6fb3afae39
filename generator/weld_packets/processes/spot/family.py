"""Resistance spot welding as a family: what its operations are asked by other packages."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import WeldSettings
from weld_packets.grouping import grouped
from weld_packets.model.processes import FittedPlace, Route
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.safety import FactName
from weld_packets.processes.answers import FailureType, FamilyWords, Fitted, FittedFact, MachineFact, MeasuredSize, Weld
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope, listed, names
from weld_packets.processes.family import Family
from weld_packets.processes.spot import steps
from weld_packets.processes.spot.formulas import spot_weld_time
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.processes.spot.procedure import SPOT_PROCEDURE, spot_cases
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.processes.spot.supplies import cap_supplies
from weld_packets.processes.view import Kit, View
from weld_packets.units import Kind, Quantity, in_mm, kinds, magnitude, quantity

_CURRENT_TYPES = {"AC": "alternating current (AC)", "MFDC": "medium-frequency direct current (MFDC)"}
_WORDS = FamilyWords(
    weld="spot",
    group="Stack",
    stops="every spot",
    tool_point="The fixed cap",
    closing="the gun closes at every spot: hands away from gun and part",
    runaway="metal is expelled",
    again="below the minimum, dress, set within the allowed range and weld again",
    frees="open its gun, hands out",
    sticks="At a cap that sticks, do not pull with the robot: leave, lock out, turn the cap off, then unlock.",
    tools=("gun",),
    worn=("caps",),
    handed_over=("dressings since the cap change",),
    opened="the cooling water",
    shut_at="cooling water in supply and return",
)
THICK, STRONG = 1.5, 590.0
"""From memory: above 1.5 mm, or in sheet of 590 N/mm² or more, an interface failure is judged by its fused area."""
_READ = "ISO 10447:2015"
_MEMORY = "ISO 14329 from memory"
_GOOD = (
    FailureType("symmetric plug", accepted=True, source=_READ),
    FailureType("asymmetric plug", accepted=True, source=_READ),
    FailureType("partial plug", accepted=True, source=_READ),
    FailureType("mixed plug and interface", accepted=True, source=_MEMORY),
    FailureType("tear at the edge of the nugget", accepted=True, source=_MEMORY),
)
_INTERFACE = FailureType("interface", accepted=False, source=_READ)
_JUDGED = FailureType("interface, fused area large enough", accepted=True, source=_MEMORY)


class SpotFamily(Family[SpotOperation]):
    """Welds at points between the two caps of a gun."""

    operation = SpotOperation
    settings: Mapping[str, Kind] = {
        "weld_current": kinds.SPOT_CURRENT,
        "weld_time": kinds.TIME,
        "electrode_force": kinds.FORCE,
        "squeeze_time": kinds.TIME,
        "hold_time": kinds.TIME,
    }
    current_key = "weld_current"
    force_key = "electrode_force"
    shown_at_welding: Mapping[str, str] = {"weld_current": "secondary current"}
    changed_alone = (frozenset({"weld_current", "weld_time"}),)
    welds_key = "spots"
    sheet = "points"
    once: Mapping[Route, str] = {("stacks", "*", "id"): "stack", ("spots", "*", "id"): "spot"}
    within: Mapping[Route, Route] = {
        ("spots", "*", "robot"): ("robots", "*"),
        ("stacks", "*", "sheets", "*"): ("components", "*", "id"),
        ("stacks", "*", "visible"): ("components", "*", "id"),
        ("spots", "*", "stack"): ("stacks", "*", "id"),
    }
    duration_key = "time_under_force"
    readings = frozenset({"cap_face"})
    procedure = SPOT_PROCEDURE
    sizes = (
        MeasuredSize("Mean weld diameter", "set_up_weld_diameter", ("coupon",)),
        MeasuredSize("Mean weld diameter", "minimum_weld_diameter", ("first-off",), in_plan="production"),
    )
    compute = staticmethod(spot_operation)
    supplies = staticmethod(cap_supplies)
    qualified = staticmethod(spot_cases)

    def kinds(self, number: str) -> tuple[str, ...]:
        """Return what gives the settings and the distances of spots, and the caps."""
        return "spot chart", "spot spacing", "caps"

    def named(self, number: str, approved: ApprovedTables) -> Mapping[Route, tuple[Collection[str], str]]:
        """Return where the chart of an operation must lead."""
        return {("chart",): (approved.spot_charts, "spot chart")}

    def equipment(self, number: str, approved: ApprovedTables) -> Collection[str]:
        """Return the guns."""
        return approved.guns

    def places(
        self, operation: SpotOperation, approved: ApprovedTables
    ) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
        """Yield the robots with the caps of their guns, and the cell, at which nothing is fitted."""
        for name in operation.robots:
            robot = approved.robots.get(name)
            gun = approved.guns.get(robot.equipment) if robot else None
            yield ("robot", name), FittedPlace(("caps",), {}, approved.caps.get(gun.cap) if gun else None)
        yield ("cell", operation.cell), FittedPlace((), {})

    def welds(self, operation: SpotOperation) -> tuple[Weld, ...]:
        """Return the spots."""
        stacks = {stack.id: (f"stacks[{index}]", stack) for index, stack in enumerate(operation.stacks)}
        return tuple(
            Weld(
                id=spot.id,
                robot=spot.robot,
                components=stacks[spot.stack][1].sheets,
                point=(spot.x, spot.y, spot.z),
                group=spot.stack,
                numbered_at=stacks[spot.stack][0],
            )
            for spot in operation.spots
        )

    def weld_time(self, robot: Robot, settings: WeldSettings) -> Worked:
        """Return the time of some spots: the sequence under force, and the closing and opening of the gun."""
        pressed = value_of(settings.figure(self.duration_key))
        spots = quantity(len(settings.welds), "1")
        return spot_weld_time.work(spots=spots, time_under_force=pressed, overhead=robot.weld_overhead)

    def failure_types(
        self, operation: SpotOperation, welds: Collection[str], approved: ApprovedTables
    ) -> tuple[FailureType, ...]:
        """Return the types of failure of the first stack of some spots; spots that are set the same have one stack."""
        name = next(spot.stack for spot in operation.spots if spot.id in welds)
        stack = next(stack for stack in operation.stacks if stack.id == name)
        sheets = [component for component in operation.components if component.id in stack.sheets]
        strengths = [approved.materials[sheet.material].tensile_strength for sheet in sheets]
        return failure_types([sheet.thickness for sheet in sheets], strengths)

    def words(self, operation: SpotOperation) -> FamilyWords:
        """Return its words."""
        return _WORDS

    def carried(self, view: View) -> str:
        """Return what both robots carry."""
        return "spot gun"

    def fitted(self, operation: SpotOperation, approved: ApprovedTables) -> tuple[Fitted, ...]:
        """Return the caps of both guns."""
        caps = ((robot, approved.guns[approved.robots[robot].equipment].cap) for robot in operation.robots)
        return tuple(Fitted("caps", robot, cap, "caps") for robot, cap in caps)

    def fitted_facts(self, view: View) -> Iterator[FittedFact]:
        """Yield the caps with their faces."""
        for robot in view.robots:
            cap = steps.cap_of(view, robot)
            yield FittedFact("Electrode caps", robot.id, f"{cap.id}, face", cap.face)

    def facts(self, view: View) -> Mapping[FactName, str]:
        """Return cooling water and method of dressing of both guns, both together where the same is said."""
        unstated = "flow not stated in the table of machines"
        water = ((robot.id, f"cooling water: {steps.cooling_of(view, robot) or unstated}") for robot in view.robots)
        dressing = ((robot.id, f"{steps.gun_of(view, robot).dressing} dressing") for robot in view.robots)
        return {"cooling water": _together(water), "dressing": _together(dressing)}

    def repeats(self, key: str, robots: Sequence[str], approved: ApprovedTables) -> tuple[Quantity, ...] | None:
        """Return how well the guns repeat a force, where their table says so."""
        if key != "electrode_force":
            return None
        guns = (approved.guns[approved.robots[robot].equipment] for robot in robots)
        return tuple(gun.force_repeatability for gun in guns if gun.force_repeatability is not None)

    def machine_lines(self, view: View) -> Iterator[MachineFact]:
        """Yield both guns with their drive, current type, upslope, stepper and cooling water."""
        first, second = view.robots
        for one, other in zip(_lines(view, first), _lines(view, second), strict=True):
            sources = "; ".join(dict.fromkeys(source for source in (one[2], other[2]) if source))
            yield MachineFact(one[0], (one[1], other[1]), sources)

    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the change of caps."""
        yield from steps.caps_locked(view, _capped(view, scope))

    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield cooling water, and what new caps need."""
        capped = _capped(view, scope)
        if capped:
            yield from steps.caps_made_ready(view, names(capped))

    def measured(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the measurement of the force where it or the caps are new."""
        if _capped(view, scope) or scope.wants("electrode_force"):
            yield from steps.force_measured(view)

    def opened(self, view: View) -> Iterator[Draft]:
        """Yield the cooling water."""
        yield steps.water_opened(view)

    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield a dressing by hand, or new caps."""
        robot = next(each for each in view.robots if each.id == due.robot)
        if due.lesser:
            yield steps.dressed_by_hand(robot.id, view.stated(steps.cap_of(view, robot).face))
        else:
            yield from steps.caps_locked(view, [robot])

    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what new caps need."""
        if not due.lesser:
            yield from steps.caps_aligned(due.robot)

    def due_outside(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield a dressing by power."""
        robot = next(each for each in view.robots if each.id == due.robot)
        if due.lesser and steps.gun_of(view, robot).dressing == "power":
            yield steps.dressed_by_power(robot.id)

    def at_the_end(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield the closing of the cooling water."""
        yield steps.water_shut_at_the_end()

    def cleared(self, view: View) -> Iterator[Draft]:
        """Yield the closing of the cooling water."""
        yield steps.water_shut(view)

    def at_the_start(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield the cooling water."""
        yield steps.water_opened_again(views)

    def at_every_restart(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield the cooling water."""
        yield steps.water_opened_again(views)

    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists of dressings and of new caps."""
        yield from steps.dressing_lists(views, kit)
        yield from steps.cap_lists(views, kit)


def _capped(view: View, scope: Scope) -> list[Robot]:
    return [robot for robot in view.robots if robot.id in scope.places("caps")]


def _together(said: Iterable[tuple[str, str]]) -> str:
    by_text = grouped((text, robot) for robot, text in said)
    return "; ".join(f"{listed(robots)}: {text}" for text, robots in by_text.items())


def _lines(view: View, robot: Robot) -> Iterator[tuple[str, str, str]]:
    """Yield name, value and source of each line of a robot's gun."""
    gun = steps.gun_of(view, robot)
    cooling = steps.cooling_of(view, robot)
    yield "Gun", f"{gun.name}, form {gun.style}, opens {view.length(gun.opening)}", ""
    yield "Drive of the gun", gun.drive, ""
    yield "Current type", "" if gun.current_type is None else _CURRENT_TYPES[gun.current_type], ""
    yield "Upslope", "; ".join(view.amounts("upslope_time", robot.id)), ""
    yield "Stepper", gun.stepper or "", ""
    yield "Cooling water", cooling, gun.cooling_source if cooling else ""


def failure_types(thicknesses: Sequence[Quantity], strengths: Sequence[Quantity | None]) -> tuple[FailureType, ...]:
    """Return the types for a stack. An interface failure is good only in sheets where thickness or strength explain it.

    The thinner sheet decides, and the weaker one; a strength that nobody states explains nothing. The size of a plug is
    a result of its own.
    """
    known = [magnitude(strength, "N/mm²") for strength in strengths if strength is not None]
    strong = len(known) == len(strengths) and min(known) >= STRONG
    explained = strong or min(in_mm(thickness) for thickness in thicknesses) > THICK
    return (*_GOOD, _INTERFACE, *((_JUDGED,) if explained else ()))
