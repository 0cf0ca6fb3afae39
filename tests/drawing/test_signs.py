"""Signs have the shape and colours of their class, stand many times on one page, and are all there."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from weld_packets.drawing.palette import SIGN_BLACK, SIGN_WHITE, SIGNAL_BLUE, SIGNAL_RED, SIGNAL_YELLOW
from weld_packets.drawing.signs import SIGNS, safety_alert, sign

WANTED = {
    "W001",
    "W006",
    "W012",
    "W017",
    "W018",
    "W019",
    "W022",
    "W024",
    "W027",
    "W029",
    "W041",
    "W071",
    "W087",
    "M003",
    "M004",
    "M008",
    "M009",
    "M010",
    "M013",
    "M017",
    "M019",
    "M021",
    "M027",
    "M057",
    "P004",
    "P007",
    "P010",
    "P015",
    "P031",
}
COLOURS = {"W": {SIGNAL_YELLOW, SIGN_BLACK}, "M": {SIGNAL_BLUE, SIGN_WHITE}, "P": {SIGNAL_RED, SIGN_WHITE, SIGN_BLACK}}


def test_every_sign_that_a_packet_calls_for_can_be_drawn() -> None:
    assert set(SIGNS) >= WANTED


@pytest.mark.parametrize("code", SIGNS)
def test_a_sign_is_well_formed_titled_and_free_of_ids_and_styles(code: str) -> None:
    svg = sign(code)
    root = ET.fromstring(svg)  # noqa: S314 - our own bytes
    assert root.get("role") == "img"
    assert root.findtext("{http://www.w3.org/2000/svg}title") == f"{code} {SIGNS[code]}"
    assert not re.search(r"\bid=|style|href|url\(", svg)


@pytest.mark.parametrize("code", SIGNS)
def test_a_sign_uses_only_the_colours_of_its_class(code: str) -> None:
    assert set(re.findall(r"#[0-9A-Fa-f]{6}", sign(code))) == COLOURS[code[0]]


def test_pictograms_differ() -> None:
    assert len({re.sub(r"<title>.*?</title>", "", sign(code)) for code in SIGNS}) == len(SIGNS)


def test_an_unknown_code_is_refused_with_the_known_ones() -> None:
    with pytest.raises(KeyError, match="W024"):
        sign("W999")


def test_the_alert_symbol_takes_the_colour_of_its_panel() -> None:
    assert "currentColor" in safety_alert()
    assert "#" not in safety_alert().replace("http://www.w3.org/2000/svg", "")


def test_pictograms_stand_out_from_their_ground(contrast: Any) -> None:
    """WCAG 2 requires 3:1 of graphics; the pairs are those of ISO 3864-4."""
    assert contrast(SIGN_BLACK, SIGNAL_YELLOW) >= 7
    assert contrast(SIGN_WHITE, SIGNAL_BLUE) >= 7
    assert contrast(SIGN_WHITE, SIGNAL_RED) >= 6
