"""Every kind of page in Firefox and in WebKit, opened from files: no error, storage, search, and the sheets printed."""

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
SLUG = "lk-2041-service-module"
PAGES = [
    "index.html", "operation-1.html", "operation-1-set-up.html", "operation-1-read-back.html",
    "operation-1-prove-out.html", "operation-1-map.html", "operation-1-record.html",
    "operation-1-troubleshooting.html", "operation-1-calculations.html", "operation-1-details.html",
    "operation-3.html", "start.html", "run.html", "going-in.html", "changeover.html", "safety.html", "inspection.html",
    "run-calculations.html", "sources.html", "packet.html", "operation-1-qualification.html", "operation-1-wps.html",
    "../index.html", "../register.html", "../tables.html", "../qualification.html", "../instruments.html",
]  # fmt: skip
SEARCH = """async (sought) => {
  document.querySelector('[data-press=search]').click()
  const field = document.querySelector('[data-md-component=search-query]')
  field.value = sought
  field.dispatchEvent(new Event('input', {bubbles: true}))
  const listed = () => document.querySelector('.md-search-result__item')?.textContent.replace(/\\s+/g, ' ').trim()
  for (let turn = 0; turn < 100 && !listed(); turn += 1) await new Promise((done) => setTimeout(done, 100))
  return listed() ?? ''
}"""
TICK = """async () => {
  const step = document.querySelector('li[data-step]')
  if (!step.querySelector('input').checked) step.querySelector('.step-do').click()
  for (let turn = 0; turn < 50 && !step.querySelector('input').checked; turn += 1) {
    await new Promise((done) => setTimeout(done, 50))
  }
  return step.querySelector('.step-said')?.textContent ?? ''
}"""
SHOWN = "() => [document.title, document.querySelector('main, #page')?.textContent.trim().length ?? 0]"
TICKED = "() => [...document.querySelectorAll('li[data-step] input')].map(box => box.checked).slice(0, 2)"
WIDER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def sites(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("others")
    control = Control(revision="C", status="in force", digest="c1" * 32, packet_digest="1c" * 32)
    Emitter(looks, folder).emit(plan_draft_site(draft(open_workspace(ROOT), SLUG), control))
    write_lists(folder, gathered(Cards(folder)), Register(), date(2026, 11, 29))
    return folder


@pytest.fixture(scope="module", params=["firefox", "webkit"])
def browser(request: pytest.FixtureRequest) -> Iterator[Any]:
    found = request.getfixturevalue(f"start_{request.param}")()
    yield found
    found.close()


def test_every_kind_of_page_opens_without_an_error_and_fits_a_tablet(browser: Any, sites: Path) -> None:
    for name in PAGES:
        browser.open(f"{sites.as_uri()}/{SLUG}/{name}")
        title, length = browser.run(SHOWN)
        assert title, name
        assert length > 100, name
        assert browser.run(WIDER) <= 0, name
    assert browser.complaints == []


def test_a_tick_is_kept_in_a_file_and_shown_on_the_order(browser: Any, sites: Path) -> None:
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1-set-up.html")
    assert browser.run(TICK).startswith("Done ")
    browser.open(f"{sites.as_uri()}/{SLUG}/index.html")
    states = browser.run("() => [...document.querySelectorAll('[data-operation-state]')].map(one => one.textContent)")
    assert states[0].startswith("being set, ")
    assert states[1:] == ["not begun"] * 3
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1-set-up.html")
    assert browser.run(TICKED) == [True, False]
    assert browser.complaints == []


@pytest.mark.parametrize(("sought", "found"), [("P420B", "Operation 2"), ("schedule 11", "Operation 1")])
def test_the_search_answers_from_a_file(browser: Any, sites: Path, sought: str, found: str) -> None:
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1.html")
    assert found in browser.run(SEARCH, sought)
    assert browser.complaints == []


def test_firefox_prints_who_a_sheet_is_for_on_the_card_s_one_sheet(
    start_firefox: Callable[[], Any], text_of_pdf: Callable[..., list[str]], sites: Path, tmp_path: Path
) -> None:
    firefox = start_firefox()
    try:
        firefox.open(f"{sites.as_uri()}/{SLUG}/operation-1.html")
        (tmp_path / "card.pdf").write_bytes(firefox.print((21.0, 29.7)))
    finally:
        firefox.close()
    sheets = text_of_pdf(tmp_path / "card.pdf", "-layout")
    assert len(sheets) == 1
    for text in ("LK-2041", "P410A", "IN FORCE", "C1C1 C1C1 C1C1"):
        assert text in sheets[0].upper(), text
