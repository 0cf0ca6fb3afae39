"""Reached without a pointer, read by a program, seen in the reader's own colours: every kind of page, in Chromium."""

from __future__ import annotations

from collections.abc import Iterator
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
SLUG = "lk-2055-outdoor-column"
SCREENS = {
    "tablet": {"viewport": {"width": 820, "height": 1180}},
    "phone": {"viewport": {"width": 390, "height": 844}},
    "desktop": {"viewport": {"width": 1360, "height": 900}},
    "forced colours": {"viewport": {"width": 820, "height": 1180}, "forced_colors": "active"},
}
VIOLATIONS = (
    "async () => (await axe.run(document, {resultTypes: ['violations']})).violations"
    ".map(it => `${it.id}: ${it.nodes.length} times, ${it.nodes[0].html.slice(0, 120)}`)"
)
REPEATED = "() => [...document.querySelectorAll('.figure-of')].slice(6).forEach(it => it.remove())"
"""A page of calculations has over a hundred of one make; all of them take the rules most of a minute."""
HIDDEN = """() => {
  const { top, bottom } = document.activeElement.getBoundingClientRect()
  const bar = document.querySelector(".bar")
  const foot = getComputedStyle(bar).position === "fixed" && !bar.contains(document.activeElement)
    ? bar.getBoundingClientRect().top : innerHeight
  return bottom <= 0 || top >= foot || !document.activeElement.checkVisibility({ visibilityProperty: true })
}"""


@pytest.fixture(scope="module")
def sites(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("reached")
    control = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")
    Emitter(looks, folder).emit(plan_draft_site(draft(open_workspace(ROOT), SLUG), control))
    write_lists(folder, gathered(Cards(folder)), Register(), date(2026, 11, 29))
    return folder


@pytest.fixture
def tablet(chromium: Any, sites: Path) -> Iterator[Any]:
    page = chromium.new_page(**SCREENS["tablet"])
    page.goto(f"{sites.as_uri()}/{SLUG}/start.html")
    yield page
    page.close()


def kinds(sites: Path) -> list[Path]:
    """Return one page of every kind; of operations the first, which is arc, and the last, which is spot."""
    pages = sorted(sites.glob("*.html")) + sorted((sites / SLUG).glob("*.html"))
    last = max(page.name for page in pages if page.stem.removeprefix("operation-").isdigit())[:-5]
    return [
        page for page in pages if not page.name.startswith("operation-") or page.name.startswith(("operation-1", last))
    ]


@pytest.mark.parametrize("screen", SCREENS)
def test_axe_finds_nothing_on_any_kind_of_page(chromium: Any, sites: Path, screen: str) -> None:
    import axe_playwright_python as carrier  # noqa: PLC0415 (of the extra that brings the browser)

    axe = (Path(carrier.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    context = chromium.new_context(**SCREENS[screen])
    page = context.new_page()
    found = {}
    for path in kinds(sites):
        page.goto(path.as_uri())
        page.evaluate(REPEATED)
        page.evaluate(axe)
        found[path.name] = page.evaluate(VIOLATIONS)
    context.close()
    assert {name: each for name, each in found.items() if each} == {}
    assert len(found) >= 25


def test_the_drawer_opens_with_enter_and_closes_with_escape(tablet: Any) -> None:
    tablet.focus(".bar [data-press=drawer]")
    tablet.keyboard.press("Enter")
    assert tablet.is_checked("#__drawer")
    assert tablet.evaluate("document.activeElement.closest('.md-sidebar--primary') !== null")
    tablet.keyboard.press("Escape")
    assert not tablet.is_checked("#__drawer")
    assert tablet.evaluate("document.activeElement.dataset.press") == "drawer"


def test_the_focus_returns_from_the_search_to_the_key_that_opened_it(tablet: Any) -> None:
    tablet.focus(".bar [data-press=search]")
    tablet.keyboard.press("Enter")
    tablet.keyboard.type("wire")
    assert tablet.input_value(".md-search__input") == "wire"
    tablet.keyboard.press("Escape")
    tablet.wait_for_function("document.activeElement.dataset.press === 'search'")
    tablet.keyboard.press("Space")
    assert tablet.evaluate("document.activeElement.classList.contains('md-search__input')")
    assert tablet.input_value(".md-search__input") == "wire"


@pytest.mark.parametrize(
    "name", ["operation-1.html", "operation-1-set-up.html", "operation-1-map.html", "start.html", "run.html"]
)
def test_every_stop_of_the_tab_key_can_be_seen(chromium: Any, sites: Path, name: str) -> None:
    page = chromium.new_page(**SCREENS["tablet"])
    page.goto(f"{sites.as_uri()}/{SLUG}/{name}")
    unseen = []
    stops = 0
    while stops < 400:
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            break
        stops += 1
        if page.evaluate(HIDDEN):
            unseen.append(page.evaluate("document.activeElement.outerHTML.slice(0, 90)"))
    page.close()
    assert unseen == []
    assert 10 < stops < 400


def test_lone_letters_lead_nowhere(tablet: Any) -> None:
    before = tablet.url
    for key in ("f", "s", "/", "p", ",", "n", "."):
        tablet.keyboard.press(key)
    assert tablet.url == before
    assert not tablet.is_checked("#__search")


def test_a_drawing_s_name_is_short_and_its_description_is_apart(chromium: Any, sites: Path) -> None:
    page = chromium.new_page()
    page.goto(f"{sites.as_uri()}/{SLUG}/operation-1-map.html")
    names = page.evaluate(
        "[...document.querySelectorAll('figure svg[role=img]')].map(it => [it.getAttribute('aria-labelledby'), "
        "it.getAttribute('aria-describedby')].map(id => document.getElementById(id).textContent))"
    )
    page.close()
    assert names
    assert all(0 < len(name) < 100 and name not in label for name, label in names)


def test_a_check_of_the_inspection_is_a_block_on_a_tablet_and_its_acceptance_is_wide(tablet: Any) -> None:
    tablet.goto(tablet.url.replace("start.html", "inspection.html"))
    widths = tablet.evaluate("[...document.querySelectorAll('.inspections td.accept')].map(it => it.clientWidth)")
    assert widths
    assert min(widths) > 700


def test_the_keys_of_the_bar_have_frames_in_the_reader_s_own_colours(chromium: Any, sites: Path) -> None:
    page = chromium.new_page(**SCREENS["forced colours"])
    page.goto(f"{sites.as_uri()}/{SLUG}/operation-1.html")
    frames = page.evaluate(
        "[...document.querySelectorAll('.bar > .bar-key')].map(key => parseFloat(getComputedStyle(key).borderTopWidth))"
    )
    page.close()
    assert len(frames) == 5
    assert min(frames) >= 2
