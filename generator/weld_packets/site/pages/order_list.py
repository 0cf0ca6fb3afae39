"""The page that lists every built order: plain markup, a filter field, nothing fetched, works from a stick."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

_ASSETS = Path(__file__).parent / "list_assets"
_ELSEWHERE = '<nav><a href="register.html">Register</a> <a href="tables.html">Tables</a></nav>'


def order_list_page(cards: Mapping[str, dict[str, Any]], plant: str = "", *, alone: bool = False) -> str:
    """Return the page over all sites, whose ``cards`` are given by the name of their folder.

    ``plant`` is the name over the list, where there is one. Where the sites are ``alone``, away from register and
    tables, it does not lead there.
    """
    shell = (_ASSETS / "orders.html").read_text(encoding="utf-8")
    entries = "\n".join(_entry(slug, card) for slug, card in cards.items())
    head = f'<p class="plant">{escape(plant)}</p>' if plant else ""
    elsewhere = "" if alone else _ELSEWHERE
    marks = {"<!--plant-->": head, "<!--orders-->": entries, "<!--elsewhere-->": elsewhere}
    for mark, markup in marks.items():
        shell = shell.replace(mark, markup, 1)
    return shell


def list_assets() -> dict[str, str]:
    """Return stylesheet and script that the pages over all orders share, by file name."""
    return {name: (_ASSETS / name).read_text(encoding="utf-8") for name in ("orders.css", "orders.js")}


def _entry(slug: str, card: dict[str, Any]) -> str:
    status = str(card["status"])
    mark = f"Rev {card['revision']}, {status}" if card["revision"] else status
    facts = "".join(f"<li>{escape(str(fact))}</li>" for fact in card["facts"])
    return (
        f'<li class="order"{_until(card)}{_check(slug, card)} data-words="{escape(str(card["words"]))}">'
        f'<a href="{escape(slug)}/index.html">'
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
    return f' data-until="{escape(last)}" data-zone="{escape(str(card["zone"]))}"' if last else ""
