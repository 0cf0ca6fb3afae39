"""Whether what was counted at a cell can be so."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.packet.records.forms import SetUpForm, SupplyCounter
from weld_packets.revisions.set_ups.counters import counter_of, counter_problems
from weld_packets.revisions.set_ups.record import Counter, SetUp

FULL = SupplyCounter(
    key="C1A/wire", what="Wire left, C1A", place="C1A", supply="w", unit="kg", counts="left", whole="15"
)
WORN = SupplyCounter(key="C2A/welds", what="Welds", place="C2A", supply="c", unit="welds", counts="worn", whole="200")
TURNS = SupplyCounter(
    key="C2A/turns", what="Dressings", place="C2A", supply="c", unit="times", counts="turns", whole="20"
)
FORM = SetUpForm(values=(), numbers=(), results=(), steps=(), counters=(FULL, WORN, TURNS))


def problems(*counted: tuple[str, str]) -> list[tuple[str, str, str]]:
    entries: Any = tuple(Counter(what=what, count=count) for what, count in counted)
    found = counter_problems(SetUp.model_construct(counters=entries), FORM)
    return [(each.key, each.message, each.remedy) for each in found]


@pytest.mark.parametrize("count", ["15", "15.0", "0", "3,3"])
def test_no_more_than_a_full_one_may_be_left(count: str) -> None:
    assert problems(("Wire left, C1A", count)) == []


def test_more_than_a_full_one_holds_is_refused() -> None:
    said = ("counters[0].count", "is more than a full one holds, 15 kg", "count again, in kg")

    assert problems(("Wire left, C1A", "15.1")) == [said]


@pytest.mark.parametrize("what", ["Welds", "Dressings"])
def test_what_is_counted_in_times_is_a_whole_number(what: str) -> None:
    assert problems((what, "12")) == []
    assert problems((what, "12.5")) == [("counters[0].count", "is not a whole number", "count again")]


def test_welds_since_a_dressing_may_be_more_than_the_life_of_the_caps() -> None:
    assert problems(("Welds", "240")) == []


def test_one_counter_twice_is_refused_however_it_is_written() -> None:
    found = problems(("Wire left, C1A", "3"), (" c1a/WIRE ", "3"))

    assert [(key, message) for key, message, _ in found] == [("counters[1].what", "is there twice")]


def test_a_counter_of_the_plants_own_is_held_to_nothing() -> None:
    assert counter_of(Counter(what="Parts in the bin", count="3"), FORM) is None
    assert problems(("Parts in the bin", "9999"), ("Parts in the bin", "some")) == []


def test_a_count_that_is_no_number_is_refused_at_its_place() -> None:
    assert [key for key, _, _ in problems(("Welds", "some"))] == ["counters[0].count"]
