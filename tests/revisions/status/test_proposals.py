"""A release in two steps: what its author proposed waits, and another person approves exactly that."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.proposed import proposed_of, proposed_packet
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.effectivity import Effective, read_effective
from weld_packets.revisions.register.entries import ProposalEntry
from weld_packets.revisions.register.signing import Signer
from weld_packets.revisions.status.people import People, Person
from weld_packets.revisions.status.proposals import waiting_proposals
from weld_packets.revisions.store.files import load_register, open_archive
from weld_packets.revisions.store.keys import make_key
from weld_packets.revisions.store.proposing import record_proposal, withdraw_proposals
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import verify_records

KEY = Signer("engineer", bytes(range(32)))


def propose(plant: Any, packet: Packet | None = None, day: int = 2, signer: Signer | None = None, **by: Any) -> Any:
    when = datetime(2026, 3, day, 8, 0, tzinfo=UTC)
    given = {"recorded": when, "effective": Effective(kind="date", start="2026-03-20"), "approver": ""} | by
    return record_proposal(plant.instructions, plant.wanted(packet, **given), signer)[0]


def release(plant: Any, packet: Packet | None = None, day: int = 3, *, two: bool = True, **by: Any) -> Any:
    when = datetime(2026, 3, day, 8, 0, tzinfo=UTC)
    given = {"recorded": when, "effective": Effective(kind="date", start="2026-03-20")} | by
    return record_release(plant.instructions, replace(plant.wanted(packet, **given), in_two_steps=two))


def waiting(plant: Any, order: str = "door-1") -> list[ProposalEntry]:
    return [each.entry for each in waiting_proposals(load_register(plant.instructions), order)]


def refused(action: Any) -> list[str]:
    with pytest.raises(PacketError) as refusal:
        action()
    return [problem.message for problem in refusal.value.problems]


def test_what_is_proposed_is_kept_waits_and_is_released_by_another_person(plant: Any) -> None:
    entry = propose(plant)
    assert entry.packet_digest == packet_digest(plant.packet)
    assert waiting(plant) == [entry]
    archive = open_archive(plant.instructions)
    (proposal,) = waiting_proposals(archive.register, "door-1")
    assert proposed_packet(archive, proposal.entry) == plant.packet
    record = release(plant).entry
    assert (record.author, record.approver, record.revision) == ("Process engineer", "Welding coordinator", "A")
    assert waiting(plant) == []
    assert verify_records(plant.instructions).findings == ()


def test_without_a_proposal_a_plant_of_two_steps_releases_nothing(plant: Any) -> None:
    said = ["the plant releases in two steps, and no proposal of this order waits for approval"]
    assert refused(lambda: release(plant)) == said
    propose(plant)
    release(plant)
    assert refused(lambda: release(plant, plant.titled("next"), 4)) == said


@pytest.mark.parametrize(
    "by",
    [{"author": "Somebody"}, {"reason": "another"}, {"effective": Effective(kind="date", start="2026-03-21")}],
)
@pytest.mark.parametrize("two", [True, False])
def test_another_author_reason_or_day_than_proposed_is_no_answer(plant: Any, by: dict[str, Any], *, two: bool) -> None:
    propose(plant)
    (said,) = refused(lambda: release(plant, two=two, **by))
    assert "a proposal waits that is not this packet, author, reason and day" in said
    release(plant, two=two, author="process  ENGINEER")


def test_another_packet_than_proposed_is_no_answer(plant: Any) -> None:
    propose(plant)
    (said,) = refused(lambda: release(plant, plant.titled("edited since")))
    assert "a proposal waits that is not this packet" in said


def test_the_author_does_not_approve_what_was_proposed(plant: Any) -> None:
    propose(plant)
    assert "author and approver are the same person" in refused(lambda: release(plant, approver="PROCESS engineer"))


def test_a_proposal_replaces_the_one_that_waits(plant: Any) -> None:
    propose(plant)
    entry = propose(plant, plant.titled("better"), 3)
    assert len(entry.replaces) == 1
    assert waiting(plant) == [entry]
    assert refused(lambda: release(plant, day=4))
    release(plant, plant.titled("better"), 4)


def test_a_proposal_that_is_withdrawn_does_not_wait_and_is_proposed_again(plant: Any) -> None:
    propose(plant)
    by = plant.wanted(recorded=datetime(2026, 3, 3, tzinfo=UTC)).by
    withdraw_proposals(plant.instructions, "door-1", by)
    assert waiting(plant) == []
    assert refused(lambda: withdraw_proposals(plant.instructions, "door-1", by)) == ["no proposal of this order waits"]
    entry = propose(plant, day=4)
    assert waiting(plant) == [entry]
    assert verify_records(plant.instructions).findings == ()


def test_a_record_of_the_order_made_since_ends_the_wait_and_one_of_another_order_does_not(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    propose(plant, plant.titled("second"), 3)
    plant.release(plant.titled("frame", "frame-1"), 4)
    assert len(waiting(plant)) == 1
    plant.withdraw("A", 5)
    assert waiting(plant) == []


def test_a_proposal_is_refused_for_all_that_would_refuse_the_release(plant: Any) -> None:
    plant.release(day=2)
    said = refused(lambda: propose(plant, author="", reason=" ", day=3))
    assert said == ["is missing", "is missing", "nothing has changed since revision A"]


def test_the_list_of_people_and_their_keys_hold_for_a_proposal(plant: Any) -> None:
    engineer = Person("Process engineer", frozenset({"author"}), key="engineer")
    lead = Person("Quality lead", frozenset({"approve releases"}))
    people = People((engineer, lead), "tables/people.yaml")
    rules = {"people": people, "must_sign": True}
    assert refused(lambda: propose(plant, **rules)) == ["the plant requires a signature"]
    assert refused(lambda: propose(plant, signer=Signer("other", bytes(32)), **rules)) == [
        "is not the key of Process engineer"
    ]
    assert "may not author by the plant's list: approve releases alone" in refused(
        lambda: propose(plant, author="Quality lead", **rules)
    )
    assert propose(plant, signer=KEY, **rules).signature.key == "engineer"


def test_an_altered_proposal_shows_and_is_not_read(plant: Any) -> None:
    entry = propose(plant)
    path = plant.instructions / entry.path
    path.write_bytes(path.read_bytes().replace(b"Locker doors", b"Locker d00rs"))
    assert [str(each) for each in verify_records(plant.instructions).findings] == [
        f"{entry.path}: is altered: its name is not the SHA-256 of what it holds"
    ]
    assert refused(lambda: proposed_packet(open_archive(plant.instructions), entry)) == [
        "is altered since it was proposed"
    ]
    assert refused(lambda: release(plant)) == ["is altered: its name is not the SHA-256 of what it holds"]
    path.unlink()
    assert [str(each) for each in verify_records(plant.instructions).findings] == [f"{entry.path}: is missing"]
    path.with_name("stray.json").write_bytes(b"{}")
    assert "door-1/proposed/stray.json: is not in the register" in [
        str(each) for each in verify_records(plant.instructions).findings
    ]


def test_the_signature_of_a_proposal_is_verified(plant: Any, tmp_path: Any) -> None:
    make_key(plant.instructions, "engineer", tmp_path / "private.pem")
    entry = propose(plant, signer=KEY)
    assert entry.signature is not None
    found = [str(each) for each in verify_records(plant.instructions).findings]
    assert len(found) == 1
    assert found[0].startswith("keys/engineer.pub: is missing or not the key that signed register/door-1.")
    (said,) = refused(lambda: release(plant))
    assert said.startswith("is missing or not the key that signed")


def test_an_unsigned_proposal_is_not_released_where_the_plant_requires_signatures_by_then(plant: Any) -> None:
    propose(plant)
    said = refused(lambda: release(plant, must_sign=True))
    assert said == ["the plant requires a signature", "the plant requires a signature, and the proposal has none"]


def test_what_is_proposed_is_compared_with_the_revision_in_force(plant: Any) -> None:
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 3, effective=Effective(kind="date", start="2026-03-15"))
    propose(plant, plant.titled("third"), 4)
    archive = open_archive(plant.instructions)
    for day, mark in ((4, "A"), (16, "B")):
        (found,) = proposed_of(archive, "door-1", date(2026, 3, day))
        assert found.compared_with == mark
        assert [str(change) for change in found.changes] == [f"title {'first' if mark == 'A' else 'second'} -> third"]
    assert proposed_of(archive, "frame-1", date(2026, 3, 4)) == ()


@pytest.mark.parametrize("text", ["2026-03-20", "part 7", "serial LC-0450"])
def test_a_day_is_written_as_it_is_read(text: str) -> None:
    assert read_effective(text).typed == text
