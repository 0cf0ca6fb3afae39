"""A chain of records that somebody makes anew must keep the rules of a release too: `verify` compares it with them."""

from __future__ import annotations

import hashlib
import json
from base64 import b64decode
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.register.register import read_register_state
from weld_packets.revisions.register.signing import fingerprint
from weld_packets.revisions.status.record_rules import Rules
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.keys import key_fingerprints, key_line, load_signer, make_key
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import verify_records

CLOCK = datetime(2026, 3, 3, tzinfo=UTC)


def found(plant: Any, *known: str, **rules: Any) -> list[str]:
    return [str(each) for each in verify_records(plant.instructions, known, Rules(**rules)).findings]


def notes(plant: Any, **rules: Any) -> tuple[str, ...]:
    return verify_records(plant.instructions, (), Rules(**rules)).notes


def one_person(plant: Any) -> None:
    plant.release(approver="PROCESS  engineer", one_person=True)


def test_one_person_who_is_author_and_approver_shows_by_meaning(plant: Any) -> None:
    one_person(plant)
    assert found(plant) == ["door-1/released/A.json: author and approver are the same person: Process engineer"]


def test_where_one_person_may_do_both_it_is_a_note(plant: Any) -> None:
    one_person(plant)
    assert found(plant, one_person=True) == []
    said = "author and approver are the same person, Process engineer, as the plant's table allows today"
    assert notes(plant, one_person=True) == (f"door-1/released/A.json: {said}",)


def test_a_withdrawal_of_one_person_shows_too(plant: Any) -> None:
    plant.release()
    plant.withdraw("A", approver="process engineer", one_person=True)
    assert found(plant) == [
        "door-1/released/A.withdrawn.json: author and approver are the same person: Process engineer"
    ]


def test_records_of_a_day_far_after_the_clock_show(plant: Any) -> None:
    plant.release()
    recorded = datetime(2026, 3, 2, 8, tzinfo=UTC)
    at_the_bound = recorded - timedelta(days=400)
    assert found(plant, machine_clock=at_the_bound) == []
    said = "is of 2026-03-02T08:00:00Z, more than 400 days after the clock of this computer, 2025-01-26"
    assert found(plant, machine_clock=at_the_bound - timedelta(seconds=1)) == [f"door-1/released/A.json: {said}"]
    assert found(plant, machine_clock=at_the_bound - timedelta(days=9), clock_allowance=timedelta(days=410)) == []


def test_a_record_of_a_wrong_clock_is_known_once_time_went_on_from_a_withdrawal(plant: Any) -> None:
    plant.release(day=2)
    far = {"recorded": datetime(2100, 1, 1, tzinfo=UTC), "clock_allowance": timedelta(days=100_000)}
    plant.release(plant.titled("late"), effective=Effective(kind="date", start="2100-01-01"), **far)
    assert len(found(plant, machine_clock=CLOCK)) == 1
    plant.withdraw("B", 3)
    assert found(plant, machine_clock=CLOCK) == []


def test_a_gap_beyond_the_allowance_is_a_note_since_the_plant_may_have_raised_it(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("frame", "frame-1"), 4)
    assert notes(plant) == ()
    assert notes(plant, clock_allowance=timedelta(days=2)) == ()
    plant.release(plant.titled("later"), 8)
    said = "is of 2026-03-08T08:00:00Z, more than 3 days after the record before it, 2026-03-04T08:00:00Z"
    assert notes(plant, clock_allowance=timedelta(days=3)) == (f"door-1/released/B.json {said}",)


def approved_on(packet: Packet, day: str) -> Packet:
    table = packet.tables[0].model_copy(update={"approved_on": day})
    return packet.model_copy(update={"tables": (table,)})


@pytest.mark.parametrize(("day", "shows"), [("2026-03-02", False), ("2026-03-03", True)])
def test_a_table_that_was_approved_after_the_release_shows(
    plant: Any, monkeypatch: pytest.MonkeyPatch, day: str, *, shows: bool
) -> None:
    monkeypatch.setattr("weld_packets.revisions.status.release_rules.approval_problems", lambda *_: ())
    plant.release(approved_on(plant.packet, day))
    said = "rests on table spot-lc, approved on 2026-03-03, after the day of the record, 2026-03-02"
    assert found(plant) == ([f"door-1/released/A.json: {said}"] if shows else [])


def test_what_is_not_signed_is_a_note_where_the_plant_requires_it(plant: Any) -> None:
    plant.release()
    assert notes(plant) == ()
    assert notes(plant, must_sign=True) == ("the plant requires signatures today; not signed: door-1/released/A.json",)


@pytest.fixture
def signed(plant: Any, tmp_path: Path) -> Any:
    make_key(plant.instructions, "quality", tmp_path / "quality.pem")
    record_release(
        plant.instructions, plant.wanted(), load_signer(plant.instructions, "quality", tmp_path / "quality.pem")
    )
    return plant


def test_the_fingerprint_is_what_any_program_for_digests_gives(signed: Any) -> None:
    pem = (signed.instructions / "keys" / "quality.pub").read_text("ascii")
    encoded = b64decode("".join(pem.splitlines()[1:-1]))
    digest = hashlib.sha256(encoded).hexdigest()
    assert key_fingerprints(signed.instructions) == {"quality": digest}
    assert key_line("quality", digest) == f"key quality {digest}"
    assert fingerprint(b"no key") == ""
    assert fingerprint(pem.replace("MC", "MD", 1).encode()) == ""


def test_a_noted_fingerprint_shows_another_key_of_the_same_name_and_a_missing_one(signed: Any, tmp_path: Path) -> None:
    digest = key_fingerprints(signed.instructions)["quality"]
    spaced = " ".join(digest[at : at + 4] for at in range(0, 64, 4)).upper()
    assert found(signed, f"key quality {digest}", f" key quality {spaced} ") == []
    assert found(signed, f"key other {digest}") == ["keys/other.pub: is missing, and its fingerprint was noted"]
    public = signed.instructions / "keys" / "quality.pub"
    public.unlink()
    make_key(signed.instructions, "quality", tmp_path / "forged.pem")
    assert "keys/quality.pub: is not the key whose fingerprint was noted" in found(signed, f"key quality {digest}")
    with pytest.raises(PacketError):
        found(signed, f"key quality {digest[:-1]}")


def test_the_line_of_the_register_is_taken_as_it_was_printed() -> None:
    assert read_register_state("register 12:1a2b 3c4d 5e6f") == read_register_state("12:1a2b 3c4d 5e6f")


def test_a_chain_made_anew_by_one_person_in_another_century_shows_without_any_line_noted(plant: Any) -> None:
    """The forger writes with the program's own functions, and leaves out its rules."""
    far = datetime(2099, 1, 1, tzinfo=UTC)
    plant.release(
        recorded=far,
        effective=Effective(kind="date", start="2099-01-01"),
        approver="Process engineer",
        one_person=True,
    )
    (path,) = plant.instructions.glob("register/*.json")
    assert json.loads(path.read_bytes())["entry"]["recorded_at"] == "2099-01-01T00:00:00Z"
    assert len(load_register(plant.instructions).entries) == 1
    assert [said.split(": ")[1].split(",")[0] for said in found(plant, machine_clock=CLOCK)] == [
        "author and approver are the same person",
        "is of 2099-01-01T00:00:00Z",
    ]
