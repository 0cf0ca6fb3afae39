"""Text is made safe, measured generously, and numbers have one form."""

from __future__ import annotations

import string

import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath
from weld_packets.drawing.lettering import UNSHOWABLE, clean, number, shortened, text_width


@pytest.mark.parametrize("char", ["\x00", "\x07", "\x1b", "\x9f", "\ud800", "\u202e", "\ufffe", "\ue000", "\u2028"])
def test_what_a_reader_cannot_take_is_shown_as_a_replacement_not_dropped(char: str) -> None:
    assert clean(f"a{char}b") == f"a{UNSHOWABLE}b"


def test_line_breaks_become_spaces_and_ordinary_text_stays() -> None:
    assert clean("one\ntwo\tthree") == "one two three"
    assert clean("Tür <b>$5 & µm ½ 門") == "Tür <b>$5 & µm ½ 門"


def drawn_width(text: str, *, bold: bool) -> float:
    face = FontProperties(family="DejaVu Sans", size=100, weight="bold" if bold else "normal")
    return TextPath((0, 0), text, prop=face, usetex=False).get_extents().width


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text",
    [
        "1",
        "27",
        "180",
        "1800 mm (70.9 in)",
        "View from the right",
        "Datum: lower left corner",
        "135 PB",
        "WAREHOUSE MMM",
        "mmmm",
        "illicit",
        string.ascii_letters,
        string.digits,
    ],
)
def test_the_measured_width_is_not_less_than_a_wide_face_needs(text: str, bold: bool) -> None:
    assert text_width(text, 100, bold=bold) >= drawn_width(text, bold=bold)


def test_the_measured_width_wastes_at_most_a_third() -> None:
    text = "Robot A south, 40 spots in sequence"
    assert text_width(text, 100) <= 1.33 * drawn_width(text, bold=False)


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (2.5, 0, "3"),
        (0.05, 1, "0.1"),
        (-0.04, 1, "0.0"),
        (1e9, 0, "1000000000"),
        (1e-9, 2, "0.00"),
        (-12.345, 2, "-12.35"),
    ],
)
def test_numbers_have_one_form(value: float, decimals: int, text: str) -> None:
    assert number(value, decimals) == text


def test_long_text_is_cut_with_an_ellipsis_to_its_room() -> None:
    cut = shortened("a datum that takes more words than there is room for", 14, 120)
    assert cut.endswith("…")
    assert text_width(cut, 14) <= 120
    assert shortened("short", 14, 120) == "short"
