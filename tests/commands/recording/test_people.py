"""The plant's list of responsible people holds for release, approval and withdrawal, and nobody lets themselves in."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
WHO = ("--author", "ANNA  example", "--approver", "Ben Example", "--reason", "first issue", "--effective", "2027-01-01")
BY = ("--author", "Anna Example", "--by", "Ben Example", "--reason", "read")
LIST = """\
table: responsible
kind: responsible people
title: Who may author, approve and withdraw
source: Organisation chart of the plant
revision: A
approved: {by: Ben Example, date: 2026-11-29}
entries:
  - {name: Anna Example, role: welding engineer, may: [author]}
  - {name: Ben Example, role: quality lead, may: [approve releases, approve tables, withdraw], valid until: 2199-12-31}
"""


@pytest.fixture
def people(workshop: Path) -> Path:
    """The file of the plant's list."""
    path = workshop / "tables" / "responsible.yaml"
    path.write_text(LIST, "utf-8")
    return path


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def test_a_plant_without_a_list_says_what_that_means(people: Path, run: Run) -> None:
    people.unlink()
    assert "plant: it has no list of responsible people, so that any two names may release" in run("check").out


def test_a_listed_author_and_a_listed_approver_release_under_the_names_of_the_list(people: Path, run: Run) -> None:
    assert people.exists()
    assert "no list of responsible people" not in run("check").out
    assert run("release", "wo-1", *WHO).status == 0
    assert "author Anna Example; approver Ben Example" in run("history", "wo-1").out


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--approver", "Somebody"), "is not in the plant's list of responsible people, tables/responsible.yaml"),
        (("--approver", "Anna Example"), "may not approve releases by the plant's list: author alone"),
        (("--author", "Ben Example"), "may not author by the plant's list"),
    ],
)
def test_another_name_is_refused_with_who_may(people: Path, run: Run, words: tuple[str, str], why: str) -> None:
    assert people.exists()
    answer = run("release", "wo-1", *WHO, *words)
    assert answer.status == 1
    assert why in answer.errors
    assert "Example; or change the list and have it approved" in answer.errors


def test_a_list_that_is_not_approved_bars_releases_and_the_one_before_it_says_who_approves_it(
    people: Path, run: Run
) -> None:
    change(people, "approved: {by: Ben Example, date: 2026-11-29}\n", "")
    assert "plant: nothing can be released yet: the list of responsible people is not approved" in run("check").out
    assert "the list of responsible people is not approved" in run("release", "wo-1", *WHO).errors
    assert run("approve", "responsible", *BY).status == 0
    assert run("release", "wo-1", *WHO).status == 0
    change(people, "revision: A", "revision: B")
    change(people, "may: [author]", "may: [author, approve tables, withdraw]")
    alone = ("--author", "Ben Example", "--by", "Anna Example", "--reason", "read")
    answer = run("approve", "responsible", *alone)
    assert answer.status == 1
    assert "may not approve tables by the plant's list: author alone" in answer.errors
    answer = run("withdraw", "wo-1", "A", *WHO, "--approver", "Anna Example")
    assert answer.status == 1
    assert "may not withdraw by the plant's list" in answer.errors
    assert run("withdraw", "wo-1", "A", *WHO).status == 0
    assert run("approve", "responsible", *BY).status == 0


def test_an_approved_list_that_is_taken_away_still_counts(people: Path, run: Run) -> None:
    assert run("approve", "responsible", *BY).status == 0
    people.unlink()
    answer = run("release", "wo-1", *WHO)
    assert answer.status == 1
    assert "the list of responsible people that the plant approved has no file any more" in answer.errors
    assert (
        "is not in the plant's list" in run("approve", "plant", "--author", "a", "--by", "b", "--reason", "read").errors
    )


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("name: Ben Example", "name: ANNA example", "means the same person as 'Anna Example'"),
        ("may: [author]", "may: [approve tables]", "nobody of the list may author"),
        ("valid until: 2199-12-31", "valid from: 2026-02-02, valid until: 2026-02-01", "is before the first day"),
        ("may: [author]", "may: [author], key: ben}\n  - {name: C, role: d, may: [author], key: ben", "is the key of"),
    ],
)
def test_a_list_that_contradicts_itself_is_refused(people: Path, run: Run, old: str, new: str, why: str) -> None:
    change(people, old, new)
    answer = run("check")
    assert answer.status == 1
    assert why in answer.errors
    assert "tables/responsible.yaml:" in answer.errors


def test_a_second_list_is_refused(people: Path, run: Run) -> None:
    other = LIST.replace("table: responsible", "table: others")
    people.with_name("others.yaml").write_text(other, "utf-8")
    assert "is already the table of this kind" in run("check").errors


def test_author_and_approver_each_sign_with_their_own_key_where_the_plant_says_so(
    people: Path, run: Run, tmp_path: Path
) -> None:
    change(people, "may: [author]", "may: [author], key: anna")
    change(people, "may: [approve releases,", "key: ben, may: [approve releases,")
    plant = people.with_name("plant.yaml")
    change(plant, "one person may release: no", "releases: in two steps\nsignatures: required")
    lines = []
    for name in ("anna", "ben"):
        out = run("key", name, "--private", str(tmp_path / f"{name}.pem")).out
        lines.append(re.findall(r"keep a copy of this line elsewhere: (key \w+ \w{64})", out)[0])

    def with_key(name: str) -> tuple[str, ...]:
        return ("--key", name, "--private", str(tmp_path / f"{name}.pem"))

    proposal = ("propose", "wo-1", "--author", "Anna Example", "--reason", "first issue", "--effective", "2027-01-01")
    assert "the plant requires a signature" in run(*proposal).errors
    assert "is not the key of Anna Example" in run(*proposal, *with_key("ben")).errors
    digest = re.findall(r"--digest (\w{64})", run(*proposal, *with_key("anna")).out)[0]
    answer = ("release", "wo-1", "--approver", "Ben Example", "--digest", digest)
    assert "is not the key of Ben Example" in run(*answer, *with_key("anna")).errors
    assert run(*answer, *with_key("ben")).status == 0
    names = ("--author", "Anna Example", "--approver", "Ben Example")
    opened = ("nonconformity", "record", "wo-1", "NC-1", "--revision", "A", *names, "--reason", "cracks")
    assert "the plant requires a signature" in run(*opened).errors
    assert "by Anna Example, approved by Ben Example, signed with ben" in run(*opened, *with_key("ben")).out
    listed = run("register").out
    assert all(line in listed for line in lines)
    known = [
        word for line in listed.splitlines() if line in lines or line[:9] == "register " for word in ("--known", line)
    ]
    assert len(known) == 6
    verified = run("verify", *known)
    assert (verified.status, "not compared with any line noted" in verified.out) == (0, False)
    assert "not compared with any line noted earlier (--known)" in run("verify").out


MALLORY = ("--author", "Anna Example", "--approver", "Mallory", "--reason", "r", "--effective", "2027-01-01")


def renamed_table(people: Path) -> None:
    change(people, "table: responsible", "table: others")


def renamed_plant(people: Path) -> None:
    plant = people.with_name("plant.yaml")
    plant.write_text(re.sub(r"(?m)^(name: .*)$", r"\1 (new)", plant.read_text("utf-8"), count=1), "utf-8")
    change(people, "revision: A", "revision: B")


def approved_by_itself(people: Path) -> None:
    change(people, "revision: A", "revision: B")


@pytest.mark.parametrize("how", [renamed_table, renamed_plant, approved_by_itself])
def test_nobody_comes_in_by_another_name_of_table_or_plant_or_by_the_files_own_word(
    people: Path, run: Run, how: Callable[[Path], None]
) -> None:
    assert run("approve", "responsible", *BY).status == 0
    change(people, "name: Ben Example, role", "name: Mallory, role")
    how(people)
    name = "others" if how is renamed_table else "responsible"
    answer = run("approve", name, "--author", "Anna Example", "--by", "Mallory", "--reason", "read")
    assert answer.status == 1
    assert "is not in the plant's list of responsible people, tables, as approved last" in answer.errors
    answer = run("release", "wo-1", *MALLORY)
    assert answer.status == 1
    assert "the list of responsible people is not approved" in answer.errors
    assert run("approve", name, *BY).status == 0
    assert run("release", "wo-1", *MALLORY).status == 0


def test_an_older_list_that_was_approved_lets_nobody_back_in(people: Path, run: Run) -> None:
    assert run("approve", "responsible", *BY).status == 0
    old = people.read_text("utf-8")
    change(people, "revision: A", "revision: B")
    change(people, "name: Ben Example, role", "name: Carl Example, role")
    assert run("approve", "responsible", *BY).status == 0
    people.write_text(old, "utf-8")
    answer = run("release", "wo-1", *WHO)
    assert answer.status == 1
    assert "the list of responsible people is not approved" in answer.errors


def test_a_list_whose_content_is_gone_refuses_all_but_a_withdrawal(people: Path, run: Run) -> None:
    assert run("approve", "responsible", *BY).status == 0
    assert run("release", "wo-1", *WHO).status == 0
    kept = (people.parents[1] / "instructions" / "register" / "tables").glob("*.json")
    next(path for path in kept if b'"kind":"responsible people"' in path.read_bytes()).unlink()
    people.unlink()
    strangers = ("--author", "x", "--approver", "y", "--reason", "r")
    for words in (
        ("release", "wo-1", *strangers, "--effective", "2027-01-01"),
        ("approve", "plant", "--author", "x", "--by", "y", "--reason", "r"),
        ("nonconformity", "record", "wo-1", "NC-1", "--revision", "A", *strangers),
    ):
        answer = run(*words)
        assert answer.status == 1, words
        assert "may be the list of responsible people that counts" in answer.errors, words
    assert "no list of responsible people" not in run("check").out
    assert run("withdraw", "wo-1", "A", *strangers, "--effective", "2027-01-01").status == 0
