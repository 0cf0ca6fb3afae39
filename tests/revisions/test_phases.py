from __future__ import annotations

from datetime import date
from typing import Any

from generator.revisions.effectivity import Effective
from generator.revisions.phases import phases, steady_days
from generator.revisions.store import load_register


def test_each_day_on_which_something_turns_begins_a_phase(plant: Any) -> None:
    plant.three()
    found = phases(load_register(plant.instructions).of("door-1"), "door-1")
    assert [phase.since for phase in found] == ["2026-03-02", "2026-03-09", "2026-03-16", "2026-03-20"]
    assert [[each.revision for each in phase.found.in_force] for phase in found] == [["A"], ["B"], ["C"], []]
    assert [(each.revision, each.status, each.superseded_by) for each in found[-1].standings] == [
        ("A", "superseded", "B"),
        ("B", "superseded", "C"),
        ("C", "withdrawn", ""),
    ]


def test_an_order_without_releases_has_no_phases() -> None:
    assert phases((), "door-1") == ()


def test_days_between_two_turns_stand_alike(plant: Any) -> None:
    plant.release(day=2, effective=Effective(kind="date", start="2026-03-05"))
    plant.release(plant.titled("next"), 9)
    chain = load_register(plant.instructions).of("door-1")
    assert steady_days(chain, date(2026, 3, 4)) == ("", "2026-03-04")
    assert steady_days(chain, date(2026, 3, 5)) == ("2026-03-05", "2026-03-08")
    assert steady_days(chain, date(2026, 3, 30)) == ("2026-03-09", "")
