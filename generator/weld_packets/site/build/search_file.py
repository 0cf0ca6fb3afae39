"""The file that the search loads: places by page, and what many of them share said once; `search.js` reads it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import count
from os.path import commonprefix

import orjson
from markupsafe import escape

from weld_packets.site.pages.site_plan import PageFragment, SearchEntry

_NO_ANCHOR = 0
_SHORT = 4
"""A text of so few letters takes no more room than a number."""


def search_file(config: Mapping[str, object], pages: Iterable[PageFragment]) -> bytes:
    """Return the script with all places of ``pages`` and the theme's ``config`` of its search.

    ``docs`` lists pages: path, rank, how all titles and all anchors of its places begin, and the places. Of a place:
    title, text or the number of an earlier place with that text, anchor or 0 for the page itself, and keys if any.
    Titles, texts and keys are markup, as the theme shows them.
    """
    texts: dict[str, int] = {}
    numbers = count()
    docs = []
    for page in pages:
        places = list(_places(page))
        head = commonprefix([title for title, *_ in places])  # noqa: RUF071 - letters are meant, not paths
        start = commonprefix([anchor for _, _, anchor, _ in places if anchor])  # noqa: RUF071 - as above
        listed = []
        for (title, text, anchor, keys), number in zip(places, numbers, strict=False):
            first = texts.setdefault(text, number)
            listed.append(
                (
                    title.removeprefix(head),
                    text if first == number or len(text) <= _SHORT else first,
                    anchor.removeprefix(start) if anchor else _NO_ANCHOR,
                    *((keys,) if keys else ()),
                )
            )
        docs.append((page.path, page.rank, head, start, listed))
    return b"var __index = " + orjson.dumps({"config": config, "docs": [doc for doc in docs if doc[-1]]})


def _places(page: PageFragment) -> Iterator[tuple[str, str, str, str]]:
    """Yield title, text, anchor and keys of each place; where none is the page itself, that comes first."""
    whole = () if not page.search or not page.search[0].anchor else (SearchEntry(page.title, ""),)
    for entry in (*whole, *page.search):
        yield str(escape(entry.title)), str(escape(entry.text)), entry.anchor, str(escape(entry.keys))
