"""Tables are approved by command; what is changed under an approval is refused by check and by release."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
BY = ("--author", "production engineer", "--by", "welding engineer", "--reason", "compared with its source")
IN_THE_REGISTER = "one person may release: no\napprovals: in the register"


def edit(root: Path, name: str, old: str, new: str) -> None:
    path = root / "tables" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


@pytest.fixture
def revision(workshop: Path) -> str:
    """The revision of the plant's table."""
    found = re.search(r"^revision: (\S+)", (workshop / "tables" / "plant.yaml").read_text("utf-8"), re.MULTILINE)
    assert found is not None
    return found[1]


def test_without_an_approver_it_shows_what_is_to_be_approved_and_records_nothing(workshop: Path, run: Run) -> None:
    answer = run("approve", "spot-uncoated")
    assert answer.status == 0
    assert "table spot-uncoated, revision E, " in answer.out
    assert "nothing of it is approved in the register yet" in answer.out
    assert "  title: " in answer.out
    assert "  source: " in answer.out
    assert "  holds: " in answer.out
    assert not (workshop / "instructions" / "register").exists()


def test_what_differs_from_the_last_approval_is_shown_value_by_value(workshop: Path, run: Run, revision: str) -> None:
    assert run("approve", "plant", *BY).status == 0
    edit(workshop, "plant.yaml", "fire watch: 60 min", "fire watch: 90 min")
    edit(workshop, "plant.yaml", f"revision: {revision}", "revision: Y")
    shown = run("approve", "plant").out
    assert f"  revision: {revision} -> Y\n" in shown
    assert "  fire watch: 60 min -> 90 min\n" in shown


def test_what_was_approved_last_and_is_lost_is_not_called_never_approved(
    workshop: Path, run: Run, revision: str
) -> None:
    assert run("approve", "plant", *BY).status == 0
    edit(workshop, "plant.yaml", f"revision: {revision}", "revision: Y")
    for kept in (workshop / "instructions" / "register" / "tables").iterdir():
        kept.unlink()
    shown = run("approve", "plant").out
    assert "Missing or altered" in shown
    assert "compare every value in its file with its source" in shown
    assert "  title: " in shown
    assert "nothing of it is approved" not in shown


def test_a_value_changed_under_an_approval_is_refused_by_check_and_release(
    workshop: Path, run: Run, revision: str, first_issue: tuple[str, ...]
) -> None:
    assert run("approve", "plant", *BY).status == 0
    edit(workshop, "plant.yaml", "fire watch: 60 min", "fire watch: 90 min")
    for words in (("check",), ("release", "wo-1", *first_issue)):
        answer = run(*words)
        assert answer.status == 1
        assert re.search(rf"tables/plant\.yaml:[0-9]+: revision = '{revision}'", answer.errors), answer.errors
        assert "does not hold what was approved by welding engineer on" in answer.errors
        assert "fire watch: 60 min -> 90 min" in answer.errors
        assert "packets approve plant" in answer.errors
    edit(workshop, "plant.yaml", f"revision: {revision}", "revision: Y")
    assert run("check").status == 0


def test_a_value_changed_under_a_released_revision_is_refused(
    workshop: Path, run: Run, first_issue: tuple[str, ...]
) -> None:
    assert run("release", "wo-1", *first_issue).status == 0
    edit(workshop, "plant.yaml", "fire watch: 60 min", "fire watch: 90 min")
    answer = run("check")
    assert answer.status == 1
    assert "does not hold what was released with wo-1, revision A: fire watch: 60 min -> 90 min" in answer.errors


def test_remarks_and_the_order_of_keys_are_no_content(workshop: Path, run: Run) -> None:
    assert run("approve", "--all", *BY).status == 0
    path = workshop / "tables" / "plant.yaml"
    text = path.read_text("utf-8").replace("shift length: 8 h\n", "")
    path.write_text("# another remark\n" + text + "\nshift length:    8 h\n", "utf-8")
    edit(workshop, "spot_uncoated.yaml", "date: 2026-11-29", "date: 2026-11-28")
    assert run("check").status == 0
    assert run("approve", "--all").status == 1


def test_an_approval_in_the_register_makes_that_in_the_file_unneeded(workshop: Path, run: Run) -> None:
    path = workshop / "tables" / "plant.yaml"
    path.write_text(re.sub(r"approved: .*\n", "", path.read_text("utf-8"), count=1), "utf-8")
    assert "cannot be released yet: table plant, " in run("check").out
    assert run("approve", "plant", *BY).status == 0
    assert "cannot be released yet" not in run("check").out


def test_an_approval_that_names_another_plant_does_not_count(workshop: Path, run: Run) -> None:
    edit(workshop, "plant.yaml", "approved: {", "approved: {plant: Another works, ")
    assert "cannot be released yet: table plant, " in run("check").out


def test_approvals_of_another_plant_s_register_do_not_count(
    workshop: Path, run: Run, first_issue: tuple[str, ...]
) -> None:
    edit(workshop, "plant.yaml", "one person may release: no", IN_THE_REGISTER)
    assert run("approve", "--all", *BY).status == 0
    assert "not approved" not in run("check").out
    edit(workshop, "plant.yaml", "name: Quillmere Locker Works", "name: Copied Works")
    answer = run("check")
    assert answer.status == 0
    assert re.search(r"wo-1: cannot be released yet: \d\d tables are not approved: ", answer.out)
    assert run("release", "wo-1", *first_issue).status == 1


def test_where_approvals_are_in_the_register_that_of_a_file_does_not_count(workshop: Path, run: Run) -> None:
    edit(workshop, "plant.yaml", "one person may release: no", IN_THE_REGISTER)
    assert re.search(r"tables are not approved: .*\bspot-uncoated,", run("check").out)


@pytest.mark.parametrize(
    ("words", "status", "why"),
    [
        ((), 2, "name tables, or give --all"),
        (("plant", "--all"), 2, "name tables, or give --all"),
        (("plan",), 1, "there is no such table"),
        (("plant", "--author", "a", "--by", "A", "--reason", "x"), 1, "the same person"),
        (("plant", "--by", "A"), 1, "name the author"),
        (("plant", "--by", "A", "--key", "k"), 2, "--key and --private go together"),
    ],
)
def test_what_cannot_be_approved_is_reported(run: Run, words: tuple[str, ...], status: int, why: str) -> None:
    answer = run("approve", *words)
    assert (answer.status, why in answer.errors) == (status, True), answer.errors


def test_the_register_lists_approvals(workshop: Path, run: Run, revision: str) -> None:
    assert run("approve", "plant", "caps", *BY).status == 0
    listed = run("register").out.splitlines()
    assert listed[0].startswith(f"plant {revision}, caps C  approval  by welding engineer  ")
    assert run("build").status == 0
    page = (workshop / "site" / "register.html").read_text("utf-8")
    assert f"plant revision {revision}, caps revision C" in page
    assert run("verify").status == 0
    shutil.rmtree(workshop / "instructions" / "register" / "tables")
    assert "is missing" in run("verify").out


def test_an_approval_is_on_the_table_s_page_though_no_order_changed(workshop: Path, run: Run, revision: str) -> None:
    run("build")
    assert not (workshop / "site" / "table-plant.html").exists()
    assert run("approve", "plant", *BY).status == 0
    assert "built 0, unchanged 1" in run("build").out
    page = (workshop / "site" / "table-plant.html").read_text("utf-8")
    assert f'<section class="use" id="revision-{revision}">' in page
    assert "production engineer answers for the values" in page
    shown = run("tables", "show", "plant")
    assert "  fire watch: 60 min\n" in shown.out.replace("    ", "  ")
    assert run("tables", "show", "plant", "--revision", "ZZ").errors.startswith("REVISION: 'ZZ'")
    assert "did you mean 'plant'?" in run("tables", "show", "plan").errors
    assert json.loads(run("tables", "show", "plant", "--json").out)["content"]["fire watch"] == "60 min"


def test_verify_says_as_a_release_does_where_a_table_holds_another_value_than_was_approved(
    workshop: Path, run: Run, revision: str
) -> None:
    assert run("approve", "plant", "caps", *BY).status == 0
    assert run("verify").status == 0
    edit(workshop, "plant.yaml", "shift length: 8 h", "shift length: 9 h")
    verified = run("verify")
    assert verified.status == 1
    (said,) = (line for line in verified.out.splitlines() if line.startswith("tables/"))
    assert re.fullmatch(
        rf"tables/plant\.yaml:\d+: table plant, revision {revision}, does not hold what was approved by [^:]*: "
        r"shift length: 8 h -> 9 h; take the change back, or raise the revision of the table and have it approved: "
        r"packets approve plant",
        said,
    )
    assert "1 differ" in verified.out


def test_verify_notes_that_tables_that_cannot_be_read_were_not_compared(workshop: Path, run: Run) -> None:
    edit(workshop, "plant.yaml", "shift length: 8 h", "shift length: eight")
    verified = run("verify")
    assert "tables were not compared, since they cannot be read: packets check says why" in verified.out
