"""The model of a cell's states: what it forbids, and that it forbids it whatever an act says of itself."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.state import (
    AS_FOUND,
    RULES,
    Act,
    CellState,
    UnsafeSequenceError,
    done,
    stage_words,
    walk,
)

STOPPED = walk((acts.CYCLE_STOP,), AS_FOUND)
AT_GATE = walk((acts.OPEN_GATE, acts.TAKE_KEY, acts.INHIBIT), STOPPED)
LOCKED = walk((acts.LOCK_OUT,), AT_GATE)
INSIDE = walk((acts.ENTER,), AT_GATE)
READY = replace(
    STOPPED, program="part", coupons="accepted", first_part="accepted", emergency_stop="tried",
    stepped=frozenset({"coupon A", "coupon B", "part A", "part B"}),
)  # fmt: skip
"""A cell that may start as soon as a part is loaded."""
ALL_ACTS = tuple(value for value in vars(acts).values() if isinstance(value, Act))


def force(state: CellState, **makes: Any) -> CellState:
    """Return the state after an act that needs nothing."""
    return done(Act("anything", makes=makes), state)


@pytest.mark.parametrize(
    ("state", "makes", "wrong"),
    [
        (INSIDE, {"mode": "automatic"}, "somebody is inside in automatic"),
        (STOPPED, {"inside": "setter", "mode": "automatic"}, "somebody is inside in automatic"),
        (INSIDE, {"gate": "closed"}, "somebody is inside without the key in hand and the gate open"),
        (INSIDE, {"key": "in the switch"}, "somebody is inside without the key in hand and the gate open"),
        (AT_GATE, {"cycle": "running"}, "a program runs without closed gate, reset and count"),
        (AS_FOUND, {"gate": "open"}, "a program runs without closed gate, reset and count"),
        (AS_FOUND, {"reset": False}, "a program runs without closed gate, reset and count"),
        (AS_FOUND, {"counted": False}, "a program runs without closed gate, reset and count"),
        (AS_FOUND, {"mode": "manual"}, "a program runs without closed gate, reset and count"),
        (AS_FOUND, {"energy": "off"}, "a program runs without closed gate, reset and count"),
        (INSIDE, {"live": "both"}, "a robot can move beside somebody who does not hold its enabling device"),
        (
            INSIDE,
            {"live": "one", "inside": "others"},
            "a robot can move beside somebody who does not hold its enabling device",
        ),
        (INSIDE, {"welding": "enabled", "live": "one"}, "somebody is inside while a program may move and weld"),
        (AT_GATE, {"lock": "on"}, "a locked-out cell has energy"),
        (STOPPED, {"live": "one"}, "a robot can be moved in manual with nobody beside it"),
    ],
)
def test_what_may_never_be_is_refused_whatever_the_act_says(
    state: CellState, makes: dict[str, Any], wrong: str
) -> None:
    with pytest.raises(UnsafeSequenceError, match=f"^anything: {wrong}$"):
        force(state, **makes)


def test_every_rule_holds_where_a_run_begins_and_where_a_lock_hangs() -> None:
    for state in (AS_FOUND, STOPPED, AT_GATE, LOCKED, INSIDE):
        assert [wrong for wrong, rule in RULES.items() if not rule(state)] == []


def test_one_robot_may_move_beside_the_setter_alone() -> None:
    assert force(INSIDE, live="one").live == "one"


def test_an_act_names_only_states_that_there_are() -> None:
    known = {field.name for field in fields(CellState)} | {"torch_dead", "still"}
    for act in ALL_ACTS:
        assert set(act.needs) <= known, act.name
        assert set(act.makes) <= known, act.name


def test_every_act_that_reaches_into_gun_or_feeder_needs_the_lock() -> None:
    for act in (
        acts.REACH_IN,
        acts.TAKE_FIXTURE_OUT,
        acts.FIT_ROLLS,
        acts.FIT_SPOOL,
        acts.FIT_CAPS,
        acts.DRESS_BY_HAND,
    ):
        with pytest.raises(UnsafeSequenceError, match="needs lock on"):
            done(act, INSIDE)
        assert done(act, replace(walk((acts.ENTER,), LOCKED), fixture="empty")).tools == "inside"


def test_a_part_leaves_its_fixture_before_the_air_of_its_clamps_is_locked_off() -> None:
    with pytest.raises(UnsafeSequenceError, match="needs energy on"):
        done(acts.UNLOAD, walk((acts.ENTER,), LOCKED))
    with pytest.raises(UnsafeSequenceError, match="needs fixture empty"):
        done(acts.TAKE_FIXTURE_OUT, walk((acts.ENTER,), LOCKED))
    emptied = walk((acts.ENTER, acts.UNLOAD, acts.LEAVE, acts.LOCK_OUT, acts.ENTER), AT_GATE)
    assert done(acts.TAKE_FIXTURE_OUT, emptied).table == "bare"


@pytest.mark.parametrize(
    ("act", "state", "needed"),
    [
        (acts.OPEN_GATE, AS_FOUND, "cycle stopped"),
        (acts.TAKE_KEY, AS_FOUND, "cycle stopped"),
        (acts.LOCK_OUT, STOPPED, "mode manual"),
        (acts.LOCK_OUT, LOCKED, "still|lock off"),
        (acts.LOCK_OUT, INSIDE, "inside nobody"),
        (acts.ENTER, STOPPED, "gate open"),
        (acts.UNLOCK, walk((acts.ENTER, acts.REACH_IN), LOCKED), "inside nobody"),
        (acts.INCH_WIRE, walk((acts.ENTER,), LOCKED), "energy on|lock off"),
        (acts.FIT_TIP, replace(INSIDE, wire="inched"), "torch_dead True"),
        (acts.FIT_TIP, replace(INSIDE, wire="spool", power_lock="on"), "wire inched or threaded"),
        (acts.DRESS_BY_HAND, replace(LOCKED, inside="setter", caps="new"), "caps ready"),
        (acts.ZERO_WEAR, replace(INSIDE, caps="new"), "caps aligned"),
        (acts.LOAD_PART, replace(INSIDE, fixture="part"), "fixture empty"),
        (acts.LOAD_PART, replace(INSIDE, fixture="coupon"), "fixture empty"),
        (acts.CLAMP_COUPON, replace(INSIDE, fixture="part"), "fixture empty or coupon"),
        (acts.MOVE_ONE, INSIDE, "live one"),
        (acts.CLOSE_GATE, INSIDE, "inside nobody"),
        (acts.CLOSE_GATE, AT_GATE, "counted True"),
        (acts.CLOSE_GATE, replace(LOCKED, counted=True), "lock off"),
        (acts.COUNT_OUT, replace(AT_GATE, tools="inside"), "tools outside"),
        (acts.TO_AUTOMATIC, replace(AT_GATE, counted=True), "gate closed"),
        (acts.RESET, replace(AT_GATE, gate="closed", counted=True), "mode automatic"),
        (acts.ENABLE, AT_GATE, "gate closed"),
        (acts.LEAVE, replace(INSIDE, power_lock="on"), "power_lock off"),
        (acts.START, replace(READY, program="part", fixture="part", reset=False), "reset True"),
        (acts.START, replace(READY, program="coupon", fixture="part"), "program part"),
        (acts.START, replace(READY, program="part", fixture="empty"), "fixture part"),
        (acts.START, replace(READY, program="part", fixture="part", speed="low"), "speed full"),
        (acts.START, replace(READY, program="part", fixture="part", caps="aligned"), "caps ready"),
        (acts.START, replace(READY, program="part", fixture="part", wire="inched"), "wire threaded"),
        (acts.START, replace(READY, fixture="part", first_part="welded"), "first_part accepted"),
        (acts.START, replace(READY, fixture="part", coupons="welded"), "coupons accepted"),
        (acts.START, replace(READY, fixture="part", emergency_stop="untried"), "emergency_stop tried"),
        (acts.FIRST_PART, replace(READY, fixture="part", coupons="welded"), "coupons accepted"),
        (acts.dry_cycle("part", "AB"), replace(READY, fixture="part", speed="low"), "welding inhibited"),
        (acts.dry_cycle("part", "AB"), replace(READY, fixture="part", welding="inhibited"), "speed low"),
        (
            acts.dry_cycle("part", "AB"),
            replace(READY, fixture="part", welding="inhibited", speed="low", stepped=frozenset({"part A"})),
            "nobody has stepped through the program of part B",
        ),
        (acts.weld_coupons("A"), replace(READY, fixture="coupon", coupons="clamped"), "program coupon"),
        (
            acts.weld_coupons("A"),
            replace(READY, program="coupon", fixture="coupon", coupons="clamped", stepped=frozenset()),
            "nobody has stepped through the program of coupon A",
        ),
        (acts.ACCEPT_COUPONS, replace(READY, coupons="clamped"), "coupons welded"),
        (acts.ACCEPT_FIRST_PART, replace(READY, first_part="none"), "first_part welded"),
        (acts.FIT_FIXTURE, replace(LOCKED, inside="setter"), "table bare"),
        (acts.LOAD_PART, replace(INSIDE, fixture="empty", table="bare"), "table fixture"),
        (acts.CUT_WIRE, replace(INSIDE, power_lock="on"), "wire tipped"),
        (acts.POWER_DRESS, AT_GATE, "mode automatic|gate closed|reset True"),
        (acts.POWER_DRESS, AS_FOUND, "robots home|cycle stopped"),
    ],
)
def test_an_act_is_refused_in_a_state_that_it_does_not_allow(act: Act, state: CellState, needed: str) -> None:
    with pytest.raises(UnsafeSequenceError, match=needed):
        done(act, state)


def test_a_list_that_a_step_refers_to_is_walked_before_the_step_itself() -> None:
    whole = Act("go in", needs={"lock": ("on",)}, takes=(acts.OPEN_GATE, acts.TAKE_KEY, acts.LOCK_OUT))
    assert done(whole, STOPPED).lock == "on"


@pytest.mark.parametrize(
    ("state", "words"),
    [
        (AS_FOUND, "Outside the fence, cell in automatic"),
        (AT_GATE, "Gate open, cell in manual, key with you"),
        (LOCKED, "Cell locked out"),
        (replace(AT_GATE, gate="closed"), "Gate closed, cell in manual, key with you"),
    ],
)
def test_a_stage_is_named_after_the_state_of_the_cell(state: CellState, words: str) -> None:
    assert stage_words(state) == words
