"""What the search answers first to what people type at a cell, in the demo's orders opened from files."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Control
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import Cards
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[3]
FIRST, LAST = "lk-2041-service-module", "lk-2063-coastal-column"
DRAFT = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")


@pytest.fixture(scope="module")
def sites(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("found")
    emitter = Emitter(looks, folder)
    for slug in (FIRST, LAST):
        emitter.emit(plan_draft_site(draft(open_workspace(ROOT), slug), DRAFT))
    write_lists(folder, gathered(Cards(folder)), Register(), date(2026, 11, 29))
    return folder


@pytest.fixture(scope="module")
def find(chromium: Any, sites: Path) -> Iterator[Callable[..., list[str]]]:
    """Return a function that types into the search of an order and returns title and address of what it lists."""
    page = chromium.new_page(viewport={"width": 820, "height": 1180})

    def search(words: str, slug: str = FIRST) -> list[str]:
        page.goto(f"{sites.as_uri()}/{slug}/start.html")
        page.click(".bar [data-press=search]")
        page.wait_for_function("() => document.activeElement.matches('[data-md-component=search-query]')")
        page.wait_for_timeout(100)  # on a busy machine, what is typed in the same moment is now and then not asked
        page.keyboard.type(words)
        page.wait_for_function("() => /found/.test(document.querySelector('.md-search-result__meta').textContent)")
        page.wait_for_timeout(150)  # the theme asks once more for the last key
        listed: list[str] = page.evaluate(
            "[...document.querySelectorAll('.md-search-result__item')].map(item => "
            "`${item.querySelector('h1').textContent} ${item.querySelector('a').href.split('/').pop()}`)"
        )
        return listed

    yield search
    page.close()


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("P410A", "Operation 1: programs operation-1.html#"),
        ("2041", "Order LK-2041 index.html"),
        ("LK-2041", "Order LK-2041 index.html"),
        ("QL-M1", "Order LK-2041 index.html"),
        ("weld schedule 11", "Operation 1: weld schedule 11 operation-1.html#operation-1-group-"),
        ("schedule 11", "Operation 1: weld schedule 11 operation-1.html#"),
        ("spot 12", "Operation 3: spot A12 operation-3-map.html#operation-3-weld-a12"),
        ("weld A3", "Operation 3: spot A03 operation-3-map.html#operation-3-weld-a03"),
        ("A03", "Operation 3: spot A03"),
        ("weld T3", "Operation 1: seam T3 operation-1-map.html#operation-1-weld-t3"),
        ("schedule 22", "Operation 2: weld schedule 22 operation-2.html#"),
        ("1.2 mm", "Operation 4: Side panel 1800 x 600, 1.2 mm"),
        ("1,2 mm", "Operation 4: Side panel 1800 x 600, 1.2 mm"),
        ("1.2mm", "Operation 4: Side panel 1800 x 600, 1.2 mm"),
        ("1,2", "Operation 4: Side panel 1800 x 600, 1.2 mm"),
        ("1.5 mm", "Operation 3: Lock plate, 1.5 mm"),
        ("wire", "Operation 1: Wire feed speed"),
        ("cap", "Operation 3:"),
        ("caps", "Operation 3:"),
        ("CO2", "Operation 1: set-up operation-1-set-up.html#"),
        ("kA", "Operation 3: Weld current 7.0 kA operation-3.html#"),
        ("7.0 kA", "Operation 3: Weld current 7.0 kA operation-3.html#"),
        ("Service door", "Operation 3: Service door operation-3.html"),
        ("F-101", "Operation 1: Base frame operation-1.html"),
        ("electrode force", "Operation 3: Electrode force"),
        ("hold point", "Operation 1: set-up operation-1-set-up.html#"),
        ("pores", "Operation 1: faults operation-1-troubleshooting.html#"),
        ("weldng current", "Operation 3: Weld current"),
        ("wlding", "Operation 1:"),
        ("lockout", "Operation 1: set-up operation-1-set-up.html#"),
        ("emergency stop", "NOTICE: The emergency stop"),
        ("3.3 m/min", "Operation 1: Wire feed speed 3.3 m/min"),
        ("DC01", "Operation 3: Door skin"),
        ("S235JR", "Operation 1: Angle rail"),
    ],
)
def test_the_place_that_is_meant_comes_first(find: Callable[..., list[str]], words: str, first: str) -> None:
    assert find(words)[0].startswith(first)


@pytest.mark.parametrize("words", ["zinc", "galvanised", "galvanized", "DX51", "DX51D", "Z275"])
def test_a_coating_leads_to_the_operation_with_coated_sheet(find: Callable[..., list[str]], words: str) -> None:
    assert any(each.startswith("Operation 2: Side panel") for each in find(words, LAST)[:2])


def test_sources_come_after_every_operation(find: Callable[..., list[str]]) -> None:
    pages = [each.rpartition(" ")[2].partition("#")[0] for each in find("CO2")]
    assert pages[0].startswith("operation-1")
    assert pages[-1] == "sources.html"
    assert pages == sorted(pages, key=lambda name: (name == "sources.html", not name.startswith("operation-")))


def test_the_list_of_orders_knows_materials_settings_and_consumables(chromium: Any, sites: Path) -> None:
    page = chromium.new_page()
    page.goto(f"{sites.as_uri()}/index.html")
    shown = {}
    for words in ("zinc", "galvanized", "DX51D", "G3Si1", "wire feed", "DC01"):
        page.fill("#filter", words)
        shown[words] = page.locator(".order:visible strong").all_inner_texts()
    page.fill("#filter", "DC01 1,5 mm")
    assert page.locator(".order:visible strong").all_inner_texts() == ["LK-2041"]
    page.close()
    assert shown["zinc"] == shown["galvanized"] == shown["DX51D"] == ["LK-2063"]
    assert shown["DC01"] == ["LK-2041"]
    assert shown["wire feed"] == shown["G3Si1"] == ["LK-2041", "LK-2063"]


def test_a_link_to_a_weld_opens_the_table_that_is_behind_a_tap(chromium: Any, sites: Path) -> None:
    page = chromium.new_page(viewport={"width": 820, "height": 1180})
    address = f"{sites.as_uri()}/{FIRST}/operation-3-map.html"
    page.goto(address)
    assert not page.is_visible("#operation-3-weld-a12")
    page.goto(f"{address}#operation-3-weld-a12")
    page.wait_for_selector("#operation-3-weld-a12")
    assert page.evaluate("document.querySelector('#operation-3-weld-a12').getBoundingClientRect().top < innerHeight")
    page.close()
