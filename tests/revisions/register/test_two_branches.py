"""Two branches of a plant's repository that both add records, merged by git itself."""

from __future__ import annotations

import os
import shutil
import subprocess
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.shared.releasing.nonconformity import state_lines
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.nonconformity import PartsAffected
from weld_packets.revisions.register.register import register_state_text
from weld_packets.revisions.status.nonconformities import Reported, nonconformities_of
from weld_packets.revisions.status.proposals import waiting_proposals
from weld_packets.revisions.status.release_rules import Withdrawal
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.nonconforming import NonconformityChange, record_nonconformity
from weld_packets.revisions.store.proposing import record_proposal
from weld_packets.revisions.store.releasing import record_release, record_withdrawal
from weld_packets.revisions.store.setting_aside import SettingAside, no_longer_withdrawn, record_set_aside
from weld_packets.revisions.store.verification import verify_records

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
RECENT = datetime(2026, 11, 30, 8, tzinfo=UTC)
PUBLISHED = Path(__file__).parents[3] / "instructions"


class Repository:
    """The plant under version control, with branches that people work on apart."""

    def __init__(self, plant: Any) -> None:
        self.plant = plant
        self.root = plant.instructions.parent
        self.git("init", "-q", "-b", "main")
        self.commit("begin")

    def git(self, *words: str) -> subprocess.CompletedProcess[str]:
        names = {f"GIT_{who}_{what}": "somebody" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
        command = ["git", "-C", str(self.root), "-c", "core.autocrlf=false", *words]
        return subprocess.run(command, capture_output=True, text=True, check=False, env=os.environ | names)

    def commit(self, why: str) -> None:
        self.git("add", "-A")
        assert self.git("commit", "-q", "-m", why).returncode == 0

    def branch(self, name: str, start: str = "main") -> None:
        assert self.git("switch", "-q", "-c", name, start).returncode == 0

    def merge(self, name: str) -> bool:
        return self.git("merge", "-q", "-m", f"merge {name}", name).returncode == 0


@pytest.fixture
def repository(plant: Any) -> Repository:
    plant.add_order("frame-2")
    plant.release(day=1)
    return Repository(plant)


def found(plant: Any, *known: str) -> list[str]:
    return [str(finding) for finding in verify_records(plant.instructions, known).findings]


def lines(plant: Any) -> str:
    return register_state_text(load_register(plant.instructions))


def apart(repository: Repository, *orders: str) -> list[str]:
    """Release each order on a branch of its own, come back to the first; return what each branch noted."""
    noted = []
    for number, order in enumerate(orders):
        repository.branch(f"branch-{number}")
        repository.plant.release(repository.plant.titled(f"of {number}", order), 3 + number)
        noted.append(lines(repository.plant))
        repository.commit(order)
    repository.git("switch", "-q", "branch-0")
    return noted


def test_two_branches_that_release_two_orders_merge_and_go_on(repository: Repository) -> None:
    plant = repository.plant
    noted = [lines(plant), *apart(repository, "frame-1", "frame-2")]
    assert repository.merge("branch-1")
    assert found(plant, *noted) == []
    merged = lines(plant)
    assert merged.startswith("3:")
    assert merged.count("+") == 1
    plant.release(plant.titled("after the merge"), 6)
    assert found(plant, *noted, merged) == []
    assert lines(plant).startswith("4:")
    assert "+" not in lines(plant)
    assert [entry.order for entry in load_register(plant.instructions).entries] == [
        "door-1", "frame-1", "frame-2", "door-1",
    ]  # fmt: skip


def test_three_branches_merged_one_after_the_other_keep_what_each_noted(repository: Repository) -> None:
    plant = repository.plant
    plant.add_order("frame-3")
    repository.commit("frame-3")
    noted = apart(repository, "frame-1", "frame-2", "frame-3")
    for other in ("branch-1", "branch-2"):
        assert repository.merge(other)
        noted.append(lines(plant))
    plant.release(plant.titled("after"), 9)
    assert found(plant, *noted) == []


def test_an_entry_of_a_merged_branch_that_is_taken_away_shows_against_what_was_noted(repository: Repository) -> None:
    plant = repository.plant
    apart(repository, "frame-1", "frame-2")
    repository.merge("branch-1")
    noted = lines(plant)
    gone = next(each for each in load_register(plant.instructions).filed if each.entry.order == "frame-2")
    (plant.instructions / "register" / gone.name).unlink()
    shutil.rmtree(plant.instructions / "frame-2/released")
    assert found(plant) == []
    assert found(plant, noted) == ["the register: held 3 records when its digest was noted, now 2"]
    plant.release(plant.titled("another"), 8)
    (finding,) = found(plant, noted)
    assert "its first 3 records are not those whose digest was noted" in finding


def released_twice(repository: Repository) -> tuple[Any, Any]:
    """Release the same order on two branches, merge them, take the first branch's file; return both entries."""
    plant = repository.plant
    apart(repository, "door-1", "door-1")
    assert not repository.merge("branch-1")
    conflicts = repository.git("diff", "--name-only", "--diff-filter=U").stdout.split()
    assert conflicts == ["instructions/door-1/released/B.json"]
    repository.git("checkout", "--ours", "--", conflicts[0])
    repository.commit("merge, with the record of the first branch")
    one, other = (entry for entry in load_register(plant.instructions).entries if entry.revision == "B")
    return one, other


def test_an_order_released_on_two_branches_is_refused_and_the_others_go_on(repository: Repository) -> None:
    plant = repository.plant
    one, other = released_twice(repository)
    (finding,) = found(plant)
    assert finding.startswith("door-1/released: two branches each made a record in one place: revision B of 2026-03-03")
    for entry in (one, other):
        assert short(entry.record_digest) in finding
    with pytest.raises(PacketError, match="packets set-aside ORDER DIGEST"):
        plant.release(plant.titled("next"), 8)
    with pytest.raises(PacketError, match="two branches"):
        plant.withdraw("A")
    plant.release(plant.titled("frame", "frame-1"), 9)
    assert len(found(plant)) == 1


def setting_aside(plant: Any, digest: str, signatures: Any, **by: Any) -> Any:
    late = datetime(2026, 3, 20, 8, tzinfo=UTC)
    wanted = SettingAside("door-1", digest, signatures(reason="the other one was printed", recorded=late, **by))
    return record_set_aside(plant.instructions, wanted)


def test_one_of_two_records_is_set_aside_and_the_order_goes_on(repository: Repository, signed: Any) -> None:
    plant = repository.plant
    one, other = released_twice(repository)
    entry, _ = setting_aside(plant, short(other.record_digest), signed)
    assert entry.record_digests == (other.record_digest,)
    assert found(plant) == []
    register = load_register(plant.instructions)
    assert [each.record_digest for each in register.of("door-1")][-1] == one.record_digest
    assert plant.release(plant.titled("next"), 25).entry.revision == "C"
    assert found(plant) == []


def test_with_the_other_file_in_place_the_record_that_counts_is_missed(repository: Repository, signed: Any) -> None:
    plant = repository.plant
    one, _ = released_twice(repository)
    setting_aside(plant, one.record_digest, signed)
    (finding,) = found(plant)
    assert finding.startswith("door-1/released/B.json: is altered")


def test_what_followed_a_record_that_is_set_aside_goes_with_it_and_its_letter_is_not_used_again(
    repository: Repository, signed: Any
) -> None:
    plant = repository.plant
    apart(repository, "door-1", "door-1")
    repository.git("switch", "-q", "branch-1")
    plant.release(plant.titled("third"), 7)
    repository.commit("a second one")
    repository.git("switch", "-q", "branch-0")
    assert not repository.merge("branch-1")
    repository.git("checkout", "--ours", "--", "instructions/door-1/released/B.json")
    repository.commit("merge")
    other = next(entry for entry in load_register(plant.instructions).entries if entry.recorded_at[:10] == "2026-03-04")
    entry, _ = setting_aside(plant, other.record_digest, signed)
    assert len(entry.record_digests) == 2
    assert found(plant) == []
    assert plant.release(plant.titled("next"), 25).entry.revision == "D"


def test_a_withdrawal_that_is_set_aside_for_a_release_is_named_until_it_is_made_again(
    repository: Repository, signed: Any
) -> None:
    plant = repository.plant
    apart(repository, "door-1")
    repository.branch("branch-w", "main")
    plant.withdraw("A", 4)
    repository.commit("withdrawn")
    repository.git("switch", "-q", "branch-0")
    assert repository.merge("branch-w")
    entry, register = setting_aside(plant, load_register(plant.instructions).every("door-1")[-1].record_digest, signed)
    assert no_longer_withdrawn(register, entry) == ("A",)
    plant.withdraw("A", 21)
    assert no_longer_withdrawn(load_register(plant.instructions), entry) == ()
    assert [each.kind for each in load_register(plant.instructions).of("door-1")] == [
        "release",
        "release",
        "withdrawal",
    ]
    assert found(plant) == []


def test_a_release_that_is_set_aside_leaves_what_was_withdrawn(repository: Repository, signed: Any) -> None:
    plant = repository.plant
    apart(repository, "door-1")
    repository.branch("branch-w")
    plant.withdraw("A", 4)
    repository.commit("withdrawn")
    assert repository.merge("branch-0")
    released = next(each for each in load_register(plant.instructions).every("door-1") if each.revision == "B")
    entry, register = setting_aside(plant, released.record_digest, signed)
    assert no_longer_withdrawn(register, entry) == ()
    assert found(plant) == []


def test_only_one_of_two_records_made_in_one_place_is_set_aside(repository: Repository, signed: Any) -> None:
    plant = repository.plant
    first = load_register(plant.instructions).entries[0]
    with pytest.raises(PacketError, match="a record that counts is never set aside"):
        setting_aside(plant, first.record_digest, signed)
    one, other = released_twice(repository)
    with pytest.raises(PacketError, match="is none of the records that were made in one place"):
        setting_aside(plant, first.record_digest, signed)
    with pytest.raises(PacketError, match="the same person"):
        setting_aside(plant, other.record_digest, signed, approver="process engineer")
    assert {one.record_digest, other.record_digest}.isdisjoint(load_register(plant.instructions).set_aside)


def test_the_published_register_is_the_first_part_for_ever(plant: Any) -> None:
    shutil.rmtree(plant.instructions)
    shutil.copytree(PUBLISHED, plant.instructions)
    shutil.rmtree(plant.instructions / "register", ignore_errors=True)
    first = (plant.instructions / "register.jsonl").read_bytes()
    listed = {entry.path for entry in load_register(plant.instructions).entries}
    for record in plant.instructions.glob("*/*/*.json"):
        if record.relative_to(plant.instructions).as_posix() not in listed:  # filed after that part
            record.unlink()
    noted = lines(plant)
    assert noted == "8:be7c 9855 b29d"
    plant.add_order("door-1")
    plant.add_order("frame-1")
    plant.release(plant.titled("new"), recorded=RECENT, effective=Effective(kind="date", start="2026-11-30"))
    assert (plant.instructions / "register.jsonl").read_bytes() == first
    assert found(plant, noted, "3:" + load_register(plant.instructions).digests[2], lines(plant)) == []
    (plant.instructions / "register.jsonl").unlink()
    assert "follows an entry that is missing" in found(plant)[0]


def test_two_branches_that_propose_one_order_merge_and_the_approver_names_one_by_its_digest(
    repository: Repository,
) -> None:
    plant = repository.plant
    for number, title in enumerate(("of one", "of the other")):
        repository.branch(f"branch-{number}")
        when = datetime(2026, 3, 3 + number, 8, tzinfo=UTC)
        by = {"recorded": when, "effective": Effective(kind="date", start="2026-03-20")}
        record_proposal(plant.instructions, plant.wanted(plant.titled(title), **by))
        repository.commit(title)
    assert repository.merge("branch-0")
    assert found(plant) == []
    assert len(waiting_proposals(load_register(plant.instructions), "door-1")) == 2
    plant.release(plant.titled("of one"), 6, effective=Effective(kind="date", start="2026-03-20"))
    assert waiting_proposals(load_register(plant.instructions), "door-1") == ()
    assert found(plant) == []


def reported(repository: Repository, signed: Any, day: int, **stated: Any) -> None:
    """Record or close a nonconformity of revision A on a branch, and commit it."""
    closed, revision = stated.pop("closed", False), stated.pop("revision", "A")
    recorded = datetime(2026, 3, day, 8, tzinfo=UTC)
    wanted = NonconformityChange(
        "door-1", Reported("NC-1", **stated), signed(recorded=recorded), revision=revision, closed=closed
    )
    record_nonconformity(repository.plant.instructions, wanted)
    repository.commit(f"day {day}")


@pytest.mark.parametrize(("closed", "added"), [(4, 5), (5, 4)])
def test_what_one_branch_adds_to_a_nonconformity_that_the_other_closes_keeps_it_open(
    repository: Repository, signed: Any, closed: int, added: int
) -> None:
    few, many = (PartsAffected(kind="part", first="1", last=last) for last in ("4", "20"))
    reported(repository, signed, 3, parts=few, containment="red cage", cause="worn pin")
    repository.branch("branch-0")
    reported(repository, signed, closed, closed=True)
    repository.branch("branch-1", "main")
    reported(repository, signed, added, parts=many)
    assert repository.merge("branch-0")
    instructions = repository.plant.instructions
    (state,) = nonconformities_of(load_register(instructions), "door-1")
    assert (state.status, state.known.parts, len(state.unaware)) == ("open", many, 1)
    reported(repository, signed, 6, closed=True)
    (state,) = nonconformities_of(load_register(instructions), "door-1")
    assert (state.status, state.known.parts, len(state.unaware)) == ("closed", many, 1)
    assert found(repository.plant) == []


FEW, MANY = (PartsAffected(kind="part", first="1", last=last) for last in ("4", "20"))


def opened_twice(repository: Repository, signed: Any) -> tuple[Path, Any]:
    """Open one number on two branches, on the later one with more parts; return the folder and the state merged."""
    repository.branch("branch-0")
    reported(repository, signed, 4, parts=FEW, containment="red cage")
    repository.branch("branch-1", "main")
    reported(repository, signed, 5, parts=MANY, containment="red cage")
    assert repository.merge("branch-0")
    instructions = repository.plant.instructions
    (state,) = nonconformities_of(load_register(instructions), "door-1")
    return instructions, state


def test_a_number_that_two_branches_opened_shows_both_until_one_entry_says_what_counts(
    repository: Repository, signed: Any
) -> None:
    instructions, state = opened_twice(repository, signed)
    assert (state.status, state.known.parts, [each.known.parts for each in state.apart]) == ("open", MANY, [FEW])
    assert [line for line in state_lines(state) if "branch" in line or "settled" in line] == [
        (
            "  another branch recorded: revision A at fault, parts affected: parts 1 to 4, containment: red cage, "
            "concerns: all settings and welds, why: first issue (Process engineer, 2026-03-04T08:00:00Z)"
        ),
        "  not settled: record it anew with what counts, stating --parts",
    ]
    (finding,) = found(repository.plant)
    assert finding.startswith("door-1: nonconformity NC-1 was recorded on two branches, each without the other")
    assert "parts 1 to 4" in finding
    assert "stating --parts;" in finding
    reported(repository, signed, 6, parts=FEW)
    (state,) = nonconformities_of(load_register(instructions), "door-1")
    assert (state.known.parts, state.apart, len(state.added_to)) == (FEW, (), 2)
    assert found(repository.plant) == []


def test_what_two_branches_recorded_otherwise_is_not_left_open_closed_or_corrected(
    repository: Repository, signed: Any
) -> None:
    opened_twice(repository, signed)
    for stated, said in (({"cause": "worn pin"}, "state it with --parts"), ({"closed": True}, "is not settled")):
        with pytest.raises(PacketError, match=said):
            reported(repository, signed, 6, **stated)
    by = signed(recorded=datetime(2026, 3, 6, 8, tzinfo=UTC), effective=Effective(kind="date", start="2026-03-06"))
    with pytest.raises(PacketError, match="state it with --parts"):
        record_withdrawal(
            repository.plant.instructions, Withdrawal("door-1", "A", by, Reported("NC-1", cause="worn pin"))
        )
    wanted = replace(repository.plant.wanted(repository.plant.titled("next")), by=by, corrects=("NC-1",))
    with pytest.raises(PacketError, match="is not settled"):
        record_release(repository.plant.instructions, wanted)
    assert len(found(repository.plant)) == 1


def test_one_number_for_the_faults_of_two_revisions_asks_which_revision_counts(
    repository: Repository, signed: Any
) -> None:
    plant = repository.plant
    plant.release(plant.titled("next"), 2)
    repository.commit("next")
    repository.branch("branch-0")
    reported(repository, signed, 4)
    repository.branch("branch-1", "main")
    reported(repository, signed, 5, revision="B")
    assert repository.merge("branch-0")
    (state,) = nonconformities_of(load_register(plant.instructions), "door-1")
    assert (state.revision, [each.entry.revision for each in state.apart]) == ("B", ["A"])
    with pytest.raises(PacketError, match="state it with --revision"):
        reported(repository, signed, 6, revision="", parts=FEW)


@pytest.mark.parametrize("days", [(4, 5, 6), (5, 4, 6), (4, 6, 5)])
def test_a_closing_that_did_not_know_of_another_branch_does_not_count_whatever_the_times(
    repository: Repository, signed: Any, days: tuple[int, int, int]
) -> None:
    one, other, closing = days
    reported(repository, signed, 3, parts=PartsAffected(kind="none made"), containment="red cage", cause="worn pin")
    repository.branch("branch-0")
    reported(repository, signed, one, parts=FEW)
    reported(repository, signed, closing, closed=True)
    repository.branch("branch-1", "main")
    reported(repository, signed, other, parts=MANY)
    assert repository.merge("branch-0")
    (state,) = nonconformities_of(load_register(repository.plant.instructions), "door-1")
    assert (state.status, len(state.unaware), len(state.apart)) == ("open", 1, 1)


def test_a_cause_that_two_branches_add_to_one_that_is_closed_is_settled_and_it_stays_closed(
    repository: Repository, signed: Any
) -> None:
    reported(repository, signed, 3, parts=FEW, containment="red cage", cause="not known")
    reported(repository, signed, 4, closed=True)
    for branch, cause in enumerate(("worn pin", "bent rail")):
        repository.branch(f"branch-{branch}", "main")
        reported(repository, signed, 5 + branch, cause=cause, revision="")
    assert repository.merge("branch-0")
    (state,) = nonconformities_of(load_register(repository.plant.instructions), "door-1")
    assert (state.status, state.known.cause) == ("closed", "bent rail")
    assert [each.known.cause for each in state.apart] == ["worn pin"]
    reported(repository, signed, 7, cause="worn pin", revision="")
    (state,) = nonconformities_of(load_register(repository.plant.instructions), "door-1")
    assert (state.status, state.known.cause, state.apart, len(state.added_to)) == ("closed", "worn pin", (), 3)
    assert state.closed is not None
    assert state.closed.recorded_at[:10] == "2026-03-04"
    assert found(repository.plant) == []


def test_two_branches_that_record_the_same_have_nothing_to_settle(repository: Repository, signed: Any) -> None:
    for number in (0, 1):
        repository.branch(f"branch-{number}", "main")
        reported(repository, signed, 4 + number, parts=FEW, containment="red cage", cause="worn pin")
    assert repository.merge("branch-0")
    (state,) = nonconformities_of(load_register(repository.plant.instructions), "door-1")
    assert (state.apart, len(state.added_to)) == ((), 1)
    assert found(repository.plant) == []
    reported(repository, signed, 6, closed=True)
    assert nonconformities_of(load_register(repository.plant.instructions), "door-1")[0].status == "closed"


def test_in_a_register_of_one_branch_each_entry_follows_all_before_it() -> None:
    register = load_register(PUBLISHED)
    places = range(len(register.listed))
    assert len(register.first) < len(places)
    assert all(register.follows(at, earlier) == (earlier < at) for at in places for earlier in places)
