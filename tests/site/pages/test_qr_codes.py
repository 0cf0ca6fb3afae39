"""The code on a printed sheet."""

from __future__ import annotations

import base64
import re
import struct
import zlib
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
import segno
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.qr_codes import code_text, inline_code
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.site_plan import Stamp

STAMP = Stamp("PL-2041", "B", "in force", ("from 2026-10-12",), "9f8b 1c2d 3e4f")


def test_without_an_address_the_code_holds_words_that_a_person_can_type() -> None:
    assert code_text(STAMP, "operation-1") == "ORDER PL-2041 REV B DIGEST 9F8B1C2D3E4F SHEET OPERATION-1"


def test_a_draft_says_so_in_place_of_a_revision() -> None:
    draft = Stamp("PL-2041", "", "draft", (), "9f8b 1c2d 3e4f")
    assert code_text(draft, "operation-1", "https://packets.example/x/") == (
        "ORDER PL-2041 DRAFT DIGEST 9F8B1C2D3E4F SHEET OPERATION-1"
    )


def test_with_an_address_the_code_opens_the_check_page() -> None:
    parts = urlsplit(code_text(STAMP, "operation-1", "https://packets.example/pl-2041/"))
    assert (parts.netloc, parts.path) == ("packets.example", "/pl-2041/check.html")
    query = {name: values[0] for name, values in parse_qs(parts.fragment).items()}
    assert query == {"order": "PL-2041", "rev": "B", "digest": "9f8b1c2d3e4f", "sheet": "operation-1"}


def test_an_order_s_own_signs_cannot_break_the_address() -> None:
    parts = urlsplit(code_text(Stamp("A&b=#1", "B", "in force", (), "9f8b"), "operation-1", "https://p.example/x/"))
    assert parse_qs(parts.fragment)["order"] == ["A&b=#1"]


def test_the_words_make_a_code_of_the_smallest_alphabet() -> None:
    code = segno.make(code_text(STAMP, "operation-1"), error="m", micro=False)
    assert code.mode == "alphanumeric"
    assert code.version == 3


def test_the_picture_keeps_its_quiet_zone() -> None:
    rows = dots(inline_code(code_text(STAMP, "operation-1")))
    assert len(rows) == len(rows[0]) == 37, "29 modules of version 3 and 4 of white on each side"
    assert rows[:4] == rows[-4:] == ["." * 37] * 4
    assert all(row[:4] == row[-4:] == "...." for row in rows)
    assert rows[4][4:12] == "#######.", "the first dark bar lies four modules from both edges"


@pytest.fixture(scope="module")
def site(module_plant: Any, looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Emitter(looks, tmp_path_factory.mktemp("coded")).emit(plan_released_site(module_plant.history(20)))


def test_a_page_carries_the_code_of_its_sheets_and_what_they_are_worth(site: Path) -> None:
    page = (site / "operation-1.html").read_text("utf-8")
    digest = re.search(r"record ([0-9a-f ]+)", page)
    assert digest is not None
    code = f"ORDER PL-2041 REV C DIGEST {digest[1].replace(' ', '').upper()} SHEET OPERATION-1"
    assert f"alt='Code: {code}'" in page
    assert "Uncontrolled copy. Valid only if the code reads IN FORCE today." in page
    assert 'Order PL-2041 · Rev C · <span class="sheet-status">IN FORCE</span>' in page
    assert '<span class="sheet-status">SUPERSEDED</span>' in (site / "rev-a" / "operation-1.html").read_text("utf-8")


def test_the_pages_of_an_operation_carry_its_code(site: Path) -> None:
    pages = {
        each.stem: re.findall(r"alt='Code: [^']* SHEET ([^']+)'", each.read_text("utf-8"))
        for each in site.glob("*.html")
    }
    of_second = {name: codes[0] for name, codes in pages.items() if name.startswith("operation-2")}
    assert len(of_second) > 2
    assert set(of_second.values()) == {"OPERATION-2"}
    assert pages["safety"] == ["SAFETY"]


def test_each_part_of_the_whole_packet_has_a_code_of_its_own(site: Path) -> None:
    page = (site / "packet.html").read_text("utf-8")
    parts = re.findall(r'<section class="part" data-part="([^"]+)"', page)
    codes = re.findall(r"""<div data-code="([^"]+)" hidden><img [^>]*alt='Code: [^']* SHEET ([^']+)'""", page)
    assert parts == ["index", "operation-1", "operation-2"]
    assert codes == [(part, part.upper()) for part in parts]


def test_a_page_about_all_revisions_carries_no_code(site: Path) -> None:
    page = (site / "history.html").read_text("utf-8")
    assert "Uncontrolled" not in page
    assert "alt='Code:" not in page


def test_where_sites_have_an_address_the_code_holds_it(module_plant: Any, looks: SiteLooks, tmp_path: Path) -> None:
    placed = replace(looks, address="https://packets.example/")
    site = Emitter(placed, tmp_path).emit(plan_released_site(module_plant.history(20)))
    page = (site / "operation-1.html").read_text("utf-8")
    assert "Code: https://packets.example/pl-2041/check.html#order=PL-2041&amp;rev=C&amp;digest=" in page


def dots(picture: str) -> list[str]:
    """Return the rows of a code's picture as a reader of PNG finds them, dark as #."""
    (data,) = re.findall(r"src='data:image/png;base64,([^']+)'", picture)
    content = base64.b64decode(data)
    assert content.startswith(b"\x89PNG\r\n\x1a\n")
    chunks, at = {}, 8
    while at < len(content):
        (length,), kind = struct.unpack(">I", content[at : at + 4]), content[at + 4 : at + 8]
        chunks[kind] = content[at + 8 : at + 8 + length]
        assert struct.unpack(">I", content[at + 8 + length : at + 12 + length]) == (zlib.crc32(kind + chunks[kind]),)
        at += 12 + length
    assert list(chunks) == [b"IHDR", b"IDAT", b"IEND"]
    width, height, *form = struct.unpack(">IIBBBBB", chunks[b"IHDR"])
    assert form == [1, 0, 0, 0, 0], "one bit a dot, black and white"
    lines, stride = zlib.decompress(chunks[b"IDAT"]), 1 + (width + 7) // 8
    assert len(lines) == height * stride
    rows = [lines[row * stride : (row + 1) * stride] for row in range(height)]
    assert {row[0] for row in rows} == {0}, "no line is derived from the one above it"
    bits = ("".join(f"{byte:08b}" for byte in row[1:])[:width] for row in rows)
    return [row.replace("1", ".").replace("0", "#") for row in bits]


@pytest.mark.parametrize(
    "text", ["PRG:R11:2041", "ORDER PL-2041 REV B DIGEST 9F8B1C2D3E4F SHEET OPERATION-1", "ä" * 90]
)
def test_the_picture_is_the_code(text: str) -> None:
    matrix = segno.make(text, error="m", micro=False, mask=2).matrix
    inside = [row[4:-4] for row in dots(inline_code(text))[4:-4]]
    assert inside == ["".join("#" if cell else "." for cell in row) for row in matrix]


def test_a_code_names_what_it_holds_and_escapes_it() -> None:
    assert "alt='Code: &lt;&#34;x'" in inline_code('<"x')
