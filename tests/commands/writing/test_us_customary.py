"""In a plant of US customary units no page and no message says a metric value before, or without, the US one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main

ORDER = "instructions/sr-1-seed-tray-rack/order.yaml"
_UNITS = "mm²|mm/s|mm/min|mm|cm/min|m/min|kJ/mm|kN|N/mm²|l/min|kg/h|g/m|kg|°C"
_NUMBER = r"[0-9][0-9.,]*(?: to [0-9.,]+)?"
METRIC = re.compile(rf"(?<![\w.,])({_NUMBER}\s({_UNITS}))(?![\w²/])")
_AFTER_US = re.compile(r"(in²|in|lbf|in/min|in/s|kJ/in|ft³/h|ft³|gal/min|lb/ft|lb/h|lb|ksi|°F|ft)\s*(\(|$)")
QUOTED = (
    "800 to 500 °C",  # what t8/5 is called
    "ISO 13854, gap for fingers 25 mm",
    "EN 25817, an older text with equal values, for more than 3 mm",
)
"""Words of a standard that is cited."""


class Texts(HTMLParser):
    """Collects the texts of a page, one of each element that holds a sentence."""

    _BREAKS = frozenset({"p", "li", "td", "th", "div", "dt", "dd", "tr", "h1", "h2", "h3", "text", "summary", "b"})

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.skipped = 0

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.skipped += tag in {"script", "style"}
        if tag in self._BREAKS - {"b"}:
            self.parts.append("\n")
        self.parts += [f"\n{text}\n" for name, text in attrs if name in {"title", "aria-label", "alt"} and text]

    def handle_endtag(self, tag: str) -> None:
        self.skipped -= tag in {"script", "style"}
        if tag in self._BREAKS - {"b"}:
            self.parts.append("\n")

    def handle_data(self, data: str) -> None:
        if not self.skipped:
            self.parts.append(data)


def lines(page: Path) -> Iterator[str]:
    texts = Texts()
    texts.feed(page.read_text("utf-8"))
    yield from (" ".join(line.split()) for line in "".join(texts.parts).split("\n"))


def metric_first(line: str) -> list[str]:
    """Return the metric values of a line that no US customary one comes before."""
    for words in QUOTED:
        line = line.replace(words, "")
    found = []
    for match in METRIC.finditer(line.replace("\N{NO-BREAK SPACE}", " ")):
        before = line.replace("\N{NO-BREAK SPACE}", " ")[: match.start()].rstrip()
        if before.count("(") <= before.count(")") and not _AFTER_US.search(before):
            found.append(match[1])
    return found


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("at most 4 mm", ["4 mm"]),
        ("at most 0.157 in (4 mm)", []),
        ("0.12 in 3.05 mm", []),
        ("3 to 5 mm (0.1 to 0.2 in)", ["3 to 5 mm"]),
        ("0.12 in and 5 mm", ["5 mm"]),
    ],
)
def test_what_counts_as_metric_first(line: str, found: list[str]) -> None:
    assert metric_first(line) == found


@pytest.fixture
def plant(tmp_path: Path, capsys: Any) -> Path:
    assert main(["init", str(tmp_path / "plant"), "--units", "US customary"]) == 0
    capsys.readouterr()
    return tmp_path / "plant"


def test_no_page_of_a_new_us_plant_says_a_metric_value_first(plant: Path) -> None:
    """Workings stay in the units of their formulas, and rows of a chart in those of its document."""
    assert main(["--root", str(plant), "build"]) == 0
    pages = (plant / "site" / "sr-1-seed-tray-rack").glob("*.html")
    read = [page for page in sorted(pages) if not re.search(r"calculations|sources", page.name)]
    assert len(read) > 25
    assert {(page.name, line) for page in read for line in lines(page) if metric_first(line)} == set()


def test_the_bounds_on_the_calculation_page_say_us_units_first(plant: Path) -> None:
    assert main(["--root", str(plant), "build"]) == 0
    site = plant / "site" / "sr-1-seed-tray-rack"
    words = [line.partition(" (Figures")[0] for line in lines(site / "operation-1-calculations.html")]
    (feed,) = (line for line in words if line.startswith("wire feed speed: "))
    assert feed.replace("\N{NO-BREAK SPACE}", " ") == (
        "wire feed speed: 177 in/min (4.50 m/min) lies within 59.1 to 984 in/min (1.5 to 25 m/min)"
    )
    checks = [line.partition(" lies within ")[2] for line in words if " lies within " in line]
    checks += [line.partition(" lies within ")[2] for line in lines(site / "operation-2-calculations.html")]
    bounds = [line for line in checks if line and not re.match(r"[0-9.]+ (A|kA|V|ms) to ", line)]
    assert len(bounds) >= 8
    assert [line for line in bounds if metric_first(line.partition(" (")[0])] == []


def test_the_card_gives_the_contact_distance_a_range_in_marks_of_the_gauge_and_the_wire_its_trade_size(
    plant: Path,
) -> None:
    assert main(["--root", str(plant), "build"]) == 0
    page = (plant / "site" / "sr-1-seed-tray-rack" / "operation-1.html").read_text("utf-8")
    card = " ".join(re.sub(r"<[^>]+>", " ", page).replace("&nbsp;", " ").replace("\N{NO-BREAK SPACE}", " ").split())
    assert "Contact tip to work distance 0.5 in 12.7 mm 0.4375 to 0.5625" in card
    assert "ER70S-6-0.040, 0.040 in" in card


@pytest.mark.parametrize("system", ["US customary", "metric"])
def test_the_pad_for_what_a_machine_shows_has_the_decimal_sign_that_the_pages_print(plant: Path, system: str) -> None:
    order = plant / ORDER
    order.write_text(order.read_text("utf-8").replace("show first: US customary", f"show first: {system}"), "utf-8")
    assert main(["--root", str(plant), "build"]) == 0
    pad = plant / "site" / "sr-1-seed-tray-rack" / "operation-1-read-back.html"
    assert re.findall(r'data-digit="([.,])" aria-label="([a-z ]+)"', pad.read_text("utf-8")) == [(".", "decimal point")]


MISTAKES = [
    pytest.param(
        "thickness: 0.12 in", "thickness: 0.13 in", ["from 0.047 in (1.2 mm) to 0.126 in (3.2 mm)"], id="chart"
    ),
    pytest.param("thickness: 0.12 in", "thickness: 0.5 in", ["listed from 0.015 in to 0.135 in"], id="material"),
    pytest.param("leg: 0.13 in", "leg: 0.4 in", ["leg 0.4000 in (10.16 mm) is above"], id="leg"),
    pytest.param("offset: 2.4 in", "offset: 2.9 in", ["it is 0.440 in (11.2 mm) off"], id="off the edge"),
    pytest.param("y: 4 in", "y: 3.25 in", ["from the edge of"], id="edge"),
]


@pytest.mark.parametrize(("old", "new", "said"), MISTAKES)
def test_no_message_of_a_us_order_says_a_metric_value_first(
    plant: Path, capsys: Any, old: str, new: str, said: list[str]
) -> None:
    order = plant / ORDER
    order.write_text(order.read_text("utf-8").replace(old, new), "utf-8")
    assert main(["--root", str(plant), "check"]) == 1
    errors = capsys.readouterr().err
    assert [line for line in errors.splitlines() if metric_first(line)] == []
    assert [words for words in said if words not in errors.replace("\N{NO-BREAK SPACE}", " ")] == []
