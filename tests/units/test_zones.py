from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.units.zones import clock_text, day_at, midnight, zone_named


def test_a_day_begins_at_midnight_of_its_zone_in_summer_and_winter() -> None:
    assert midnight(date(2026, 11, 25), "America/Los_Angeles") == datetime(2026, 11, 25, 8, tzinfo=UTC)
    assert midnight(date(2026, 7, 1), "Europe/London") == datetime(2026, 6, 30, 23, tzinfo=UTC)
    assert midnight(date(2026, 7, 1), "UTC") == datetime(2026, 7, 1, tzinfo=UTC)


def test_a_moment_is_on_the_day_that_a_clock_of_the_zone_shows() -> None:
    moment = datetime(2026, 11, 24, 23, 0, tzinfo=UTC)
    assert day_at(moment, "Asia/Tokyo") == date(2026, 11, 25)
    assert clock_text(moment, "Asia/Tokyo") == "2026-11-25 08:00 Asia/Tokyo"
    assert day_at(moment, "UTC") == date(2026, 11, 24)


@pytest.mark.parametrize("name", ["Mars/Base", "", "../etc/passwd", "Europe"])
def test_a_zone_that_the_database_has_not_is_refused(name: str) -> None:
    with pytest.raises(OutOfRangeError, match="no such zone"):
        zone_named(name)
