"""A page for each table: whole, with its approval, what changed and what that meant."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from dataclasses import asdict, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.table_changes import SettingUnderChange, TableChange
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.register.filed import filed
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import Release, Signatures
from weld_packets.revisions.status.table_contents import TableContent
from weld_packets.revisions.store.approving import TableApproval, record_approval
from weld_packets.revisions.store.releasing import record_release
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.pages.all_orders.table_pages import Users, columns_of, table_pages
from weld_packets.site.pages.revision_pages import plan_released_site

ROWS = [{"over": "1.0 mm", "weld time": "11 cycles"}, {"over": "1.2 mm", "weld time": "14 cycles", "cap": "6 mm"}]
NO_CARD: dict[str, Any] = {"order": "PL-2041", "table_changes": []}
CARD: dict[str, Any] = {
    **dict.fromkeys(("title", "revision", "summary", "review", "good_until"), ""),
    **{name: [] for name in ("facts", "words", "cells", "qualified", "programs")},
    "order": "PL-2041",
    "status": "draft",
    "steady": ["", ""],
    "zone": "UTC",
}


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


def by(day: int) -> Signatures:
    return Signatures(
        author="setter of tables",
        approver="welding engineer",
        reason="read against the standard",
        effective=Effective(kind="date", start="2026-10-05"),
        recorded=datetime(2026, 10, day, 8, 0, tzinfo=UTC),
        code=Code(version="0.2.0", commit="0" * 40),
    )


def content(revision: str, weld_time: str, **more: Any) -> TableContent:
    rows = [{**ROWS[0], "weld time": weld_time}, ROWS[1]]
    tree = {"table": "spot-lc", "title": "Uncoated <b>", "source": "ISO 14373", "revision": revision, "rows": rows}
    return TableContent("spot-lc", revision, {**tree, **more}, "tables/spot_lc.yaml", "1" * 64)


def page(plant: Any, cards: dict[str, Any] | None = None) -> str:
    archive = plant.archive()
    users = Users()
    for slug, card in (cards or {}).items():
        users.add(slug, card)
    return table_pages(archive.register, users, archive.read)["table-spot-lc.html"]


def section(text: str, revision: str) -> str:
    found = re.search(rf'<section class="use" id="revision-{revision}">(.*?)</section>', text, re.DOTALL)
    assert found is not None
    return found[1]


def test_a_table_is_shown_whole_with_approval_document_and_difference(plant: Any) -> None:
    extra = {
        "document": {"issue": "second edition", "date": "2015", "copy": "folder 12"},
        "transcribed": {"by": "P. Ode", "date": "2026-10-01"},
        "checked": {"by": "R. Ilm", "date": "2026-10-02"},
        "notes": ["read twice"],
        "coatings": ["none"],
        "limits": {"pitch": "20 mm"},
    }
    plant.release(plant.packet, 5)
    record_approval(plant.instructions, TableApproval("Works", (content("5", "13 cycles"),), by(6)))
    record_approval(plant.instructions, TableApproval("Works", (content("6", "11 cycles", **extra),), by(7)))
    shown = page(plant)
    newest = words(section(shown, "6"))
    for said in (
        "Title Uncoated <b>", "Source ISO 14373", "second edition, 2015; copy kept: folder 12",
        "Transcribed by P. Ode, 2026-10-01", "Checked by R. Ilm, 2026-10-02",
        "Table approved by welding engineer; setter of tables answers for the values; 2026-10-07 08:00 UTC: read",
        "rows, item 1 (over 1.0 mm), weld time: 13 cycles → 11 cycles", "over weld time cap", "1.2 mm 14 cycles 6 mm",
        "limits pitch: 20 mm", "coatings none", "read twice", "No released revision",
    ):  # fmt: skip
        assert said in newest, said
    assert "Difference from revision 4" in words(section(shown, "5"))
    assert "what one of the two held is not kept" in words(section(shown, "5"))
    oldest = words(section(shown, "4"))
    assert "pl-2041 Rev A, effective from 2026-10-05" in oldest
    kept = (
        "before the register kept what tables hold, which it does since 2026-10-06 08:00 UTC. The rows that were used"
    )
    assert f"Not kept: it was released {kept}" in oldest
    assert re.findall(r'id="revision-(\w+)"', shown) == ["6", "5", "4"]


def test_the_first_columns_of_a_table_are_those_by_which_a_row_is_known() -> None:
    assert columns_of([{"may": ["author"], "name": "A. Roth", "role": "welding"}]) == ["name", "may", "role"]
    band = {"force from": 1, "over": 1, "up to": 2}
    assert columns_of([band, {"note": "x"}]) == ["over", "up to", "force from", "note"]
    assert columns_of(["no row"]) is None


def test_what_is_not_there_as_it_was_kept_is_not_called_never_kept(plant: Any) -> None:
    record_approval(plant.instructions, TableApproval("Works", (content("5", "13 cycles"),), by(6)))
    for file in (plant.instructions / "register" / "tables").iterdir():
        file.write_text("{}")
    shown = words(section(page(plant), "5"))
    assert "Missing or altered: what it held was kept under its digest" in shown
    assert "Not kept" not in shown


def test_nobody_is_said_to_have_checked_what_no_approval_says(plant: Any) -> None:
    plant.release(plant.packet, 5)
    (entry,) = plant.archive().register.entries
    held = canonical(content("4", "13 cycles").content)
    entry = entry.model_copy(update={"tables": (("spot-lc", "4"),), "contents": (sha256(held),)})
    pages = table_pages(Register(filed=(filed(entry, ()),)), Users(), lambda *_: held)
    shown = words(section(pages["table-spot-lc.html"], "4"))
    assert "Transcribed by not stated Checked by not stated Table approved" in shown


def test_it_says_whose_settings_a_change_touched(plant: Any) -> None:
    plant.release(plant.packet, 5)
    outside = SettingUnderChange("operation 1", "Weld time", "280 ms", "260 ms", "220 to 270 ms", inside=False)
    change = TableChange("spot-lc", "4", "5", "A", "B", (outside,), 3)
    data = {**asdict(change), "settings": [{"says": str(outside), "inside": False}]}
    shown = section(page(plant, {"pl-2041": NO_CARD | {"table_changes": [data]}}), "4")
    assert (
        "<b>operation 1: Weld time was 280 ms, now 260 ms, allowed 220 to 270 ms: OUTSIDE the corrected range</b>"
        in shown
    )
    assert "PL-2041 : Rev A used revision 4, Rev B uses revision 5" in words(shown)
    assert "3 settings read from it with the same value" in shown
    assert "PL-2041 Rev A , effective from 2026-10-05" in words(shown)


def test_a_site_s_card_carries_what_each_new_revision_of_a_table_meant(module_plant: Any) -> None:
    (change,) = plan_released_site(module_plant.history(20)).card.table_changes
    assert (change.table, change.before, change.after, change.of_before, change.of_after) == (
        "spot-lc",
        "4",
        "5",
        "A",
        "B",
    )
    assert [setting.was for setting in change.settings] == ["8.4\N{NO-BREAK SPACE}kA"] * 2


def test_two_contents_under_one_revision_are_called_a_fault(plant: Any) -> None:
    packet: Packet = plant.packet
    for day, time in ((5, "11 cycles"), (6, "13 cycles")):
        head = packet.head.model_copy(update={"title": f"day {day}"})
        wanted = Release(
            packet.model_copy(update={"head": head}), (), by(day), contents={"spot-lc": content("4", time)}
        )
        effective = Effective(kind="date", start=f"2026-10-{day:02}")
        record_release(plant.instructions, replace(wanted, by=replace(wanted.by, effective=effective)))
    assert "This revision had more than one content." in section(page(plant), "4")


@pytest.fixture
def lists(plant: Any, tmp_path: Path) -> Callable[..., None]:
    """Return what writes the pages over all orders, of a plant with one release."""
    plant.release(plant.packet, 5)

    def write(sources: str, cards: dict[str, Any] | None = None) -> None:
        archive = plant.archive()
        write_lists(
            tmp_path, gathered(cards or {}), archive.register, date(2026, 10, 6), read=archive.read, sources=sources
        )

    return write


def test_pages_of_tables_are_left_alone_while_nothing_that_they_say_changes(
    lists: Callable[..., None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = []
    monkeypatch.setattr(
        "weld_packets.site.build.all_orders.table_pages", lambda *args: made.append(1) or table_pages(*args)
    )
    for sources, so_far in (("a", 1), ("a", 1), ("b", 2), ("b", 2), ("", 3), ("", 4)):
        lists(sources)
        assert len(made) == so_far, (sources, so_far)
    written = (tmp_path / "table-spot-lc.html").read_bytes()
    for touch in (
        lambda path: path.write_bytes(b"edited"),
        Path.unlink,
        lambda path: path.with_name("table-x.html").touch(),
    ):
        lists("b")
        before = len(made)
        touch(tmp_path / "table-spot-lc.html")
        lists("b")
        assert len(made) == before + 1
        assert (tmp_path / "table-spot-lc.html").read_bytes() == written
        assert not (tmp_path / "table-x.html").exists()


def test_pages_of_tables_follow_the_sites_that_name_them(lists: Callable[..., None], tmp_path: Path) -> None:
    change = {"table": "spot-lc", "before": "4", "after": "5", "of_before": "A", "of_after": "B", "same": 3}
    lists("a", {"pl-2041": CARD | NO_CARD})
    assert "3 settings read from it" not in (tmp_path / "table-spot-lc.html").read_text("utf-8")
    cards = {"pl-2041": CARD | {"table_changes": [{**change, "settings": []}]}}
    lists("a", cards)
    assert "3 settings read from it" in (tmp_path / "table-spot-lc.html").read_text("utf-8")
    lists("a", {})
    assert "3 settings read from it" not in (tmp_path / "table-spot-lc.html").read_text("utf-8")


def test_a_slash_in_the_name_of_a_table_leads_its_page_nowhere_else(plant: Any, tmp_path: Path) -> None:
    sites, named = tmp_path / "plant" / "site", "a/../../../lc"
    sites.mkdir(parents=True)
    held = TableContent(named, "5", {**content("5", "11 cycles").content, "table": named}, "tables/lc.yaml", "1" * 64)
    record_approval(plant.instructions, TableApproval("Works", (held,), by(6)))
    archive = plant.archive()
    write_lists(sites, gathered({}), archive.register, date(2026, 10, 6), read=archive.read)
    assert [path.name for path in tmp_path.rglob("*lc.html")] == ["table-a~..~..~..~lc.html"]
    assert 'href="table-a~..~..~..~lc.html"' in (sites / "tables.html").read_text("utf-8")


def test_without_a_record_there_is_no_page() -> None:
    users = Users()
    users.add("x", NO_CARD)
    assert table_pages(Register(), users, lambda _name, _digest: None) == {}
