"""A register that is lost or spoilt is reported by every command and never taken for an empty one."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main

DEMO = Path(__file__).resolve().parents[3] / "instructions"
ORDER, OTHER = "lk-2041-service-module", "lk-2055-outdoor-column"


@dataclass(frozen=True)
class Answer:
    """What a command gave back."""

    status: int
    out: str
    errors: str


RunIn = Callable[..., Answer]
Verified = Callable[..., Answer]


@pytest.fixture
def run_in(capsys: pytest.CaptureFixture[str]) -> RunIn:
    """Runs ``packets`` with words on a plant."""

    def command(root: Path, *words: str) -> Answer:
        capsys.readouterr()
        status = main(["--root", str(root), *words])
        printed = capsys.readouterr()
        return Answer(status, printed.out, printed.err)

    return command


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
    entry = newest(released, ORDER, "release")
    data = entry.read_bytes()
    entry.write_bytes(data.replace(b'"author":"', b'"author":"chief '))
    answer = run("build", OTHER)
    assert answer.status == 1
    assert f"register/{entry.name}:\n    is altered or renamed" in answer.errors
    entry.write_bytes(data)
    assert "built 0, unchanged 1" in run("build", OTHER).out
    assert "built 0, unchanged 1" in run("build", OTHER).out


def test_a_register_that_cannot_be_read_says_nothing_of_websites(released: Path, run: Callable[..., Any]) -> None:
    assert run("build", ORDER).status == 0
    emptied(released / "instructions" / "register.jsonl")
    verified = run("verify")
    assert verified.status == 1
    first, note, *_, counts = verified.out.splitlines()
    assert first.startswith("register.jsonl:1: this line is not as the program writes it")
    assert note == "neither records nor websites were compared, since the register cannot be read"
    assert counts == "compared 0 records of 0 orders, 0 sites: 1 differ"
    assert "build it anew" not in verified.out


def newest(root: Path, name: str, kind: str) -> Path:
    """Return the file of the newest entry of a kind that a name has in the register."""
    entries = (root / "instructions" / "register").glob(f"{name}.*")
    return max(entry for entry in entries if f'"kind":"{kind}"'.encode() in entry.read_bytes())


def altered(path: Path) -> None:
    path.write_bytes(path.read_bytes().replace(b'"author":"', b'"author":"chief '))


@pytest.fixture(scope="module")
def built_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's records with the sites of its two released orders, and a draft that starts from one of them."""
    root = tmp_path_factory.mktemp("built") / "plant"
    for folder in ("instructions", "tables"):
        shutil.copytree(DEMO.parent / folder, root / folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", "1796126400")
        assert main(["--root", str(root), "build"]) == 0
    return root


@pytest.fixture
def verified(built_demo: Path, tmp_path: Path, run_in: RunIn) -> Verified:
    """Spoil the newest entry of a name and kind in a copy of the built demo, and return what verify says of it."""

    def spoilt(
        name: str, kind: str, spoil: Callable[[Path], None], change: Callable[[Path], None] = lambda _root: None
    ) -> Answer:
        root = Path(shutil.copytree(built_demo, tmp_path / "copied"))
        change(root)
        spoil(newest(root, name, kind))
        return run_in(root, "verify")

    return spoilt


@pytest.mark.parametrize("spoil", [altered, emptied, pipe])
def test_verify_compares_all_other_orders_where_an_entry_of_one_is_altered(
    verified: Verified, spoil: Callable[[Path], None]
) -> None:
    found = verified(ORDER, "release", spoil)
    assert found.status == 1
    first, *rest = found.out.splitlines()
    assert first.startswith(f"register/{ORDER}.20261130T230911Z-")
    assert (
        f"{ORDER}: neither its records nor its website were compared, since entries of it are missing or altered"
        in rest
    )
    assert rest[-1] == "compared 27 records of 1 order, 2 sites: 1 differ"
    assert "build it anew" not in found.out


def test_verify_still_finds_what_differs_in_another_order_where_an_entry_is_altered(verified: Verified) -> None:
    def edit(root: Path) -> None:
        page = root / "site" / OTHER / "rev-a" / "index.html"
        page.write_text(page.read_text("utf-8").replace("LK-2055", "LK-2056", 1), "utf-8")
        record = root / "instructions" / OTHER / "released" / "B.json"
        record.write_bytes(record.read_bytes().replace(b'"author":"', b'"author":"chief '))

    found = verified(ORDER, "release", altered, edit)
    assert f"{OTHER}/released/B.json: is altered" in found.out
    assert f"{OTHER}/rev-a/index.html: " in found.out
    assert found.out.count(f"{ORDER}/") == 0


def test_verify_names_the_record_whose_entry_is_gone_and_compares_all_other_orders(verified: Verified) -> None:
    found = verified(ORDER, "release", gone)
    assert found.status == 1
    follower, record, *rest = found.out.splitlines()
    assert "follows an entry that is missing or altered" in follower
    assert record == f"{ORDER}/released/G.json: is not in the register"
    assert rest[-1] == "compared 27 records of 1 order, 2 sites: 2 differ"


def test_an_entry_of_tables_that_is_altered_keeps_no_order_from_being_compared(verified: Verified) -> None:
    found = verified("tables", "approval", altered)
    assert found.status == 1
    assert found.out.splitlines()[-1] == "compared 27 records of 2 orders, 3 sites: 1 differ"


def test_verify_says_once_that_the_newest_entry_is_gone_since_websites_were_built(verified: Verified) -> None:
    found = verified(ORDER, "set-up", gone)
    assert found.status == 1
    said = f"the register: held 28 records when the website of {ORDER} was built, now 27; restore it from a copy"
    assert said in found.out
    assert found.out.count("the register: ") == 1
    assert f"{OTHER}/" not in found.out


def test_no_state_of_a_register_that_is_not_whole_is_printed_for_writing_down(
    built_demo: Path, tmp_path: Path, run_in: RunIn
) -> None:
    root = Path(shutil.copytree(built_demo, tmp_path / "copied"))
    before = run_in(root, "verify").out.splitlines()[-1]
    assert before.startswith("register 28:")
    altered(newest(root, ORDER, "release"))
    noted = run_in(root, "verify", "--known", before)
    assert "the register was not compared with lines noted earlier" in noted.out
    assert noted.out.splitlines()[-1].startswith("compared 27 records")
    assert json.loads(run_in(root, "verify", "--json").out)["register"] == ""


def test_nothing_is_built_while_an_entry_of_any_order_is_missing(
    built_demo: Path, tmp_path: Path, run_in: RunIn
) -> None:
    """Nobody can say of which order it is: it may be a withdrawal."""
    root = Path(shutil.copytree(built_demo, tmp_path / "copied"))
    gone(min((root / "instructions" / "register").glob("tables.*")))
    answer = run_in(root, "build", "--all")
    assert answer.status == 1
    assert "follows an entry that is missing or altered" in answer.errors
