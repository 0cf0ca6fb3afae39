"""What the coupons and the purge of a prove-out take of wire, contact tip, electrode and gas.

How many coupons there are is the order's, one for each coupon program; how long the seam of one is, and for how long
gas purges, is the plant's. What neither says is named as not counted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.settings.consumption import LENGTH, TIME, flowing_time, gas_volume
from weld_packets.processes.supplies import NO_COUPON_PROGRAM, ProveOutUse, Supply, share
from weld_packets.units import Quantity, as_written, magnitude, quantity

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
