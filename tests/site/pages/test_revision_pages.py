"""What a site of an order with releases shows on which page, by the day it is built for."""

from __future__ import annotations

import html
import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.revision_pages import STATUS_DATA, plan_released_site
from weld_packets.site.pages.revisions.order_history import load_order_history, with_draft
from weld_packets.site.pages.site_plan import PageFragment, SitePlan


def page(plan: SitePlan, path: str) -> PageFragment:
    return next(one for one in plan.pages if one.path == path)


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


@pytest.fixture(scope="module")
def plan(module_plant: Any) -> SitePlan:
    return plan_released_site(module_plant.history(20))


def test_an_order_without_releases_has_no_dossier(plant: Any, packet: Packet) -> None:
    assert load_order_history(plant.archive(), packet.head.slug, date(2026, 10, 20)) is None


def test_the_main_pages_show_the_revision_in_force(plan: SitePlan) -> None:
    assert (plan.stamp.revision, plan.stamp.status) == ("C", "in force")
    assert "8.8" in words(page(plan, "operation-1.html").html)
    assert page(plan, "operation-1.html").notice is None


def test_every_other_revision_is_kept_whole_in_its_folder(plan: SitePlan) -> None:
    main = {one.path for one in plan.pages if not one.folder} - {"history.html", "check.html"}
    for folder in ("rev-a", "rev-b"):
        assert {one.path.removeprefix(f"{folder}/") for one in plan.pages if one.folder == folder} == main


def test_the_revision_in_force_has_the_address_that_it_keeps_when_another_is(module_plant: Any) -> None:
    """A bookmark of revision B in its folder opens revision B while it is in force, and after it."""
    while_in_force, after = plan_released_site(module_plant.history(13)), plan_released_site(module_plant.history(20))
    mark = while_in_force.stamp.revision.lower()
    folder = f"rev-{mark}/"
    assert while_in_force.stamp.status == "in force"
    assert after.stamp.revision.lower() != mark
    leading = {path for path in while_in_force.files if path.startswith(folder)}
    assert {one.path for one in after.pages if one.path.startswith(folder)} == leading
    card = while_in_force.files[f"{folder}operation-1.html"].decode()
    assert 'href="../operation-1.html"' in card


def test_a_draft_has_no_lasting_address(module_plant: Any, packet: Packet) -> None:
    plan = plan_released_site(with_draft(module_plant.history(20), packet))
    assert not any(path.startswith("rev-") for path in plan.files)


def test_what_is_not_in_force_stays_out_of_search_and_page_list(plan: SitePlan) -> None:
    others = [one for one in plan.pages if one.folder]
    assert others
    assert not any(one.search or one.listed for one in others)
    assert any(one.search for one in plan.pages if not one.folder)


def test_a_page_that_is_not_in_force_leads_to_the_same_page_that_is(plan: SitePlan) -> None:
    superseded, withdrawn = page(plan, "rev-a/operation-1.html").notice, page(plan, "rev-b/operation-1.html").notice
    assert superseded is not None
    assert withdrawn is not None
    assert (superseded.href, superseded.link) == ("../operation-1.html", "Open revision C, in force")
    assert superseded.text == "By revision B. Do not work from this page."
    assert withdrawn.text == "Spot S2 lies under a clamp. Do not work from this page."


def test_the_selector_offers_every_revision_on_the_same_page(plan: SitePlan) -> None:
    offered = [(one.label, one.status, one.href, one.chosen) for one in page(plan, "rev-a/operation-2.html").choices]
    assert offered == [
        ("Rev C", "in force", "../operation-2.html", False),
        ("Rev B", "withdrawn", "../rev-b/operation-2.html", False),
        ("Rev A", "superseded", "../rev-a/operation-2.html", True),
    ]


def test_pages_in_a_folder_find_signs_and_history_above_them(plan: SitePlan) -> None:
    prove_out = page(plan, "rev-b/operation-1-prove-out.html").html
    assert 'src="../assets/signs/' in prove_out
    assert 'src="assets/' not in prove_out
    assert 'href="../history.html#rev-b"' in page(plan, "rev-b/operation-1.html").html


def test_a_released_page_says_what_its_record_says(plan: SitePlan) -> None:
    assert "8.4 kA" in words(page(plan, "rev-a/operation-1.html").html)
    assert "revision 4" in words(page(plan, "rev-a/operation-1-calculations.html").html)


def test_nothing_in_force_says_do_not_weld_and_shows_no_setting(module_plant: Any) -> None:
    plan = plan_released_site(module_plant.history(15))
    first = page(plan, "index.html")
    assert (plan.stamp.revision, plan.stamp.status) == ("", "no revision in force")
    assert "Do not weld order PL-2041" in words(first.html)
    assert "operation-1.html" not in [one.path for one in plan.pages]
    assert "rev-b/operation-1.html" in [one.path for one in plan.pages]
    notice = page(plan, "rev-b/operation-1.html").notice
    assert notice is not None
    assert notice.href == "../index.html"


def test_a_revision_that_is_due_is_shown_beforehand_with_its_day(plant: Any) -> None:
    plant.release(plant.packet, 5, start="2026-10-05")
    plant.release(with_title(plant.packet), 8, "new title", start="2026-10-30")
    plan = plan_released_site(plant.history(9))
    assert plan.stamp.revision == "A"
    notice = page(plan, "rev-b/index.html").notice
    assert notice is not None
    assert notice.text.startswith("Takes effect from 2026-10-30.")
    assert plan.card.steady == ("2026-10-05", "2026-10-29")


def test_a_revision_that_was_withdrawn_before_it_took_effect_is_not_announced(plant: Any) -> None:
    plant.release(plant.packet, 5, start="2026-10-20")
    plant.release(with_title(plant.packet), 6, "new title", start="2026-10-25")
    plant.withdraw("A", 7, "a clamp is in the way")
    plan = plan_released_site(plant.history(8))
    first = words(page(plan, "index.html").html)
    assert "Revision B takes effect from 2026-10-25" in first
    assert "Revision A takes effect" not in first
    notice = page(plan, "rev-a/index.html").notice
    assert notice is not None
    assert "Takes effect" not in notice.text


@pytest.mark.parametrize(
    ("stated", "until", "renew"), [("", "2026-11-07", "2026-10-22"), ("14", "2026-10-21", "2026-10-14")]
)
def test_pages_say_up_to_when_they_know_the_records_and_how_long_that_is_good(
    plant: Any, stated: str, until: str, renew: str
) -> None:
    head = plant.packet.head.model_copy(update={"copy_days": stated})
    plant.release(plant.packet.model_copy(update={"head": head}), 5)
    plant.release(with_title(plant.packet.model_copy(update={"head": head})), 6)
    plan = plan_released_site(plant.history(7))
    assert (plan.card.good_until, plan.card.renew) == (until, renew)
    assert {page.stamp.known_to for page in plan.pages if page.stamp} == {plan.stamp.known_to} == {"2026-10-07"}


def test_a_draft_knows_no_records_and_is_never_made_anew_for_its_age(plant: Any) -> None:
    plant.release(plant.packet, 5)
    drafted = plan_released_site(with_draft(plant.history(7), with_title(plant.packet)))
    assert drafted.stamp.known_to == ""


def test_the_risk_assessment_is_named_where_the_pages_defer_to_it(plant: Any) -> None:
    head = plant.packet.head.model_copy(update={"risk_assessment": "RA-7 of 2026-03-02"})
    plant.release(plant.packet.model_copy(update={"head": head}), 5)
    plan = plan_released_site(plant.history(7))
    assert plan.stamp.risk_assessment == "RA-7 of 2026-03-02"
    safety = words(page(plan, "safety.html").html)
    assert "Risk assessment of the plant: RA-7 of 2026-03-02 ." in safety
    assert safety.count("take precedence") == 1, "what every message repeats nobody reads"
    assert "risk assessment (RA-7 of 2026-03-02), the machine makers' manuals" in words(page(plan, "packet.html").html)


def with_title(packet: Packet) -> Packet:
    return packet.model_copy(update={"head": packet.head.model_copy(update={"title": "Carcass, second build"})})


def test_two_revisions_that_share_the_order_each_name_their_parts(plant: Any) -> None:
    plant.release(plant.packet, 5)
    plant.release_from_part(with_title(plant.packet), 6, "120")
    plan = plan_released_site(plant.history(7))
    newer, older = page(plan, "index.html").notice, page(plan, "rev-a/index.html").notice
    assert plan.stamp.revision == "B"
    assert newer is not None
    assert older is not None
    assert (newer.text, newer.link) == ("Only for parts from part 120.", "Other parts: revision A")
    assert (older.text, older.link) == ("Only for parts before part 120.", "Other parts: revision B")


def test_the_draft_of_a_released_order_is_compared_with_its_newest_release(module_plant: Any) -> None:
    history = with_draft(module_plant.history(20), with_title(module_plant.packet))
    plan = plan_released_site(history)
    assert plan.stamp.status == "draft"
    assert [view.name for view in history.others] == ["C", "B", "A"]
    assert history.main is not None
    assert history.main.compared_with == "C"
    notice = page(plan, "rev-a/index.html").notice
    assert notice is not None
    assert notice.href == "../rev-c/index.html"


def test_the_scripts_know_the_status_of_every_revision_on_every_day(plan: SitePlan) -> None:
    data = json.loads(plan.files[STATUS_DATA].decode().removeprefix("window.packetRecords = "))
    assert [(period["since"], [one["mark"] for one in period["inForce"]]) for period in data["periods"]] == [
        ("2026-10-05", ["A"]),
        ("2026-10-12", ["B"]),
        ("2026-10-14", []),
        ("2026-10-19", ["C"]),
    ]
    assert data["periods"][-1]["status"] == {"A": ["superseded", "B"], "B": ["withdrawn", ""], "C": ["in force", ""]}
    assert data["periods"][2]["earlier"] == ["revision B until 08:00"]
    assert {one["mark"]: one["folder"] for one in data["revisions"]} == {"A": "rev-a", "B": "rev-b", "C": ""}
    assert "operation-2-calculations" in data["revisions"][0]["sheets"]
    assert data["built"] == "2026-10-20"


def test_the_whole_site_holds_together_and_is_the_same_bytes_each_time(
    looks: SiteLooks, tmp_path: Path, module_plant: Any, places_of: Any
) -> None:
    """Emitting inspects every link, anchor and script; a dead one is an error."""
    sites = [
        Emitter(looks, tmp_path / name).emit(plan_released_site(module_plant.history(20)))
        for name in ("one", "other/deeper")
    ]
    one, other = (
        {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}
        for site in sites
    )
    assert one == other
    places = places_of(one["search/search_index.js"])
    assert places
    assert not [place for place in places if place["location"].startswith("rev-")]


def test_the_sources_of_a_release_name_both_digests_and_the_code(module_plant: Any) -> None:
    entry = module_plant.archive().register.entries[-1]
    plan = plan_released_site(module_plant.history(20))
    (sources,) = [page.html for page in plan.pages if page.path == "sources.html"]
    assert f"<dt>Record digest (SHA-256)</dt><dd><small>{entry.record_digest}</small>" in sources
    assert f"<dt>Packet digest (as approved)</dt><dd><small>{entry.packet_digest}</small>" in sources
    assert f"weld-cell-packets 0.2.0, commit {'0' * 40}" in sources
