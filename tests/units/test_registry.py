"""Magnitudes in another unit, quickly."""

import pytest
from weld_packets.units import magnitude, quantity


def test_a_magnitude_is_converted_by_factor_or_by_scale() -> None:
    assert magnitude(quantity(1, "in"), "mm") == pytest.approx(25.4)
    assert magnitude(quantity(68, "°F"), "°C") == pytest.approx(20)
