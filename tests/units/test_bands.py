"""Which band of a table a size belongs to."""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.units import exact, quantity
from weld_packets.units.digits import in_band


@pytest.mark.parametrize(("at", "inside"), [("1.0", False), ("1.01", True), ("1.2", True), ("1.21", False)])
def test_a_band_is_over_its_lower_end_and_up_to_and_including_its_upper(at: str, inside: bool) -> None:
    assert in_band(Decimal(at), quantity(1.0, "mm"), quantity(1.2, "mm")) is inside


def test_an_end_that_is_not_given_is_open() -> None:
    assert in_band(Decimal("0.1"), None, quantity(1.2, "mm"))
    assert in_band(Decimal(900), quantity(1.0, "mm"), None)
    assert in_band(Decimal(900), None, None)
    assert not in_band(Decimal(1), quantity(1.0, "mm"), None)


def test_a_size_in_inches_is_at_the_end_of_a_band_in_millimetres() -> None:
    at = exact(quantity(0.007, "in"), "mm")

    assert in_band(at, None, quantity(0.1778, "mm"))
    assert not in_band(at, quantity(0.1778, "mm"), None)
