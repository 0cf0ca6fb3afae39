"""The page of calculations in a browser: a line for each value, whose steps are a tap, a link or a print away."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser

CONTROL = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")
CLOSED = "document.querySelectorAll('details.figure-of:not([open])').length"
OPEN = "Array.from(document.querySelectorAll('details.figure-of[open]'), each => each.id)"
TALLEST = "Math.max(...Array.from(document.querySelectorAll('.figure-of > summary'), each => each.offsetHeight))"


@pytest.fixture(scope="module")
def site(looks: SiteLooks, demo_packets: dict[str, Packet], tmp_path_factory: pytest.TempPathFactory) -> Any:
    packet = next(iter(demo_packets.values()))
    return Emitter(looks, tmp_path_factory.mktemp("calculations")).emit(plan_draft_site(packet, CONTROL))


@pytest.fixture
def page(chromium: Any, site: Any) -> Any:
    page = chromium.new_page(viewport={"width": 820, "height": 1180})
    page.goto((site / "operation-1-calculations.html").as_uri())
    yield page
    page.close()


def test_each_value_is_one_line_until_it_is_opened(page: Any) -> None:
    assert page.evaluate(OPEN) == []
    assert page.evaluate(TALLEST) <= 100


def test_a_value_named_on_the_card_leads_to_its_steps(page: Any, site: Any) -> None:
    page.goto((site / "operation-1.html").as_uri())
    link = page.locator("a[href*='operation-1-calculations.html#']").first
    anchor = link.get_attribute("href").partition("#")[2]
    link.click()
    page.wait_for_url("**/operation-1-calculations.html#*")
    assert page.evaluate(OPEN) == [anchor]
    assert page.locator(f"[id='{anchor}']").is_visible()


def test_a_step_that_is_under_another_value_is_shown_by_its_link(page: Any) -> None:
    page.get_by_role("button", name="Show every step").click()
    target = page.locator(".trace a[href^='#']").first.get_attribute("href").removeprefix("#")
    page.reload()
    page.evaluate(f"location.hash = '{target}'")
    page.wait_for_function(f"document.getElementById('{target}').open")
    assert page.evaluate(OPEN) == [target]


def test_one_key_shows_every_step(page: Any) -> None:
    page.get_by_role("button", name="Show every step").click()
    assert page.evaluate(CLOSED) == 0


def test_paper_shows_every_step_and_the_screen_is_as_before(page: Any) -> None:
    closed = page.evaluate(CLOSED)
    assert closed > 20
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.evaluate(CLOSED) == 0
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.evaluate(CLOSED) == closed
