"""Colours keep robots and text apart on a grey print."""

from __future__ import annotations

from typing import Any

from weld_packets.drawing.palette import BLUE, GREY, INK, PALE, PAPER, SHEET, SHEET_SHADE, VERMILLION


def test_contrast_of_black_on_white_is_21_as_wcag_defines_it(contrast: Any) -> None:
    assert round(contrast("#000000", "#ffffff"), 6) == 21.0


def test_marks_of_both_robots_stand_out_from_paper_and_parts(contrast: Any) -> None:
    """WCAG 2 requires 3:1 of graphics."""
    for ground in (PAPER, SHEET):
        assert contrast(BLUE, ground) >= 3
        assert contrast(VERMILLION, ground) >= 3
    assert contrast(PALE, PAPER) >= 3


def test_text_reaches_the_strict_level_on_every_ground(contrast: Any) -> None:
    """WCAG 2 AAA requires 7:1 of text; white numbers stand bold on blue (AA, 4.5:1)."""
    assert min(contrast(INK, ground) for ground in (PAPER, SHEET, SHEET_SHADE)) >= 7
    assert contrast(GREY, PAPER) >= 4.5
    assert contrast(PAPER, BLUE) >= 4.5
