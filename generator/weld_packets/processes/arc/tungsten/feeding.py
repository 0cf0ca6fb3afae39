"""An arc from a tungsten electrode, with cold wire or without filler: what is fitted for it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot, total
from weld_packets.calculation.trace import Given
from weld_packets.model.processes import FittedPlace, Misstatement
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import ArcSource
from weld_packets.processes.answers import FamilyWords, Fitted, FittedFact
from weld_packets.processes.arc.cell import steps as common
from weld_packets.processes.arc.cell.supplies import wire_supply, with_coupons
from weld_packets.processes.arc.misstatements import wire_misstatements
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.consumption import TIME, WIRE
from weld_packets.processes.arc.tungsten import steps
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenSource
from weld_packets.processes.arc.tungsten.settings import charts, tungsten_settings
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope, Task, as_task, names
from weld_packets.processes.supplies import Recorded, Supply, share
from weld_packets.processes.view import Kit, View
from weld_packets.units import Quantity, as_written, kinds

_WITH_WIRE = FamilyWords(
    weld="seam",
    stops="every start and stop",
    tool_point="The electrode tip",
    runaway="the electrode touches the work, or the wire sticks to it",
    sticks="At an electrode or wire that sticks, lock the power source off, cut the wire, then unlock.",
    tools=("torch", "feeder", "wire"),
    worn=("electrode", "gas"),
    handed_over=("wire and gas left", "grindings of the electrode"),
    on_fixture=("work clamps",),
    opened="the gas",
    shut_at="gas at the cylinder",
)
_WITHOUT = FamilyWords(
    weld="seam",
    stops="every start and stop",
    tool_point="The electrode tip",
    runaway="the electrode touches the work",
    sticks="At an electrode that sticks, lock the power source off, free it, then unlock.",
    tools=("torch",),
    worn=("electrode", "gas"),
    handed_over=("gas left", "grindings of the electrode"),
    on_fixture=("work clamps",),
    opened="the gas",
    shut_at="gas at the cylinder",
)


def electrodes(approved: ApprovedTables) -> Mapping[str, Electrode]:
    """Return the electrodes of a plant; none where it has no table of them."""
    return approved.entries("tungsten electrodes")


def sources(approved: ApprovedTables) -> Mapping[str, TungstenSource]:
    """Return the power sources of a plant; none where it has no table of them."""
    return approved.entries("tungsten sources")


class Tungsten:
    """An electrode that does not melt; ``with_wire`` where cold wire is fed into the pool."""

    equipment_kind = "tungsten sources"

    def __init__(self, *, with_wire: bool) -> None:
        self.with_wire = with_wire
        self.kinds = ("tungsten chart", "tungsten electrodes", "tungsten sources", *(("wires",) if with_wire else ()))

    def machines(self, approved: ApprovedTables) -> Mapping[str, ArcSource]:
        """Return the power sources for tungsten electrodes."""
        return sources(approved)

    def charts(self, approved: ApprovedTables) -> tuple[Collection[str], str]:
        """Return the charts for tungsten electrodes."""
        return charts(approved), "tungsten chart"

    def misstatements(self, operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield an electrode or wire that is missing, and a wire where there is none."""
        if operation.electrode is None:
            message = f"process {operation.process} needs a tungsten electrode"
            yield Misstatement((), "", message, "add 'electrode: ...', one of the table of tungsten electrodes")
        if self.with_wire:
            yield from wire_misstatements(operation, approved)
        elif operation.wire is not None:
            message = f"process {operation.process} has no filler"
            yield Misstatement(("wire",), operation.wire, message, "delete the key, or choose a process with filler")

    def places(self, operation: ArcOperation, approved: ApprovedTables) -> FittedPlace:
        """Return the electrode and, with cold wire, the wire."""
        held: dict[str, tuple[Quantity, str]] = {}
        electrode = electrodes(approved).get(operation.electrode or "")
        if electrode:
            held["electrode used"] = (electrode.grind_after, "s")
        wire = approved.wires.get(operation.wire or "")
        if wire:
            held["wire left"] = (wire.spool, "kg")
        return FittedPlace(("wire", "electrode") if self.with_wire else ("electrode",), held)

    def settings(self, group: SeamGroup, key: str, named: str | None, approved: ApprovedTables) -> WeldSettings:
        """Return the settings: current, cold wire, travel speed, gas flow, arc length and angles."""
        return tungsten_settings(group, electrodes(approved)[group.electrode or ""], key, named, approved)

    def supplies(self, found: OperationResult, robot: str, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield cold wire where there is one, and the electrode."""
        operation: ArcOperation = found.operation
        settings = of_robot(found, robot)
        if operation.wire is not None:
            wire = wire_supply(operation, robot, total(settings, WIRE.key, "kg"), approved)
            yield with_coupons(wire, found, WIRE.key, approved)
        electrode = electrodes(approved)[operation.electrode or ""]
        arc_on = total(settings, TIME.key, "s")
        supply = Supply(
            operation=operation.name,
            cell=operation.cell,
            robot=robot,
            what="Electrode",
            word="electrode",
            item=electrode.id,
            kind=kinds.DURATION,
            unit="s",
            run_unit="h",
            per_part=arc_on,
            lasts=(Given("arc-on time between grindings", electrode.grind_after, "h", electrode.life_source),),
            holds=electrode.grind_after,
            wear=share(arc_on, electrode.grind_after, "s"),
            change=f"Change the electrode ({electrode.id}, ground {electrode.grinds} times)",
            changed="the electrode changes at the changeover",
            lesser=f"Grind the electrode (after {as_written(electrode.grind_after)} arc-on time)",
            lesser_noun="grinding",
            turns=electrode.grinds,
            turns_source=electrode.life_source,
            recorded=Recorded("electrode_used", "used"),
            turns_key="grindings",
        )
        yield with_coupons(supply, found, TIME.key, approved)

    def words(self, operation: ArcOperation) -> FamilyWords:
        """Return its words."""
        return _WITH_WIRE if self.with_wire else _WITHOUT

    def carried(self, view: View) -> str:
        """Return the torch with its electrode, and the feeder of cold wire."""
        electrode = electrodes(view.approved)[view.operation.electrode]
        torch = f"TIG torch with electrode {electrode.designation}, {view.length(electrode.diameter)}"
        return f"{torch}; feeder for {common.wire_of(view).designation}" if self.with_wire else torch

    def fitted(self, operation: ArcOperation, robot: str) -> Iterator[Fitted]:
        """Yield the cold wire, and the electrode."""
        if operation.wire is not None:
            yield Fitted("wire", robot, operation.wire, "wires")
        yield Fitted("electrode", robot, operation.electrode or "", "tungsten electrodes")

    def facts(self, view: View) -> Iterator[FittedFact]:
        """Yield cold wire and electrode."""
        if self.with_wire:
            wire = common.wire_of(view)
            yield FittedFact("Cold wire", "", f"{wire.id},", wire.diameter)
        electrode = electrodes(view.approved)[view.operation.electrode]
        yield FittedFact("Electrode", "", f"{electrode.id}, {electrode.designation},", electrode.diameter)

    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the change of the electrode and of the wire, and the check of the return path."""
        robots, electrode = names(view.robots), electrodes(view.approved)[view.operation.electrode]
        if scope.places("electrode"):
            task = Task(
                "electrode",
                "Clean the gas nozzles; grind the electrodes and fit them to the gauge.",
                "Grinding marks lengthwise, no dust breathed. Tight in the collet.",
                steps.electrode_words(view, electrode),
            )
            changed = steps.electrode_new(view, electrode, robots, steps.distance_of([view]))
            yield from as_task(task, (common.nozzles_cleaned(robots), *changed))
        if scope.fixture or scope.places("electrode"):
            yield common.work_leads_locked(view, electrode.polarity, refitted=scope.fixture)
        if scope.places("wire"):
            task = Task(
                "wire",
                "Fit cold wire: drive rolls, liner, spool.",
                "Old wire and chips out. Size on rolls and liner is the wire's.",
                common.wire_words(view),
            )
            yield from as_task(task, steps.cold_wire_locked(view, robots, rolls=True))

    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the threading of cold wire."""
        if scope.places("wire"):
            yield from steps.cold_wire_energised(names(view.robots))

    def flow_how(self, view: View) -> str:
        """Return how the gas flow is measured."""
        return "hold the meter over the nozzle, electrode not touched"

    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield a new spool, a grinding, or a new electrode."""
        if due.word == "wire":
            yield from steps.cold_wire_locked(view, due.robot, rolls=False)
        else:
            electrode = electrodes(view.approved)[view.operation.electrode]
            yield from steps.electrode_new(view, electrode, due.robot, steps.distance_of([view]))

    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what follows a new spool."""
        if due.word == "wire":
            yield from steps.cold_wire_energised(due.robot)

    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists of spools and electrodes."""
        if self.with_wire:
            yield from steps.spool_lists(views, kit)
        yield from steps.electrode_lists(views, dict(electrodes(views[0].approved)), kit)
