"""The page's judgement of an entry and the program's are one rule, driven with generated values in Chromium."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import weld_packets
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.judgement import Linked, Range, is_accepted, judge, judge_together, number_of
from weld_packets.errors import OutOfRangeError
from weld_packets.units.scales import mixed_up_with

pytestmark = pytest.mark.browser
SCRIPT = Path(weld_packets.__file__).parent / "site" / "theme" / "assets" / "operation" / "judgement.js"
UNITS = (
    ("m/min", ""),
    ("mm/s", ""),
    ("A", ""),
    ("kA", ""),
    ("kN", "lbf"),
    ("l/min", ""),
    ("V", ""),
    ("mm", "in"),
    ("ms", "cycles at 50 Hz"),
)
NONSENSE = (
    "",
    " ",
    ".",
    ",",
    "3,",
    ",3",
    "3.2.1",
    "1,234.5",
    "1 234",
    "3,2 m/min",
    "O",
    "1e3",
    "٣",
    "+3",
    "--3",
    "0x1A",
    "Infinity",
    "NaN",
    "3\n",
    "½",
    "12345678901",
)


@pytest.fixture(scope="module")
def judging(chromium: Any) -> Iterator[Any]:
    page = chromium.new_page()
    page.add_script_tag(path=SCRIPT)
    yield page
    page.close()


def decimals(places: int, largest: int = 999) -> st.SearchStrategy[str]:
    return st.integers(0, largest * 10**places).map(lambda whole: f"{Decimal(whole).scaleb(-places):f}")


@st.composite
def required_values(draw: st.DrawFn) -> dict[str, Any]:
    unit, beside = draw(st.sampled_from(UNITS))
    places = draw(st.integers(0, 3))
    low, setting, high = sorted((draw(decimals(places)) for _ in range(3)), key=Decimal)
    others = [{"unit": other, "factor": factor} for other, factor in mixed_up_with(unit, beside)]
    ends = draw(st.sampled_from((("low", "high"), ("low",), ("high",), ())))
    return {
        "kind": draw(st.sampled_from(("setting", "reading"))),
        "unit": unit,
        "setting": setting,
        "low": low if "low" in ends else "",
        "high": high if "high" in ends else "",
        "others": others,
    }


@st.composite
def entries(draw: st.DrawFn, value: dict[str, Any]) -> str:
    """Entries at and around the setting and both ends, in the own unit and in others, and what is not a number."""
    near = [Decimal(text) for text in (value["setting"], value["low"], value["high"]) if text]
    number = draw(st.sampled_from(near)) + draw(
        st.sampled_from([Decimal(text) for text in ("0", "0.1", "-0.1", "0.001", "1")])
    )
    if value["others"] and draw(st.booleans()):
        number /= Decimal(draw(st.sampled_from(value["others"]))["factor"])
    number *= draw(st.sampled_from([Decimal(text) for text in ("1", "1", "1", "1.5", "1.501", "0.6667")]))
    text = f"{number.quantize(Decimal(1).scaleb(-draw(st.integers(0, 9)))):f}"
    text = draw(st.sampled_from((text, text.replace(".", ","))))
    around = draw(
        st.sampled_from(
            ("", " ", "\t", "\n", "\N{IDEOGRAPHIC SPACE}", "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE} ")
        )
    )
    nonsense = st.sampled_from(NONSENSE) | st.text(max_size=12)
    return draw(st.one_of(st.just(around + text + around), st.just(text), st.just(text), nonsense))


def end(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def by_the_program(entry: str, value: dict[str, Any]) -> tuple[str, str, Decimal, str]:
    try:
        number = number_of(entry)
    except OutOfRangeError:
        return "refused", "", Decimal(0), ""
    others = tuple((other["unit"], Decimal(other["factor"])) for other in value["others"])
    allowed = Range(Decimal(value["setting"]), end(value["low"]), end(value["high"]), others)
    found = judge(Decimal(number), allowed)
    return found.verdict, number, found.outside, found.unit


def test_page_and_program_judge_every_entry_equally(judging: Any) -> None:
    met: dict[str, int] = {}

    @settings(max_examples=1500, deadline=None, suppress_health_check=list(HealthCheck))
    @given(data=st.data())
    def compare(data: st.DataObject) -> None:
        value = data.draw(required_values())
        entry = data.draw(entries(value))
        judged = judging.evaluate("([entry, value]) => window.packetJudgement.judge(entry, value)", [entry, value])
        shown = (judged["verdict"], judged["number"], Decimal(judged.get("outside", "0")), judged.get("unit", ""))
        assert shown == by_the_program(entry, value)
        met[judged["verdict"]] = met.get(judged["verdict"], 0) + 1

    compare()
    assert sum(met.values()) >= 500
    assert {verdict for verdict, times in met.items() if times >= 20} == {
        "equal",
        "in range",
        "low",
        "high",
        "implausible",
        "refused",
    }


def test_page_and_program_judge_every_result_equally(judging: Any) -> None:
    @settings(max_examples=300, deadline=None)
    @given(entry=decimals(2, 20), low=st.just("") | decimals(1, 20), high=st.just("") | decimals(1, 20))
    def compare(entry: str, low: str, high: str) -> None:
        result = {"unit": "mm", "minimum": low, "maximum": high}
        judged = judging.evaluate(
            "([entry, result]) => window.packetJudgement.judgeResult(entry, result)", [entry, result]
        )
        assert (judged["verdict"] == "accepted") == is_accepted(Decimal(entry), end(low), end(high))

    compare()


@st.composite
def linked(draw: st.DrawFn) -> tuple[str, str, dict[str, Any]]:
    """Two numbers and a limit, mostly one whose end the first number lies on or beside."""
    other, number, power = draw(decimals(2, 40)), draw(decimals(2, 40)), draw(st.sampled_from((1, -2)))
    near = (
        Decimal(number) / Decimal(other or 1)
        if power == 1 and Decimal(other)
        else Decimal(number) * Decimal(other) ** 2
    )
    step = draw(st.sampled_from([Decimal(text) for text in ("0", "0.0001", "-0.0001", "1", "-1")]))
    ends = [f"{max(near.quantize(Decimal('0.0001')) + step, Decimal(0)):f}", draw(decimals(4, 40))]
    minimum, maximum = draw(st.sampled_from([(ends[0], ""), ("", ends[0]), (ends[0], ends[1]), (ends[1], ends[0])]))
    return number, other, {"power": power, "minimum": minimum, "maximum": maximum}


def test_page_and_program_judge_two_values_together_equally(judging: Any) -> None:
    met: dict[str, int] = {}

    @settings(max_examples=800, deadline=None)
    @given(case=linked())
    def compare(case: tuple[str, str, dict[str, Any]]) -> None:
        number, other, limit = case
        verdict = judging.evaluate("(given) => window.packetJudgement.judgeTogether(...given)", list(case))
        known = Linked(limit["power"], end(limit["minimum"]), end(limit["maximum"]))
        assert verdict == judge_together(Decimal(number), Decimal(other), known)
        met[verdict] = met.get(verdict, 0) + 1

    compare()
    assert {verdict for verdict, times in met.items() if times >= 20} == {"low", "high", "in range"}


@pytest.mark.parametrize(
    ("case", "words"),
    [
        (
            ("Travel speed", "mm/s", 1, "Wire feed speed", "m/min", "3.8", 1, "", "2.33", "high"),
            "Travel speed too high for this wire feed speed: at most 8.85 mm/s at 3.8 m/min.",
        ),
        (
            ("Travel speed", "mm/s", 1, "Wire feed speed", "m/min", "3.8", 1, "2.33", "", "low"),
            "Travel speed too low for this wire feed speed: at least 8.86 mm/s at 3.8 m/min.",
        ),
        (
            ("Weld time", "ms", 0, "Weld current", "kA", "6.2", -2, "7560", "", "low"),
            "Weld time too low for this weld current: at least 196.7 ms at 6.2 kA.",
        ),
        (
            ("Weld time", "ms", 0, "Weld current", "kA", "0", -2, "7560", "", "low"),
            "Weld time too low for this weld current.",
        ),
    ],
)
def test_the_page_says_where_a_value_ends_beside_the_other(judging: Any, case: tuple[Any, ...], words: str) -> None:
    label, unit, places, other, other_unit, entry, power, low, high, verdict = case
    said = judging.evaluate(
        "(given) => window.packetJudgement.togetherWords(...given)",
        [
            {"label": label, "unit": unit, "decimals": places},
            {"label": other, "unit": other_unit},
            entry,
            {"power": power, "minimum": low, "maximum": high},
            verdict,
        ],
    )
    assert said == words
