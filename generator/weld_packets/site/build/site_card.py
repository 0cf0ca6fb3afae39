"""The card of a site: what the list of orders, and the next build, must know of it without reading its pages."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from datetime import datetime
from io import FileIO
from pathlib import Path
from typing import Any

from weld_packets.packet.program_use import ProgramUse
from weld_packets.site.pages.site_plan import SitePlan
from weld_packets.units.zones import day_at

CARD = "card.json"
_KEYS = frozenset({
    "title", "order", "revision", "status", "summary", "facts", "words", "cells", "steady", "zone", "programs",
    "qualified", "fingerprint",
})  # fmt: skip


def write_card(plan: SitePlan, site: Path, fingerprint: str) -> None:
    """Write what the list of orders, and the next build, must know of this site."""
    card = {
        "title": plan.card.title,
        "order": plan.stamp.order,
        "revision": plan.stamp.revision,
        "status": plan.stamp.status,
        "summary": plan.card.summary,
        "facts": list(plan.card.facts),
        "words": list(plan.card.words),
        "cells": list(plan.card.cells),
        "steady": list(plan.card.steady),
        "zone": plan.card.zone,
        "qualified": [vars(each) for each in plan.card.qualified],
        "programs": [vars(use) for use in plan.card.programs],
        "fingerprint": fingerprint,
    }
    text = json.dumps(card, indent=1, sort_keys=True, ensure_ascii=False)
    (site / CARD).write_text(text + "\n", encoding="utf-8", newline="\n")


def read_card(site: Path) -> dict[str, Any] | None:
    """Return what `write_card` wrote, or None where there is no whole site."""
    try:
        with FileIO(f"{site}/{CARD}") as file:
            card = json.loads(file.read())
    except (OSError, ValueError, RecursionError):
        return None
    return card if isinstance(card, dict) and card.keys() >= _KEYS else None


def programs_on(card: Mapping[str, Any]) -> list[ProgramUse]:
    """Return the uses of programs that `write_card` wrote."""
    return [ProgramUse(**use) for use in card["programs"]]


def read_cards(site_root: Path) -> dict[str, dict[str, Any]]:
    """Return the card of every whole site below ``site_root`` by its name, sorted; none of one that is being made."""
    with os.scandir(site_root) as entries:
        sites = sorted(
            entry.name for entry in entries if not entry.name.startswith(".") and entry.is_dir(follow_symlinks=False)
        )
    cards = ((name, read_card(site_root / name)) for name in sites)
    return {name: card for name, card in cards if card is not None}


def is_current(site: Path, expected: str, at: datetime) -> bool:
    """Return whether ``site`` is there, was built from inputs of the fingerprint ``expected``, and holds ``at`` then.

    A revision may take effect on a date without any input changing.
    """
    card = read_card(site)
    if card is None or card.get("fingerprint") != expected or not (site / "index.html").is_file():
        return False
    (first, last), day = card["steady"], str(day_at(at, card["zone"]))
    return (not first or first <= day) and (not last or day <= last)
