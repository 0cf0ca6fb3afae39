"""A clock of a day before records must not say what is in force: a superseded revision would go to the cell."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.clock_behind import behind_problems
from weld_packets.revisions.status.record_rules import Rules
from weld_packets.revisions.status.status import control_of, in_force
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.verification import verify_records


def problems(plant: Any, now: datetime) -> list[str]:
    return [each.message for each in behind_problems(load_register(plant.instructions), now)]


def on(day: int, hour: int = 8) -> datetime:
    return datetime(2026, 3, day, hour, tzinfo=UTC)


def test_a_register_without_releases_says_nothing_of_the_clock() -> None:
    assert behind_problems(Register(), on(1)) == []


def test_a_clock_of_an_earlier_day_than_the_last_record_cannot_say_what_is_in_force(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("frame", "frame-1"), 9)
    (found,) = behind_problems(load_register(plant.instructions), on(8, 23))

    assert (found.key, found.value) == ("clock", "2026-03-08T23:00:00Z")
    assert found.message == (
        "the clock is before the last record of the register, frame-1/released/A.json of 2026-03-09T08:00:00Z: "
        "nobody can say what is in force"
    )
    assert "set the clock" in found.remedy


def test_minutes_between_the_clocks_of_two_computers_do_no_harm(plant: Any) -> None:
    plant.release(day=9)
    assert problems(plant, on(9, 7)) == []
    assert problems(plant, on(9, 0)) == []


def test_the_day_is_one_of_the_zone_of_the_newest_record(plant: Any) -> None:
    far_east = Effective(kind="date", start="2026-03-09", zone="Pacific/Auckland")
    plant.release(recorded=on(8, 12), effective=far_east)  # one o'clock in the night of the 9th there
    assert problems(plant, on(8, 11)) == []
    assert len(problems(plant, on(8, 10))) == 1


def test_after_a_withdrawal_under_a_clock_that_was_set_back_it_still_cannot_say_what_is_in_force(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 9)
    plant.release(plant.titled("frame", "frame-1"), 10)
    plant.withdraw("B", 5)

    assert problems(plant, on(9)) == [
        "the clock is before frame-1/released/A.json of 2026-03-10T08:00:00Z: nobody can say what is in force"
    ]
    assert problems(plant, on(10)) == []


def test_what_a_withdrawn_revision_superseded_does_not_come_back_by_a_clock_that_was_set_back(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 9)
    plant.withdraw("B", 5)
    entries = load_register(plant.instructions).of("door-1")

    assert in_force(entries, date(2026, 3, 20)) is None
    assert control_of(entries, "B", date(2026, 3, 6)).status == "withdrawn"
    assert control_of(entries, "A", date(2026, 3, 9)).status == "superseded"


def test_a_revision_withdrawn_at_the_moment_of_its_release_supersedes_nothing(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 9)
    plant.withdraw("B", 9)
    found = in_force(load_register(plant.instructions).of("door-1"), date(2026, 3, 20))
    assert found is not None
    assert found.revision == "A"


def test_a_release_of_a_clock_ahead_is_settled_by_its_withdrawal(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 20)
    plant.withdraw("A", 5)
    assert len(problems(plant, on(6))) == 1
    plant.withdraw("B", 6)
    assert problems(plant, on(6)) == []


def test_a_withdrawal_of_a_clock_ahead_counts_against_the_clock_until_another_revision_is_released(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 3)
    plant.withdraw("B", 20)
    plant.withdraw("A", 5)
    assert problems(plant, on(6)) == [
        "the clock is before door-1/released/B.withdrawn.json of 2026-03-20T08:00:00Z: nobody can say what is in force"
    ]
    plant.release(plant.titled("third"), 6)
    assert problems(plant, on(6)) == []


def test_of_several_records_after_the_clock_the_last_is_named_with_their_number(plant: Any) -> None:
    plant.release(plant.titled("first"), 8)
    plant.release(plant.titled("second"), 9)
    plant.release(plant.titled("third"), 10)
    plant.withdraw("A", 5)
    (message,) = problems(plant, on(6))
    assert message.startswith("the clock is before door-1/released/C.json of 2026-03-10T08:00:00Z, and before 1 more: ")


@pytest.mark.parametrize(("day", "differs"), [(8, True), (9, False)])
def test_verify_reports_a_clock_that_is_before_the_last_record(plant: Any, day: int, *, differs: bool) -> None:
    plant.release(day=9)
    found = verify_records(plant.instructions, rules=Rules(now=on(day))).findings
    assert [each.file for each in found] == ["clock"] * differs
