"""Whatever a source calls a thing, a page shows it and never runs it."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from markupsafe import escape
from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import Cards
from weld_packets.site.pages.order_pages import plan_draft_site

HOSTILE = [
    "<script>alert(1)</script>",
    "</title><script>alert(2)</script>",
    '"><img src=x onerror=alert(3)>',
    "3*4*5 | # _x_ {{ 7*7 }} {% x %} [a](javascript:b)",
    "&lt;b&gt; <!--packet-body--> packet-policy",
    "'; } @page { content: url(x) } /*",
]


@pytest.fixture(scope="module", params=HOSTILE)
def named(
    request: pytest.FixtureRequest,
    looks: SiteLooks,
    tmp_path_factory: pytest.TempPathFactory,
    named_packet: Callable[[str], Packet],
) -> tuple[str, Path]:
    name: str = request.param
    folder = tmp_path_factory.mktemp("hostile")
    control = Control(revision=name, status="in force", approver=name, effective_from=name, digest="0" * 64)
    site = Emitter(looks, folder).emit(plan_draft_site(named_packet(name), control))
    return name, site


def test_a_page_holds_no_script_but_the_theme_s_own(named: tuple[str, Path]) -> None:
    _, site = named
    for page in site.glob("*.html"):
        text = page.read_text("utf-8")
        assert "<img src=x" not in text
        bodies = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
        assert all("__md" in body or "location.hash" in body for body in bodies)


def test_the_name_is_shown_as_it_was_written(named: tuple[str, Path]) -> None:
    name, site = named
    text = (site / "operation-1.html").read_text("utf-8")
    title = re.search(r"<title>(.*?)</title>", text, re.DOTALL)
    heading = re.search(r"<h1[^>]*>(.*?)</h1>", text, re.DOTALL)
    assert title is not None
    assert heading is not None
    assert html.unescape(title.group(1)) == f"Operation 1: {name} · PL-2041 {name}"
    assert html.unescape(heading.group(1)) == f"Operation 1: {name}"


def test_the_search_index_holds_text_that_is_harmless_as_markup(named: tuple[str, Path], places_of: Any) -> None:
    _, site = named
    docs = places_of((site / "search" / "search_index.js").read_bytes())
    assert docs
    assert not [doc for doc in docs if "<" in doc["title"] + doc["text"]]


def test_the_list_of_orders_shows_the_name(named: tuple[str, Path]) -> None:
    name, site = named
    text = write_lists(site.parent, gathered(Cards(site.parent)), Register(), date(2026, 10, 22)).read_text("utf-8")
    assert f'<span class="title">{escape(name)}</span>' in text
