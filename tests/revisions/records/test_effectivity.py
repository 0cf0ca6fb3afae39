from __future__ import annotations

from datetime import UTC, datetime

import pytest
from pydantic import ValidationError
from weld_packets.errors import PacketError
from weld_packets.revisions.records.effectivity import (
    Effective,
    begins,
    effectivity_problems,
    read_effective,
    start_text,
)

RECORDED = datetime(2026, 3, 10, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        (" 2026-12-01 ", "2026-12-01"),
        ("part 120", "part 120"),
        ("part 0120", "part 120"),
        ("serial LC-0450", "serial number LC-0450"),
    ],
)
def test_effectivity_is_a_date_a_part_or_a_serial_number(text: str, printed: str) -> None:
    assert str(read_effective(text)) == printed


@pytest.mark.parametrize(
    "text", ["", "soon", "2026-02-30", "20261201", "part x", "part", "serial", "serial a\nb", "serial a\x07"]
)
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(PacketError, match="does not say from when"):
        read_effective(text)


@pytest.mark.parametrize(("kind", "start"), [("date", "2026-13-01"), ("part", "x"), ("serial", " ")])
def test_a_record_cannot_hold_an_effectivity_that_is_none(kind: str, start: str) -> None:
    with pytest.raises(ValidationError):
        Effective.model_validate({"kind": kind, "start": start})


def test_a_later_date_begins_at_midnight_and_today_at_the_moment_of_the_record() -> None:
    assert begins(Effective(kind="date", start="2026-03-12"), RECORDED) == datetime(2026, 3, 12, tzinfo=UTC)
    assert begins(Effective(kind="date", start="2026-03-10"), RECORDED) == RECORDED
    assert begins(Effective(kind="part", start="7"), RECORDED) == RECORDED


@pytest.mark.parametrize(
    ("text", "earlier", "why"),
    [
        ("2026-03-09", None, "before the day of the record"),
        ("2026-03-12", "2026-03-13", "before the revision that it follows"),
        ("part 0", None, "parts 1 to 500"),
        ("part 501", None, "parts 1 to 500"),
        ("part 100", "part 101", "begins at part 101"),
    ],
)
def test_an_impossible_effectivity_is_refused_with_the_reason(text: str, earlier: str | None, why: str) -> None:
    before = read_effective(earlier) if earlier else None
    (problem,) = effectivity_problems(read_effective(text), RECORDED, 500, before)
    assert why in problem.message


@pytest.mark.parametrize(
    ("zone", "day", "problems"),
    [("UTC", 9, 1), ("UTC", 10, 0), ("America/Los_Angeles", 9, 0), ("America/Los_Angeles", 8, 1)],
)
def test_a_date_can_be_given_until_it_has_passed_at_the_plant(zone: str, day: int, problems: int) -> None:
    """At 05:00 UTC of the 10th it is 22:00 of the 9th in Los Angeles."""
    recorded = datetime(2026, 3, 10, 5, 0, tzinfo=UTC)
    found = list(effectivity_problems(read_effective(f"2026-03-{day:02}", zone), recorded, 500, None))
    assert [zone in each.message for each in found] == [True] * problems


def test_a_date_begins_at_midnight_of_the_plant_and_in_utc_where_a_record_names_no_zone() -> None:
    later = read_effective("2026-03-12", "America/Los_Angeles")
    assert begins(later, RECORDED) == datetime(2026, 3, 12, 7, tzinfo=UTC)  # summer time began on the 8th
    assert Effective.model_validate({"kind": "date", "start": "2026-03-12"}).zone == "UTC"


@pytest.mark.parametrize(
    ("text", "earlier"),
    [
        ("2026-03-10", None),
        ("2026-03-12", "2026-03-12"),
        ("2026-03-12", "part 3"),
        ("part 500", "part 500"),
        ("part 1", "2026-03-01"),
        ("serial LC-1", "serial LC-2"),
    ],
)
def test_a_possible_effectivity_is_accepted(text: str, earlier: str | None) -> None:
    before = read_effective(earlier) if earlier else None
    assert not list(effectivity_problems(read_effective(text), RECORDED, 500, before))


@pytest.mark.parametrize(
    ("zone", "printed"),
    [("UTC", "2026-07-01"), ("Europe/London", "2026-07-01 01:00"), ("America/Chicago", "2026-06-30 19:00")],
)
def test_a_day_of_another_time_zone_is_printed_in_that_of_the_page(zone: str, printed: str) -> None:
    assert start_text(Effective(kind="date", start="2026-07-01"), zone) == printed


def test_a_day_that_begins_at_the_same_moment_is_printed_without_time() -> None:
    """In winter London's midnight is that of UTC."""
    assert start_text(Effective(kind="date", start="2026-12-01"), "Europe/London") == "2026-12-01"
    assert start_text(Effective(kind="part", start="120"), "Europe/London") == "part 120"
