"""The two units of a number, to which digit it is shown in each, and ranges that are rounded inward."""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.units import Kind, kinds, quantity
from weld_packets.units.digits import from_decimal
from weld_packets.units.scales import Ends, inward, known_scale, other_unit, speed_limit_amount


@pytest.mark.parametrize(
    ("kind", "unit", "other"),
    [
        (kinds.LENGTH, "mm", "in"),
        (kinds.LENGTH, "in", "mm"),
        (kinds.WIRE_FEED, "m/min", "in/min"),
        (kinds.CURRENT, "A", ""),  # amperes are amperes in both
        (kinds.DURATION, "h", ""),
        (kinds.TIME, "ms", "cycles@60Hz"),
        (kinds.TIME, "cycles@60Hz", "ms"),
    ],
)
def test_a_unit_has_its_counterpart_in_the_other_system(kind: Kind, unit: str, other: str) -> None:
    assert other_unit(kind, unit, 60) == other


def test_a_temperature_is_known_to_as_many_degrees_of_the_other_scale_without_its_offset() -> None:
    """1 °C is 1.8 °F, and not 33.8 °F: 150 °C known to 1 °C are 302 °F, not 300 °F."""
    scale = known_scale(kinds.TEMPERATURE, "°C", Decimal(1), Decimal(150), "metric", 50)
    assert (scale.other, scale.other_quantum) == ("°F", Decimal(1))


def test_a_range_is_rounded_inward_and_an_open_end_stays_open() -> None:
    low, high = quantity(7.01, "mm/s"), quantity(8.99, "mm/s")
    tenth = Decimal("0.1")
    assert inward(low, high, "mm/s", tenth) == Ends(Decimal("7.1"), Decimal("8.9"))
    assert inward(low, None, "mm/s", tenth) == Ends(Decimal("7.1"), None)
    assert inward(None, high, "mm/s", tenth) == Ends(None, Decimal("8.9"))


@pytest.mark.parametrize(("number", "kept"), [("7", "7.1"), ("7.1", "7.1"), ("8", "8"), ("8.9", "8.9"), ("9", "8.9")])
def test_what_rounding_has_pushed_past_an_end_goes_back_to_it(number: str, kept: str) -> None:
    assert Ends(Decimal("7.1"), Decimal("8.9")).hold(Decimal(number)) == Decimal(kept)


@pytest.mark.parametrize(
    ("speed", "unit", "metric", "customary"),
    [
        ("250", "mm/s", "250 mm/s (9.8 in/s)", "9.8 in/s (250 mm/s)"),  # 9.84 in/s; 10 in/s would be 254 mm/s
        ("9.8", "in/s", "248 mm/s (9.8 in/s)", "9.8 in/s (248 mm/s)"),  # 248.92 mm/s
    ],
)
def test_a_limit_of_speed_is_rounded_down_in_both_units(speed: str, unit: str, metric: str, customary: str) -> None:
    limit = from_decimal(Decimal(speed), unit)

    assert speed_limit_amount(limit, "metric").text.replace("\N{NO-BREAK SPACE}", " ") == metric
    assert speed_limit_amount(limit, "US customary").text.replace("\N{NO-BREAK SPACE}", " ") == customary
