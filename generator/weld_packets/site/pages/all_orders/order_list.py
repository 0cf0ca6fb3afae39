"""The page that lists every built order: nothing fetched, works from a stick, opens ten thousand as fast as ten.

The markup holds the first orders only. Its script draws a screenful of those that are sought, from two files of data:
what the list shows of each order, and by what else it is found, where a phrase that many orders share is kept once.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from pathlib import Path
from typing import Any

import orjson

from weld_packets.packet.program_use import ProgramClash
from weld_packets.wording.phrases import clashes_words
from weld_packets.wording.revisions import status_words

_ASSETS = Path(__file__).parent / "list_assets"
_ELSEWHERE = (
    '<nav><a href="register.html">Register</a> <a href="tables.html">Tables</a> '
    '<a href="qualification.html">Qualification</a> <a href="instruments.html">Instruments</a></nav>'
)
_SHARED = ("orders.css", "lists.js", "orders.js", "records.js")
DRAWN = 60
"""How many orders the page shows before more are asked for; its script has the same number."""


class OrderList:
    """The page over all sites, to which the card of each is added in turn: ten thousand are not kept to be read again.

    Of each the lists for its script are made at once; the first are drawn.
    """

    def __init__(self) -> None:
        """Begin with no order."""
        self._drawn: list[str] = []
        self._shown: list[str] = []
        self._found: list[str] = []
        self._phrases: dict[str, int] = {}

    def add(self, slug: str, card: Mapping[str, Any]) -> None:
        """Add an order by the folder of its site and that site's card."""
        if len(self._drawn) < DRAWN:
            self._drawn.append(_entry(slug, card))
        self._shown.append(_json(_shown(slug, card)))
        known = self._phrases
        self._found.append(_json([known.setdefault(phrase, len(known)) for phrase in card["words"]]))

    def pages(self, plant: str = "", clashes: Sequence[ProgramClash] = (), *, alone: bool = False) -> dict[str, str]:
        """Return the page and its files by name; its stylesheet and scripts are those of the register and tables too.

        ``plant`` is the name over the list, where there is one; of ``clashes`` its head says how many there are. Where
        the sites are ``alone``, away from register and tables, it does not lead there, and its head says all of each.
        """
        words = f'{{"phrases":{_json(list(self._phrases))},"of":[{",".join(self._found)}]}}'
        return {
            "index.html": _page("\n".join(self._drawn), plant, clashes, alone=alone),
            "orders-shown.js": _script("ORDERS", f"[{','.join(self._shown)}]"),
            "orders-words.js": _script("WORDS", words),
            **{name: (_ASSETS / name).read_text(encoding="utf-8") for name in _SHARED},
        }


def _page(entries: str, plant: str, clashes: Sequence[ProgramClash], *, alone: bool) -> str:
    shell = (_ASSETS / "orders.html").read_text(encoding="utf-8")
    head = f'<p class="plant">{escape(plant)}</p>' if plant else ""
    elsewhere = "" if alone else _ELSEWHERE
    said = _each_said(clashes) if alone else _counted(len(clashes))
    marks = {"plant": head, "elsewhere": elsewhere, "clashes": said, "orders": entries}
    for mark, markup in marks.items():
        shell = shell.replace(f"<!--{mark}-->", markup, 1)
    return shell


def _each_said(clashes: Sequence[ProgramClash]) -> str:
    """Return a sentence about each program that another order uses otherwise."""
    return "".join(
        f'<p class="late">Program {escape(clash.here.program)} of {escape(clash.here.robot)}: '
        f"{escape(clash.problem.message)}. Before the start, see that the controller holds this order's program.</p>\n"
        for clash in clashes
    )


def _counted(count: int) -> str:
    """Return the sentence about programs that two orders use otherwise, where there are any."""
    if not count:
        return ""
    return f'<p class="late">{clashes_words(count)}: <a href="register.html#programs">Compare</a></p>\n'


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
    """Return what the script draws of an order, in the order in which the script takes it."""
    last = _last_day(card)
    until = (last, card["zone"]) if last else ()
    named = (card["order"], card["title"], _mark(card), card["status"], card["summary"])
    return (slug, *named, card["facts"], card["cells"], until, card["review"])


def _last_day(card: Mapping[str, Any]) -> str:
    """Return the last day on which the status of an order is as it is shown, empty where no day is known."""
    return min((str(day) for day in (card["steady"][1], card["good_until"]) if day), default="")


def _mark(card: Mapping[str, Any]) -> str:
    return status_words(card["revision"], card["status"])


def _entry(slug: str, card: Mapping[str, Any]) -> str:
    status = str(card["status"])
    return (
        f'<li class="order"{_until(card)}><a href="{escape(slug)}/index.html">'
        f"<strong>{escape(str(card['order']))}</strong>"
        f'<span class="title">{escape(str(card["title"]))}</span>'
        f'<span class="mark mark-{escape(status.replace(" ", "-"))}">{escape(_mark(card))}</span>'
        f'<span class="summary">{escape(str(card["summary"]))}</span>'
        f'<ul class="facts">{_facts(card["facts"])}</ul></a>{_review(slug, card)}</li>'
    )


def _review(slug: str, card: Mapping[str, Any]) -> str:
    """Return the link to what waits for approval, where anything does."""
    page = str(card["review"])
    return f'<a class="review" href="{escape(slug)}/{escape(page)}">Review what is proposed</a>' if page else ""


def _facts(facts: Iterable[object]) -> str:
    return "".join(f"<li>{escape(str(fact))}</li>" for fact in facts)


def _until(card: Mapping[str, Any]) -> str:
    last = _last_day(card)
    return f' data-until="{escape(last)}" data-zone="{escape(str(card["zone"]))}"' if last else ""
