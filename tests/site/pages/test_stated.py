"""What a page of calculations states once, and where it leads to it later."""

from __future__ import annotations

import re
from typing import Any

import pytest
from weld_packets.packet.records.order import Control
from weld_packets.packet.records.values import PutIn, TracePoint
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.stated import Place, Stated
from weld_packets.units import Amount

LONG = "table of wires, G3Si1-1.2: law of melting with the constants of its maker"
FIRST = Place("c1a-feed", "Wire feed speed")


@pytest.fixture(scope="module")
def calculations(demo_packets: Any) -> str:
    control = Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")
    pages = plan_draft_site(demo_packets["lk-2041-service-module"], control).pages
    return next(page.html for page in pages if page.path == "operation-1-calculations.html")


def amount(value: str) -> Amount:
    return Amount(value=value, unit="mm", second="", second_unit="")


def area(value: str, name: str = "wire diameter") -> TracePoint:
    put = PutIn(symbol="d", name=name, amount=amount(value))
    return TracePoint(
        form="formula", label="Area", result=amount(value), symbol="S", expression="pi * d ** 2 / 4", numbers=(put,)
    )


def test_the_same_step_is_under_the_first_value_that_needs_it() -> None:
    stated = Stated()
    assert stated.step(area("1.2"), *FIRST) is None
    assert stated.step(area("1.2"), "c1b-feed", "Wire feed speed, B") == FIRST
    assert stated.step(area("1.0"), "c1b-feed", "Wire feed speed, B") is None


def test_a_formula_is_stated_once_whatever_is_put_in() -> None:
    stated = Stated()
    assert stated.formula(area("1.2"), *FIRST) is None
    assert stated.formula(area("1.0"), "c1b-feed", "Wire feed speed, B") == FIRST
    assert stated.formula(area("1.0", "tip diameter"), "c1b-tip", "Tip") is None, "its symbol means something else"


@pytest.mark.parametrize(
    "changed", [{"clause": "B.2"}, {"validity": "steel"}, {"standing": "from memory"}, {"symbol": "A"}]
)
def test_a_formula_from_another_source_or_for_another_use_is_another_one(changed: dict[str, str]) -> None:
    stated = Stated()
    stated.formula(area("1.2"), *FIRST)
    assert stated.formula(area("1.2").model_copy(update=changed), *FIRST) is None


def test_a_long_source_is_stated_once_and_a_short_one_each_time() -> None:
    stated = Stated()
    for label, known in (("arc melting", None), ("arc length", FIRST)):
        assert stated.origin(TracePoint(form="given", label=label, result=amount("1"), origin=LONG), *FIRST) == known
    for _ in range(2):
        short = TracePoint(form="given", label="gap", result=amount("1"), origin="order.yaml, seam T1")
        assert stated.origin(short, *FIRST) is None
        assert stated.step(short, *FIRST) is None


def test_each_step_says_its_result_and_each_formula_is_where_its_link_leads(calculations: str) -> None:
    """Every value can still be followed to its sources: nothing is left out but what is on the page already."""
    articles = dict(re.findall(r'<details class="figure-of" id="([^"]+)".*?>(.*?)</details>', calculations, re.DOTALL))
    again = 0
    for anchor, article in articles.items():
        for step in re.findall(r"<li>(<b>Calculated.*?)</li>", article, re.DOTALL):
            (name, result) = re.findall(r"</b> (.*?)(?:<div.*</div>)?\s*= (.*?)\s*<small>", step, re.DOTALL)[0]
            assert re.match(r"-?[\d.,]+", result), step
            place, shown = anchor, step
            while "<math" not in shown:
                (linked,) = re.findall(r'href="#([^"]+)">as under|as above', shown)
                place = linked or place
                shown = next(
                    one
                    for one in re.findall(r"<li>(<b>Calculated.*?)</li>", articles[place], re.DOTALL)
                    if name in one and one != shown
                )
                again += 1
    assert again > 50


def test_no_formula_is_twice_in_symbols(calculations: str) -> None:
    equations = re.findall(r'<div class="equation" tabindex="0">(<math.*?</math>).*?(?=</li>)', calculations, re.DOTALL)
    steps = re.findall(
        r'<div class="equation" tabindex="0">(<math.*?</math>).*?(<small>.*?)</li>', calculations, re.DOTALL
    )
    assert len(equations) == len(steps) > 20
    assert len(set(steps)) == len(steps)
