"""What coupons and purge of a prove-out take of wire, contact tips and gas."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import pytest
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.supplies import Supply
from weld_packets.units import magnitude

SEAM = {"coupon seam": "150 mm"}
PURGE = {"purge time": "30 s"}


def supplies(bench: Any, *seams: dict[str, Any], plant: Mapping[str, str] = SEAM, **more: Any) -> dict[str, Supply]:
    """Return wire and contact tip of robot A, and the gas of the cell, by their words."""
    operation = bench.operation(*(seams or (bench.seam("S1"),)), **more)
    approved = bench.approved(with_plant=bench.plant(**plant))
    found = FAMILY.supplies(FAMILY.compute(operation, approved), approved)
    return {each.word: each for each in found if each.robot != "B"}


def taken(supply: Supply) -> list[float]:
    return [magnitude(each.amount, supply.unit) for each in supply.prove_out]


ONE = {"coupon programs": {"A": "T1"}}


def test_a_coupon_takes_wire_tip_and_gas_as_its_seam_does(bench: Any) -> None:
    """The seam of the part is 100 mm, that of the coupon 150 mm; its gas flows for one weld overhead, 2 s, besides."""
    found = supplies(bench, **ONE)
    wire, tip, gas = (found[word] for word in ("wire", "contact tip", "gas"))
    assert taken(wire) == [pytest.approx(1.5 * magnitude(wire.per_part, "kg"))]
    assert taken(tip) == [pytest.approx(1.5 * magnitude(tip.per_part, "s"))]
    burning, flow = magnitude(tip.per_part, "s"), 12.0  # the middle of 10 to 15 l/min on a meter of whole litres
    assert magnitude(gas.per_part, "l") == pytest.approx(flow / 60 * (burning + 2))
    assert taken(gas) == [pytest.approx(flow / 60 * (1.5 * burning + 2))]


def test_the_share_of_a_coupon_counts_with_the_first_off(bench: Any) -> None:
    wire = supplies(bench, **ONE)["wire"]
    (use,) = wire.prove_out
    assert float(use.wear) == pytest.approx(1.5 * float(wire.wear))
    assert wire.proof == wire.wear + use.wear
    assert use.what.replace("\N{NO-BREAK SPACE}", " ") == "coupons of A (T1), a seam of 150 mm each"


def seams(bench: Any, *numbers: str) -> list[dict[str, Any]]:
    """Return two seams of which the second takes more wire, with the numbers of their weld schedules, if any."""
    made = [bench.seam("S1", throat="2.3 mm"), bench.seam("S2", throat="2.4 mm")]
    return [seam | {"weld schedule": number} for seam, number in zip(made, numbers, strict=True)] if numbers else made


def test_each_coupon_program_welds_a_coupon_of_its_weld_schedule(bench: Any) -> None:
    first, second = seams(bench, "1", "2")
    alone = [
        taken(supplies(bench, seam, **{"coupon programs": {"A": {number: "T"}}})["wire"])[0]
        for seam, number in ((first, "1"), (second, "2"))
    ]
    both = supplies(bench, first, second, **{"coupon programs": {"A": {"1": "T1", "2": "T2"}}})["wire"]
    assert taken(both) == [pytest.approx(sum(alone))]
    assert alone[0] < alone[1]


def test_one_coupon_of_seams_that_differ_takes_what_the_largest_takes(bench: Any) -> None:
    alone = [taken(supplies(bench, seam, **ONE)["wire"])[0] for seam in seams(bench)]
    assert taken(supplies(bench, *seams(bench), **ONE)["wire"]) == [pytest.approx(max(alone))]


def test_a_purge_takes_gas_at_each_torch_that_welds(bench: Any) -> None:
    """30 s at 12 l/min are 6 l at a torch."""
    one = supplies(bench, plant=SEAM | PURGE, **ONE)["gas"]
    assert taken(one)[-1] == pytest.approx(6)
    both = supplies(bench, bench.seam("S1"), bench.seam("S2", robot="B"), plant=SEAM | PURGE, **ONE)["gas"]
    assert taken(both)[-1] == pytest.approx(12)
    assert both.prove_out[-1].what.replace("\N{NO-BREAK SPACE}", " ") == "a purge of 30 s at each torch"
    assert float(both.prove_out[-1].wear) == pytest.approx(12 / 10000)


@pytest.mark.parametrize(
    ("plant", "more", "missing"),
    [
        ({}, ONE, ("coupons: the plant states no 'coupon seam'", "the purge: the plant states no 'purge time'")),
        (SEAM | PURGE, {}, ("coupons: the order names no coupon program of the robot",)),
        (SEAM | PURGE, ONE, ()),
    ],
)
def test_what_is_not_known_of_a_prove_out_is_named(
    bench: Any, plant: dict[str, str], more: dict[str, Any], missing: tuple[str, ...]
) -> None:
    found = supplies(bench, plant=plant, **more)
    assert found["gas"].not_counted == missing
    assert found["wire"].not_counted == tuple(each for each in missing if "purge" not in each)
    assert not found["wire"].prove_out or "coupon" not in " ".join(missing)


def test_a_robot_that_welds_nothing_has_no_coupon(bench: Any) -> None:
    operation = bench.operation(bench.seam("S1"), **{"coupon programs": {"A": "T1", "B": "T2"}})
    approved = bench.approved(with_plant=bench.plant(**SEAM))
    found = FAMILY.supplies(FAMILY.compute(operation, approved), approved)
    idle = [each for each in found if each.robot == "B"]
    assert [(each.prove_out, each.not_counted, each.proof) for each in idle] == [((), (), Fraction(0))] * 2
