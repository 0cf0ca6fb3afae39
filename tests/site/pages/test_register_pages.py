"""The pages over all orders: every record, and who used which table."""

from __future__ import annotations

import html
import re
from datetime import date
from pathlib import Path
from typing import Any

from weld_packets.revisions.register.entries import ApprovalEntry
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.store.files import open_archive
from weld_packets.site.pages.all_orders.register_pages import register_pages


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


def written(plant: Any, folder: Path, day: int = 20) -> tuple[str, str]:
    folder.mkdir(exist_ok=True)
    built = {path.parent.name: path.parent.name.upper() for path in folder.glob("*/history.html")}
    pages = register_pages(plant.archive().register, built, date(2026, 10, day))
    return pages["register.html"], pages["tables.html"]


def test_the_register_lists_every_record_with_its_standing(module_plant: Any, tmp_path: Path) -> None:
    register, _ = written(module_plant, tmp_path)
    operations = [
        words(operation) for operation in re.findall(r'<tr class="order"[^>]*>(.*?)</tr>', register, re.DOTALL)
    ]
    assert len(operations) == 4
    assert (
        "Rev A released 2026-10-05 08:00 UTC 2026-10-05 superseded by B first issue "
        "welding engineer, approved by quality lead" in operations[0]
    )
    assert "Rev B withdrawn" in operations[2]
    assert "spot S2 lies under a clamp" in operations[2]
    assert "in force" in operations[3]


def test_both_pages_name_the_point_of_the_register(module_plant: Any, tmp_path: Path) -> None:
    archive = module_plant.archive()
    for page in written(module_plant, tmp_path):
        assert register_state_text(archive.register) in page
        assert archive.register.state.register_digest in page


def test_the_releases_that_used_one_revision_of_a_table_stand_together(module_plant: Any, tmp_path: Path) -> None:
    _, tables = written(module_plant, tmp_path)
    uses = {
        found[0]: words(found[1])
        for found in re.findall(r'<details class="use" id="([^"]*)">(.*?)</details>', tables, re.DOTALL)
    }
    assert set(uses) == {"spot-lc-4", "spot-lc-5"}
    assert re.findall(r"Rev ([A-Z])", uses["spot-lc-4"]) == ["A"]
    assert re.findall(r"Rev ([A-Z])", uses["spot-lc-5"]) == ["C", "B"]
    assert "in force in pl-2041 revision " in uses["spot-lc-5"]
    assert '<option value="spot-lc-5">spot-lc revision 5</option>' in tables


def test_a_table_says_where_it_is_in_force_and_where_it_is_to_come(plant: Any, tmp_path: Path) -> None:
    plant.release(plant.packet, 5)
    plant.release(plant.packet.model_copy(update={"cautions": ()}), 6, start="2026-10-30")
    tables = words(written(plant, tmp_path)[1])
    assert "in force in pl-2041 revision A; to come in pl-2041 revision B 2 released revisions" in tables
    assert "in force nowhere" not in tables


def test_records_lead_to_pages_that_are_there_and_nowhere_else(module_plant: Any, tmp_path: Path) -> None:
    assert '<a href="pl-2041' not in "".join(written(module_plant, tmp_path))
    (tmp_path / "pl-2041").mkdir()
    (tmp_path / "pl-2041" / "history.html").write_text("")
    register, tables = written(module_plant, tmp_path)
    assert 'href="pl-2041/history.html#rev-b">PL-2041</a>' in register
    assert 'href="pl-2041/rev-b/sources.html#table-spot-lc"' in tables
    assert 'href="pl-2041/sources.html#table-spot-lc"' in tables


def test_an_order_is_named_by_its_number_wherever_its_site_is_built(module_plant: Any, tmp_path: Path) -> None:
    """Only where it is not built its folder is all that the register knows of it."""
    folder, number = re.compile(r"\bpl-2041\b"), re.compile(r"\bPL-2041\b")
    for page in written(module_plant, tmp_path):
        assert folder.search(words(page))
        assert not number.search(words(page))
    (tmp_path / "pl-2041").mkdir()
    (tmp_path / "pl-2041" / "history.html").write_text("")
    for page in written(module_plant, tmp_path):
        assert number.search(words(page))
        assert not folder.search(words(page))


def test_every_other_entry_names_its_order_by_the_number() -> None:
    register = open_archive(Path(__file__).parents[3] / "instructions").register
    page = register_pages(register, {slug: slug[:7].upper() for slug in register.by_order}, date(2026, 12, 1))
    assert "LK-2041, revision B, number NC-26-031" in words(page["register.html"])
    assert "-service-module" not in words(page["register.html"] + page["tables.html"])


def test_a_status_that_is_due_to_change_is_dated(plant: Any, tmp_path: Path) -> None:
    plant.release(plant.packet, 5)
    assert "data-until" not in written(plant, tmp_path)[0]
    plant.release(plant.packet.model_copy(update={"cautions": ()}), 6, start="2026-10-30")
    assert '<body data-until="2026-10-29" data-zone="UTC">' in written(plant, tmp_path)[0]


def test_before_the_first_release_both_pages_say_so() -> None:
    pages = register_pages(Register(), {}, date(2026, 10, 1))
    assert "nothing has been released" in pages["register.html"]
    assert "Nothing has been released" in pages["tables.html"]


def test_an_approval_of_many_tables_is_folded_and_lists_them_all() -> None:
    register = open_archive(Path(__file__).parents[3] / "instructions").register
    page = register_pages(register, {}, date(2026, 12, 1))["register.html"]
    approvals = [entry for entry in register.listed if isinstance(entry, ApprovalEntry)]
    counts = [len(entry.tables) for entry in approvals if len(entry.tables) > 8]
    assert len(approvals) > len(counts) > 0
    assert re.findall(r"<summary>(\d+) tables</summary>", page) == [str(count) for count in counts]
    for entry in approvals:
        assert ", ".join(f"{each.table} revision {each.revision}" for each in entry.tables) in words(page)
