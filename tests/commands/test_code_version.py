"""The commit of the code is stated where it can be known, and never taken from somebody else's repository."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from weld_packets.commands.shared.code_version import commit_of


def git(folder: Path, *words: str) -> str:
    who = ("-c", "user.name=t", "-c", "user.email=t@example.com")
    done = subprocess.run(["git", "-C", str(folder), *who, *words], capture_output=True, text=True, check=True)
    return done.stdout.strip()


@pytest.fixture
def package(tmp_path: Path) -> Path:
    """A package with one file, in a folder that is no repository yet."""
    package = tmp_path / "checkout" / "generator" / "weld_packets"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("x = 1\n")
    return package


def committed(package: Path) -> str:
    repository = package.parents[1]
    git(repository, "init", "-q")
    git(repository, "add", ".")
    git(repository, "commit", "-qm", "x")
    return git(repository, "rev-parse", "HEAD")


def test_a_checkout_names_its_commit(package: Path) -> None:
    commit = committed(package)
    assert commit_of(package) == commit
    (package.parents[1] / "order.yaml").write_text("beside the program")
    assert commit_of(package) == commit


@pytest.mark.parametrize("file", ["__init__.py", "new.py"])
def test_a_changed_or_new_file_of_the_program_is_reported(package: Path, file: str) -> None:
    commit = committed(package)
    (package / file).write_text("y = 2\n")
    assert commit_of(package) == f"{commit} with edits"


def test_a_wheel_names_the_commit_that_was_baked_into_it(package: Path) -> None:
    (package / "commit.txt").write_text("0123abc\n")
    assert commit_of(package) == "0123abc"


def test_without_a_repository_it_is_unknown(package: Path) -> None:
    assert commit_of(package) == "unknown"


def test_in_the_repository_of_something_else_it_is_unknown(package: Path) -> None:
    """As where the program is installed inside the folder of a plant that is under version control."""
    (package.parents[1] / ".gitignore").write_text("generator/\n")
    committed(package)
    assert commit_of(package) == "unknown"


def test_a_repository_named_in_the_environment_is_another_one(
    package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    commit = committed(package)
    git(tmp_path, "init", "-q", "other")
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "other" / ".git"))
    assert commit_of(package) == commit


def test_without_git_it_is_unknown(package: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    committed(package)
    monkeypatch.setenv("PATH", "")
    assert commit_of(package) == "unknown"
