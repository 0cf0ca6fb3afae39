"""Text for drawings: made safe for XML, measured generously, numbers in one form."""

from __future__ import annotations

import unicodedata
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache

UNSHOWABLE = "\N{REPLACEMENT CHARACTER}"
_NARROW = frozenset("iljItfr.,:;'|!()[]{}/\\-\N{DEGREE SIGN}\N{NO-BREAK SPACE} ")
_WIDE = frozenset("mwMWQOGD@%&\N{EM DASH}")
_NARROW_EM, _USUAL_EM, _CAPITAL_EM, _WIDE_EM, _FULL_EM = 0.42, 0.64, 0.75, 1.0, 1.05
_BOLD = 1.1
ASCENT_EM, DESCENT_EM = 0.78, 0.24
"""Room above and below the baseline, in ems, that covers the common sans-serif faces."""


@lru_cache(maxsize=4096)
def clean(text: str) -> str:
    """Return ``text`` on one line, with what XML or a reader cannot take shown as U+FFFD, never dropped."""
    if text.replace("\N{NO-BREAK SPACE}", " ").isprintable():
        return text
    return "".join(_shown(char) for char in text)


def _shown(char: str) -> str:
    if char in "\t\n\r":
        return " "
    category = unicodedata.category(char)
    if category in ("Cc", "Cs", "Cn", "Co", "Cf", "Zl", "Zp") and char != "\N{SOFT HYPHEN}":
        return UNSHOWABLE
    return char


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return a width in pixels that the common sans-serif faces stay inside (taken from the widest of them)."""
    ems = sum(_em(char) for char in text)
    return ems * size * (_BOLD if bold else 1.0)


def _em(char: str) -> float:
    if char in _NARROW:
        return _NARROW_EM
    if char in _WIDE:
        return _WIDE_EM
    if unicodedata.east_asian_width(char) in "WF":
        return _FULL_EM
    if unicodedata.combining(char):
        return 0.0
    return _CAPITAL_EM if char.isupper() else _USUAL_EM


def number(value: float, decimals: int = 0) -> str:
    """Return ``value`` rounded half up to ``decimals``, without exponent and without a negative zero."""
    step = Decimal(1).scaleb(-decimals)
    rounded = Decimal(repr(value)).quantize(step, rounding=ROUND_HALF_UP)
    return f"{abs(rounded) if rounded == 0 else rounded:f}"


def tenths(value: float) -> str:
    """Return ``value`` to a tenth, a whole number without its point."""
    return number(value) if float(number(value, 1)).is_integer() else number(value, 1)


def shortened(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """Return ``text`` cut to ``room`` pixels with an ellipsis; whole when it fits."""
    if text_width(text, size, bold=bold) <= room:
        return text
    kept = text
    while kept and text_width(kept + "…", size, bold=bold) > room:
        kept = kept[:-1]
    return kept + "…"
