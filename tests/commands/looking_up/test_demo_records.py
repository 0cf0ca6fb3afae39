"""The demo's released records, shown as they are shipped: an auditor's questions answered by the built site alone."""

from __future__ import annotations

import html
import io
import json
import re
import shutil
from contextlib import redirect_stderr, redirect_stdout
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.plant.instruments import instrument_faults
from weld_packets.plant.orders import open_workspace
from weld_packets.plant.people import people_of
from weld_packets.revisions.records.record import Answered
from weld_packets.revisions.register.entries import SetUpEntry
from weld_packets.revisions.set_ups.record import read_set_up
from weld_packets.revisions.status.people import (
    OF_NONCONFORMITY,
    OF_RELEASE,
    OF_TABLES,
    OF_WITHDRAWAL,
    listing_problems,
)
from weld_packets.revisions.store.files import load_register
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).parents[3]
NOW = "1796079600"  # 2026-11-30, 23:00 UTC
FIRST, SECOND, THIRD = "lk-2041-service-module", "lk-2055-outdoor-column", "lk-2063-coastal-column"


def packets(root: Path, *words: str) -> tuple[int, str]:
    """Return the status of a command and what it prints."""
    said = io.StringIO()
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(said), redirect_stderr(said):
        patch.setenv("SOURCE_DATE_EPOCH", NOW)
        return main(["--root", str(root), *words]), said.getvalue()


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("demo") / "workspace"
    target.mkdir()
    for name in ("instructions", "tables", "site_overrides"):
        shutil.copytree(ROOT / name, target / name)
    shutil.copyfile(ROOT / "mkdocs.yml", target / "mkdocs.yml")
    status, said = packets(target, "build")
    assert status == 0, said
    return target


def words(path: Path) -> str:
    text = path.read_text("utf-8")
    body = text[text.index("<body") :]
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", body)))


def standing(workspace: Path, order: str) -> Any:
    text = (workspace / "site" / order / "assets" / "records.js").read_text("utf-8")
    return json.loads(text.removeprefix("window.packetRecords = "))


def in_force(data: Any, day: str) -> list[str]:
    past = [period for period in data["periods"] if period["since"] <= day]
    return [one["mark"] for one in past[-1]["inForce"]] if past else []


def test_records_chains_register_and_sites_are_as_they_were_made(workspace: Path) -> None:
    entries = load_register(workspace / "instructions").listed
    status, said = packets(workspace, "verify")
    assert status == 0, said
    assert f"compared {len(entries)} records of 2 orders, 3 sites: nothing differs" in said


DUTIES = {
    "release": OF_RELEASE, "approval": OF_TABLES, "withdrawal": OF_WITHDRAWAL, "nonconformity": OF_NONCONFORMITY
}  # fmt: skip


def test_whoever_made_a_record_is_on_the_list_of_responsible_people_and_may_do_it(workspace: Path) -> None:
    people = people_of(open_workspace(workspace))
    assert people is not None
    for entry in load_register(workspace / "instructions").listed:
        if isinstance(entry, SetUpEntry):
            continue  # from a cell: a setter needs no place on this list
        assert isinstance(entry, Answered)
        duties, day = DUTIES[entry.kind], date.fromisoformat(entry.at[:10])
        for name, acts in ((entry.author, duties.author), (entry.approver, duties.approver)):
            assert list(listing_problems(people, "", name, acts, day, stops=False)) == [], (entry.kind, entry.at)


def test_the_filed_set_up_is_of_a_setter_and_of_instruments_that_the_plant_knows(workspace: Path) -> None:
    tables = load_workspace(workspace).approved
    (file,) = (workspace / "instructions" / FIRST / "set-ups").iterdir()
    kept = read_set_up(file.read_bytes(), file.name)
    day = date.fromisoformat(kept.begun[:10])
    assert tables.people
    assert kept.qualification
    (named,) = (each for each in tables.people.entries if each.id == kept.qualification.number)
    assert named.process == "21"
    assert named.tested <= day <= named.valid_until
    assert kept.instruments
    assert list(instrument_faults(tables.instruments, kept.instruments, day)) == []
    assert kept.counters == ()  # so that what the next order starts from stays as it was planned


@pytest.mark.parametrize(
    ("author", "approver", "why"),
    [
        ("somebody", "quality lead", "somebody'\n    is not in the plant's list of responsible people"),
        ("welding engineer", "cell lead", "may not approve releases by the plant's list: withdraw alone"),
        ("quality lead", "quality manager", "may not author by the plant's list"),
    ],
)
def test_nobody_else_releases_an_order_of_the_demo(workspace: Path, author: str, approver: str, why: str) -> None:
    who = ("--author", author, "--approver", approver, "--reason", "first issue", "--effective", "2026-12-02")
    status, said = packets(workspace, "release", THIRD, *who)
    assert (status, why in said) == (1, True), said


def test_one_order_has_seven_revisions_one_six_and_one_is_a_draft(workspace: Path) -> None:
    statuses = {order: standing(workspace, order)["periods"][-1]["status"] for order in (FIRST, SECOND)}
    assert statuses == {
        FIRST: {
            "A": ["superseded", "B"],
            "B": ["withdrawn", ""],
            "C": ["superseded", "D"],
            "D": ["superseded", "E"],
            "E": ["superseded", "F"],
            "F": ["superseded", "G"],
            "G": ["in force", ""],
        },
        SECOND: {
            "A": ["superseded", "B"],
            "B": ["superseded", "C"],
            "C": ["superseded", "D"],
            "D": ["superseded", "E"],
            "E": ["superseded", "F"],
            "F": ["in force", ""],
        },
    }
    assert json.loads((workspace / "site" / THIRD / "card.json").read_text("utf-8"))["status"] == "draft"


@pytest.mark.parametrize(
    ("day", "marks"),
    [
        ("2026-10-25", []), ("2026-10-26", ["A"]), ("2026-11-05", ["B"]), ("2026-11-06", []), ("2026-11-09", []),
        ("2026-11-10", ["C"]), ("2026-11-28", ["C"]), ("2026-11-29", ["D"]), ("2026-11-30", ["E"]),
        ("2026-12-01", ["F"]), ("2026-12-02", ["G"]),
    ],
)  # fmt: skip
def test_what_was_in_force_on_a_date(workspace: Path, day: str, marks: list[str]) -> None:
    assert in_force(standing(workspace, FIRST), day) == marks


def test_who_approved_a_setting_and_why_it_changed(workspace: Path) -> None:
    history = words(workspace / "site" / FIRST / "history.html")
    found = re.search(r"Weld time .{0,80}?260 ms was 280 Rev B 2026-11-05 quality lead (.{0,260})", history)
    assert found is not None
    assert "Weld time of operation 4 corrected" in found[1]
    assert "table spot-uncoated rev B → C" in found[1]


def test_the_withdrawn_revision_s_nonconformity_names_the_one_that_has_the_spot_at_the_same_place(
    workspace: Path,
) -> None:
    history = words(workspace / "site" / FIRST / "history.html")
    found = re.search(r"NC-26-031: closed (.{0,900})", history)
    assert found is not None
    assert "Parts affected none made" in found[1]
    assert "revision A holds the same: operation 4, weld A07 at 280/28/0 mm" in found[1]
    assert "revision C holds none of it" in found[1]
    assert "NC-26-031" not in words(workspace / "site" / FIRST / "index.html")


def test_what_a_corrected_table_meant_for_the_settings_that_were_made_by_it(workspace: Path) -> None:
    page = words(workspace / "site" / "table-spot-uncoated.html")
    said = r"Weld time was 280.ms, now 260.ms, allowed 220 to 300.ms \(11 to 15.cycles at 50 Hz\): still inside"
    assert re.search(said, page)
    assert re.search(r"revision B Document and approval Table approved by welding engineer on 2026-09-14", page)


def test_which_orders_used_one_revision_of_a_table(workspace: Path) -> None:
    tables = (workspace / "site" / "tables.html").read_text("utf-8")
    uses = dict(re.findall(r'<details class="use" id="([^"]*)">(.*?)</details>', tables, re.DOTALL))
    assert re.findall(r">Rev ([A-Z])<", uses["spot-uncoated-B"]) == ["A"]
    assert FIRST in uses["spot-uncoated-B"]
    assert SECOND not in uses["spot-uncoated-B"]
    assert SECOND in uses["spot-uncoated-C"]


def test_no_record_rests_on_a_table_that_was_approved_after_it(workspace: Path) -> None:
    for path in sorted((workspace / "instructions").glob("*/released/*.json")):
        record = json.loads(path.read_bytes())
        late = [table for table in record["tables"] if table["approved_on"] > record["recorded_at"][:10]]
        assert late == [], path.name


def test_the_moved_spot_is_drawn_where_the_history_shows_it(workspace: Path) -> None:
    history = (workspace / "site" / FIRST / "history.html").read_text("utf-8")
    third = history[history.index('id="rev-c"') : history.index('id="rev-b"')]
    assert "A07 moved 20.0 mm" in third
    assert "weld A07 moved 20.0 mm" in third
