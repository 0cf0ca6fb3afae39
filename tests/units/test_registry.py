"""Quantities made quickly, and magnitudes in another unit: the same as pint's own, bit for bit."""

import copy
import pickle
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.units import SPELLINGS, kinds, magnitude, quantity, registry, scaled
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


@pytest.mark.parametrize("unit", SPELLINGS)
def test_a_quantity_is_the_one_that_pint_makes(unit: str) -> None:
    made = quantity(2.5, unit)
    for each in (made, copy.copy(made), pickle.loads(pickle.dumps(made))):  # noqa: S301 - its own bytes
        own = registry.registry.Quantity(2.5, SPELLINGS[unit])
        assert type(each) is type(own)
        assert vars(each) == vars(own)
        assert (each, hash(each), each.dimensionality) == (own, hash(own), own.dimensionality)


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6))
def test_a_magnitude_is_pints_own_in_every_bit(pair: tuple[str, str], number: float) -> None:
    unit, wanted = pair
    assert magnitude(quantity(number, unit), wanted) == quantity(number, unit).m_as(SPELLINGS[wanted])


def test_a_quantity_is_scaled_in_its_unit() -> None:
    assert scaled(quantity(3, "in"), 2.0) == quantity(6, "in")


def test_a_pint_that_keeps_something_else_makes_its_own_quantities(monkeypatch: pytest.MonkeyPatch) -> None:
    assert registry._made is registry._quickly_made
    monkeypatch.setattr(registry, "_quickly_made", lambda number, _units: SimpleNamespace(_magnitude=number))
    assert not registry._is_as_pint_makes_it()
