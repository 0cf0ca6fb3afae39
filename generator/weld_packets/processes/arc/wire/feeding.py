"""A wire that melts in the arc: what is fitted for it, and what people do with it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot, total
from weld_packets.model.processes import FittedPlace, Misstatement
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import ArcSource
from weld_packets.processes.answers import FamilyWords, Fitted, FittedFact
from weld_packets.processes.arc.cell import steps as common
from weld_packets.processes.arc.cell.supplies import tip_supply, wire_supply, with_coupons
from weld_packets.processes.arc.misstatements import wire_misstatements
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.consumption import TIME, WIRE
from weld_packets.processes.arc.wire import steps
from weld_packets.processes.arc.wire.settings import settings_of
from weld_packets.processes.cell.drafts import Called, Draft, Due, Scope, names
from weld_packets.processes.supplies import Supply
from weld_packets.processes.view import Kit, View

_WORDS = FamilyWords(
    weld="seam",
    stops="every start and stop",
    tool_point="The wire end",
    runaway="spatter flies past the curtain",
    sticks="At a torch that sticks, lock the power source off, cut the wire, then unlock.",
    tools=("torch", "feeder", "wire"),
    worn=("gas",),
    handed_over=("wire and gas left",),
    on_fixture=("work clamps",),
    opened="the gas",
    shut_at="gas at the cylinder",
)


class MeltingWire:
    """Wire, contact tip and feeder."""

    equipment_kind = "machines"
    kinds = ("arc chart", "wires")

    def charts(self, approved: ApprovedTables) -> tuple[Collection[str], str]:
        """Return the charts for a melting wire."""
        return approved.arc_charts, "arc chart"

    def misstatements(self, operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield a wire that is missing or of another process, and an electrode, which there is none."""
        yield from wire_misstatements(operation, approved)
        if operation.electrode is not None:
            message = f"process {operation.process} has no tungsten electrode"
            yield Misstatement(("electrode",), operation.electrode, message, "delete the key, or correct the process")

    def places(self, operation: ArcOperation, approved: ApprovedTables) -> FittedPlace:
        """Return the wire and the contact tip."""
        held = {"contact tip used": (approved.plant.contact_tip_after, "s")}
        wire = approved.wires.get(operation.wire or "")
        if wire:
            held["wire left"] = (wire.spool, "kg")
        return FittedPlace(("wire", "contact tip"), held)

    def machines(self, approved: ApprovedTables) -> Mapping[str, ArcSource]:
        """Return the power sources with a wire feeder."""
        return approved.power_sources

    def settings(self, group: SeamGroup, key: str, named: str | None, approved: ApprovedTables) -> WeldSettings:
        """Return the settings: wire feed, voltage, travel speed, gas flow, contact distance and angles."""
        return settings_of(group, key, named, approved)

    def supplies(self, found: OperationResult, robot: str, approved: ApprovedTables) -> Iterator[Supply]:
        """Yield wire and contact tip."""
        operation: ArcOperation = found.operation
        settings = of_robot(found, robot)
        wire = wire_supply(operation, robot, total(settings, WIRE.key, "kg"), approved)
        yield with_coupons(wire, found, WIRE.key, approved)
        tip = tip_supply(operation, robot, total(settings, TIME.key, "s"), approved)
        yield with_coupons(tip, found, TIME.key, approved)

    def words(self, operation: ArcOperation) -> FamilyWords:
        """Return its words."""
        return _WORDS

    def carried(self, view: View) -> str:
        """Return torch and feeder."""
        return f"torch and feeder for {common.wire_of(view).designation}"

    def fitted(self, operation: ArcOperation, robot: str) -> Iterator[Fitted]:
        """Yield the wire; its contact tip goes with it."""
        yield Fitted("wire", robot, operation.wire or "", "wires")

    def facts(self, view: View) -> Iterator[FittedFact]:
        """Yield the wire."""
        wire = common.wire_of(view)
        yield FittedFact("Wire", "", f"{wire.id},", wire.diameter)

    def locked(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield the change of the wire, and the check of the return path."""
        polarity = common.wire_of(view).polarity or ""
        if scope.places("wire"):
            yield from steps.wire_locked(view, polarity, refitted=scope.fixture)
        elif scope.fixture:
            yield common.work_leads_locked(view, polarity, refitted=True)

    def energised(self, view: View, scope: Scope) -> Iterator[Draft]:
        """Yield inching, contact tip and wire end."""
        if scope.places("wire"):
            yield from steps.wire_energised(view, names(view.robots), steps.distance_of([view]))

    def flow_how(self, view: View) -> str:
        """Return how the gas flow is measured."""
        return "hold the meter over the nozzle, wire not touched"

    def due_locked(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield a new spool, or a new contact tip."""
        if due.word == "wire":
            yield from steps.spool_changed(view, due.robot)
        else:
            yield from steps.tip_changed(view, due.robot)

    def due_energised(self, view: View, due: Due) -> Iterator[Draft]:
        """Yield what follows a new spool."""
        if due.word == "wire":
            yield from steps.wire_energised(view, due.robot, steps.distance_of([view]))

    def run_lists(self, views: Sequence[View], kit: Kit) -> Iterator[Called]:
        """Yield the lists of spools and contact tips."""
        yield from steps.spool_lists(views, kit)
        yield from steps.tip_lists(views, kit)
