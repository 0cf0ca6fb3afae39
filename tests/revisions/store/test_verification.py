from __future__ import annotations

import importlib
import json
import random
import shutil
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.record import RegisterState, read_record
from weld_packets.revisions.register.entries import entry_of
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.register import Register, read_register_state, register_state_text
from weld_packets.revisions.store import verification
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.keys import load_signer, make_key
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import Verification, verify_records


def findings(plant: Any, **given: Any) -> list[str]:
    return [str(finding) for finding in verify_records(plant.instructions, **given).findings]


def record_path(plant: Any, name: str) -> Path:
    return Path(plant.instructions / "door-1/released" / name)


@pytest.fixture
def released(plant: Any) -> Any:
    plant.three()
    return plant


@pytest.fixture
def signed(plant: Any, tmp_path: Path) -> Any:
    make_key(plant.instructions, "quality", tmp_path / "quality.pem")
    signer = load_signer(plant.instructions, "quality", tmp_path / "quality.pem")
    record_release(plant.instructions, plant.wanted(), signer)
    return plant


def test_untouched_records_verify(released: Any) -> None:
    register = load_register(released.instructions)
    assert verify_records(released.instructions) == Verification((), (), register, 1)


def test_a_workspace_without_releases_verifies(plant: Any) -> None:
    found = verify_records(plant.instructions)
    assert found == Verification((), (), Register(), 0)
    assert found.register.state == RegisterState(records=0, register_digest=EMPTY)


def test_every_flipped_byte_of_every_record_shows_and_names_its_file(released: Any) -> None:
    flips = 0
    chance = random.Random(20260302)  # noqa: S311 - the same places every time
    for name in ("A.json", "B.json", "C.withdrawn.json"):
        path = record_path(released, name)
        data = path.read_bytes()
        for at in sorted({0, len(data) - 1, *chance.sample(range(len(data)), 300)}):
            path.write_bytes(data[:at] + bytes([data[at] ^ (1 << chance.randrange(8))]) + data[at + 1 :])
            assert any(finding.startswith(f"door-1/released/{name}: is altered") for finding in findings(released))
            flips += 1
        path.write_bytes(data)
    assert flips >= 900
    assert findings(released) == []


def test_every_flipped_byte_of_signature_and_key_shows(signed: Any) -> None:
    flips = 0
    for name in ("door-1/released/A.sig", "keys/quality.pub"):
        path = signed.instructions / name
        data = path.read_bytes()
        for at in range(len(data)):
            path.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
            assert any(finding.startswith(name) for finding in findings(signed))
            flips += 1
        path.write_bytes(data)
    assert flips > 300
    assert findings(signed) == []


def test_a_flipped_byte_of_the_register_shows(released: Any) -> None:
    for path in released.entry_files():
        data = path.read_bytes()
        for at in range(0, len(data), 7):
            path.write_bytes(data[:at] + bytes([data[at] ^ 4]) + data[at + 1 :])
            assert any(finding.startswith(f"register/{path.name}:") for finding in findings(released))
        path.write_bytes(data)
    assert findings(released) == []


def test_a_record_cut_short_or_emptied_shows(released: Any) -> None:
    path = record_path(released, "B.json")
    data = path.read_bytes()
    for content in (b"", data[:-1], data + b"\n"):
        path.write_bytes(content)
        assert any("B.json: is altered" in finding for finding in findings(released))


def test_the_newest_record_dropped_shows(released: Any) -> None:
    record_path(released, "C.withdrawn.json").unlink()
    assert findings(released) == ["door-1/released/C.withdrawn.json: is missing"]


def test_two_records_swapped_show_both(released: Any) -> None:
    one, other = record_path(released, "A.json"), record_path(released, "B.json")
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    assert {
        "door-1/released/A.json: holds the record that belongs in door-1/released/B.json",
        "door-1/released/B.json: holds the record that belongs in door-1/released/A.json",
    } <= set(findings(released))


def test_a_record_without_an_entry_shows(released: Any) -> None:
    record_path(released, "D.json").write_bytes(record_path(released, "C.json").read_bytes())
    assert findings(released) == ["door-1/released/D.json: is not in the register"]


def test_a_register_that_is_gone_is_never_taken_for_an_empty_one(released: Any) -> None:
    shutil.rmtree(released.instructions / "register")
    assert findings(released) == ["the register: is missing, while there are records of releases or set-ups"]
    with pytest.raises(PacketError, match="never begin a new one"):
        released.release(released.titled("next"), 25)


def test_an_entry_of_the_register_that_is_gone_shows(released: Any) -> None:
    oldest, *_, newest = released.entry_files()
    data = newest.read_bytes()
    newest.unlink()
    assert findings(released) == ["door-1/released/C.withdrawn.json: is not in the register"]
    newest.write_bytes(data)
    oldest.unlink()
    follower, record = findings(released)
    assert "follows an entry that is missing or altered" in follower
    assert record == "door-1/released/A.json: is not in the register"


def rewritten(plant: Any, keep: slice) -> None:
    """Remove records and entries together, as somebody would who knows the format."""
    register = load_register(plant.instructions)
    kept = register.entries[keep]
    for entry in set(register.entries) - set(kept):
        (plant.instructions / entry.path).unlink()
    plant.write_register(kept)


def test_the_newest_record_dropped_with_its_entry_shows_against_a_noted_digest(released: Any) -> None:
    noted = register_state_text(load_register(released.instructions))
    rewritten(released, slice(0, 3))
    assert findings(released) == []
    assert findings(released, known=[noted]) == ["the register: held 4 records when its digest was noted, now 3"]


def test_a_record_dropped_with_its_entry_shows_in_a_later_record_of_another_order(released: Any) -> None:
    released.add_order("frame-2")
    released.release(released.titled("frame", "frame-2"), 21)
    rewritten(released, slice(4, 5))
    assert findings(released) == [
        "frame-2/released/A.json: was made when the register held 4 other records than the 0 that are before it now"
    ]


def replaced(plant: Any, changes: dict[str, Any]) -> None:
    """Rewrite the newest record and its entry so that they agree with each other again."""
    register = load_register(plant.instructions)
    entry = register.entries[-1]
    path = plant.instructions / entry.path
    record = read_record(path.read_bytes(), "").model_copy(update=changes)
    data = canonical(record.model_dump(mode="json"))
    path.write_bytes(data)
    plant.write_register((*register.entries[:-1], entry_of(record, data, entry.signing)))


def test_the_newest_record_replaced_with_its_entry_shows_against_a_noted_digest(released: Any) -> None:
    noted = register_state_text(load_register(released.instructions))
    replaced(released, {"reason": "another one"})
    assert findings(released) == []
    (finding,) = findings(released, known=[noted])
    assert "its first 4 records are not those whose digest was noted" in finding


def test_a_digest_noted_earlier_still_fits_after_more_releases(plant: Any) -> None:
    noted = [register_state_text(load_register(plant.instructions))]
    noted += [register_state_text(plant.release(plant.titled(str(day)), day).register) for day in (2, 3, 4)]
    assert findings(plant, known=noted) == []
    assert noted[0].startswith("0:e3b0 c442")


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"previous_record_digest": "0" * 64}, "does not continue the record before it"),
        ({"sequence": 9}, "is number 9 of its order"),
        ({"packet_digest": "0" * 64}, "another packet than its digest says"),
        ({"packet": None}, "another packet than its digest says"),
        ({"register_before": RegisterState(records=1, register_digest="0" * 64)}, "held 1 other records than the 1"),
    ],
)
def test_a_forged_newest_record_shows_by_its_links(plant: Any, changes: dict[str, Any], why: str) -> None:
    plant.release(plant.titled("one"), 2)
    plant.release(plant.titled("two"), 3)
    replaced(plant, changes)
    assert any(why in finding for finding in findings(plant))


def test_a_register_that_says_other_things_than_its_record_shows(released: Any) -> None:
    register = load_register(released.instructions)
    entry = register.entries[-1].model_copy(update={"approver": "Somebody else"})
    released.write_register((*register.entries[:-1], entry))
    assert findings(released) == [
        "door-1/released/C.withdrawn.json: says other things of itself than the register says"
    ]


def test_a_record_of_an_unknown_version_is_named(released: Any) -> None:
    register = load_register(released.instructions)
    path = record_path(released, "C.withdrawn.json")
    raw = json.loads(path.read_bytes()) | {"record_version": 99}
    path.write_bytes(canonical(raw))
    entry = register.entries[-1].model_copy(update={"record_digest": sha256(path.read_bytes())})
    released.write_register((*register.entries[:-1], entry))
    assert findings(released) == [
        "door-1/released/C.withdrawn.json: record_version: this program does not know this version of a record"
    ]


def test_a_missing_signature_and_a_missing_key_show(signed: Any) -> None:
    (signed.instructions / "keys/quality.pub").unlink()
    record_path(signed, "A.sig").unlink()
    assert findings(signed) == [
        "door-1/released/A.sig: is missing",
        "keys/quality.pub: is missing or not the key that signed door-1/released/A.json",
    ]


@pytest.mark.parametrize("signature", ["00" * 64, "zz", "00"])
def test_a_signature_of_something_else_shows(signed: Any, signature: str) -> None:
    forged_signature(signed, {"signature": signature})
    assert findings(signed) == [
        "door-1/released/A.sig: is not a signature of door-1/released/A.json by the key quality"
    ]


def test_a_signature_file_that_cannot_be_read_or_names_another_key_shows(signed: Any) -> None:
    for changes in ({"algorithm": "RSA"}, {"public_key": "0" * 64}):
        forged_signature(signed, changes)
        assert any("is not a signature of" in finding for finding in findings(signed))


def forged_signature(plant: Any, changes: dict[str, str]) -> None:
    register = load_register(plant.instructions)
    path = record_path(plant, "A.sig")
    path.write_bytes(canonical(json.loads(path.read_bytes()) | changes))
    entry = register.entries[0]
    assert entry.signing
    signing = entry.signing.model_copy(update={"sha256": sha256(path.read_bytes())})
    plant.write_register([entry.model_copy(update={"signing": signing})])


def test_without_the_library_signatures_are_said_to_be_unchecked(signed: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr(importlib, "import_module", missing)
    found = verify_records(signed.instructions)
    assert found.findings == ()
    assert found.notes == ("signatures were not checked: pip install 'weld-cell-packets[sign]'",)
    (signed.instructions / "keys/quality.pub").unlink()
    assert [finding.file for finding in verify_records(signed.instructions).findings] == ["keys/quality.pub"]


@pytest.mark.parametrize("text", ["", "12", "x:1a2b3c4d5e6f", "12:1a2b", "12:1a2b3c4d5e6g"])
def test_a_noted_digest_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(PacketError, match="not a register digest"):
        read_register_state(text)


def test_a_noted_digest_is_read_whole_or_short() -> None:
    assert read_register_state(" 12:1A2B 3c4d 5e6f ") == (12, ("1a2b3c4d5e6f",))
    assert read_register_state("register 12:1a2b 3c4d 5e6f") == (12, ("1a2b3c4d5e6f",))
    assert read_register_state(f"3:{'a' * 64}") == (3, ("a" * 64,))
    assert read_register_state("20:1a2b 3c4d 5e6f + 7788 99aa bbcc") == (20, ("1a2b3c4d5e6f", "778899aabbcc"))


@pytest.mark.parametrize("at", ["released_files", "register_as_far"])
def test_a_release_that_is_written_while_verify_looks_is_no_finding(
    plant: Any, monkeypatch: pytest.MonkeyPatch, at: str
) -> None:
    """Whichever of the two is looked at first, a release comes right after it."""
    plant.release(plant.titled("first"), 2)
    look = getattr(verification, at)

    def and_then_a_release(instructions: Path) -> Any:
        found = look(instructions)
        monkeypatch.undo()
        plant.release(plant.titled("frame", "frame-1"), 4)
        return found

    monkeypatch.setattr(verification, at, and_then_a_release)
    assert verify_records(plant.instructions).findings == ()
    assert len(load_register(plant.instructions).entries) == 2
