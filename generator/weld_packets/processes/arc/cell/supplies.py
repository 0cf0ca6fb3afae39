"""What arc welding takes from, whatever feeds it: wire and gas."""

from __future__ import annotations

from weld_packets.calculation.trace import Given
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.supplies import Recorded, Supply, share
from weld_packets.units import Quantity, as_written, kinds


def wire_supply(operation: ArcOperation, robot: str, mass: Quantity, approved: ApprovedTables) -> Supply:
    """Return the wire of a robot, of which one part takes a mass."""
    wire = approved.wires[operation.wire or ""]
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot=robot,
        what="Wire",
        word="wire",
        item=wire.id,
        kind=kinds.MASS,
        unit="kg",
        run_unit="kg",
        per_part=mass,
        lasts=(Given("one spool", wire.spool, "kg", f"table of wires: {wire.designation}"),),
        holds=wire.spool,
        wear=share(mass, wire.spool, "kg"),
        change=f"Change the wire spool ({as_written(wire.spool)})",
        changed="the wire changes at the changeover",
        change_time=approved.plant.wire_change_time,
        times_source=approved.plant.change_times_source or "",
        one_each=True,
        recorded=Recorded("wire_left", "left"),
    )


def tip_supply(operation: ArcOperation, robot: str, arc_on: Quantity, approved: ApprovedTables) -> Supply:
    """Return the contact tip of a robot, of which one part takes an arc-on time."""
    after = approved.plant.contact_tip_after
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot=robot,
        what="Contact tip",
        word="contact tip",
        item=operation.wire or "",
        kind=kinds.DURATION,
        unit="s",
        run_unit="h",
        per_part=arc_on,
        lasts=(Given("one contact tip, arc-on time", after, "h", approved.plant.contact_tip_source),),
        holds=after,
        wear=share(arc_on, after, "s"),
        change=f"Change the contact tip (after {as_written(after)} arc-on time)",
        changed="it changes with the wire at the changeover",
        change_time=approved.plant.contact_tip_change_time,
        times_source=approved.plant.change_times_source or "",
        recorded=Recorded("contact_tip_used", "used"),
        besides="a new spool brings a new contact tip too, which is not counted here: no change is planned too late",
    )


def gas_supply(operation: ArcOperation, flowed: Quantity, approved: ApprovedTables) -> Supply:
    """Return the gas of a cell, of which one part takes a volume."""
    gas = approved.gases[operation.gas]
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot="",
        what="Gas",
        word="gas",
        item=gas.id,
        kind=kinds.VOLUME,
        unit="l",
        run_unit="l",
        per_part=flowed,
        lasts=(Given("one cylinder", gas.cylinder, "l", f"table of gases: {gas.cylinder_name}"),),
        holds=gas.cylinder,
        wear=share(flowed, gas.cylinder, "l"),
        change=f"Change the gas cylinder ({gas.cylinder_name})",
        changed="the gas changes at the changeover",
        change_time=approved.plant.cylinder_change_time,
        times_source=approved.plant.change_times_source or "",
        one_each=True,
        recorded=Recorded("gas_left", "left"),
    )
