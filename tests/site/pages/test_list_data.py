"""The files of data of the list of all orders: signs of ASCII alone, which a browser reads fastest, and all is said."""

from __future__ import annotations

import json
from typing import Any

import pytest
from weld_packets.site.pages.all_orders.order_list import OrderList

CARD = {
    "order": "T-1", "revision": "A", "status": "in force", "summary": "20 panels", "facts": ["Operation 1"],
    "cells": ["C1"], "steady": ["", "2026-12-31"], "good_until": "", "zone": "Europe/London", "review": "",
}  # fmt: skip


def data(page: str) -> Any:
    """Return what a script of data holds, as a browser takes it."""
    text = page.partition("JSON.parse('")[2].removesuffix("')\n")
    return json.loads(text.replace("\\'", "'").replace("\\\\", "\\"))


@pytest.mark.parametrize(
    "title", ["Panel", "Türblech 3 mm²", 'the "left" one', "a\\b", "it's", "\N{BLACK SQUARE}", "\x7f"]
)
def test_the_data_of_the_list_is_ascii_and_says_what_the_card_says(title: str) -> None:
    orders = OrderList()
    for slug, name in (("plain", "Panel"), ("other", title)):
        orders.add(slug, {**CARD, "title": name, "words": ["panel", name]})
    pages = orders.pages()
    assert pages["orders-shown.js"].isascii()
    assert pages["orders-words.js"].isascii()
    shown, words = data(pages["orders-shown.js"]), data(pages["orders-words.js"])
    assert [each[:5] for each in shown] == [
        ["plain", "T-1", "Panel", "Rev A, in force", "in force"],
        ["other", "T-1", title, "Rev A, in force", "in force"],
    ]
    assert shown[1][5:] == ["20 panels", ["Operation 1"], ["C1"], ["2026-12-31", "Europe/London"], ""]
    assert [[words["phrases"][at] for at in each] for each in words["of"]] == [["panel", "Panel"], ["panel", title]]
