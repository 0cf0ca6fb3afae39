"""The next order starts from what was counted at the set-up of the order before it."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction
from typing import Any

import pytest
from weld_packets.packet.records.order import FittedAtEnd, Packet
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import open_workspace

CAPS = [{"what": "C5A/welds since dressing", "count": "100"}, {"what": "C5A/dressings", "count": "3"}]
WIRE = [{"what": "C2A/wire left", "count": "2,5"}]


@pytest.fixture
def chain(plant: Any) -> Any:
    """The plant with an order that follows the released one."""
    first = plant.root / "instructions" / "wo-1"
    second = plant.root / "instructions" / "wo-2"
    second.mkdir()
    for file in ("points.csv",):
        (second / file).write_bytes((first / file).read_bytes())
    text = (first / "order.yaml").read_text("utf-8").replace("order: T-1", "order: T-2\nprevious order: wo-1", 1)
    for number in ("P1", "P2", "P3", "P4"):
        text = text.replace(number, f"Q{number[1]}")
    (second / "order.yaml").write_text(text, "utf-8")
    return plant


def drafted(plant: Any) -> Packet:
    return draft(open_workspace(plant.root), "wo-2")


def start_of(packet: Packet, what: str, robot: str) -> str:
    (line,) = (each for each in packet.run.consumables if each.what == what and robot in each.robots)
    return line.start.replace("\N{NO-BREAK SPACE}", " ")


def end_of(packet: Packet, what: str, place: str) -> FittedAtEnd:
    return next(each for each in packet.run.fitted_at_end if (each.what, each.place) == (what, place))


def test_every_consumable_of_an_operation_can_be_counted(plant: Any) -> None:
    keys = {each.key: each for each in plant.set_up_form(1).counters} | {
        each.key: each for each in plant.set_up_form(2).counters
    }
    assert set(keys) == {
        "C2A/wire left", "C2A/contact tip used", "C2B/wire left", "C2B/contact tip used", "C2/gas left",
        "C5A/welds since dressing", "C5A/dressings", "C5B/welds since dressing", "C5B/dressings",
    }  # fmt: skip
    assert (keys["C2A/wire left"].unit, keys["C2A/wire left"].what) == ("kg", "Wire left, C2A")
    assert keys["C5A/dressings"].what == "Dressings since the change, C5A"


def test_without_a_count_the_next_order_starts_from_the_plan(chain: Any) -> None:
    assert start_of(drafted(chain), "Wire", "C2A").endswith("used at the end of T-1 revision A")


def test_wire_that_was_weighed_at_the_set_up_counts_in_place_of_the_plan(chain: Any) -> None:
    planned = drafted(chain)
    assert chain.add(chain.set_up(operation=1, counters=WIRE)).status == 0
    counted = drafted(chain)
    said = start_of(counted, "Wire", "C2A")
    assert said.endswith("at the end of T-1 revision A; from what its set-up of 2026-12-02 counted")
    spool = Fraction(next(each for each in chain.set_up_form(1).counters if each.key == "C2A/wire left").whole)
    wear, parts = Fraction(end_of(planned, "Wire", "C2A").wear), counted.head.quantity
    used = spool - Fraction("2.5") + wear * (1 + parts) * spool  # of the first order, which has as many parts
    assert float(said.split(" ", maxsplit=1)[0]) == pytest.approx(float(used), abs=0.06)
    exact = Fraction(end_of(counted, "Wire", "C2A").used)
    assert exact == 1 - Fraction("2.5") / spool + 2 * wear * (1 + parts)  # a spool lasts both, each with a first-off
    assert start_of(counted, "Contact tip", "C2A") == start_of(planned, "Contact tip", "C2A")


def test_caps_go_on_from_their_dressings_and_the_welds_since(chain: Any) -> None:
    assert chain.add(chain.set_up(operation=2, counters=CAPS)).status == 0
    said = start_of(drafted(chain), "Electrode caps", "C5A")
    assert said.startswith("3 of ")
    assert said.endswith("from what its set-up of 2026-12-02 counted")


def test_a_counter_may_be_named_by_its_words_and_others_are_the_plant_s_own(chain: Any) -> None:
    counters = [{"what": "wire left, c2a", "count": "2.5"}, {"what": "parts in the box", "count": "many"}]
    assert chain.add(chain.set_up(operation=1, counters=counters)).status == 0
    assert "counted" in start_of(drafted(chain), "Wire", "C2A")


def test_welds_without_the_dressings_cannot_decide_and_say_so(chain: Any) -> None:
    assert chain.add(chain.set_up(operation=2, counters=CAPS[:1])).status == 0
    said = start_of(drafted(chain), "Electrode caps", "C5A")
    assert "as planned: the set-up of 2026-12-02 did not count 'Dressings since the change, C5A'" in said


def test_dressings_without_the_welds_cannot_decide_and_say_so(chain: Any) -> None:
    assert chain.add(chain.set_up(operation=2, counters=CAPS[1:])).status == 0
    assert "did not count 'Welds since the last dressing, C5A'" in start_of(drafted(chain), "Electrode caps", "C5A")


def test_two_set_ups_that_counted_cannot_decide_and_say_so(chain: Any) -> None:
    later = chain.set_up(operation=1, counters=WIRE, begun=datetime(2026, 12, 4, 7, tzinfo=UTC))
    assert chain.add(chain.set_up(operation=1, counters=WIRE), later).status == 0
    said = start_of(drafted(chain), "Wire", "C2A")
    assert "as planned: it was counted at the set-ups of 2026-12-02 and 2026-12-04" in said
    assert "how many parts were made between them is not recorded" in said


def test_a_set_up_that_was_given_up_does_not_count(chain: Any) -> None:
    given_up = chain.set_up(operation=1, counters=WIRE, accepted=[], finished="")
    assert chain.add(given_up).status == 0
    assert "counted" not in start_of(drafted(chain), "Wire", "C2A")


@pytest.mark.parametrize(
    ("counter", "message"),
    [
        ({"what": "C2A/wire left", "count": "25"}, "is more than a full one holds"),
        ({"what": "C2A/wire left", "count": "half"}, "not a number"),
    ],
)
def test_a_count_that_cannot_be_is_refused(chain: Any, counter: dict[str, str], message: str) -> None:
    answer = chain.add(chain.set_up(operation=1, counters=[counter]))
    assert answer.status == 1
    assert "counters[0].count" in answer.errors
    assert message in answer.errors


def test_half_a_dressing_is_refused(chain: Any) -> None:
    answer = chain.add(chain.set_up(operation=2, counters=[{"what": "C5A/dressings", "count": "2.5"}]))
    assert "is not a whole number" in answer.errors


def test_filing_a_set_up_builds_the_next_order_anew(chain: Any) -> None:
    chain.run("build")
    assert "built 0, unchanged 2" in chain.run("build").out
    chain.add(chain.set_up(operation=1, counters=WIRE))
    assert "built 2, unchanged 0" in chain.run("build").out
    page = (chain.root / "site" / "wo-2" / "run.html").read_text("utf-8")
    assert "from what its set-up of 2026-12-02 counted" in page
