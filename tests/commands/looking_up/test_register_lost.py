"""A register that is lost or spoilt is reported by every command and never taken for an empty one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

DEMO = Path(__file__).resolve().parents[3] / "instructions"
ORDER, OTHER = "lk-2041-service-module", "lk-2055-outdoor-column"


@pytest.fixture
def released(workshop: Path) -> Path:
    """The workshop with the demo's orders and records in place of its own order."""
    shutil.rmtree(workshop / "instructions")
    shutil.copytree(DEMO, workshop / "instructions")
    return workshop


def gone(path: Path) -> None:
    path.unlink()


def folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def link(path: Path) -> None:
    path.rename(path.with_suffix(".kept"))
    path.symlink_to(path.with_suffix(".kept"))


def marks(path: Path) -> None:
    text = path.read_text("utf-8")
    path.write_text(f"<<<<<<< HEAD\n{text}=======\n{text}>>>>>>> other\n", "utf-8")


def emptied(path: Path) -> None:
    path.write_text("", "utf-8")


SPOILT = [
    (gone, "is missing, while there are records"),
    (folder, "is not a plain file"),
    (pipe, "is not a plain file"),
    (link, "is a link"),
    (marks, "holds the marks of a merge"),
    (emptied, "is not as the program writes it"),
]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes")
@pytest.mark.parametrize(("spoil", "why"), SPOILT, ids=[spoil.__name__ for spoil, _ in SPOILT])
def test_every_command_shows_a_spoilt_register(
    released: Path, run: Callable[..., Any], first_issue: tuple[str, ...], spoil: Callable[[Path], None], why: str
) -> None:
    shutil.rmtree(released / "instructions" / "register", ignore_errors=True)
    spoil(released / "instructions" / "register.jsonl")
    for words in (
        ("history", ORDER),
        ("as-of", ORDER, "2026-11-29"),
        ("build", ORDER),
        ("register",),
        ("release", OTHER, *first_issue),
        ("withdraw", ORDER, "D", *first_issue),
    ):
        answer = run(*words)
        assert answer.status == 1, words
        assert why in answer.errors or (spoil is folder and "register.jsonl" in answer.errors), words
    found = run("verify")
    assert found.status == 1
    assert why in found.out
    assert not list((released / "instructions").glob("*/released/*.waiting"))


def test_a_site_that_was_current_is_not_unchanged_when_the_register_is_lost(
    released: Path, run: Callable[..., Any]
) -> None:
    assert run("build", ORDER).status == 0
    assert "unchanged 1" in run("build", ORDER).out
    (released / "instructions" / "register.jsonl").unlink()
    shutil.rmtree(released / "instructions" / "register", ignore_errors=True)
    answer = run("build", ORDER)
    assert answer.status == 1
    assert "never begin a new one" in answer.errors


def test_a_record_that_the_register_does_not_list_stops_its_order_alone(
    released: Path, run: Callable[..., Any]
) -> None:
    known = released / "instructions" / ORDER / "released"
    (known / "H.json").write_bytes((known / "G.json").read_bytes())
    answer = run("build", ORDER, OTHER)
    assert answer.status == 1
    assert f"{ORDER}/released/H.json:\n    is not in the register" in answer.errors
    assert answer.errors.endswith("1 problem\n")
    assert "built 1" in answer.out


def test_an_entry_that_was_edited_under_its_name_is_found_by_a_build_of_what_has_not_changed(
    released: Path, run: Callable[..., Any]
) -> None:
    assert run("build", OTHER).status == 0
    entry = next((released / "instructions" / "register").glob(f"{ORDER}.*"))
    data = entry.read_bytes()
    entry.write_bytes(data.replace(b'"author":"', b'"author":"chief '))
    answer = run("build", OTHER)
    assert answer.status == 1
    assert f"register/{entry.name}:\n    is altered or renamed" in answer.errors
    entry.write_bytes(data)
    assert "built 0, unchanged 1" in run("build", OTHER).out
    assert "built 0, unchanged 1" in run("build", OTHER).out


def test_a_register_that_cannot_be_read_says_nothing_of_websites(
    workshop: Path, run: Callable[..., Any], first_issue: tuple[str, ...]
) -> None:
    assert run("release", "wo-1", *first_issue).status == 0
    assert run("build").status == 0
    entry = next((workshop / "instructions" / "register").glob("wo-1.*"))
    entry.write_text(entry.read_text("utf-8") + " ", "utf-8")
    verified = run("verify")
    assert verified.status == 1
    first, note, *_, counts, _ = verified.out.splitlines()
    assert first.startswith("register/wo-1.")
    assert note == "neither records nor websites were compared, since the register cannot be read"
    assert counts == "compared 0 records of 0 orders, 0 sites: 1 differ"
    assert "build it anew" not in verified.out
