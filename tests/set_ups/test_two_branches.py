"""Records from the cells that two branches of a plant's repository filed, merged."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.revisions.queries.set_ups import set_ups_of
from weld_packets.revisions.records.canonical import sha256, short
from weld_packets.revisions.store.files import open_archive

Form = dict[str, Any]
Merged = Callable[[Form, Form], Any]
LATER = datetime(2026, 12, 21, 12, tzinfo=UTC)
WHY = ("--reason", "the later one is whole")


@pytest.fixture
def merged(plant: Any, copied: Callable[[Path, Path], Any], tmp_path: Path) -> Merged:
    """Files a record on a branch of its own, another one here a day later, and merges: our file of two stays."""

    def branches(theirs: Form, ours: Form) -> Any:
        other = copied(plant.root, tmp_path / "branch")
        assert other.add(theirs).status == 0
        answer = plant.run("records", "add", plant.write(ours), now=LATER)
        assert answer.status == 0, answer.errors
        for path in sorted((other.root / "instructions").rglob("*.json")):
            target = plant.root / path.relative_to(other.root)
            if not target.exists():
                target.parent.mkdir(exist_ok=True)
                shutil.copyfile(path, target)
        return plant

    return branches


def filed(plant: Any) -> Any:
    return set_ups_of(open_archive(plant.root / "instructions"), "wo-1")


def test_a_record_that_two_branches_filed_counts_once(plant: Any, merged: Merged) -> None:
    form = plant.set_up()
    merged(form, form)
    assert len(filed(plant).filed) == 1
    assert {len(series.points) for series in filed(plant).series} == {1}
    assert plant.run("records", "list").out.count(form["id"]) == 1
    assert plant.run("verify", now=LATER).status == 0


def test_of_two_records_of_one_set_up_none_counts_until_one_is_set_aside(plant: Any, merged: Merged) -> None:
    form = plant.set_up()
    merged(form, {**form, "lots": [{"what": "electrode caps", "lot": "L-8"}]})
    path = plant.root / "instructions" / "wo-1" / "set-ups" / f"{form['id']}.json"
    ours = sha256(path.read_bytes())
    register = open_archive(plant.root / "instructions").register
    (theirs,) = {each.file_digest for each in register.filed_from_cells("wo-1")} - {ours}
    said = plant.run("verify", now=LATER)
    assert "two branches each filed another record of this set-up" in said.out
    assert short(ours) in said.out
    assert short(theirs) in said.out
    for words in (("records", "list"), ("records", "add", plant.write(plant.set_up(1))), ("build",)):
        answer = plant.run(*words, now=LATER)
        assert answer.status == 1
        assert "packets set-aside ORDER DIGEST" in answer.errors
    assert "name one of: " in plant.run("set-aside", "wo-1", "0" * 12, *plant.named, *WHY, now=LATER).errors
    answer = plant.run("set-aside", "wo-1", short(theirs), *plant.named, *WHY, now=LATER)
    assert answer.status == 0, answer.errors
    assert [each.entry.file_digest for each in filed(plant).filed] == [ours]
    assert f"{short(theirs)}  wo-1  A  set-up" in plant.run("register").out
    assert plant.run("register").out.count("  set aside\n") == 1
    assert plant.run("records", "add", plant.write(plant.set_up(1)), now=LATER).status == 0
    assert plant.run("build", now=LATER).status == 0
    assert plant.run("verify", now=LATER).status == 0
    assert "set aside" in (plant.root / "site" / "register.html").read_text("utf-8")


def test_the_record_that_is_set_aside_is_not_filed_again(plant: Any, merged: Merged) -> None:
    form = plant.set_up()
    merged(form, {**form, "lots": []})
    register = open_archive(plant.root / "instructions").register
    path = plant.root / "instructions" / "wo-1" / "set-ups" / f"{form['id']}.json"
    theirs = next(each for each in register.filed_from_cells("wo-1") if each.file_digest != sha256(path.read_bytes()))
    plant.run("set-aside", "wo-1", theirs.file_digest, *plant.named, *WHY, now=LATER)
    answer = plant.run("records", "add", plant.write(form), now=LATER)
    assert answer.status == 1
    assert "another record of this set-up is filed" in answer.errors
    assert json.loads(path.read_bytes())["lots"] == []
