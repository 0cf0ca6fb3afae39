"""Colours that differ in lightness as well as in hue, so that a grey print keeps them apart."""

from __future__ import annotations

INK = "#111111"
"""Text and strong lines."""
INK_INSIDE = "#000000"
"""Text inside marks: it carries no white edge."""
PAPER = "#ffffff"
GREY = "#5c5c5c"
"""Dimension lines and notes; contrast 6.7 on paper."""
PALE = "#858585"
"""Ghosts and helper lines."""
SHEET = "#e4e8ec"
"""The body of a part."""
SHEET_SHADE = "#c9d0d7"
"""The body of a part that lies behind or is the second of two."""
BLUE = "#0072b2"
"""Okabe-Ito blue, the darker of the two robot colours."""
VERMILLION = "#d55e00"
"""Okabe-Ito vermillion."""

SIGNAL_YELLOW = "#F9A800"
SIGNAL_RED = "#9B2423"
SIGNAL_BLUE = "#005387"
SIGN_WHITE = "#ffffff"
SIGN_BLACK = "#000000"


def lightness(colour: str) -> float:
    """Return the WCAG 2 relative luminance of ``#rrggbb``, from 0 for black to 1 for white."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the WCAG 2 contrast ratio of two colours, from 1 to 21."""
    low, high = sorted((lightness(one), lightness(other)))
    return (high + 0.05) / (low + 0.05)


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4  # noqa: PLR2004
