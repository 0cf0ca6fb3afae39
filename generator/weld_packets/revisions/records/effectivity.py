"""From when a revision is to be used: a date, a part of the order's quantity, or a serial number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import StringConstraints, model_validator

from weld_packets.errors import PacketError, Problem, unplaced
from weld_packets.units import Plain
from weld_packets.units.zones import ZONE_PATTERN, day_at, midnight, time_text

_FORM = re.compile(r"(?:(part)\s+([0-9]{1,9})|(serial)\s+(\S.{0,39}))")  # what a person typed
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")  # what a person typed
UTC_ZONE = "UTC"
"""The zone of days where a plant names none."""


class Effective(Plain):
    """Where use begins: ``start`` is a date (year-month-day), a part number from 1, or a serial number.

    ``zone`` is the time zone of the plant's days when it was recorded; records from before plants named one have UTC.
    """

    kind: Literal["date", "part", "serial"]
    start: str
    zone: Annotated[str, StringConstraints(pattern=ZONE_PATTERN)] = UTC_ZONE

    @model_validator(mode="after")
    def _is_real(self) -> Effective:
        real = {"date": _is_date(self.start), "part": self.start.isdecimal(), "serial": bool(self.start.strip())}
        if not real[self.kind]:
            raise ValueError(f"{self.start!r} is no {self.kind}")
        return self

    def __str__(self) -> str:
        """Return it as printed."""
        return {"date": self.start, "part": f"part {self.start}", "serial": f"serial number {self.start}"}[self.kind]

    @property
    def typed(self) -> str:
        """Return it as ``read_effective`` reads it."""
        return self.start if self.kind == "date" else f"{self.kind} {self.start}"


def read_effective(text: str, zone: str = UTC_ZONE) -> Effective:
    """Return what ``text`` says: ``2026-12-01``, ``part 120`` or ``serial LC-0450``; days are those of ``zone``.

    Raises PacketError for anything else.
    """
    stripped = text.strip()
    if _is_date(stripped):
        return Effective(kind="date", start=stripped, zone=zone)
    found = _FORM.fullmatch(stripped)
    if found is None or not stripped.isprintable():
        raise PacketError([_problem(text, "does not say from when", "write a date, 'part 120' or 'serial LC-0450'")])
    if found[1]:
        return Effective(kind="part", start=str(int(found[2])), zone=zone)
    return Effective(kind="serial", start=found[4], zone=zone)


def begins(effective: Effective, recorded: datetime) -> datetime:
    """Return the moment at which a record made at ``recorded`` takes effect; a date begins at midnight in its zone."""
    if effective.kind != "date":
        return recorded
    return max(recorded, midnight(date.fromisoformat(effective.start), effective.zone))


def start_text(effective: Effective, zone: str) -> str:
    """Return from when use begins as printed, a date of another time zone as day and time of ``zone``."""
    if effective.kind != "date" or effective.zone == zone:
        return str(effective)
    begin = midnight(date.fromisoformat(effective.start), effective.zone)
    day = day_at(begin, zone)
    return str(day) if begin == midnight(day, zone) else f"{day} {time_text(begin, zone)}"


def effectivity_problems(
    effective: Effective, recorded: datetime, quantity: int, earlier: Effective | None
) -> Iterator[Problem]:
    """Yield what is wrong with ``effective`` for an order of ``quantity`` parts after a revision from ``earlier``."""
    if effective.kind == "date":
        today = day_at(recorded, effective.zone)
        yield from _date_problems(date.fromisoformat(effective.start), today, effective.zone, earlier)
    elif effective.kind == "part":
        yield from _part_problems(int(effective.start), quantity, earlier)


def _date_problems(start: date, today: date, zone: str, earlier: Effective | None) -> Iterator[Problem]:
    if start < today:
        message = f"lies before the day of the record, {today} in the plant's time zone, {zone}"
        yield _problem(
            str(start), message, "give that day or a later one, or correct 'time zone' in the table of plant"
        )
    if earlier and earlier.kind == "date" and start < date.fromisoformat(earlier.start):
        yield _problem(
            str(start),
            f"lies before the revision that it follows takes effect, {earlier.start}",
            "give that day or a later one, or withdraw the earlier revision first",
        )


def _part_problems(part: int, quantity: int, earlier: Effective | None) -> Iterator[Problem]:
    if not 1 <= part <= quantity:
        yield _problem(f"part {part}", f"the order has parts 1 to {quantity}", "name one of them")
    if earlier and earlier.kind == "part" and part < int(earlier.start):
        yield _problem(
            f"part {part}", f"the revision before begins at part {earlier.start}", "name that part or a later one"
        )


def _is_date(text: str) -> bool:
    try:
        return _DATE.fullmatch(text) is not None and bool(date.fromisoformat(text))
    except ValueError:
        return False


def _problem(value: str, message: str, remedy: str) -> Problem:
    return unplaced("effective from", value, message, remedy)
