"""The weld map in a browser: letters large enough on a tablet either way, both robots in sight on a phone, on paper."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser

CONTROL = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")
SMALLEST_LETTER = 13.0
"""2.5 mm at the 5.2 px/mm of common tablets."""
CAPITAL_EM = 0.71
LETTERS = """Array.from(document.querySelectorAll('figure.diagram > svg')).map(svg => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width
    return Math.min(...Array.from(svg.querySelectorAll('g[font-size]'), g => g.getAttribute('font-size') * scale))
})"""
DRAWINGS = "Array.from(document.querySelectorAll('figure.diagram > svg'), svg => svg.getBoundingClientRect().right)"
SIGNS = "Array.from(document.querySelectorAll('.legend svg'), svg => svg.getBoundingClientRect().height)"


@pytest.fixture(scope="module")
def maps(looks: SiteLooks, demo_packets: dict[str, Packet], tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    emitter = Emitter(looks, tmp_path_factory.mktemp("maps"))
    sites = [emitter.emit(plan_draft_site(packet, CONTROL)) for packet in demo_packets.values()]
    return [page.as_uri() for site in sites for page in sorted(site.glob("operation-*-map.html"))]


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1180, 820)], ids=["upright", "lying"])
def test_letters_on_a_tablet_are_two_and_a_half_millimetres_high(
    chromium: Any, maps: list[str], width: int, height: int
) -> None:
    page = chromium.new_page(viewport={"width": width, "height": height})
    for uri in maps:
        page.goto(uri)
        letters = page.evaluate(LETTERS)
        assert letters
        assert min(letters) * CAPITAL_EM >= SMALLEST_LETTER, uri
    page.close()


def test_both_robots_are_in_sight_on_a_phone_and_one_touch_enlarges(chromium: Any, maps: list[str]) -> None:
    page = chromium.new_page(viewport={"width": 390, "height": 844})
    for uri in maps:
        page.goto(uri)
        assert max(page.evaluate(DRAWINGS)) <= 390, uri
        page.locator(".enlarge").first.click()
        assert page.evaluate(LETTERS)[0] * CAPITAL_EM >= SMALLEST_LETTER, uri
    page.close()


def test_signs_of_a_printed_legend_are_as_high_as_its_lines(chromium: Any, maps: list[str]) -> None:
    page = chromium.new_page(viewport={"width": 794, "height": 1123})
    page.emulate_media(media="print")
    for uri in maps:
        page.goto(uri)
        signs = page.evaluate(SIGNS)
        assert signs
        assert max(signs) < 60, uri
    page.close()
