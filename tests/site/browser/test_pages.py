"""What a reader meets in Chromium: search without a network, a policy that holds, fit on small screens, paper."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import Cards
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
TABLET = {"width": 820, "height": 1180}
FINGER, GLOVE = 104, 130  # px, 20 mm and 25 mm on a ten-inch tablet


def drafted(packet: Packet, looks: SiteLooks, folder: Path) -> Path:
    """Return the site of an order as a draft, below ``folder``."""
    control = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")
    return Emitter(looks, folder).emit(plan_draft_site(packet, control))


@pytest.fixture(scope="module")
def site(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory, module_packet: Packet) -> Path:
    control = Control(revision="B", status="in force", approver="Welding coordinator", digest="9f8b1c2d3e4f5a6b")
    return Emitter(looks, tmp_path_factory.mktemp("browser")).emit(plan_draft_site(module_packet, control))


@pytest.fixture(scope="module")
def draft_site(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory, module_packet: Packet) -> Path:
    return drafted(module_packet, looks, tmp_path_factory.mktemp("draft"))


@pytest.fixture(scope="module")
def served(site: Path, serve: Callable[[Path], str]) -> str:
    return serve(site)


@dataclass
class Visit:
    """A page, with all that it asked for and complained of."""

    page: Any
    base: str
    outside: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def go(self, name: str) -> Any:
        self.page.goto(f"{self.base}/{name}")
        return self.page


@pytest.fixture(params=["file", "http"])
def visit(request: pytest.FixtureRequest, chromium: Any, site: Path, served: str) -> Iterator[Visit]:
    base = served if request.param == "http" else site.as_uri()
    context = chromium.new_context(viewport=TABLET, has_touch=True)
    seen = Visit(context.new_page(), base)
    seen.page.on("request", lambda request: request.url.startswith(base) or seen.outside.append(request.url))
    seen.page.on("console", lambda said: seen.complaints.append(said.text) if said.type == "error" else None)
    seen.page.on("pageerror", lambda error: seen.complaints.append(str(error)))
    yield seen
    context.close()


def names(site: Path) -> list[str]:
    return sorted(path.name for path in site.glob("*.html"))


def find(page: Any, words: str) -> str:
    """Type ``words`` into the search from the thumb bar and return what it lists."""
    page.click(".bar [data-press=search]")
    page.keyboard.type(words)
    page.wait_for_selector(".md-search-result__item")
    return str(page.inner_text(".md-search-result"))


def test_no_page_asks_elsewhere_or_breaks_its_policy(visit: Visit, site: Path) -> None:
    for name in names(site):
        visit.go(name).wait_for_load_state("networkidle")
    assert visit.outside == []
    assert visit.complaints == []


@pytest.mark.parametrize("words", ["2042", "KX-600-F", "DC04", "welding current", "crushed", "FX-2040"])
def test_the_search_finds_programs_parts_materials_and_settings(visit: Visit, words: str) -> None:
    listed = find(visit.go("start.html"), words)
    assert "place found" in listed or "places found" in listed
    assert visit.outside == []
    assert visit.complaints == []


def test_words_typed_before_the_search_is_loaded_are_answered(visit: Visit) -> None:
    def slow(route: Any) -> None:
        time.sleep(1)
        route.continue_()

    page = visit.page
    page.route("**/search/search_index.js*", slow)
    page.goto(f"{visit.base}/start.html", wait_until="domcontentloaded")
    page.click(".bar [data-press=search]")
    page.keyboard.type("zzqq")
    page.wait_for_selector(".md-search-result__meta:text('Nothing found')")


def test_a_found_setting_leads_to_its_place(visit: Visit) -> None:
    page = visit.go("index.html")
    find(page, "electrode force")
    page.click("text=Operation 1: Electrode force")
    page.wait_for_url("**/operation-1.html*#set-operation-1-force")
    assert page.locator("#set-operation-1-force").is_visible()


@pytest.mark.parametrize("screen", [PHONE, TABLET], ids=["phone", "tablet"])
def test_no_page_scrolls_sideways(chromium: Any, site: Path, screen: dict[str, int]) -> None:
    page = chromium.new_page(viewport=screen)
    wide = {}
    for name in names(site):
        page.goto(f"{site.as_uri()}/{name}")
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > screen["width"]:
            wide[name] = width
    page.close()
    assert wide == {}


@pytest.mark.parametrize("screen", [PHONE, TABLET], ids=["phone", "tablet"])
def test_a_long_verdict_does_not_widen_its_page(
    chromium: Any, looks: SiteLooks, tmp_path: Path, demo_packets: dict[str, Packet], screen: dict[str, int]
) -> None:
    undecided = drafted(demo_packets["lk-2063-coastal-column"], looks, tmp_path)
    page = chromium.new_page(viewport=screen)
    for name in ("operation-4-qualification.html", "operation-4-wps.html"):
        page.goto(f"{undecided.as_uri()}/{name}")
        assert page.evaluate("document.documentElement.scrollWidth") <= screen["width"]
    cut = "all => all.filter(one => one.scrollWidth > one.clientWidth).map(one => one.innerText)"
    page.goto(f"{undecided.as_uri()}/operation-4-qualification.html")
    assert page.locator(".qualified-lines td").evaluate_all(cut) == []
    page.close()


def test_on_a_phone_every_cell_of_a_table_with_names_is_seen_without_sliding(
    chromium: Any, looks: SiteLooks, tmp_path: Path, demo_packets: dict[str, Packet]
) -> None:
    draft = drafted(demo_packets["lk-2063-coastal-column"], looks, tmp_path)
    page = chromium.new_page(viewport=PHONE)
    seen = "all => all.map(one => one.getBoundingClientRect()).filter(one => one.width).map(one => one.right)"
    named = "getComputedStyle(document.querySelector('.named [data-name]'), '::before').content"
    for name in ("wps", "qualification", "calculations", "details"):
        page.goto(f"{draft.as_uri()}/operation-1-{name}.html")
        ends = page.locator(".named :is(td, tbody th)").evaluate_all(seen)

        assert len(ends) > 4
        assert max(ends) <= PHONE["width"], name
        assert page.evaluate(named) not in {"none", '": "'}, name
    page.close()


def test_what_changes_between_two_orders_keeps_its_units_whole_on_a_phone(
    chromium: Any, looks: SiteLooks, tmp_path: Path, demo_packets: dict[str, Packet]
) -> None:
    following = drafted(demo_packets["lk-2055-outdoor-column"], looks, tmp_path)
    page = chromium.new_page(viewport=PHONE)
    page.goto(f"{following.as_uri()}/changeover.html")
    read = """all => all.flatMap(cell => {
      const texts = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT)
      const found = []
      for (let text = texts.nextNode(); text; text = texts.nextNode()) {
        for (const value of text.data.matchAll(/[\\d.]+\\u00a0[^\\s;,)]+/g)) {
          const range = document.createRange()
          range.setStart(text, value.index)
          range.setEnd(text, value.index + value[0].length)
          found.push([value[0], new Set([...range.getClientRects()].map(box => box.top)).size])
        }
      }
      return found
    })"""
    values = page.locator(".cell-change td").evaluate_all(read)
    page.close()
    assert len(values) > 50
    assert [value for value, lines in values if lines > 1] == []


@pytest.mark.parametrize("screen", [PHONE, TABLET], ids=["phone", "tablet"])
def test_the_words_of_the_bar_are_inside_their_keys(chromium: Any, site: Path, screen: dict[str, int]) -> None:
    page = chromium.new_page(viewport=screen)
    outside = """all => all.filter(key => {
      const words = document.createRange()
      words.selectNodeContents(key)
      const [inner, outer] = [words.getBoundingClientRect(), key.getBoundingClientRect()]
      return inner.left < outer.left || inner.right > outer.right
    }).map(key => key.innerText)"""
    cut = {}
    for name in names(site):
        page.goto(f"{site.as_uri()}/{name}")
        if found := page.locator(".bar-key:not(.bar-none):visible").evaluate_all(outside):
            cut[name] = found
    page.close()
    assert cut == {}


def test_what_is_pressed_at_the_cell_is_as_large_as_a_gloved_finger(chromium: Any, site: Path) -> None:
    page = chromium.new_page(viewport=TABLET)
    small = []
    for name in ("index.html", "operation-1.html", "operation-1-set-up.html", "start.html"):
        page.goto(f"{site.as_uri()}/{name}")
        for mark in (".step", ".door", ".key", ".signs a"):
            boxes = [one.bounding_box() for one in page.locator(f"{mark}:visible").all()]
            small += [(name, mark, box) for box in boxes if box and min(box["width"], box["height"]) < FINGER - 0.5]
        keys = [one.bounding_box() for one in page.locator(".bar-key").all()]
        assert all(key["width"] >= GLOVE and key["height"] >= 88 for key in keys), (name, keys)
    page.close()
    assert small == []


def test_a_link_on_the_card_is_touched_on_44_px_however_small_its_letters(chromium: Any, site: Path) -> None:
    page = chromium.new_page(viewport=TABLET)
    page.goto(f"{site.as_uri()}/operation-1.html")
    links = page.locator(".card-table tbody th a, .card-remarks a, .card-foot a")
    missed = links.evaluate_all("""all => all.filter(link => {
      const box = link.getBoundingClientRect()
      return [-21.5, 21.5].some(off => {
        const met = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2 + off)
        return met?.closest("a") !== link
      })
    }).map(link => link.innerText)""")
    assert links.count() > 4
    page.close()
    assert missed == []


def test_settings_are_large_enough_to_read_at_a_metre(chromium: Any, site: Path) -> None:
    page = chromium.new_page(viewport=TABLET)
    page.goto(f"{site.as_uri()}/operation-1.html")
    sizes = page.evaluate(
        "[...document.querySelectorAll('.card-one b')].map(x=>parseFloat(getComputedStyle(x).fontSize))"
    )
    order = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.stamp-order')).fontSize)")
    page.close()
    assert sizes
    assert min(sizes) >= 36
    assert order >= 30, "20 minutes of arc at a metre: a card is read from where it hangs"


def test_ticks_are_counted_and_outlast_a_look_at_another_page(chromium: Any, site: Path) -> None:
    page = chromium.new_page(viewport=TABLET)
    page.goto(f"{site.as_uri()}/operation-1-set-up.html")
    page.locator(".step").first.click()
    assert page.inner_text("#set-up-1-tally") == "1 of 6 done"
    page.goto(f"{site.as_uri()}/safety.html")
    page.goto(f"{site.as_uri()}/operation-1-set-up.html")
    assert page.inner_text("#set-up-1-tally") == "1 of 6 done"
    page.close()


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_every_sheet_carries_order_revision_status_and_page(
    printed: Any, site: Path, size: str, tmp_path: Path
) -> None:
    sheets = printed(f"{site.as_uri()}/packet.html", tmp_path / "packet.pdf", size)
    for number, sheet in enumerate(sheets, 1):
        assert "Order PL-2041 · Rev B" in sheet
        assert "IN FORCE" in sheet
        assert f"Page {number} of {len(sheets)}" in sheet


def test_each_operation_of_the_packet_has_sheets_of_its_own(printed: Any, site: Path, tmp_path: Path) -> None:
    sheets = printed(f"{site.as_uri()}/packet.html", tmp_path / "packet.pdf")
    whose = [re.search(r"Operation \d of 2|Whole order", sheet)[0] for sheet in sheets]
    assert list(dict.fromkeys(whose)) == ["Whole order", "Operation 1 of 2", "Operation 2 of 2"]
    assert whose == sorted(whose, key=lambda name: name != "Whole order")


def test_an_operation_s_page_takes_few_sheets(printed: Any, site: Path, tmp_path: Path) -> None:
    assert len(printed(f"{site.as_uri()}/operation-1.html", tmp_path / "operation.pdf")) <= 5


def test_every_sheet_of_a_draft_is_marked_across_its_face(
    printed: Any, draft_site: Path, site: Path, tmp_path: Path
) -> None:
    """The letters across the sheet are turned, so each is alone in the text."""
    for sheet in printed(f"{draft_site.as_uri()}/operation-1.html", tmp_path / "draft.pdf", layout=False):
        assert all(letter in sheet.splitlines() for letter in "DRAFT")
    for sheet in printed(f"{site.as_uri()}/operation-1.html", tmp_path / "operation.pdf", layout=False):
        assert not any(letter in sheet.splitlines() for letter in "DRAFT")


def test_the_list_of_orders_narrows_as_one_types(chromium: Any, site: Path) -> None:
    landing = write_lists(site.parent, gathered(Cards(site.parent)), Register(), date(2026, 10, 22))
    page = chromium.new_page(viewport=TABLET)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(landing.as_uri())
    assert page.inner_text("#found") == "1 of 1"
    page.fill("#filter", "carcass 2042")
    assert page.locator(".order:visible").count() == 1
    page.fill("#filter", "carcass 9999")
    assert page.locator(".order:visible").count() == 0
    page.fill("#filter", "")
    page.click(".order a")
    assert page.locator(".stamp-order").inner_text().endswith("PL-2041")
    page.close()
    assert said == []


def test_the_packet_is_laid_out_from_a_file_without_a_server(chromium: Any, site: Path) -> None:
    page = chromium.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{site.as_uri()}/packet.html")
    page.wait_for_selector(".whole.laid")
    assert page.inner_text(".sheet-count") == f"{page.locator('.sheet').count()} sheets"
    assert page.locator("[data-print]").is_visible()
    page.close()
    assert said == []


def test_the_sheets_of_one_operation_are_printed_alone_and_numbered_as_in_the_packet(
    chromium: Any, text_of_pdf: Callable[..., list[str]], site: Path, tmp_path: Path
) -> None:
    page = chromium.new_page()
    page.goto(f"{site.as_uri()}/packet.html")
    page.wait_for_selector(".whole.laid")
    count = page.locator(".sheet").count()
    page.select_option("[data-sheets] select", "operation-2")
    own = page.locator(".sheet:visible")
    numbers = own.locator(".sheet-page").all_inner_texts()
    assert 0 < len(numbers) < count
    assert all(text.startswith("Operation 2 of 2") for text in own.locator(".sheet-said").all_inner_texts())
    assert numbers[-1] == f"Page {count} of {count}"
    assert page.inner_text(".sheet-count") == f"{len(numbers)} sheets"
    assert page.inner_text("[data-print]") == "Print these sheets"
    page.pdf(path=tmp_path / "own.pdf", format="A4")
    assert len(text_of_pdf(tmp_path / "own.pdf")) == len(numbers)
    page.select_option("[data-sheets] select", "")
    assert page.locator(".sheet:visible").count() == count
    page.close()
