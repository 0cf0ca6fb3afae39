"""What the coupons of a prove-out take of electrode caps."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from weld_packets.processes.spot.family import SpotFamily
from weld_packets.processes.supplies import Supply
from weld_packets.units import magnitude

LIFE = [{"coating": "none", "welds between dressings": "400", "basis": "trials"}]


def shop_of(build: Any) -> Any:
    return build.approved(caps={"cap-6": build.cap(life=LIFE)})


def caps(build: Any, on_one: int | None, **more: Any) -> Supply:
    """Return the caps of robot A, which last 400 welds."""
    approved = shop_of(build)
    shop = replace(
        approved, plant=approved.plant.model_copy(update={"coupon_spots": on_one, "prove_out_source": "plant"})
    )
    family = SpotFamily()
    (found, _) = family.supplies(family.compute(build.operation(**more), shop), shop)
    return found


def test_each_coupon_takes_so_many_spots_of_the_caps(build: Any) -> None:
    found = caps(build, 5, **{"coupon programs": {"A": "T1"}})
    (use,) = found.prove_out
    assert (magnitude(use.amount, "1"), use.wear, use.source) == (5, Fraction(5, 400), "plant")
    assert use.what == "coupons of A (T1), 5 spots each"
    assert found.proof == Fraction(3 + 5, 400)  # three spots a part


def test_coupons_of_two_weld_schedules_take_twice_as_many(build: Any) -> None:
    stacks = [{"id": f"k{number}", "sheets": ["panel", "strip"], "weld schedule": str(number)} for number in (1, 2)]
    spots = [build.spot("s1", 20), build.spot("s2", 50, stack="k2")]
    programs = {"coupon programs": {"A": {"1": "T1", "2": "T2"}}}
    (use,) = caps(build, 5, stacks=stacks, spots=spots, **programs).prove_out
    assert magnitude(use.amount, "1") == 10
    assert use.what == "coupons of A (T1, T2), 5 spots each"


@pytest.mark.parametrize(
    ("spots", "programs", "missing"),
    [
        (None, {"A": "T1"}, "coupons: the plant states no 'coupon spots'"),
        (5, {}, "coupons: the order names no coupon program of the robot"),
    ],
)
def test_what_is_not_known_of_coupons_is_named(
    build: Any, spots: int | None, programs: dict[str, str], missing: str
) -> None:
    found = caps(build, spots, **{"coupon programs": programs})
    assert (found.prove_out, found.not_counted, found.proof) == ((), (missing,), found.wear)


def test_a_gun_that_welds_nothing_has_no_coupon(build: Any) -> None:
    approved = shop_of(build)
    family = SpotFamily()
    (_, idle) = family.supplies(family.compute(build.operation(), approved), approved)
    assert (idle.prove_out, idle.not_counted, idle.proof) == ((), (), 0)
