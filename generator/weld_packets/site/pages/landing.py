"""The page that lists every built order: plain markup, a filter field, nothing fetched, works from a stick."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from html import escape
from io import FileIO
from pathlib import Path
from typing import Any

from weld_packets.packet.program_use import ProgramUse
from weld_packets.site.pages.siteplan import SitePlan

CARD = "card.json"
_KEYS = frozenset({"title", "order", "revision", "status", "summary", "facts", "steady", "programs", "fingerprint"})
_ASSETS = Path(__file__).parent / "landing_page"


def write_card(plan: SitePlan, site: Path, fingerprint: str) -> None:
    """Write what the list of orders, and the next build, must know of this site."""
    card = {
        "title": plan.card.title,
        "order": plan.stamp.order,
        "revision": plan.stamp.revision,
        "status": plan.stamp.status,
        "summary": plan.card.summary,
        "facts": list(plan.card.facts),
        "steady": list(plan.card.steady),
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


def write_landing(site_root: Path, cards: Mapping[str, dict[str, Any]], plant: str = "") -> Path:
    """Write ``index.html`` over all sites below ``site_root``, whose ``cards`` are given by name; return its path.

    ``plant`` stands over the list, where it is named.
    """
    shell = (_ASSETS / "orders.html").read_text(encoding="utf-8")
    entries = "\n".join(_entry(slug, card) for slug, card in cards.items())
    lay_list_assets(site_root)
    head = f'<p class="plant">{escape(plant)}</p>' if plant else ""
    page = shell.replace("<!--plant-->", head, 1).replace("<!--orders-->", entries, 1)
    return replace_file(site_root / "index.html", page)


def lay_list_assets(site_root: Path) -> None:
    """Write stylesheet and script that the pages over all orders share."""
    for name in ("orders.css", "orders.js"):
        replace_file(site_root / name, (_ASSETS / name).read_text(encoding="utf-8"))


def read_cards(site_root: Path) -> dict[str, dict[str, Any]]:
    """Return the card of every whole site below ``site_root`` by its name, sorted; none of one that is being made."""
    with os.scandir(site_root) as entries:
        sites = sorted(
            entry.name for entry in entries if not entry.name.startswith(".") and entry.is_dir(follow_symlinks=False)
        )
    cards = ((name, read_card(site_root / name)) for name in sites)
    return {name: card for name, card in cards if card is not None}


def _entry(slug: str, card: dict[str, Any]) -> str:
    status = str(card["status"])
    mark = f"Rev {card['revision']}, {status}" if card["revision"] else status
    facts = "".join(f"<li>{escape(str(fact))}</li>" for fact in card["facts"])
    return (
        f'<li class="order"{_until(card)}{_check(slug, card)}><a href="{escape(slug)}/index.html">'
        f"<strong>{escape(str(card['order']))}</strong>"
        f'<span class="title">{escape(str(card["title"]))}</span>'
        f'<span class="mark mark-{escape(status.replace(" ", "-"))}">{escape(mark)}</span>'
        f'<span class="summary">{escape(str(card["summary"]))}</span>'
        f'<ul class="facts">{facts}</ul></a></li>'
    )


def _check(slug: str, card: dict[str, Any]) -> str:
    """Return where a printed sheet of the order is checked; a draft is never in force."""
    return "" if card["status"] == "draft" else f' data-check="{escape(slug)}/check.html"'


def _until(card: dict[str, Any]) -> str:
    last = str(card["steady"][1])
    return f' data-until="{escape(last)}"' if last else ""


def replace_file(path: Path, text: str) -> Path:
    """Write ``text`` in one step; leave the file alone if it says so already."""
    content = text.encode()
    if not (path.is_file() and path.read_bytes() == content):
        fresh = path.with_name(f".{path.name}.{os.getpid()}")
        fresh.write_bytes(content)
        fresh.replace(path)
    return path
