"""A released record is never replaced: the demo's are those of the project's history since they were last made."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
MADE = "65cb70b"
"""The commit that last made the demo's records; see DEVELOPERS, The demo's records."""
KEPT = ("instructions/*/released/*", "instructions/*/set-ups/*", "instructions/*/runs/*", "instructions/register.jsonl",
        "instructions/register/*", "instructions/keys/*", "tests/revisions/frozen/version-*")  # fmt: skip


def git(*words: str) -> str:
    done = subprocess.run(["git", "-C", str(ROOT), *words], capture_output=True, text=True, check=False)
    return done.stdout if done.returncode == 0 else ""


needs_history = pytest.mark.skipif(
    shutil.which("git") is None or not git("cat-file", "-t", MADE), reason="needs the project's history"
)


@needs_history
def test_every_record_ever_committed_since_is_there_byte_for_byte() -> None:
    """No commit since then changed, renamed or deleted a record, nor does the working tree."""
    pathspecs = [f":(glob){pattern}{'/**' if pattern.endswith('version-*') else ''}" for pattern in KEPT]
    changed = git(
        "log", "--format=%h", "--name-status", "--no-renames", "--diff-filter=MDT", f"{MADE}..HEAD", "--", *pathspecs
    )
    assert changed == ""
    assert git("diff", "--name-only", "--no-renames", "--diff-filter=MDT", "HEAD", "--", *pathspecs) == ""


@needs_history
def test_the_records_of_that_commit_are_there() -> None:
    """The comparison has something to compare: eight records, and the register that lists them."""
    names = git("ls-tree", "-r", "--name-only", MADE, "--", "instructions").split()
    records = [name for name in names if "/released/" in name]
    assert len(records) == 8
    for name in (*records, "instructions/register.jsonl"):
        assert git("rev-parse", f"{MADE}:{name}").strip() == git("hash-object", "--no-filters", name).strip(), name
