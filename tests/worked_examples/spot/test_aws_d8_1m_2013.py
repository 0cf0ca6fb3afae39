"""AWS D8.1M:2013 clause 3: the governing metal thickness of two sheets, and of three."""

from itertools import permutations

import pytest
from weld_packets.processes.spot.formulas import second_thickest_sheet, thinner_sheet
from weld_packets.units import quantity


def test_of_two_sheets_the_thinner_governs() -> None:
    assert thinner_sheet(first_sheet=quantity(0.8, "mm"), second_sheet=quantity(1.2, "mm")) == quantity(0.8, "mm")


@pytest.mark.parametrize("order", list(permutations((0.7, 1.2, 1.5))))
def test_of_three_sheets_the_second_thickest_governs_in_any_order(order: tuple[float, float, float]) -> None:
    first, middle, last = (quantity(number, "mm") for number in order)
    found = second_thickest_sheet(first_sheet=first, middle_sheet=middle, last_sheet=last)
    assert found == quantity(1.2, "mm")
