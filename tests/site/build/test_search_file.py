"""The file of a search says each place once, and all that was to be found can be read out of it."""

from __future__ import annotations

from typing import Any

from weld_packets.packet.records.order import Packet
from weld_packets.site.build.search_file import search_file
from weld_packets.site.pages.search_index import operation_entries
from weld_packets.site.pages.site_plan import PageFragment, SearchEntry

LAP = "C1A. weld schedule 12. Lap fillet a 2.6 mm"
PAGES = (
    PageFragment(
        "operation-1-map.html",
        "Operation 1: Weld map",
        "Weld map",
        "",
        search=(
            SearchEntry("Operation 1: seam T1", LAP, "operation-1-weld-t1", "weld T1"),
            SearchEntry("Operation 1: seam T3", LAP, "operation-1-weld-t3"),
            SearchEntry("Operation 1: <b> & co", "", "operation-1-weld-t3"),
        ),
        rank=2,
    ),
    PageFragment("changeover.html", "Changeover", "Changeover", "", search=(SearchEntry("Changeover", LAP),)),
    PageFragment("start.html", "Start", "Start", "", search=(SearchEntry("Start", "Everyone out"),)),
    PageFragment("going-in.html", "Going in", "Going in", "", search=(SearchEntry("Going in", "Everyone out"),)),
    PageFragment("packet.html", "Print all sheets", "Print", ""),
)


def place(path: str, title: str, text: str = "", rank: int = 5, keys: str = "") -> dict[str, object]:
    return {"location": path, "title": title, "text": text, "rank": rank, "keys": keys}


def test_every_place_is_read_as_it_was_given_the_page_itself_first(places_of: Any) -> None:
    assert places_of(search_file({}, PAGES)) == [
        place("operation-1-map.html", "Operation 1: Weld map", rank=2),
        place("operation-1-map.html#operation-1-weld-t1", "Operation 1: seam T1", LAP, 2, "weld T1"),
        place("operation-1-map.html#operation-1-weld-t3", "Operation 1: seam T3", LAP, 2),
        place("operation-1-map.html#operation-1-weld-t3", "Operation 1: &lt;b&gt; &amp; co", "", 2),
        place("changeover.html", "Changeover", LAP),
        place("start.html", "Start", "Everyone out"),
        place("going-in.html", "Going in", "Everyone out"),
    ]


def test_a_text_and_what_titles_and_anchors_begin_with_stand_once() -> None:
    content = search_file({}, PAGES).decode()
    assert content.count(LAP) == content.count("Operation 1: ") == content.count("operation-1-weld-t") == 1


def test_a_page_without_places_is_not_named() -> None:
    assert b"packet.html" not in search_file({}, PAGES)


def test_two_places_of_a_card_differ_in_what_the_search_lists(demo_packets: dict[str, Packet]) -> None:
    """The same value under two weld schedules is listed with what each is for; a value alone is not."""
    for packet in demo_packets.values():
        for operation in packet.operations:
            titles = [entry.title for entry in operation_entries(operation)[""]]
            assert len(set(titles)) == len(titles), titles
    first = [entry.title for entry in operation_entries(demo_packets["lk-2041-service-module"].operations[0])[""]]
    gas = [title.replace("\N{NO-BREAK SPACE}", " ") for title in first if "Gas flow" in title]
    assert gas == [
        "Operation 1: Gas flow 17 l/min 36 ft³/h, T fillet a 2.5 mm",
        "Operation 1: Gas flow 17 l/min 36 ft³/h, lap fillet a 2.6 mm",
    ]
    assert [title for title in first if "Wire feed speed 3.3" in title] == [
        "Operation 1: Wire feed speed 3.3 m/min 130 in/min"
    ]
