"""An auditor's questions, answered by the history page alone."""

from __future__ import annotations

import html
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from weld_packets.revisions.records.nonconformity import read_parts
from weld_packets.revisions.status.nonconformities import Reported
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.record_pages import history_page, last_changes


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


@pytest.fixture(scope="module")
def shown(module_plant: Any) -> str:
    return history_page(module_plant.history(20)).html


def section(shown: str, start: str) -> str:
    after = shown[shown.index(start) :]
    return words(after[: after.find("<h2", 5)])


def test_what_was_in_force_is_in_a_table_with_the_gap_of_a_withdrawal(shown: str) -> None:
    periods = section(shown, 'id="periods"')
    assert re.search(r"2026-10-19 08:00 further notice Rev C quality lead", periods)
    assert "2026-10-14 08:00 2026-10-19 08:00 no revision in force" in periods
    assert re.search(r"2026-10-05 08:00 2026-10-12 08:00 Rev A quality lead", periods)


def test_who_approved_a_setting_and_why_it_changed_is_stated_at_the_setting(shown: str) -> None:
    operation = words(shown[shown.index('id="settled-operation-1"') : shown.index('id="settled-operation-2"')])
    assert "8.8 kA was 8.4 Rev B 2026-10-12 quality lead table spot-lc corrected" in operation
    assert "table spot-lc rev 4 → 5" in operation
    assert "2.6 kN Rev A 2026-10-05 quality lead first issue" in operation


def test_settings_keep_the_revision_that_gave_them_their_value(module_plant: Any) -> None:
    history = module_plant.history(20)
    assert history.main is not None
    (_, first), (_, second) = last_changes(history, history.main)
    assert {one.value.key: one.control.revision for one in first} == {
        "current": "B", "force": "A", "time": "A", "squeeze": "A",
    }  # fmt: skip
    assert {one.control.revision for one in second} == {"A"}


def test_each_revision_says_who_when_why_and_what_became_of_it(shown: str) -> None:
    second = section(shown, '<h2 id="rev-b"')
    assert "withdrawn" in second
    assert "Why: table spot-lc corrected" in second
    assert "Withdrawn from 2026-10-14 by welding engineer, approved by quality lead" in second
    assert "spot S2 lies under a clamp" in second
    assert "Released 2026-10-12 08:00 UTC" in second


def test_a_moved_spot_is_drawn_over_its_old_place(shown: str) -> None:
    third = shown[shown.index('<h2 id="rev-c"') : shown.index('<h2 id="rev-b"')]
    assert third.count('role="img"') == 1
    assert "S2 moved 12.0 mm" in third
    assert "weld S2 moved 12.0 mm" in words(third)
    assert "<svg" not in shown[shown.index('<h2 id="rev-b"') :]


def test_pages_of_an_older_revision_are_linked_where_they_stand(shown: str) -> None:
    assert '<a href="rev-a/index.html">Open its pages</a>' in shown
    assert '<a href="index.html">Open its pages</a>' in shown


NUMBER = "NC-26-031"


def test_an_open_nonconformity_is_on_the_order_s_page_the_list_and_the_history(plant: Any) -> None:
    plant.release(plant.packet, 5)
    reported = Reported(NUMBER, read_parts("part 1 to 3"), "red cage", cause="the clamp was moved <later>")
    plant.withdraw("A", 6, "spot S2 lies under a clamp", reported)
    plan = plan_released_site(plant.history(7))
    pages = {page.path: words(page.html) for page in plan.pages}
    for path in ("index.html", "rev-a/index.html"):
        assert f"Open nonconformity {NUMBER} , revision A at fault: spot S2 lies under a clamp" in pages[path]
        assert "Parts affected: parts 1 to 3" in pages[path]
        assert "Containment: red cage" in pages[path]
    assert plan.card.facts[0] == f"Open nonconformity {NUMBER}"
    assert f"{NUMBER}: open Revision at fault Rev A" in pages["history.html"]
    assert "Cause the clamp was moved <later> Corrective action none recorded" in pages["history.html"]
    assert "Corrected by no revision yet Closed no" in pages["history.html"]
    assert re.search(rf"Nonconformity {NUMBER} , open\. Parts affected: parts 1 to 3", pages["history.html"])


def test_a_closed_one_is_in_the_history_alone(plant: Any) -> None:
    plant.release(plant.packet, 5)
    reported = Reported(NUMBER, read_parts("none made"), "nothing to hold", cause="not known")
    plant.withdraw("A", 6, "spot S2 lies under a clamp", reported)
    plant.close(NUMBER, 7, "first-off of the next revision accepted")
    plan = plan_released_site(plant.history(8))
    pages = {page.path: words(page.html) for page in plan.pages}
    assert NUMBER not in pages["index.html"] + pages["rev-a/index.html"] + " ".join(plan.card.facts)
    assert f"{NUMBER}: closed" in pages["history.html"]
    assert "Corrected by no revision was named when it was closed Closed first-off" in pages["history.html"]
    assert "first-off of the next revision accepted welding engineer, approved by quality lead" in pages["history.html"]


def test_what_another_branch_recorded_of_one_is_on_the_order_s_page_and_the_history(plant: Any, tmp_path: Path) -> None:
    plant.release(plant.packet, 5)
    register = plant.instructions / "register"
    shutil.copytree(register, tmp_path / "before")
    said = [Reported(NUMBER, read_parts(parts), "red cage") for parts in ("part 1 to 3", "part 1 to 30")]
    for number, reported in enumerate(said):
        shutil.rmtree(register)
        shutil.copytree(tmp_path / "before", register)
        plant.report(reported, "A", 7, "found <twice>")
        shutil.copytree(register, tmp_path / str(number))
    shutil.copytree(tmp_path / "0", register, dirs_exist_ok=True)  # as git merges
    pages = {page.path: words(page.html) for page in plan_released_site(plant.history(8)).pages}
    for path, lead in (("index.html", "Another branch recorded"), ("history.html", "Not settled. Another branch")):
        assert lead in pages[path]
        assert {"3", "30"} <= set(re.findall(r"parts 1 to (\d+)", pages[path]))
    assert "why: found <twice> (welding engineer" in pages["history.html"]


def test_a_history_without_one_says_so(shown: str) -> None:
    assert section(shown, 'id="nonconformities"').endswith("None is recorded. ")


def test_a_revision_that_changed_nothing_that_leads_says_so_first_and_counts_the_rest(plant: Any) -> None:
    plant.release(plant.packet, 5)
    plant.release(plant.packet.model_copy(update={"cautions": ("New caution.",)}), 6, "caution")
    text = history_page(plant.history(7)).html
    second = words(text[text.index('<h2 id="rev-b"') : text.index('<h2 id="rev-a"')])
    assert re.search(
        r"What changed since revision A: 1 change No setting, weld, program or limit of acceptance changed\. "
        r"Texts, [a-z ]+: 1 \.",
        second,
    ), second


def test_a_revision_that_changed_settings_counts_them_by_class(shown: str) -> None:
    second = words(shown[shown.index('<h2 id="rev-b"') : shown.index('<h2 id="rev-a"')])
    assert "No setting, weld" not in second
    assert re.search(r"What changed since revision A: [0-9]+ changes? Settings: 1 ", second), second


def test_one_why_is_shown_of_a_released_revision(plant: Any) -> None:
    head = plant.packet.head.model_copy(update={"revision_intent": "what the order file intends"})
    plant.release(plant.packet.model_copy(update={"head": head}), 5, "what was approved")
    plan = plan_released_site(plant.history(7))
    for page in plan.pages:
        assert "what the order file intends" not in page.html, page.path
    assert "Why this revision what was approved" in words(next(p.html for p in plan.pages if p.path == "index.html"))
    plant.withdraw("A", 8, "a crack")
    withdrawn = plan_released_site(plant.history(9))
    first = words(next(p.html for p in withdrawn.pages if p.path == "rev-a/index.html"))
    assert "Why withdrawn a crack" in first


def test_what_is_for_the_history_alone_has_one_number(plant: Any) -> None:
    plant.release(plant.packet, 5)
    cited = [
        each.model_copy(update={"revision": f"{each.revision}2", "notes": ("read twice",)})
        for each in plant.packet.tables
    ]
    plant.release(plant.packet.model_copy(update={"tables": tuple(cited)}), 6, "tables")
    text = history_page(plant.history(7)).html
    second = words(text[text.index('<h2 id="rev-b"') : text.index('<h2 id="rev-a"')])
    count = re.search(r"since revision A No setting[a-z, ]+changed\. Tables and calculations: ([0-9]+) \.", second)
    assert count, second
    assert f"Tables and calculations: {count[1]}, with the same values and steps" in second
    assert int(count[1]) > len(re.findall("<li>", text[text.index('<h2 id="rev-b"') : text.index('<h2 id="rev-a"')]))
    assert "0 changes" not in second
