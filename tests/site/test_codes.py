"""The code on a printed sheet."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

import segno
from weld_packets.packet.records import Packet
from weld_packets.site.build.print_css import sheet_css_path, sheet_stylesheets
from weld_packets.site.pages.codes import code_image, code_text, inline_code
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.site_plan import Stamp

STAMP = Stamp("PL-2041", "B", "in force", "from 2026-10-12", "9f8b 1c2d 3e4f")


def test_without_an_address_the_code_holds_words_that_a_person_can_type() -> None:
    assert code_text(STAMP, "operation-1") == "ORDER PL-2041 REV B DIGEST 9F8B1C2D3E4F SHEET OPERATION-1"


def test_a_draft_says_so_in_place_of_a_revision() -> None:
    draft = Stamp("PL-2041", "", "draft", "", "9f8b 1c2d 3e4f")
    assert code_text(draft, "operation-1", "https://packets.example/x/") == (
        "ORDER PL-2041 DRAFT DIGEST 9F8B1C2D3E4F SHEET OPERATION-1"
    )


def test_with_an_address_the_code_opens_the_check_page() -> None:
    parts = urlsplit(code_text(STAMP, "operation-1", "https://packets.example/pl-2041/"))
    assert (parts.netloc, parts.path) == ("packets.example", "/pl-2041/check.html")
    asked = {name: values[0] for name, values in parse_qs(parts.fragment).items()}
    assert asked == {"order": "PL-2041", "rev": "B", "digest": "9f8b1c2d3e4f", "sheet": "operation-1"}


def test_an_order_s_own_signs_cannot_break_the_address() -> None:
    parts = urlsplit(code_text(Stamp("A&b=#1", "B", "in force", "", "9f8b"), "operation-1", "https://p.example/x/"))
    assert parse_qs(parts.fragment)["order"] == ["A&b=#1"]


def test_the_words_make_a_code_of_the_smallest_alphabet() -> None:
    code = segno.make(code_text(STAMP, "operation-1"), error="m", micro=False)
    assert code.mode == "alphanumeric"
    assert code.version == 3


def test_the_picture_is_large_enough_to_scan_and_keeps_its_quiet_zone() -> None:
    picture = code_image(code_text(STAMP, "operation-1"))
    assert "width='16.7mm'" in picture, "37 modules of 0.45 mm: 29 of version 3 and 4 of white on each side"
    assert "viewBox='0 0 37 37'" in picture
    assert "d='M4 4.5m0 0h7" in picture, "the first dark bar lies four modules from both edges"


def test_each_sheet_of_the_whole_packet_carries_its_own_code(module_plant: Any) -> None:
    plan = plan_released_site(module_plant.history(20))
    whole = next(page for page in plan.pages if page.path == "packet.html")
    style = sheet_stylesheets(plan)[sheet_css_path(plan.stamp, coded=True)].decode()
    for part in whole.parts:
        assert f"@page {part}{{" in style
        assert f".part-{part}{{page:{part}}}" in style
        assert f'data-sheet="{part}"' in whole.html
    codes = re.findall(r'@page ([a-z0-9-]+){@bottom-left{content:url\("data:image/svg\+xml,([^"]*)"\)', style)
    main = {sheet for page in plan.pages if page.coded and not page.stamp for sheet in page.sheets}
    assert {sheet: unquote(code) for sheet, code in codes} == {
        sheet: code_image(code_text(plan.stamp, sheet)) for sheet in main
    }


def test_paper_says_what_it_is_worth_unless_it_has_no_code(module_plant: Any, packet: Packet) -> None:
    plan = plan_released_site(module_plant.history(20))
    styles = sheet_stylesheets(plan, "https://packets.example/")
    by_path = {
        page.path: styles[sheet_css_path(page.stamp or plan.stamp, coded=page.coded)].decode() for page in plan.pages
    }
    assert "Uncontrolled copy. Valid only if the code reads IN FORCE today." in by_path["operation-1.html"]
    assert "Rev C · IN FORCE" in by_path["operation-1.html"]
    assert "Rev A · SUPERSEDED" in by_path["rev-a/operation-1.html"]
    assert "Uncontrolled" not in by_path["history.html"]
    assert "url(" not in by_path["history.html"]
    assert plan_draft_site(packet, module_plant.history(20).views[0].control).stamp.digest


def test_the_drawn_code_is_the_code() -> None:
    text = "PRG:R11:2041"
    matrix = segno.make(text, error="m", micro=False, mask=2).matrix
    (start,) = re.findall(r"stroke='black' d='M(\d+) (\d+).5m", inline_code(text))
    across, down = map(int, start)
    dark = set()
    for right, below, width in re.findall(r"m(-?\d+) (\d+)h(\d+)", inline_code(text)):
        across, down = across + int(right), down + int(below)
        dark |= {(down - 4, across - 4 + step) for step in range(int(width))}
        across += int(width)
    assert dark == {(down, across) for down, line in enumerate(matrix) for across, cell in enumerate(line) if cell}


def test_a_code_names_what_it_holds_and_escapes_it() -> None:
    assert "aria-label='Code: &lt;&#34;x'" in inline_code('<"x')
