"""Recognise a site whose inputs are unchanged without reading any of them."""

from __future__ import annotations

from pathlib import Path

from generator.site.landing import read_card


def is_current(site: Path, expected: str) -> bool:
    """Return whether ``site`` stands and was built from inputs of the fingerprint ``expected``."""
    card = read_card(site)
    return card is not None and card.get("fingerprint") == expected and (site / "index.html").is_file()
