"""A component that a T fillet runs all around is round: without its section its product is not known."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.procedure import arc_cases, welded_around
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.family import family_of
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.tables.tables import Workspace

BOSS = frozenset({"boss", "base"})
"""The boss of the demo, 38.1 mm in diameter, of seams N1 and N2 of two half circles each."""


@pytest.fixture(scope="module")
def operation(demo_workspace: Workspace) -> ArcOperation:
    found = load_order(demo_workspace, "lk-2063-coastal-column").order.operations[0]
    assert isinstance(found, ArcOperation)
    return found


def around(operation: ArcOperation, **changed: Any) -> frozenset[frozenset[str]]:
    """Return what is welded around by the first boss's seam alone, with something changed."""
    seam = next(each for each in operation.seams if each.id == "N1")
    return welded_around([seam.model_copy(update=changed)])


def test_a_circle_counts_in_one_seam_or_in_two_and_half_of_it_does_not(operation: ArcOperation) -> None:
    assert around(operation) == {BOSS}
    seam = next(each for each in operation.seams if each.id == "N1")
    first, second = seam.path.pieces
    halves = [
        seam.model_copy(update={"path": seam.path.model_copy(update={"pieces": (first,)})}),
        seam.model_copy(update={"path": seam.path.model_copy(update={"start": first.to, "pieces": (second,)})}),
    ]
    assert welded_around(halves[:1]) == frozenset()
    assert welded_around(halves) == {BOSS}
    other = next(each for each in operation.seams if each.id == "N2")  # half of each of two bosses is none
    half = other.model_copy(update={"path": other.path.model_copy(update={"pieces": other.path.pieces[:1]})})
    assert welded_around([halves[0], half]) == frozenset()
    elsewhere = halves[1].model_copy(update={"components": ("lug", "base")})
    assert welded_around([halves[0], elsewhere]) == frozenset()


def test_a_disc_that_lies_flat_is_a_plate_and_so_is_what_straight_seams_run_around(operation: ArcOperation) -> None:
    assert around(operation, joint="lap fillet") == frozenset()
    straight = [seam for seam in operation.seams if seam.id.startswith(("W", "K"))]
    assert welded_around(straight) == frozenset()


@pytest.mark.parametrize(("section", "product"), [("said", ("plate", "tube")), ("not said", None)])
def test_the_product_of_a_boss_is_what_the_order_says_or_not_known(
    operation: ArcOperation, demo_workspace: Workspace, section: str, product: tuple[str, ...] | None
) -> None:
    found = products(operation, demo_workspace.approved, is_said=section == "said")
    assert found["N1"] == product
    assert found["K1"] == ("plate", "plate")


def products(operation: ArcOperation, approved: ApprovedTables, *, is_said: bool) -> dict[str, tuple[str, ...] | None]:
    """Return the product of each seam's components, as it is compared with a record."""
    if not is_said:
        components = tuple(each.model_copy(update={"section": None}) for each in operation.components)
        operation = operation.model_copy(update={"components": components})
    computed = family_of(operation.process).compute(operation, approved)
    has = {weld: case.has["product"] for case in arc_cases(computed, approved) for weld in case.welds}
    return {weld: getattr(value, "terms", None) for weld, value in has.items()}
