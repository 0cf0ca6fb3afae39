"""Carry-over from LK-2041 to LK-2055, cap by cap and spool by spool, by hand from the orders' own figures.

Quantities and numbers of welds are counted in the orders. What one spool, cylinder, contact tip or dressing lasts for
is in the tables of wires, gases, plant and caps, where each names its source: 15 kg of wire, 16,000 l of CO2 and
11,500 l of M21 a cylinder, 8 h of arc-on time a contact tip (common practice, no source), 400 welds between dressings
on bare sheet and 30 dressings a cap (both from memory). What one part takes of wire, gas and arc-on time is the figure
of the calculation pages, written here to five digits; no count below comes within that rounding of the next whole part.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from weld_packets.planning.order import plan_order
from weld_packets.planning.records import OrderPlan
from weld_packets.plant.orders import Orders
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).parents[3]
FIRST, SECOND = "lk-2041-service-module", "lk-2055-outdoor-column"
N1, N2 = 640, 420


@pytest.fixture(scope="module")
def workspace() -> Workspace:
    return load_workspace(ROOT)


@pytest.fixture(scope="module")
def orders(workspace: Workspace) -> Orders:
    return Orders(workspace)


@pytest.fixture(scope="module")
def plans(workspace: Workspace, orders: Orders) -> tuple[OrderPlan, OrderPlan]:
    one, two = orders.computed(FIRST), orders.computed(SECOND)
    first = plan_order(one.order, one.results, workspace.approved)
    return first, plan_order(two.order, two.results, workspace.approved, first.left)


def counts(plan: OrderPlan, place: str, what: str, *, dressing: bool = False) -> list[int]:
    """Return after how many parts one consumable is changed, or dressed, at a robot or in a cell."""
    at = ((event.part_number, event.dressing) for event in plan.events
          if (event.robot or event.cell, event.supply) == (place, what))  # fmt: skip
    return [parts for parts, dressed in at if dressed == dressing]


def left(plan: OrderPlan, place: str, what: str) -> tuple[float, int]:
    found = next(each for each in plan.left if (each.place, each.what) == (place, what))
    return float(found.used), found.dressings


def test_the_quantities_are_those_of_the_orders(orders: Orders) -> None:
    assert (orders.sourced(FIRST).order.quantity, orders.sourced(SECOND).order.quantity) == (N1, N2)


@pytest.mark.parametrize(
    ("robot", "first", "second"), [("C5A", 20, 20), ("C5B", 18, 18), ("C6A", 36, 28), ("C6B", 36, 28)]
)
def test_the_welds_of_a_part_are_those_of_the_orders(orders: Orders, robot: str, first: int, second: int) -> None:
    def spots(slug: str) -> Iterator[str]:
        for operation in orders.sourced(slug).order.operations:
            yield from (
                (spot.id for spot in operation.spots if spot.robot == robot)
                if isinstance(operation, SpotOperation)
                else ()
            )

    assert (len(list(spots(FIRST))), len(list(spots(SECOND)))) == (first, second)


def test_caps_of_c6_are_changed_early_in_the_second_order(plans: tuple[OrderPlan, OrderPlan]) -> None:
    first, second = plans
    # LK-2041: 36 welds a part and on the first-off: 364 / 36 = 10.1, so due after 10 parts; 400 / 36 = 11.1: every 11.
    # 30 dressings, the 31st time is a change: 10 + 30 x 11 = 340. The last is due after 637 = 10 + 57 x 11: after the
    # change 27 dressings, then 3 parts x 36 welds = 108 welds, 108 / 400 = 27 %.
    for robot in ("C6A", "C6B"):
        assert counts(first, robot, "Electrode caps") == [340]
        assert len(counts(first, robot, "Electrode caps", dressing=True)) == 57
        assert left(first, robot, "Electrode caps") == (0.27, 27)
        # LK-2055: 28 welds a part and on the first-off. 400 - 108 - 28 = 264 left, 264 / 28 = 9.4: due after 9 parts,
        # then 400 / 28 = 14.3: every 14. Dressings 28, 29, 30 after 9, 23, 37; changed after 51.
        assert counts(second, robot, "Electrode caps") == [51]
        assert counts(second, robot, "Electrode caps", dressing=True)[:5] == [9, 23, 37, 65, 79]
        # Due 9, 23, ... 415 = 9 + 29 x 14; the 4th is the change, 26 dressings follow it; 5 parts x 28 = 140 welds.
        assert left(second, robot, "Electrode caps") == (140 / 400, 26)


def test_caps_of_c5a_are_dressed_a_part_early_because_of_the_first_off(plans: tuple[OrderPlan, OrderPlan]) -> None:
    first, second = plans
    # LK-2041: 20 welds a part, 20 on the first-off: 380 / 20 = 19: due after 19 parts, then after every 20; the last
    # after 639 = 19 + 31 x 20; the 31st is the change, after 19 + 30 x 20 = 619. Then one dressing and one part.
    assert counts(first, "C5A", "Electrode caps") == [619]
    assert left(first, "C5A", "Electrode caps") == (20 / 400, 1)
    # LK-2055: the same door: 400 - 20 - 20 = 360 left: after 18, then every 20 to 418; dressings 2 to 22, no change.
    assert counts(second, "C5A", "Electrode caps") == []
    assert counts(second, "C5A", "Electrode caps", dressing=True) == list(range(18, 419, 20))
    # The first of all in LK-2055 are the caps of C6.
    assert second.events[0].part_number == 9


def test_caps_of_c5b_have_one_dressing_left_for_the_second_order(plans: tuple[OrderPlan, OrderPlan]) -> None:
    first, second = plans
    # LK-2041: 18 welds a part and on the first-off: 382 / 18 = 21.2: after 21 parts, then every 22: 637 = 21 + 28 x 22:
    # 29 dressings; 3 parts x 18 = 54.
    assert counts(first, "C5B", "Electrode caps") == []
    assert left(first, "C5B", "Electrode caps") == (54 / 400, 29)
    # LK-2055: 400 - 54 - 18 = 328 left, 328 / 18 = 18.2: the 30th dressing after 18 parts, the change after 40.
    assert counts(second, "C5B", "Electrode caps") == [40]
    assert counts(second, "C5B", "Electrode caps", dressing=True)[:3] == [18, 62, 84]


def test_caps_of_c7_start_new_because_no_earlier_order_used_them(plans: tuple[OrderPlan, OrderPlan]) -> None:
    # 14 welds a part and on the first-off: 386 / 14 = 27.6: after 27 parts, then every 28; 27 + 14 x 28 = 419.
    assert counts(plans[1], "C7A", "Electrode caps", dressing=True) == [27 + 28 * turn for turn in range(15)]


SPOOLS = [
    # place, what, one holds, a part of LK-2041 takes, changes in LK-2041, a part of LK-2055 takes, changes in LK-2055
    # The first-off of each order takes as much as a part, so the first change comes one part earlier.
    # C1 wire, kg: 15 / 0.044105 = 340.1; 301 of 640 parts since, 13.28 used; 1.72 / 0.043931 = 39.3, one for first-off
    ("C1A", "Wire", 15.0, 0.044105, [339], 0.043931, [38, 379]),
    ("C1B", "Wire", 15.0, 0.044105, [339], 0.036283, [46]),
    # C2 wire, kg: 15 / 0.017853 = 840.2; 641 parts since, 11.44 used; another wire: 15 / 0.020874 = 719
    ("C2A", "Wire", 15.0, 0.017853, [], 0.020874, []),
    ("C2B", "Wire", 15.0, 0.017853, [], 0.020874, []),
    # C1 CO2, l: 16,000 / 60.887 = 262.8; 117 of 640 parts since, 7,123.76 used; 8,876.24 / 43.027 = 206.3
    ("C1", "Gas", 16_000.0, 60.887, [261, 523], 43.027, [205]),
    # C2 M21, l: 11,500 / 23.183 = 496.1; 145 of 640 parts since, 3,361.49 used; 8,138.51 / 25.487 = 319.3
    ("C2", "Gas", 11_500.0, 23.183, [495], 25.487, [318]),
    # C2 tip, s: 28,800 / 43.557 = 661.2; 641 parts since, 27,919.90 used; another wire: 28,800 / 51.118 = 563
    ("C2A", "Contact tip", 28_800.0, 43.557, [], 51.118, []),
    ("C2B", "Contact tip", 28_800.0, 43.557, [], 51.118, []),
]


@pytest.mark.parametrize(("place", "what", "holds", "first", "changed", "second", "next_changed"), SPOOLS)
def test_wire_gas_and_contact_tips_are_changed_when_what_is_left_is_used_up(  # noqa: PLR0917 - one spool is one line
    plans: tuple[OrderPlan, OrderPlan],
    place: str,
    what: str,
    holds: float,
    first: float,
    changed: list[int],
    second: float,
    next_changed: list[int],
) -> None:
    one, two = plans
    for plan, taken in ((one, first), (two, second)):
        use = next(use for use in plan.uses if (use.robot or use.cell, use.what) == (place, what))
        assert float(use.figure("per_part").value.magnitude) == pytest.approx(taken, rel=3e-5)
    assert counts(one, place, what) == changed
    used = (N1 - changed[-1] if changed else 1 + N1) * first
    assert left(one, place, what)[0] == pytest.approx(used / holds, rel=5e-5)
    assert counts(two, place, what) == next_changed
    if next_changed:
        used += second
        whole = int((holds - used) / second)
        assert next_changed == list(range(whole, N2, int(holds / second)))
        assert used + whole * second <= holds < used + (whole + 1) * second
        assert left(two, place, what)[0] == pytest.approx((N2 - next_changed[-1]) * second / holds, rel=5e-5)


def test_the_contact_tip_of_c1a_is_renewed_with_its_wire_spool(plans: tuple[OrderPlan, OrderPlan]) -> None:
    first, second = plans
    # LK-2041, 89.447 s a part: 28,800 / 89.447 = 322.0, one on the first-off: due after 320; new with the spool after
    # 339; 301 parts since, 26,923.5 s used.
    # LK-2055, 68.947 s a part, one on the first-off: 1,807.5 / 68.947 = 26.2: due after 26; new with the spools after
    # 38 and 379, and between them 341 x 68.947 = 23,510.9 s; 41 parts since.
    assert counts(first, "C1A", "Contact tip") == [320]
    assert left(first, "C1A", "Contact tip")[0] == pytest.approx(301 * 89.447 / 28_800, rel=5e-5)
    assert counts(second, "C1A", "Contact tip") == [26]
    assert left(second, "C1A", "Contact tip")[0] == pytest.approx(41 * 68.947 / 28_800, rel=5e-5)
