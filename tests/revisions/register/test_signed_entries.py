"""Every act of the register is signed where the plant says so, and the signature is over what the file says."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.register.entries import (
    Entry,
    NonconformityEntry,
    ProposalWithdrawalEntry,
    SetAsideEntry,
    SignedInline,
)
from weld_packets.revisions.register.filed import Filed, filed, filed_bytes
from weld_packets.revisions.register.signing import Signer, public_of, public_pem, signature_of
from weld_packets.revisions.status.nonconformities import Reported
from weld_packets.revisions.status.people import OF_NONCONFORMITY, People, Person
from weld_packets.revisions.status.record_rules import Rules
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.nonconforming import NonconformityChange, record_nonconformity
from weld_packets.revisions.store.proposing import record_proposal, withdraw_proposals
from weld_packets.revisions.store.setting_aside import SettingAside, record_set_aside
from weld_packets.revisions.store.verification import verify_records

KEY = Signer("own", bytes(range(32)))
OTHER = Signer("other", bytes(32))
AUTHOR, APPROVER = "Process engineer", "Welding coordinator"

Act = Callable[[Any, Any, Signer | None], Any]


def nonconformity(plant: Any, by: Any, signer: Signer | None) -> Any:
    wanted = NonconformityChange("door-1", Reported("NC-1"), by, "A")
    return record_nonconformity(plant.instructions, wanted, signer)[0]


def taking_back(plant: Any, by: Any, signer: Signer | None) -> Any:
    if not load_register(plant.instructions).proposals:
        record_proposal(plant.instructions, plant.wanted(plant.titled("proposed")))
    return withdraw_proposals(plant.instructions, "door-1", by, signer)[0]


def setting_aside(plant: Any, by: Any, signer: Signer | None) -> Any:
    (made,) = load_register(plant.instructions).forks.values()
    return record_set_aside(plant.instructions, SettingAside("door-1", made[1].record_digest, by), signer)[0]


def merged(plant: Any) -> None:
    """Have two entries in one place of the order, as after a merge of two branches."""
    (entry,) = load_register(plant.instructions).entries
    twin = filed(entry.model_copy(update={"record_digest": "f" * 64, "signing": None}), ())
    (plant.instructions / "register" / twin.name).write_bytes(filed_bytes(twin))


ACTS = pytest.mark.parametrize(
    ("act", "kind", "signs"),
    [
        pytest.param(nonconformity, NonconformityEntry, APPROVER, id="a nonconformity"),
        pytest.param(taking_back, ProposalWithdrawalEntry, AUTHOR, id="taking a proposal back"),
        pytest.param(setting_aside, SetAsideEntry, APPROVER, id="setting aside"),
    ],
)


@pytest.fixture
def ready(plant: Any, act: Act) -> Any:
    if act is not taking_back:
        plant.release()
    if act is setting_aside:
        merged(plant)
    (plant.instructions / "keys").mkdir()
    (plant.instructions / "keys" / "own.pub").write_bytes(public_pem(public_of(KEY.secret)))
    return plant


@pytest.fixture
def by(signed: Any, signs: str) -> Any:
    """Return a way to answer for a record on 3 March, in a plant where two people have keys of their own."""
    may = frozenset({"author", "approve releases", "withdraw"})
    keys = {name: "own" if name == signs else "other" for name in (AUTHOR, APPROVER)}
    people = People(tuple(Person(name, may, key=key) for name, key in keys.items()), "tables/people.yaml")

    def made(**changed: Any) -> Any:
        return signed(recorded=datetime(2026, 3, 3, 8, tzinfo=UTC), **({"people": people} | changed))

    return made


def refused(call: Callable[[], object]) -> list[str]:
    with pytest.raises(PacketError) as caught:
        call()
    assert all(problem.remedy for problem in caught.value.problems)
    return [problem.message for problem in caught.value.problems]


def found(plant: Any) -> list[str]:
    return [each.message for each in verify_records(plant.instructions).findings if "register/" in str(each)]


def newest(plant: Any) -> Filed:
    return load_register(plant.instructions).filed[-1]


@ACTS
def test_an_act_without_a_signature_is_refused_where_the_plant_says_so(
    ready: Any, by: Any, act: Act, kind: type[Entry], signs: str
) -> None:
    assert refused(lambda: act(ready, by(must_sign=True), None)) == ["the plant requires a signature"]
    assert refused(lambda: act(ready, by(must_sign=True), OTHER)) == [f"is not the key of {signs}"]
    entry = act(ready, by(must_sign=True), KEY)
    assert isinstance(entry, kind)
    assert isinstance(entry, SignedInline)
    assert entry.signed_with == "own"
    assert newest(ready).entry == entry
    assert found(ready) == []


@ACTS
@pytest.mark.usefixtures("kind", "signs")
def test_an_act_of_a_plant_that_asks_for_none_may_be_signed_or_not(ready: Any, by: Any, act: Act) -> None:
    assert act(ready, by(), None).signed_with == ""
    assert found(ready) == []


@ACTS
@pytest.mark.usefixtures("kind", "signs")
def test_an_act_from_before_the_plant_asked_stays_valid_and_is_noted(ready: Any, by: Any, act: Act) -> None:
    act(ready, by(), None)
    verified = verify_records(ready.instructions, (), Rules(must_sign=True))
    assert not [each for each in verified.findings if each.file.startswith("register/")]
    (note,) = (each for each in verified.notes if each.startswith("the plant requires signatures today; not signed: "))
    assert f"register/{newest(ready).name}" in note


def refiled(plant: Any, change: Callable[[dict[str, Any]], object]) -> None:
    """Change the newest entry and file it under the name that it has then, as a forger would."""
    last = newest(plant)
    old = plant.instructions / "register" / last.name
    content = json.loads(old.read_bytes())
    change(content["entry"])
    data = canonical(content)
    old.unlink()
    (old.parent / f"{last.name.rpartition('-')[0]}-{sha256(data)[:12]}.json").write_bytes(data)


@ACTS
@pytest.mark.usefixtures("kind", "signs")
def test_an_act_that_is_changed_after_it_was_signed_shows(ready: Any, by: Any, act: Act) -> None:
    act(ready, by(), KEY)
    refiled(ready, lambda entry: entry.update(reason="another reason"))
    assert found(ready) == ["holds no signature of itself by the key own"]


@ACTS
@pytest.mark.usefixtures("kind", "signs")
def test_an_act_that_was_signed_before_a_later_program_knew_another_key_keeps_its_signature(
    ready: Any, by: Any, act: Act
) -> None:
    act(ready, by(), KEY)

    def as_an_older_program(entry: dict[str, Any]) -> None:
        del entry["record_version"]  # any key with a default will do
        signature = entry.pop("signature")
        message = canonical(entry | {"signature": None})
        entry["signature"] = signature | {"signature": signature_of(KEY.secret, message).hex()}

    refiled(ready, as_an_older_program)
    assert found(ready) == []


@pytest.fixture
def nothing_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    for where in ("store.verification", "register.integrity"):
        monkeypatch.setattr(f"weld_packets.revisions.{where}.can_sign", lambda: False)


@pytest.mark.usefixtures("nothing_installed")
@pytest.mark.parametrize("signer", [None, KEY])
def test_without_the_library_verify_says_that_signatures_of_acts_were_not_checked(
    plant: Any, signed: Any, signer: Signer | None
) -> None:
    plant.release()
    nonconformity(plant, signed(), signer)
    said = (
        "signatures were not checked: pip install 'weld-cell-packets[sign]'" in verify_records(plant.instructions).notes
    )
    assert said == (signer is not None)


def test_who_may_record_a_nonconformity_may_withdraw_and_signs() -> None:
    assert (OF_NONCONFORMITY.author, OF_NONCONFORMITY.approver) == (("author", "withdraw"), ("withdraw",))
    assert not OF_NONCONFORMITY.stops
