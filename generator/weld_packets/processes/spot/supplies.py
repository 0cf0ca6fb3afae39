"""What spots take of electrode caps, and what the coupons of a prove-out take of them.

How many coupons there are is the order's, one for each coupon program; how many spots are on one is the plant's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot
from weld_packets.calculation.trace import Given
from weld_packets.errors import refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.materials import Cap, CapLife
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.processes.supplies import NO_COUPON_PROGRAM, ProveOutUse, Supply
from weld_packets.units import kinds, quantity

Lives = Sequence[tuple[WeldSettings, CapLife]]
"""The settings of a gun, each with the life of its caps on what it welds."""


def cap_supplies(found: OperationResult, approved: ApprovedTables) -> Iterator[Supply]:
    """Yield the caps of both guns; raise OutOfRangeError where a cap has no life on a coating that it welds."""
    operation: SpotOperation = found.operation
    for robot in operation.robots:
        gun = approved.guns[approved.robots[robot].equipment]
        cap = approved.caps[gun.cap]
        lives = [(group, _life(cap, operation, group, approved)) for group in of_robot(found, robot)]
        wear = sum((Fraction(len(group.welds), life.welds_between_dressings) for group, life in lives), Fraction(0))
        welds = quantity(sum(len(group.welds) for group, _ in lives), "1")
        caps = Supply(
            operation=operation.name,
            cell=operation.cell,
            robot=robot,
            what="Electrode caps",
            word="caps",
            item=cap.id,
            kind=kinds.NUMBER,
            unit="1",
            run_unit="1",
            per_part=welds,
            lasts=tuple(dict.fromkeys(_lasting(life) for _, life in lives)),
            holds=None,
            wear=wear,
            change=f"Change both caps ({cap.id}, {cap.dressings} dressings done)",
            changed="the caps change at the changeover",
            lesser="Dress both caps",
            lesser_noun="dressing",
            turns=cap.dressings,
            turns_source=cap.basis,
            turns_key="dressings",
            change_time=gun.cap_change_time,
            lesser_time=gun.dressing_time,
            times_source=gun.change_times_source or "",
            intervals={life.coating: life.welds_between_dressings for life in cap.life},
        )
        yield _with_coupons(caps, operation, lives, approved.plant)


def _lasting(life: CapLife) -> Given:
    label = f"welds between dressings, coating {life.coating}"
    return Given(label, quantity(life.welds_between_dressings, "1"), "1", life.basis)


def _life(cap: Cap, operation: SpotOperation, group: WeldSettings, approved: ApprovedTables) -> CapLife:
    """Return the cap's life on the coating of a group's stack that wears it most."""
    coatings = {each.id: approved.materials[each.material].coating for each in operation.components}
    stack_of = {spot.id: spot.stack for spot in operation.spots}
    sheets = next(stack.sheets for stack in operation.stacks if stack.id == stack_of[group.welds[0]])
    known = {life.coating: life for life in cap.life}
    missing = sorted({coatings[sheet] for sheet in sheets} - set(known))
    if missing:
        raise refusal(
            f"cap {cap.id} has no number of welds between dressings on coating {', '.join(missing)}",
            "add it under 'life' in the table of caps",
            value=cap.id,
        )
    return min((known[coatings[sheet]] for sheet in sheets), key=lambda life: life.welds_between_dressings)


def _with_coupons(supply: Supply, operation: SpotOperation, lives: Lives, plant: Plant) -> Supply:
    """Return the caps of a gun with what its coupons take: so many spots each, on the coating that wears most."""
    programs, spots = operation.coupon_programs_of(supply.robot), plant.coupon_spots
    if not lives:
        return supply
    if not programs:
        return replace(supply, not_counted=(NO_COUPON_PROGRAM,))
    if spots is None:
        return replace(supply, not_counted=("coupons: the plant states no 'coupon spots'",))
    wear = sum((_wear(lives, number, spots) for number, _ in programs), Fraction(0))
    names = ", ".join(program for _, program in programs)
    what = f"coupons of {supply.robot} ({names}), {spots} spots each"
    use = ProveOutUse(what, quantity(spots * len(programs), "1"), wear, plant.prove_out_source)
    return replace(supply, prove_out=(use,))


def _wear(lives: Lives, number: int | None, spots: int) -> Fraction:
    called = (life for group, life in lives if number is None or group.weld_schedule == number)
    return max((Fraction(spots, life.welds_between_dressings) for life in called), default=Fraction(0))
