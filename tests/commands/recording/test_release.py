"""What a release puts into the record beside the packet, and what it refuses to freeze."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets import __version__
from weld_packets.commands.recording import release
from weld_packets.commands.shared.code_version import commit_of
from weld_packets.commands.shared.releasing import releasable


@pytest.fixture
def digest(run: Callable[..., Any]) -> str:
    """The digest of the packet, as `check` prints it."""
    return re.findall(r"digest (\w+)", run("check").out)[0]


def test_a_record_names_the_version_and_the_commit_of_the_code(
    workshop: Path, run: Callable[..., Any], digest: str, first_issue: tuple[str, ...]
) -> None:
    assert run("release", "wo-1", *first_issue, "--digest", digest).status == 0
    record = json.loads((workshop / "instructions" / "wo-1" / "released" / "A.json").read_bytes())
    assert record["code"] == {"version": __version__, "commit": commit_of()}
    assert f"  made by packets {__version__}, commit {commit_of()}\n" in run("history", "wo-1").out


def test_sources_that_change_while_the_packet_is_computed_are_not_frozen(
    workshop: Path, run: Callable[..., Any], digest: str, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    order = workshop / "instructions" / "wo-1" / "order.yaml"
    draft = releasable.draft

    def edited_meanwhile(*words: Any) -> Any:
        packet = draft(*words)
        order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 21"), "utf-8")
        return packet

    monkeypatch.setattr(releasable, "draft", edited_meanwhile)
    answer = run("release", "wo-1", *first_issue, "--digest", digest)
    assert answer.status == 1
    assert answer.errors.startswith("instructions/wo-1:\n    its sources changed while the packet was computed\n")
    assert not (order.parent / "released").exists()


def test_what_another_records_while_programs_are_compared_is_not_passed_by(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    other = workshop / "instructions" / "wo-2"
    shutil.copytree(workshop / "instructions" / "wo-1", other)
    (other / "order.yaml").write_text((other / "order.yaml").read_text("utf-8").replace("T-1", "T-2"), "utf-8")
    compared = release.compared_programs

    def recorded_meanwhile(*words: Any) -> Any:
        found = compared(*words)
        monkeypatch.setattr(release, "compared_programs", compared)
        assert run("release", "wo-2", *first_issue).status == 0
        return found

    monkeypatch.setattr(release, "compared_programs", recorded_meanwhile)
    answer = run("release", "wo-1", *first_issue)
    assert answer.status == 1
    assert "something was recorded while the packet was compared" in answer.errors
    assert "run the command again" in answer.errors
    assert not (workshop / "instructions" / "wo-1" / "released").exists()
    assert run("release", "wo-1", *first_issue).status == 0


def test_a_nonconformity_goes_from_the_withdrawal_to_its_closing(
    run: Callable[..., Any], digest: str, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796032800")  # 2026-11-30: the register's moments must not repeat
    who = (*first_issue[:4], "--reason", "cracks")
    run("release", "wo-1", *first_issue, "--digest", digest)
    lone = run("withdraw", "wo-1", "A", *who, "--effective", "2027-01-01", "--parts", "none made")
    wanted = "--parts, --containment, --cause, --corrective-action and --concerns go with --nonconformity"
    assert (lone.status, wanted in lone.errors) == (2, True)
    answer = run("withdraw", "wo-1", "A", *who, "--effective", "2027-01-01", "--nonconformity", "NC 7")
    assert "nonconformity NC 7: open, revision A at fault\n" in answer.out
    assert "  cause: none recorded\n  corrective action: none recorded\n" in answer.out
    assert json.loads(run("nonconformity", "list", "--json").out)[0]["parts"]["says"] == "not known yet"
    learnt = ("--cause", " a clamp was moved ", "--corrective-action", "its place is checked at each release")
    answer = run(
        "nonconformity", "record", "wo-1", "NC 7", "--parts", "none made", "--containment", "none", *learnt, *who
    )
    assert "  cause: a clamp was moved\n  corrective action: its place is checked at each release\n" in answer.out
    (found,) = json.loads(run("nonconformity", "list", "--json").out)
    assert (found["cause"], found["corrective_action"]) == ("a clamp was moved", "its place is checked at each release")
    assert "NC 7: closed" in run("nonconformity", "close", "wo-1", "NC 7", *who).out
    assert run("nonconformity", "list").out == "no nonconformity is open\n"
    assert "nonconformity NC 7: closed" in run("nonconformity", "list", "wo-1", "--all").out
    assert "  nonconformity NC 7: closed" in run("history", "wo-1").out
    (release_row, withdrawal_row) = json.loads(run("history", "wo-1", "--json").out)
    assert [each["number"] for each in release_row["nonconformities"]] == ["NC 7"]
    assert withdrawal_row["nonconformities"] == []
    assert "nonconformity NC 7 closed  by quality lead" in run("register").out


def test_a_closing_names_the_revision_that_corrected_it(
    workshop: Path, run: Callable[..., Any], digest: str, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796032800")  # 2026-11-30: the register's moments must not repeat
    who = (*first_issue[:4], "--reason", "cracks")
    known = ("--nonconformity", "NC 7", "--parts", "none made", "--containment", "none", "--cause", "not known")
    run("release", "wo-1", *first_issue, "--digest", digest)
    run("withdraw", "wo-1", "A", *who, "--effective", "2026-11-30", *known)
    refused = run("nonconformity", "close", "wo-1", "NC 7", "--corrected-by", "B", *who)
    assert (refused.status, "is not a revision that was released after A" in refused.errors) == (1, True)
    order = workshop / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 21"), "utf-8")
    changed = next(line for line in run("check", "wo-1").out.splitlines() if "digest" in line).split()[-1]
    assert run("release", "wo-1", *first_issue, "--digest", changed).status == 0
    refused = run("nonconformity", "close", "wo-1", "NC 7", "--corrected-by", "A", *who)
    assert (refused.status, "name one of: B" in refused.errors) == (1, True)
    closed = run("nonconformity", "close", "wo-1", "NC 7", "--corrected-by", "B", *who)
    assert "  corrected by revision B\n" in closed.out
    assert json.loads(run("nonconformity", "list", "--all", "--json").out)[0]["corrected_by"] == ["B"]
    found = run("nonconformity", "record", "wo-1", "NC 7", "--cause", "a clamp was moved", *who).out
    assert "nonconformity NC 7: closed, revision A at fault\n" in found
    assert "  cause: a clamp was moved\n" in found
    assert "  added to 2026-11-30T10:00:00Z by welding engineer, approved by quality lead: cracks\n" in found


def test_as_of_says_until_when_on_a_day_a_revision_was_in_force(
    run: Callable[..., Any], digest: str, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    who = (*first_issue[:4], "--reason", "cracks")
    run("release", "wo-1", *first_issue, "--digest", digest)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1798882200")  # 2027-01-02, 09:30 UTC
    assert run("withdraw", "wo-1", "A", *who, "--effective", "2027-01-02").status == 0
    said = run("as-of", "wo-1", "2027-01-02").out.splitlines()
    assert [line.partition(" (")[0] for line in said] == [
        "no revision of wo-1 was in force on 2027-01-02 from 09:30",
        "for a part of that day: revision A until 09:30",
    ]
    assert run("as-of", "wo-1", "2027-01-03").out == "no revision of wo-1 was in force on 2027-01-03\n"


def test_what_was_in_force_is_not_answered_from_an_altered_record(
    workshop: Path, run: Callable[..., Any], digest: str, first_issue: tuple[str, ...]
) -> None:
    released = run("release", "wo-1", *first_issue, "--digest", digest)
    assert released.status == 0, released.errors
    assert "wo-1 revision A released: instructions/wo-1/released/A.json, record " in released.out
    assert run("as-of", "wo-1", "2027-01-02").status == 0
    record = workshop / "instructions" / "wo-1" / "released" / "A.json"
    record.write_bytes(record.read_bytes().replace(b"first issue", b"other issue"))
    answer = run("as-of", "wo-1", "2027-01-02")
    assert (answer.status, "is altered since its release" in answer.errors) == (1, True)


def test_who_sets_a_withdrawal_aside_reads_that_its_revision_may_be_used_again(
    workshop: Path, run: Callable[..., Any], digest: str, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796032800")  # 2026-11-30
    run("release", "wo-1", *first_issue, "--digest", digest)
    shutil.copytree(workshop, branch := workshop.with_name("branch"))
    assert run("--root", str(branch), "withdraw", "wo-1", "A", *first_issue).status == 0
    order = workshop / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 21"), "utf-8")
    assert run("release", "wo-1", *first_issue).status == 0
    shutil.copytree(branch / "instructions" / "register", workshop / "instructions" / "register", dirs_exist_ok=True)
    shutil.copy(branch / "instructions/wo-1/released/A.withdrawn.json", workshop / "instructions/wo-1/released")
    withdrawal = next(line for line in run("register").out.splitlines() if "withdrawal" in line)
    aside = run("set-aside", "wo-1", withdrawal[:14], *first_issue[:6])
    assert "revision A is not withdrawn any more; if it must not be used: packets withdraw wo-1 A\n" in aside.out
    assert run("withdraw", "wo-1", "A", *first_issue).status == 0


def on_two_branches(workshop: Path, tmp_path: Path, *acts: Callable[[], Any]) -> None:
    """Do each act from the same beginning, then put together what they added, as git merges it."""
    instructions = workshop / "instructions"
    shutil.copytree(instructions, tmp_path / "before")
    for number, act in enumerate(acts):
        shutil.rmtree(instructions)
        shutil.copytree(tmp_path / "before", instructions)
        assert act().status == 0
        shutil.copytree(instructions, tmp_path / f"branch-{number}")
    for number in reversed(range(len(acts))):
        shutil.copytree(tmp_path / f"branch-{number}", instructions, dirs_exist_ok=True)


def test_a_number_that_two_branches_opened_is_named_by_every_command_that_lists_it(
    workshop: Path, run: Callable[..., Any], tmp_path: Path, first_issue: tuple[str, ...]
) -> None:
    run("release", "wo-1", *first_issue)
    opened = ("nonconformity", "record", "wo-1", "NC 7", "--revision", "A", *first_issue[:6])
    on_two_branches(
        workshop,
        tmp_path,
        lambda: run(*opened, "--parts", "part 1 to 4"),
        lambda: run(*opened, "--parts", "part 1 to 12"),
    )
    both = re.compile(r"parts affected: parts 1 to (4|12)")
    for words in (("nonconformity", "list"), ("history", "wo-1")):
        printed = run(*words).out
        assert set(both.findall(printed)) == {"4", "12"}
        assert "not settled: record it anew with what counts, stating --parts" in printed
    assert "wo-1: nonconformity NC 7 was recorded on two branches" in run("check").out
    verified = run("verify")
    assert verified.status == 1
    assert "wo-1: nonconformity NC 7 was recorded on two branches" in verified.out
    (found,) = json.loads(run("nonconformity", "list", "--json").out)
    assert len(found["recorded_on_other_branches"]) == 1
    assert run(*opened, "--parts", "part 1 to 12").status == 0
    assert run("verify").status == 0
    assert json.loads(run("nonconformity", "list", "--json").out)[0]["recorded_on_other_branches"] == []


def test_an_order_released_on_two_branches_hides_nothing_of_the_others(
    workshop: Path, run: Callable[..., Any], tmp_path: Path, first_issue: tuple[str, ...]
) -> None:
    other = workshop / "instructions" / "wo-2"
    shutil.copytree(workshop / "instructions" / "wo-1", other)
    (other / "order.yaml").write_text((other / "order.yaml").read_text("utf-8").replace("T-1", "T-2"), "utf-8")
    assert run("release", "wo-2", *first_issue).status == 0
    on_two_branches(
        workshop,
        tmp_path,
        lambda: run("release", "wo-1", *first_issue),
        lambda: run("release", "wo-1", *first_issue[:4], "--reason", "another", *first_issue[6:]),
    )
    checked = run("check")
    assert (checked.status, "wo-2: OK" in checked.out) == (1, True)
    used = run("where-used", "spot-uncoated")
    assert (used.status, used.out[:18], "wo-1" in used.out) == (1, "wo-2, revision A (", False)
    for answer in (checked, used):
        assert "wo-1/released:\n    two branches each made a record in one place: revision A" in answer.errors
        assert "packets set-aside ORDER DIGEST" in answer.errors
    shown = run("tables", "show", "spot-uncoated")
    assert (shown.status, "used by wo-2, revision A" in shown.out) == (0, True)
    assert run("release", "wo-2", *first_issue).errors.count("nothing has changed since revision A") == 1
