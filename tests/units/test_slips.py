from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.units.scales import mixed_up_with


@pytest.mark.parametrize(
    ("unit", "other", "factor"),
    [
        ("A", "kA", "1000"),
        ("m/min", "in/min", "0.0254"),
        ("mm/s", "in/min", "0.423333333333"),
        ("kN", "lbf", "0.00444822161526"),
        ("l/min", "ft³/h", "0.4719474432"),
        ("mm", "in", "25.4"),
    ],
)
def test_a_number_of_the_other_unit_times_its_factor_is_one_of_the_unit(unit: str, other: str, factor: str) -> None:
    assert dict(mixed_up_with(unit))[other] == factor


def test_factors_there_and_back_make_one() -> None:
    for unit in ("A", "mm/s", "kN", "ms", "l/min", "mm", "l", "kg"):
        for other, factor in mixed_up_with(unit):
            back = dict(mixed_up_with(other, unit))[unit]
            assert abs(Decimal(factor) * Decimal(back) - 1) < Decimal("1e-10"), (unit, other)


def test_cycles_are_those_of_the_mains_that_stand_beside_the_time() -> None:
    assert dict(mixed_up_with("ms", "cycles at 60 Hz")) == {"cycles at 60 Hz": "16.6666666667", "s": "1000"}
    assert dict(mixed_up_with("cycle at 50 Hz", "ms")) == {"ms": "0.05", "s": "50"}
    assert "cycles at 50 Hz" not in dict(mixed_up_with("ms"))


def test_a_voltage_is_mixed_up_with_nothing() -> None:
    assert mixed_up_with("V") == ()
    assert mixed_up_with("") == ()
