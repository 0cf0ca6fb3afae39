"""Propose, look, approve: by commands, on the files of a plant that releases in two steps."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
AUTHOR = ("--author", "welding engineer", "--reason", "first issue")
APPROVER = ("--approver", "quality lead")
FROM = ("--effective", "2027-01-01")


@pytest.fixture
def two_steps(workshop: Path) -> Path:
    """The workspace, whose plant releases in two steps."""
    path = workshop / "tables" / "plant.yaml"
    text = path.read_text("utf-8")
    revision = re.sub(r"^revision: \S+", "revision: Y", text, count=1, flags=re.MULTILINE)
    path.write_text(revision + "releases: in two steps\n", "utf-8")
    return workshop


def quantity(root: Path, old: int, new: int) -> None:
    path = root / "instructions" / "wo-1" / "order.yaml"
    text = path.read_text("utf-8")
    assert f"quantity: {old}\n" in text
    path.write_text(text.replace(f"quantity: {old}\n", f"quantity: {new}\n"), "utf-8")


def test_what_is_proposed_is_looked_at_and_released_by_its_digest(two_steps: Path, run: Run) -> None:
    refused = run("release", "wo-1", *AUTHOR, *FROM, *APPROVER)
    assert refused.status == 1
    assert "the plant releases in two steps, and no proposal of this order waits" in refused.errors
    answer = run("propose", "wo-1", *AUTHOR, *FROM)
    assert answer.status == 0
    digest = re.findall(r"--approver NAME --digest (\w{64})", answer.out)[0]
    assert "keep a copy of this line elsewhere: register 1:" in answer.out
    (listed,) = json.loads(run("proposals", "wo-1", "--json").out)
    assert (listed["packet_digest"], listed["author"], listed["changes"]) == (digest, "welding engineer", [])
    assert "a proposal waits, which is approved by its digest" in run("release", "wo-1", *APPROVER).errors
    assert "is not what was proposed: first issue" in (
        run("release", "wo-1", *APPROVER, "--digest", digest, "--reason", "another").errors
    )
    assert "are the same person" in run("release", "wo-1", "--approver", "Welding Engineer", "--digest", digest).errors
    assert run("release", "wo-1", *APPROVER, "--digest", digest[:12]).status == 0
    assert "author welding engineer; approver quality lead" in run("history", "wo-1").out
    assert "0 proposals wait for approval" in run("proposals").out
    assert (two_steps / "instructions" / "wo-1" / "released" / "A.json").exists()


def test_an_edit_after_the_proposal_is_refused_with_what_changed(two_steps: Path, run: Run) -> None:
    digest = re.findall(r"--digest (\w{64})", run("propose", "wo-1", *AUTHOR, *FROM).out)[0]
    assert "a proposal by welding engineer of " in run("check", "wo-1").out
    quantity(two_steps, 20, 21)
    answer = run("release", "wo-1", *APPROVER, "--digest", digest)
    assert answer.status == 1
    assert "the files have changed since it was proposed" in answer.errors
    assert "quantity 20 -> 21" in answer.errors
    assert "the files have changed since" in run("proposals").out
    assert "waits for approval, but the files have changed since" in run("check", "wo-1").out
    quantity(two_steps, 21, 20)
    assert run("release", "wo-1", *APPROVER, "--digest", digest).status == 0


def test_a_proposal_is_withdrawn(workshop: Path, run: Run) -> None:
    assert run("propose", "wo-1", *AUTHOR).status == 2
    assert run("propose", "wo-1", *AUTHOR, *FROM, "--withdraw").status == 2
    assert run("propose", "wo-1", *AUTHOR, *FROM).status == 0
    assert "it takes the place of what waited before: 1" in run("propose", "wo-1", *AUTHOR, *FROM).out
    assert "proposal  by welding engineer  " in run("register").out
    assert run("propose", "wo-1", *AUTHOR, "--withdraw").status == 0
    assert "0 proposals wait for approval" in run("proposals").out
    assert "no proposal of this order waits: give --author, --reason, --effective" in (
        run("release", "wo-1", *APPROVER).errors
    )
    assert run("release", "wo-1", *AUTHOR, *FROM, *APPROVER).status == 0
    assert len(list((workshop / "instructions" / "wo-1" / "proposed").iterdir())) == 1
