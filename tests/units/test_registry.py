"""Magnitudes in another unit, quickly: the same as pint's own, bit for bit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.units import SPELLINGS, kinds, magnitude, quantity, scaled
from weld_packets.units.kinds import Kind

KINDS = tuple(kind for kind in vars(kinds).values() if isinstance(kind, Kind))
PAIRS = [
    (unit, kind.unit)
    for unit, own in SPELLINGS.items()
    for kind in KINDS
    if own.is_compatible_with(SPELLINGS[kind.unit])
]


def test_a_magnitude_is_converted_by_factor_or_by_scale() -> None:
    assert magnitude(quantity(1, "in"), "mm") == pytest.approx(25.4)
    assert magnitude(quantity(68, "°F"), "°C") == pytest.approx(20)


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6))
def test_a_magnitude_is_pints_own_in_every_bit(pair: tuple[str, str], number: float) -> None:
    unit, wanted = pair
    assert magnitude(quantity(number, unit), wanted) == quantity(number, unit).m_as(SPELLINGS[wanted])


def test_a_quantity_is_scaled_in_its_unit() -> None:
    assert scaled(quantity(3, "in"), 2.0) == quantity(6, "in")


def test_zero_has_no_sign_whichever_zero_is_asked_for_first() -> None:
    quantity.cache_clear()
    assert [str(quantity(number, "mm").magnitude) for number in (-0.0, 0.0)] == ["0.0", "0.0"]
