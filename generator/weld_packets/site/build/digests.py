"""Recognise a site whose inputs are unchanged without reading any of them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from weld_packets.site.pages.landing import read_card


def is_current(site: Path, expected: str, day: date) -> bool:
    """Return whether ``site`` stands, was built from inputs of the fingerprint ``expected``, and holds for ``day``.

    A revision may take effect on a date without any input changing.
    """
    card = read_card(site)
    if card is None or card.get("fingerprint") != expected or not (site / "index.html").is_file():
        return False
    first, last = card["steady"]
    return (not first or first <= str(day)) and (not last or str(day) <= last)
