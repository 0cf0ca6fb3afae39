"""Time zones by their name in the IANA database: which moment a day begins at, and on which day a moment is."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from weld_packets.errors import refusal

ZONE_PATTERN = r"^[A-Za-z][A-Za-z0-9_+/-]{0,63}$"


def zone_named(name: str) -> ZoneInfo:
    """Return the time zone. Raises OutOfRangeError for a name that is not in the database."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):  # a folder of the database is an OSError
        message = "the IANA time zone database has no such zone"
        remedy = "write its name there, such as Europe/London, America/Chicago or UTC"
        raise refusal(message, remedy, key="time zone", value=name) from None


def midnight(day: date, zone: str) -> datetime:
    """Return the moment, in UTC, at which a day of the zone begins."""
    return datetime.combine(day, time(), zone_named(zone)).astimezone(UTC)


def day_at(moment: datetime, zone: str) -> date:
    """Return the day on which a moment is in the zone."""
    return moment.astimezone(zone_named(zone)).date()


def time_text(moment: datetime, zone: str) -> str:
    """Return the time of a moment to the minute, as a clock of the zone shows it."""
    return f"{moment.astimezone(zone_named(zone)):%H:%M}"


def clock_text(moment: datetime, zone: str) -> str:
    """Return a moment to the minute, as a clock of the zone shows it, with the zone."""
    return f"{moment.astimezone(zone_named(zone)):%Y-%m-%d %H:%M} {zone}"
