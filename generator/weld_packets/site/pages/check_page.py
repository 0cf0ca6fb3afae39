"""The page that a printed sheet's code leads to: whether this very sheet is in force."""

from __future__ import annotations

from weld_packets.site.pages.markup import render
from weld_packets.site.pages.siteplan import PageFragment, SearchEntry

GROUP = "Records"


def check_page() -> PageFragment:
    """Return the page; its script answers from the data script of the order."""
    title = "Check a printed sheet"
    entry = SearchEntry(title, "Scan or type the code of a printed sheet: is it in force")
    return PageFragment(
        "check.html",
        title,
        title,
        render("check.html"),
        group=GROUP,
        search=(entry,),
        scripts=("assets/check.js",),
        coded=False,
    )
