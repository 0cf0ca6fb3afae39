"""By what the spots of an operation are compared with a qualification record."""

from typing import Any

import pytest
from weld_packets.calculation.qualification.values import sizes, terms
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.processes.spot.procedure import spot_cases
from weld_packets.units import quantity


@pytest.mark.parametrize(
    ("section", "products"),
    [
        ({}, (None, None)),  # sheets without a tube are not compared by their product
        (
            {"section": {"form": "round tube", "outside diameter": "42.4 mm"}},
            (terms("plate", "tube"), sizes("outside diameter", quantity(42.4, "mm"))),
        ),
    ],
)
def test_spots_are_compared_by_their_product_where_a_tube_is_among_the_sheets(
    build: Any, section: dict[str, Any], products: tuple[Any, Any]
) -> None:
    approved = build.approved()
    parts = [build.part("panel"), build.part("strip", **section)]
    (case,) = spot_cases(spot_operation(build.operation(components=parts), approved), approved)
    assert (case.has.get("product"), case.has.get("outside diameter")) == products
    assert case.has["sheets"] == terms("2")
    assert case.has["cap face"] == sizes("cap face", quantity(6, "mm"))
