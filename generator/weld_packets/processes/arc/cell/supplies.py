"""What arc welding takes from, whatever feeds it (wire, contact tip, gas), and what its prove-out takes of each.

How many coupons there are is the order's, one for each coupon program; how long the seam of one is, and for how long
gas purges, is the plant's. What neither says is named as not counted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot
from weld_packets.calculation.trace import Given
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.settings.consumption import LENGTH, TIME, flowing_time, gas_volume
from weld_packets.processes.supplies import NO_COUPON_PROGRAM, ProveOutUse, Recorded, Supply, share
from weld_packets.units import Quantity, as_written, kinds, magnitude, quantity


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
        renewed_with="Wire",
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


_Taken = Callable[[WeldSettings], float]
"""What one coupon of some settings takes, in the unit of the supply."""


def with_coupons(supply: Supply, found: OperationResult, key: str, approved: ApprovedTables) -> Supply:
    """Return a supply of a robot with what its coupons take; ``key`` is the figure of what seams take of it."""

    def taken(settings: WeldSettings) -> float:
        return magnitude(value_of(settings.figure(key)), supply.unit) * _of_seams(settings, approved)

    uses, missing = _coupons(supply, found, (supply.robot,), taken, approved)
    return replace(supply, prove_out=uses, not_counted=missing)


def with_coupons_and_purge(supply: Supply, found: OperationResult, approved: ApprovedTables) -> Supply:
    """Return the gas of a cell with what the coupons of both robots take, and the purge of both torches."""

    def taken(settings: WeldSettings) -> float:
        flowing = flowing_time(
            burning_time=value_of(settings.figure(TIME.key)) * _of_seams(settings, approved),
            passes=quantity(settings.pass_count, "1"),
            seams=quantity(1, "1"),
            overhead=approved.robots[settings.robot].weld_overhead,
        )
        return magnitude(gas_volume(gas_flow=_flow(settings), flowing_time=flowing), supply.unit)

    operation: ArcOperation = found.operation
    uses, missing = _coupons(supply, found, operation.robots, taken, approved)
    time = approved.plant.purge_time
    if time is None:
        return replace(supply, prove_out=uses, not_counted=(*missing, "the purge: the plant states no 'purge time'"))
    purge = _use(supply, f"a purge of {as_written(time)} at each torch", _purged(supply, found, time), approved)
    return replace(supply, prove_out=(*uses, purge), not_counted=missing)


def _of_seams(settings: WeldSettings, approved: ApprovedTables) -> float:
    """Return how many times the seams of some settings the seam of a coupon is."""
    coupon = approved.plant.coupon_seam
    return 0.0 if coupon is None else magnitude(coupon, "mm") / magnitude(value_of(settings.figure(LENGTH.key)), "mm")


def _flow(settings: WeldSettings) -> Quantity:
    return value_of(settings.figure("gas_flow"))


def _purged(supply: Supply, found: OperationResult, time: Quantity) -> float:
    """Return what flows while every torch that welds is purged."""
    flows: dict[str, Quantity] = {}
    for settings in found.settings:
        flow = _flow(settings)
        flows[settings.robot] = max(flows.get(settings.robot, flow), flow, key=lambda each: magnitude(each, "l/min"))
    volumes = (gas_volume(gas_flow=flow, flowing_time=time) for flow in flows.values())
    return sum(magnitude(volume, supply.unit) for volume in volumes)


def _coupons(
    supply: Supply, found: OperationResult, robots: tuple[str, ...], taken: _Taken, approved: ApprovedTables
) -> tuple[tuple[ProveOutUse, ...], tuple[str, ...]]:
    """Return what the coupons of some robots take, and what of it is not known."""
    uses: list[ProveOutUse] = []
    missing: list[str] = []
    for robot in robots:
        settings, programs = of_robot(found, robot), found.operation.coupon_programs_of(robot)
        if not settings:
            continue
        if not programs:
            missing.append(NO_COUPON_PROGRAM)
        elif approved.plant.coupon_seam is None:
            missing.append("coupons: the plant states no 'coupon seam'")
        else:
            names = ", ".join(program for _, program in programs)
            seam = as_written(approved.plant.coupon_seam)
            amount = sum(_largest(settings, number, taken) for number, _ in programs)
            uses.append(_use(supply, f"coupons of {robot} ({names}), a seam of {seam} each", amount, approved))
    return tuple(uses), tuple(dict.fromkeys(missing))


def _largest(settings: tuple[WeldSettings, ...], number: int | None, taken: _Taken) -> float:
    """Return what the coupon of a weld schedule takes: of settings that differ, those that take most."""
    return max((taken(each) for each in settings if number is None or each.weld_schedule == number), default=0.0)


def _use(supply: Supply, what: str, taken: float, approved: ApprovedTables) -> ProveOutUse:
    amount = quantity(taken, supply.unit)
    whole = supply.holds
    wear = Fraction(0) if whole is None else share(amount, whole, supply.unit)
    return ProveOutUse(what, amount, wear, approved.plant.prove_out_source)
