"""How well two colours stand out from each other."""

from __future__ import annotations

from collections.abc import Callable

import pytest


@pytest.fixture(scope="session")
def contrast() -> Callable[[str, str], float]:
    """Return the WCAG 2 contrast ratio of two colours, from 1 to 21."""

    def ratio(one: str, other: str) -> float:
        low, high = sorted((lightness(one), lightness(other)))
        return (high + 0.05) / (low + 0.05)

    return ratio


def lightness(colour: str) -> float:
    """Return the WCAG 2 relative luminance of ``#rrggbb``, from 0 for black to 1 for white."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
