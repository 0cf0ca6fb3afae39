"""How revisions stand from one turning day to the next."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.status import as_of, control_of, days_ahead, days_in_force, periods, unchanged_days
from weld_packets.revisions.store.files import load_register


def chain(plant: Any) -> tuple[RegisterEntry, ...]:
    return load_register(plant.instructions).of("door-1")


def test_an_order_without_releases_has_no_phase(plant: Any) -> None:
    assert periods(chain(plant)) == ()
    assert unchanged_days(chain(plant), date(2026, 3, 1)) == ("", "")


def test_the_phase_of_a_day_says_what_is_said_for_that_day(plant: Any) -> None:
    plant.three()
    entries = chain(plant)
    known = periods(entries)
    for offset in range(40):
        day = date(2026, 3, 1) + timedelta(days=offset)
        past = [period for period in known if period.since <= str(day)]
        found = as_of(entries, day).in_force
        assert (past[-1].found.in_force if past else ()) == found
        for standing in past[-1].statuses if past else ():
            control = control_of(entries, standing.revision, day)
            assert (standing.status, standing.superseded_by) == (control.status, control.superseded_by)


def test_standing_is_steady_from_the_last_turn_to_the_day_before_the_next(plant: Any) -> None:
    plant.three()
    entries = chain(plant)
    turns = [period.since for period in periods(entries)]
    first = date.fromisoformat(turns[0])
    assert unchanged_days(entries, first - timedelta(days=1)) == ("", str(first - timedelta(days=1)))
    for turn, following in zip(turns, [*turns[1:], ""], strict=True):
        last = str(date.fromisoformat(following) - timedelta(days=1)) if following else ""
        assert unchanged_days(entries, date.fromisoformat(turn)) == (turn, last)


def test_each_day_on_which_something_turns_begins_a_phase(plant: Any) -> None:
    plant.three()
    found = periods(chain(plant))
    assert [period.since for period in found] == ["2026-03-02", "2026-03-09", "2026-03-16", "2026-03-20"]
    assert [[each.revision for each in period.found.in_force] for period in found] == [["A"], ["B"], ["C"], []]
    assert [(each.revision, each.status, each.superseded_by) for each in found[-1].statuses] == [
        ("A", "superseded", "B"),
        ("B", "superseded", "C"),
        ("C", "withdrawn", ""),
    ]


def test_days_between_two_turns_are_equal(plant: Any) -> None:
    plant.release(day=2, effective=Effective(kind="date", start="2026-03-05"))
    plant.release(plant.titled("next"), 9)
    entries = chain(plant)
    assert unchanged_days(entries, date(2026, 3, 4)) == ("", "2026-03-04")
    assert unchanged_days(entries, date(2026, 3, 5)) == ("2026-03-05", "2026-03-08")
    assert unchanged_days(entries, date(2026, 3, 30)) == ("2026-03-09", "")


def test_the_days_in_force_of_each_revision_are_those_on_which_it_is_found_in_force(plant: Any) -> None:
    plant.three()
    entries = chain(plant)
    spans = days_in_force(entries)
    for offset in range(40):
        day = str(date(2026, 3, 1) + timedelta(days=offset))
        found = {each.revision for each in as_of(entries, date.fromisoformat(day)).in_force}
        listed = {
            revision
            for revision, times in spans.items()
            if any(first <= day and (not last or day <= last) for first, last in times)
        }
        assert listed == found


@pytest.mark.parametrize(
    ("day", "ahead"),
    [("2026-11-04", {"A": ("2026-10-26", "2026-11-04"), "B": ("2026-11-05", "")}),
     ("2026-11-05", {"B": ("2026-11-05", "")})],
)  # fmt: skip
def test_a_revision_is_ahead_up_to_the_last_day_that_it_is_in_force(
    day: str, ahead: dict[str, tuple[str, str]]
) -> None:
    known: Any = [
        SimpleNamespace(since=since, found=SimpleNamespace(in_force=[SimpleNamespace(revision=revision)]))
        for since, revision in (("2026-10-26", "A"), ("2026-11-05", "B"))
    ]

    assert days_ahead(known, date.fromisoformat(day)) == ahead
