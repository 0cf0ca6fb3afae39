"""The pair of an operation in words, in its table of interlocks, in its charts and in its prove-out."""

from __future__ import annotations

import re
from typing import Any

import pytest
from weld_packets.packet.operation.pair import interlock_lines, pair_sheet, wait_lines
from weld_packets.packet.records.operation import InterlockLine, PairSheet
from weld_packets.packet.records.order import Control, Packet
from weld_packets.packet.settings.values import check_of
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import SET_UP, Before, prove_drafts
from weld_packets.planning.pair.blocks import Bead, Pace, course
from weld_packets.planning.pair.planning import plan_pair
from weld_packets.planning.pair.records import Clearance, PairPlan
from weld_packets.site.pages.order_pages import plan_draft_site


@pytest.fixture(scope="module")
def demo(demo_packets: dict[str, Packet]) -> dict[str, Packet]:
    return demo_packets


def crossing(passes: int = 1) -> PairPlan:
    """Return two robots of which B must wait for A's only place, which lies on its way."""
    pace = Pace(1_000_000, 100)
    first = [Bead("A1", number, ((0, 0, 0),), 100, 3000, 100) for number in range(1, passes + 1)]
    second = [Bead("B1", 1, ((0, 60_000, 0),), 100, 500, 100), Bead("B2", 1, ((300_000, 0, 0),), 100, 500, 100)]
    courses = course((0, -400_000, 0), first, pace), course((0, 500_000, 0), second, pace)
    return plan_pair(("C1A", "C1B"), courses, Clearance((40_000, 40_000), 20_000))


def test_an_interlock_names_who_goes_first_and_where_the_other_one_asks() -> None:
    plan = crossing()
    (line,) = interlock_lines(plan)
    assert (line.number, line.first, line.release_after) == (1, "C1B", "it is at its waiting place after B1")
    assert (line.second, line.request_before) == ("C1A", "A1")
    assert line.proof == "hold C1B before that: C1A stops before A1"


def test_a_way_off_the_part_is_stated_because_the_program_needs_it() -> None:
    waits = [line.replace("\N{NO-BREAK SPACE}", " ") for line in wait_lines(crossing())]
    assert waits == [
        "C1A waits 1.7 s at its waiting place, before A1, until C1B has reached its waiting place after B1.",
        "Off the part in between: C1B goes to its waiting place after B1. The programs need these moves.",
    ]


def test_a_pass_is_named_where_a_weld_has_several() -> None:
    lines = list(interlock_lines(crossing(passes=2)))
    assert "A1, pass 1" in {line.request_before for line in lines}


def test_the_page_says_what_each_robot_waits_for(demo: Any) -> None:
    operations = {operation.name: operation.pair for operation in demo["lk-2055-outdoor-column"].operations}
    carcass = operations["Carcass side"]
    assert carcass.waits[0].replace("\N{NO-BREAK SPACE}", " ") == (
        "C6A waits 2.5 s at A01, before A02, until C6B has finished B02."
    )
    assert carcass.waits[1] == "The other 3 interlocks hold a robot only where the other one is late."
    assert [line.wait.replace("\N{NO-BREAK SPACE}", " ") for line in carcass.interlocks] == ["2.5 s", "", "", ""]
    assert [line.number for line in carcass.interlocks] == [1, 2, 3, 4]
    assert operations["Foot strips"].waits == (
        "The robots never come near each other: no interlock is needed, and neither waits.",
    )
    door = operations["Service door"]
    assert door.waits == (
        "In a cycle as planned neither robot waits. The 6 interlocks hold a robot only where the other one is late.",
    )


def test_the_distance_is_said_in_the_first_system_of_the_order(demo: Any) -> None:
    tray = next(
        operation.pair for operation in demo["lk-2063-coastal-column"].operations if operation.name == "Drip tray"
    )
    text = tray.distance.replace("\N{NO-BREAK SPACE}", " ")
    assert text.startswith("the tool centre points come no nearer than 5.98 in (152 mm), 1.9 s after the start")
    assert "at least 5.91 in (150 mm) is kept: keep-out radii 2.56 in (65 mm) (C9A)" in text
    assert "margin 0.79 in (20 mm)" in text
    times, distance = tray.pictures
    assert "5.98 in at 1.9" in distance.svg.replace("\N{NO-BREAK SPACE}", " ")
    assert "distance in inches" in distance.svg
    assert "distance in mm" not in distance.svg
    assert "waits 0.2" in times.description


def test_the_charts_draw_every_weld_and_every_interlock(demo: Any) -> None:
    operation = next(
        operation for operation in demo["lk-2055-outdoor-column"].operations if operation.name == "Carcass side"
    )
    times, distance = operation.pair.pictures
    text = re.findall(r"<text[^>]*>([^<]*)</text>", times.svg)
    assert {"C6A", "C6B", "weld", "move", "wait", "1", "2", "3", "4"} <= set(text)
    assert "2.5\N{NO-BREAK SPACE}s" in text
    assert all(weld.key.split("-")[-1].upper() in times.description.upper() for weld in operation.welds[:3])
    assert "kept: at least 190 mm" in distance.svg.replace("\N{NO-BREAK SPACE}", " ")
    assert len(distance.svg) < 30_000


def test_without_data_nothing_is_drawn_and_the_reason_is_on_the_page(make: Any) -> None:
    packet = make.packet(make.spot_operation())
    pair = packet.operations[0].pair
    assert not pair.is_checked
    assert not pair.pictures
    assert not pair.interlocks
    assert pair.distance.startswith("whether C5A and C5B come too near each other is not checked")
    pages = {
        page.path: page.html for page in plan_draft_site(packet, Control(revision="", status="draft", digest="0")).pages
    }
    assert "<b>Not checked:</b> Whether C5A and C5B come too near" in pages["operation-1-map.html"]
    assert "Both robots over time" not in pages["operation-1-calculations.html"]


def test_the_page_of_an_operation_shows_the_interlocks_and_what_is_not_looked_at(demo: Any) -> None:
    packet = demo["lk-2055-outdoor-column"]
    pages = {
        page.path: page.html for page in plan_draft_site(packet, Control(revision="", status="draft", digest="0")).pages
    }
    page = pages["operation-4-map.html"].replace("\N{NO-BREAK SPACE}", " ")
    assert "C6A waits 2.5 s at A01, before A02, until C6B has finished B02." in page
    assert "Hold C6B before that: C6A stops before A02." in page
    assert "robot arms, cables and clamps are not checked. Prove it in the dry cycles, at low speed override." in page
    assert pages["operation-4-calculations.html"].count("pair-times-title") == 2


LOCK = InterlockLine(
    number=1, first="C1A", release_after="S1 is done", second="C1B", request_before="T2", proof="hold C1A"
)


def test_every_interlock_is_proved_in_a_dry_cycle_before_anything_welds(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    locks = (LOCK, LOCK.model_copy(update={"number": 2, "first": "C1B", "second": "C1A"}))
    steps = printed_steps(
        prove_drafts(view, Before(pair=PairSheet(is_checked=True, distance="far", interlocks=locks))), (), SET_UP
    )
    does = [step.do for step in steps]
    wanted = [
        "Press cycle start: one dry cycle for interlock 1. Hold C1A before S1 is done.",
        "Press cycle start: one dry cycle for interlock 2. Hold C1B before S1 is done.",
    ]
    assert [do for do in does if "interlock" in do] == wanted
    assert does.index(wanted[0]) < does.index("Press cycle start, weld the first-off part and watch from outside.")
    proof = next(step for step in steps if step.do == wanted[0])
    assert proof.see == "C1B stops before T2 and goes on only after C1A has gone on. Both end at home."


@pytest.mark.parametrize(
    ("pair", "seen"),
    [
        (None, "The distance of the robots is not checked: stop where they come near each other."),
        (PairSheet(is_checked=False, distance=""), "The distance of the robots is not checked: stop"),
        (PairSheet(is_checked=True, distance=""), "The robots never come near each other."),
        (PairSheet(is_checked=True, distance="", interlocks=(LOCK,)), "No robot enters before its interlock"),
    ],
)
def test_the_first_dry_cycle_says_what_is_known_of_the_robots(make: Any, pair: PairSheet | None, seen: str) -> None:
    (view,) = make.views(make.arc_operation())
    steps = printed_steps(prove_drafts(view, Before(pair=pair)), (), SET_UP)
    dry = next(step for step in steps if step.do.startswith("Press cycle start: one dry cycle of both robots"))
    assert dry.see.startswith(seen)
    assert "shared zone" not in str(steps)


def test_a_plan_says_the_same_on_the_sheet_and_among_the_checks(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    plan = make.plan((make.result(make.spot_operation()),))
    (verdict,) = plan.operations[0].verdicts
    assert pair_sheet(plan, view).distance == check_of(verdict, view.showing).text
