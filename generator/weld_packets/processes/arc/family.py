"""Arc welding as a family: what its operations are asked by other packages.

Seams, their sizes, heat and steel are the same for all its processes. How the arc gets its filler is a part of its own
for each combination that the table of processes lists.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.imperfections import Measures, measures_of_butt, measures_of_fillet
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings, total
from weld_packets.model.processes import Filler, FittedPlace, Misstatement, Route, arc_process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.materials import Gas
from weld_packets.model.trade import QualityLevel
from weld_packets.processes.answers import FamilyWords, Fitted, FittedFact, Judged, MeasuredSize, Weld
from weld_packets.processes.arc.cell import gas_steps
from weld_packets.processes.arc.cell.supplies import gas_supply, with_coupons_and_purge
from weld_packets.processes.arc.misstatements import gas_misstatements, seam_misstatements
from weld_packets.processes.arc.operation import arc_operation
from weld_packets.processes.arc.procedure import ARC_PROCEDURE, arc_cases
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.seam_groups import BUTT, sizes_by_letter
from weld_packets.processes.arc.settings.consumption import arc_weld_time
from weld_packets.processes.arc.size.flare import FLARE
from weld_packets.processes.arc.size.formulas import leg_from_throat
from weld_packets.processes.arc.tungsten.feeding import Tungsten, electrodes
from weld_packets.processes.arc.tungsten.records import Electrodes, TungstenChart, TungstenSources
from weld_packets.processes.arc.wire.feed import contradicted_rows
from weld_packets.processes.arc.wire.feeding import MeltingWire
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope, names
from weld_packets.processes.family import Family
from weld_packets.processes.supplies import Supply
from weld_packets.processes.view import Kit, View
from weld_packets.units import Kind, in_mm, kinds, quantity

Feeding = MeltingWire | Tungsten
"""How an arc gets its filler: a wire that melts in it, cold wire into the pool of a tungsten arc, or none."""
FEEDINGS: Mapping[Filler, Feeding] = {
    "melting wire": MeltingWire(),
    "cold wire": Tungsten(with_wire=True),
    "none": Tungsten(with_wire=False),
}


def feeding_of(number: str) -> Feeding:
    """Return how a process gets its filler, by its number."""
    return FEEDINGS[arc_process(number).filler]


class ArcFamily(Family[ArcOperation]):
    """Welds along lines, molten by an arc under a gas."""

    operation = ArcOperation
    tables = {
        "tungsten chart": TungstenChart,
        "tungsten electrodes": Electrodes,
        "tungsten sources": TungstenSources,
    }
    settings: Mapping[str, Kind] = {
        "welding_current": kinds.CURRENT,
        "arc_voltage": kinds.VOLTAGE,
        "wire_feed_speed": kinds.WIRE_FEED,
        "travel_speed": kinds.TRAVEL_SPEED,
        "gas_flow": kinds.GAS_FLOW,
        "contact_distance": kinds.LENGTH,
    }
    current_key = "welding_current"
    shown_at_welding: Mapping[str, str] = {"welding_current": "", "arc_voltage": ""}
    changed_alone = (frozenset({"wire_feed_speed", "travel_speed"}),)
    moved_readings: Mapping[str, str] = {"wire_feed_speed": "welding_current"}
    welds_key = "seams"
    sheet = "paths"
    once: Mapping[Route, str] = {("seams", "*", "id"): "seam"}
    within: Mapping[Route, Route] = {
        ("seams", "*", "robot"): ("robots", "*"),
        ("seams", "*", "components", "*"): ("components", "*", "id"),
    }
    duration_key = "arc_time"
    loaded_key = "arc_time"
    elsewhere = frozenset({"travel_speed", "gas_flow", "contact_distance", "arc_length", "work_angle", "travel_angle"})
    makes_fume = True
    procedure = ARC_PROCEDURE
    readings = frozenset({"welding_current", "arc_voltage"})
    in_one_line = (("work_angle", "travel_angle"),)
    sizes = (
        MeasuredSize("Throat", "throat", ("coupon", "first-off"), excess="throat-too-large"),
        MeasuredSize("Leg", "leg", ("coupon", "first-off")),
    )
    contradicted = staticmethod(contradicted_rows)
    qualified = staticmethod(arc_cases)

    def kinds(self, number: str) -> tuple[str, ...]:
        """Return what any arc needs, and what its feeding does."""
        return (*feeding_of(number).kinds, "gases", "shades", "imperfections")

    def named(self, number: str, approved: ApprovedTables) -> Mapping[Route, tuple[Collection[str], str]]:
        """Return where wire, gas, electrode and chart of an operation must lead."""
        return {
            ("wire",): (approved.wires, "wire"),
            ("gas",): (approved.gases, "gas"),
            ("electrode",): (electrodes(approved), "tungsten electrode"),
            ("chart",): feeding_of(number).charts(approved),
        }

    def equipment(self, number: str, approved: ApprovedTables) -> Collection[str]:
        """Return the power sources."""
        return feeding_of(number).machines(approved)

    def misstatements(self, operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield consumables of another process, and seams that say too much or too little of their size."""
        yield from feeding_of(operation.process).misstatements(operation, approved)
        yield from gas_misstatements(operation, approved)
        yield from seam_misstatements(operation)

    def places(
        self, operation: ArcOperation, approved: ApprovedTables
    ) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
        """Yield the robots with what the arc takes, and the cell with its gas."""
        at_robot = feeding_of(operation.process).places(operation, approved)
        yield from ((("robot", robot), at_robot) for robot in operation.robots)
        gas = approved.gases.get(operation.gas)
        yield ("cell", operation.cell), FittedPlace(("gas",), {"gas left": (gas.cylinder, "l")} if gas else {})

    def compute(self, operation: ArcOperation, approved: ApprovedTables) -> OperationResult:
        """Return the settings of all seams, and the checks of the operation."""
        feeding = feeding_of(operation.process)
        return arc_operation(operation, approved, feeding.machines(approved), feeding.settings)

    def welds(self, operation: ArcOperation) -> tuple[Weld, ...]:
        """Return the seams."""
        return tuple(
            Weld(
                id=seam.id,
                robot=seam.robot,
                components=seam.components,
                path=seam.path,
                joint=seam.joint,
                position=seam.position,
                sizes=sizes_by_letter(seam),
                overlap=seam.overlap,
                leg=None if seam.throat is None else leg_from_throat(throat=seam.throat),
                numbered_at=f"seams[{index}]",
            )
            for index, seam in enumerate(operation.seams)
        )

    def weld_time(self, robot: Robot, settings: WeldSettings) -> Worked:
        """Return the time of some seams: the arc, and gas flow, arc start and crater of each pass."""
        starts = quantity(len(settings.welds) * settings.pass_count, "1")
        burning = value_of(settings.figure(self.duration_key))
        return arc_weld_time.work(arc_time=burning, starts=starts, overhead=robot.weld_overhead)

    def supplies(self, found: OperationResult, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield what is fitted at both robots, and the gas of the cell."""
        operation: ArcOperation = found.operation
        for robot in operation.robots:
            yield from feeding_of(operation.process).supplies(found, robot, approved)
        gas = gas_supply(operation, total(found.settings, "gas_volume", "l"), approved)
        yield with_coupons_and_purge(gas, found, approved)

    def quality(self, operation: ArcOperation) -> QualityLevel:
        """Return the quality level that the order requires."""
        return operation.quality

    def words(self, operation: ArcOperation) -> FamilyWords:
        """Return its words."""
        return feeding_of(operation.process).words(operation)

    def carried(self, view: View) -> str:
        """Return what both robots carry."""
        return feeding_of(view.operation.process).carried(view)

    def fitted(self, operation: ArcOperation, approved: ApprovedTables) -> tuple[Fitted, ...]:
        """Return what is fitted at both robots, and the gas."""
        feeding = feeding_of(operation.process)
        at_robots = (each for robot in operation.robots for each in feeding.fitted(operation, robot))
        return (*at_robots, Fitted("gas", operation.cell, operation.gas, "gases"))

    def fitted_facts(self, view: View) -> Iterator[FittedFact]:
        """Yield what is fitted at the robots, then the gas."""
        yield from feeding_of(view.operation.process).facts(view)
        gas = gas_steps.gas_of(view)
        yield FittedFact("Gas", "", f"{gas.id}, {gas.content}")

    def equipment_kind(self, operation: ArcOperation) -> str:
        """Return the kind of table that holds its power sources."""
        return feeding_of(operation.process).equipment_kind

    def gas(self, operation: ArcOperation, approved: ApprovedTables) -> Gas:
        """Return the shielding gas."""
        return approved.gases[operation.gas]

    def chromium(self, operation: ArcOperation, approved: ApprovedTables) -> Mapping[str, Decimal]:
        """Return the chromium content of the wire, if there is one."""
        if operation.wire is None:
            return {}
        wire = approved.wires[operation.wire]
        return {wire.designation: wire.chromium or Decimal(0)}

    def judged(self, found: OperationResult) -> Iterator[Judged]:
        """Yield thickness, throat and face of seams that are set the same."""
        return (_judged(found.operation, each) for each in found.settings)

    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what is fitted at the robots, then the cylinder."""
        yield from feeding_of(view.operation.process).locked(view, scope)
        if scope.places("gas"):
            yield from gas_steps.cylinder_changed(view, names(view.robots))

    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield what follows at the robots, then purging and the gas flow."""
        feeding = feeding_of(view.operation.process)
        yield from feeding.energised(view, scope)
        purge = bool(scope.places("gas"))
        if purge or scope.wants("gas_flow"):
            yield from gas_steps.purged_and_set(view, feeding.flow_how(view), purge=purge)

    def opened(self, view: View) -> Iterator[Draft]:
        """Yield the cylinder valve."""
        yield gas_steps.cylinder_open(view)

    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield a new cylinder, or what is due at a robot."""
        if due.robot:
            yield from feeding_of(view.operation.process).due_locked(view, due)
        else:
            yield from gas_steps.cylinder_changed(view, f"cell {view.cell.id}")

    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield purging after a new cylinder, or what follows at a robot."""
        if due.robot:
            yield from feeding_of(view.operation.process).due_energised(view, due)
        else:
            yield gas_steps.purged()

    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists of what is changed at the robots, then of cylinders."""
        for feeding in dict.fromkeys(feeding_of(view.operation.process) for view in views):
            yield from feeding.run_lists([view for view in views if feeding_of(view.operation.process) is feeding], kit)
        yield from gas_steps.gas_lists(views, kit)

    def at_the_end(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield the closing of the gas."""
        yield gas_steps.shut_at_the_end()

    def at_the_start(self, views: Sequence[View]) -> Iterator[Draft]:
        """Yield the opening of the gas."""
        yield gas_steps.open_at_the_start()

    def cleared(self, view: View) -> Iterator[Draft]:
        """Yield the closing of the gas."""
        yield gas_steps.cylinder_shut()


def _judged(operation: ArcOperation, settings: WeldSettings) -> Judged:
    seam = next(seam for seam in operation.seams if seam.id == settings.welds[0])
    thickness = min((each.thickness for each in operation.components if each.id in seam.components), key=in_mm)
    if seam.joint == BUTT:
        measures = measures_of_butt(thickness=thickness, cap_width=seam.weld_cap_width, passes=settings.pass_count)
    elif seam.joint == FLARE:
        measures = Measures(thickness, value_of(settings.figure("throat")), None, settings.pass_count)
    else:
        throat = value_of(settings.figure("throat"))
        measures = measures_of_fillet(thickness=thickness, throat=throat, passes=settings.pass_count)
    return Judged(settings, seam.joint, measures)
