"""The page that lists every built order: nothing fetched, works from a stick, opens ten thousand as fast as ten.

The markup holds the first orders only. Its script draws a screenful of those that are sought, from two files of data:
what the list shows of each order, and by what else it is found, where a phrase that many orders share is kept once.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import orjson

from weld_packets.packet.program_use import ProgramClash
from weld_packets.site.pages.templating import render
from weld_packets.wording.phrases import clashes_words
from weld_packets.wording.revisions import status_words

_ASSETS = Path(__file__).parent / "list_assets"
_SHARED = ("orders.css", "lists.js", "orders.js", "records.js")
DRAWN = 60
"""How many orders the page shows before more are asked for; its script has the same number."""


class OrderList:
    """The page over all sites, to which the card of each is added in turn: ten thousand are not kept to be read again.

    Of each the lists for its script are made at once; the first are drawn.
    """

    def __init__(self) -> None:
        """Begin with no order."""
        self._drawn: list[tuple[Any, ...]] = []
        self._shown: list[str] = []
        self._found: list[str] = []
        self._phrases: dict[str, int] = {}

    def add(self, slug: str, card: Mapping[str, Any]) -> None:
        """Add an order by the folder of its site and that site's card."""
        shown = _shown(slug, card)
        if len(self._drawn) < DRAWN:
            self._drawn.append(shown)
        self._shown.append(_json(shown))
        known = self._phrases
        self._found.append(_json([known.setdefault(phrase, len(known)) for phrase in card["words"]]))

    def pages(self, plant: str = "", clashes: Sequence[ProgramClash] = (), *, alone: bool = False) -> dict[str, str]:
        """Return the page and its files by name; its stylesheet and scripts are those of the register and tables too.

        ``plant`` is the name over the list, where there is one; of ``clashes`` its head says how many there are. Where
        the sites are ``alone``, away from register and tables, it does not lead there, and its head says all of each.
        """
        counted = clashes_words(len(clashes)) if clashes and not alone else ""
        page = render(
            "all_orders/orders.html", plant=plant, clashes=clashes, counted=counted, drawn=self._drawn, alone=alone
        )
        words = f'{{"phrases":{_json(list(self._phrases))},"of":[{",".join(self._found)}]}}'
        return {
            "index.html": page,
            "orders-shown.js": _script("ORDERS", f"[{','.join(self._shown)}]"),
            "orders-words.js": _script("WORDS", words),
            **{name: (_ASSETS / name).read_text(encoding="utf-8") for name in _SHARED},
        }


def _json(data: object) -> str:
    """Return ``data`` as JSON of ASCII signs: quickly where it has no others, as nearly all of ten thousand orders."""
    text = orjson.dumps(data)
    return text.decode("ascii") if text.isascii() else json.dumps(data, separators=(",", ":"))


def _script(name: str, data: str) -> str:
    """Return a script that makes ``data``, a text of JSON, known as ``name``.

    A browser reads a text several times as fast as a literal, and faster still where all its signs are ASCII.
    """
    text = data.replace("\\", "\\\\").replace("'", "\\'")
    return f"const {name} = JSON.parse('{text}')\n"


def _shown(slug: str, card: Mapping[str, Any]) -> tuple[Any, ...]:
    """Return what page and script draw of an order, in the order in which both take it."""
    last = min((str(day) for day in (card["steady"][1], card["good_until"]) if day), default="")
    until = (last, card["zone"]) if last else ()
    mark = status_words(card["revision"], card["status"])
    named = (card["order"], card["title"], mark, card["status"], card["summary"])
    return (slug, *named, card["facts"], card["cells"], until, card["review"])
