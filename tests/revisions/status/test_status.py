from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.status import (
    PartOfDay,
    as_of,
    control_of,
    day_of,
    days_of_change,
    draft_control,
    in_force,
    is_in_force_at,
    zone_of,
)
from weld_packets.revisions.store.files import load_register


def chain(plant: Any) -> tuple[RegisterEntry, ...]:
    return load_register(plant.instructions).of("door-1")


def march(day: int) -> date:
    return date(2026, 3, day)


def statuses(plant: Any, day: int) -> dict[str, str]:
    entries = chain(plant)
    marks = [entry.revision for entry in entries if entry.kind == "release"]
    controls = [control_of(entries, mark, march(day)) for mark in marks]
    return {c.revision: " by ".join(text for text in (c.status, c.superseded_by) if text) for c in controls}


def in_force_on(plant: Any, day: int) -> list[tuple[str, str]]:
    return [(each.revision, each.covers) for each in as_of(chain(plant), march(day)).in_force]


def on(day: int) -> Effective:
    return Effective(kind="date", start=march(day).isoformat())


def test_a_draft_has_the_digest_of_its_packet(packet: Packet) -> None:
    control = draft_control(packet)
    assert (control.status, control.revision, control.digest) == ("draft", "", packet_digest(packet))


def test_a_revision_supersedes_the_one_before_it(plant: Any) -> None:
    plant.three()
    assert statuses(plant, 1) == dict.fromkeys("ABC", "not yet in force")
    assert statuses(plant, 5) == {"A": "in force", "B": "not yet in force", "C": "not yet in force"}
    assert statuses(plant, 16) == {"A": "superseded by B", "B": "superseded by C", "C": "in force"}


def test_a_withdrawal_leaves_nothing_in_force_until_the_next_release(plant: Any) -> None:
    plant.three()
    assert in_force_on(plant, 19) == [("C", "")]
    assert in_force_on(plant, 20) == []
    assert in_force(chain(plant), march(20)) is None
    assert statuses(plant, 20) == {"A": "superseded by B", "B": "superseded by C", "C": "withdrawn"}
    plant.release(plant.titled("fourth"), 22)
    assert in_force_on(plant, 21) == []
    assert in_force_on(plant, 22) == [("D", "")]


def test_what_is_withdrawn_before_it_takes_effect_has_superseded_nothing(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 3, effective=on(10))
    plant.withdraw("B", 5)
    assert statuses(plant, 4) == {"A": "in force", "B": "not yet in force"}
    assert statuses(plant, 12) == {"A": "in force", "B": "withdrawn"}
    assert in_force_on(plant, 12) == [("A", "")]


def test_what_is_withdrawn_at_the_moment_it_takes_effect_has_superseded_nothing(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 3, effective=on(10))
    plant.withdraw("B", 5, effective=on(10))
    assert statuses(plant, 10) == {"A": "in force", "B": "withdrawn"}
    assert in_force_on(plant, 10) == [("A", "")]


@pytest.mark.parametrize("until", [8, 10])
def test_what_will_never_take_effect_is_withdrawn_as_soon_as_that_is_recorded(plant: Any, until: int) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 3, effective=on(10))
    plant.withdraw("B", 5, effective=on(until))
    assert statuses(plant, 4) == {"A": "in force", "B": "not yet in force"}
    assert statuses(plant, 5) == {"A": "in force", "B": "withdrawn"}
    assert march(5) in days_of_change(chain(plant))


def test_what_takes_effect_and_is_withdrawn_later_waits_until_then(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 3, effective=on(10))
    plant.withdraw("B", 5, effective=on(11))
    assert [statuses(plant, day)["B"] for day in (9, 10, 11)] == ["not yet in force", "in force", "withdrawn"]


def test_a_revision_is_in_force_at_the_very_moment_it_takes_effect(plant: Any) -> None:
    """Its only moment of that day is the first: it is withdrawn later on the day of its release."""
    plant.release(day=2, recorded=datetime(2026, 3, 2, 6, tzinfo=UTC))
    plant.withdraw("A", 2, recorded=datetime(2026, 3, 2, 9, tzinfo=UTC))
    answer = as_of(chain(plant), march(2))
    assert (answer.in_force, answer.turned) == ((), "09:00")
    assert answer.earlier_that_day == (PartOfDay("A", "06:00", "09:00"),)


def test_a_withdrawal_may_begin_on_a_later_day(plant: Any) -> None:
    plant.release(day=2)
    plant.withdraw("A", 3, effective=on(6))
    assert statuses(plant, 5) == {"A": "in force"}
    assert statuses(plant, 6) == {"A": "withdrawn"}


def test_a_superseded_revision_may_be_withdrawn_without_harm_to_the_one_in_force(plant: Any) -> None:
    plant.three()
    plant.withdraw("A", 21)
    assert statuses(plant, 21)["A"] == "withdrawn"
    assert statuses(plant, 19) == {"A": "superseded by B", "B": "superseded by C", "C": "in force"}


def test_effectivity_by_part_shares_the_order_between_two_revisions(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 9, effective=Effective(kind="part", start="120"))
    assert in_force_on(plant, 9) == [("B", "from part 120"), ("A", "before part 120")]
    assert statuses(plant, 9) == {"A": "in force by B from part 120", "B": "in force"}
    plant.release(plant.titled("third"), 12, effective=Effective(kind="serial", start="LC-9"))
    assert in_force_on(plant, 12) == [
        ("C", "from serial number LC-9"),
        ("B", "from part 120, before serial number LC-9"),
        ("A", "before part 120"),
    ]
    plant.release(plant.titled("fourth"), 16)
    assert in_force_on(plant, 16) == [("D", "")]
    assert statuses(plant, 16) == {
        "A": "superseded by D", "B": "superseded by D", "C": "superseded by D", "D": "in force"
    }  # fmt: skip


def test_a_withdrawn_share_is_not_given_back(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 9, effective=Effective(kind="part", start="120"))
    plant.withdraw("B", 12)
    assert in_force_on(plant, 12) == [("A", "before part 120")]
    assert statuses(plant, 12) == {"A": "in force by B from part 120", "B": "withdrawn"}


def test_a_share_given_while_another_revision_waits_ends_when_that_begins(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("later"), 3, effective=on(20))
    plant.release(plant.titled("share"), 5, effective=Effective(kind="part", start="7"))
    assert in_force_on(plant, 6) == [("C", "from part 7"), ("A", "before part 7")]
    assert statuses(plant, 6)["B"] == "not yet in force"
    assert in_force_on(plant, 20) == [("C", "from part 7"), ("B", "before part 7")]
    assert statuses(plant, 20)["A"] == "superseded by B"


def test_revisions_of_a_part_of_the_day_are_stated(plant: Any) -> None:
    for hour, title in ((6, "one"), (9, "two"), (14, "three")):
        plant.release(plant.titled(title), 2, recorded=datetime(2026, 3, 2, hour, tzinfo=UTC))
    answer = as_of(chain(plant), march(2))
    assert [each.revision for each in answer.in_force] == ["C"]
    assert answer.earlier_that_day == (PartOfDay("A", "06:00", "09:00"), PartOfDay("B", "09:00", "14:00"))
    assert answer.turned == "14:00"
    assert as_of(chain(plant), march(3)).turned == ""
    assert as_of(chain(plant), march(3)).earlier_that_day == ()


def test_what_is_recorded_late_in_the_evening_is_in_force_that_day(plant: Any) -> None:
    plant.release(day=2, recorded=datetime(2026, 3, 2, 23, 59, 59, tzinfo=UTC))
    assert in_force_on(plant, 1) == []
    assert in_force_on(plant, 2) == [("A", "")]


def test_a_revision_withdrawn_from_a_day_on_was_in_force_for_no_part_of_it(plant: Any) -> None:
    plant.release(day=2)
    plant.withdraw("A", 3, effective=on(6))
    assert as_of(chain(plant), march(5)).in_force
    answer = as_of(chain(plant), march(6))
    assert (answer.in_force, answer.earlier_that_day) == ((), ())


def test_an_answer_names_record_day_and_approver(plant: Any) -> None:
    made = plant.release(day=2)
    answer = as_of(chain(plant), march(4))
    assert answer.day == "2026-03-04"
    (found,) = answer.in_force
    assert (found.record_digest, found.since, found.approver) == (
        made.entry.record_digest,
        "2026-03-02",
        "Welding coordinator",
    )


def test_an_order_without_releases_has_nothing_in_force() -> None:
    assert as_of((), march(4)).in_force == ()


def test_control_says_who_why_and_since_when(plant: Any) -> None:
    plant.three()
    control = control_of(chain(plant), "B", march(10))
    assert (control.author, control.approver, control.reason) == (
        "Process engineer", "Welding coordinator", "first issue"
    )  # fmt: skip
    assert (control.effective_from, control.released_on) == ("2026-03-09", "2026-03-09 08:00 UTC")
    assert control.digest == chain(plant)[1].record_digest


def test_the_control_of_a_withdrawn_revision_says_why_it_was_withdrawn(plant: Any) -> None:
    plant.three()
    assert control_of(chain(plant), "C", march(19)).reason == "first issue"
    assert control_of(chain(plant), "C", march(20)).reason == "cracks"


def test_an_unknown_revision_is_refused_with_the_known_ones(plant: Any) -> None:
    plant.three()
    with pytest.raises(OutOfRangeError, match="name one of: A, B, C"):
        control_of(chain(plant), "D", march(4))
    with pytest.raises(OutOfRangeError, match="none is released"):
        control_of((), "A", march(4))


def chicago(day: int) -> Effective:
    return Effective(kind="date", start=march(day).isoformat(), zone="America/Chicago")


def test_a_revision_is_in_force_from_midnight_of_the_plants_own_day(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 9, effective=chicago(12))  # begins at 05:00 UTC
    entries = chain(plant)
    assert [is_in_force_at(entries, "B", datetime(2026, 3, 12, hour, tzinfo=UTC)) for hour in (4, 5)] == [False, True]
    assert [in_force_on(plant, day) for day in (11, 12)] == [[("A", "")], [("B", "")]]
    assert as_of(entries, march(12)).in_force[0].since == "2026-03-12"


def test_a_record_without_a_zone_keeps_its_utc_midnight_under_a_later_record_with_one(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 4, effective=on(9))
    plant.release(plant.titled("third"), 16, effective=chicago(16))
    entries = chain(plant)
    assert is_in_force_at(entries, "B", datetime(2026, 3, 9, 0, tzinfo=UTC))
    assert (zone_of(entries), zone_of(entries[:2]), zone_of(())) == ("America/Chicago", "UTC", "UTC")
    assert in_force_on(plant, 8) == [("B", "")]  # in Chicago that is 19:00 of the 8th
    assert day_of(entries, datetime(2026, 3, 17, 4, tzinfo=UTC)) == march(16)
