"""What the coupons of a prove-out take of electrode caps.

How many coupons there are is the order's, one for each coupon program; how many spots are on one is the plant's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from weld_packets.calculation.results import WeldSettings
from weld_packets.model.tables.materials import CapLife
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.processes.supplies import NO_COUPON_PROGRAM, ProveOutUse, Supply
from weld_packets.units import quantity

Lives = Sequence[tuple[WeldSettings, CapLife]]
"""The settings of a gun, each with the life of its caps on what it welds."""


def with_coupons(supply: Supply, operation: SpotOperation, lives: Lives, plant: Plant) -> Supply:
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
