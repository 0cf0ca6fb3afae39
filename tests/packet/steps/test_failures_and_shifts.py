"""A cell that failed, lost its power, or goes to somebody else: what comes first, and that nobody is left unguarded."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any

import pytest
from weld_packets.model.tables.plant import EmergencyStopTest
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action, Procedure
from weld_packets.packet.steps.run.run import called_for, run_lists, start_of
from weld_packets.processes.cell.drafts import COUPONS_BEGIN
from weld_packets.processes.cell.state import walk

CALL = "the foreman (extension 7)"


@pytest.fixture
def views(make: Any) -> tuple[OperationView, ...]:
    return make.views(make.arc_operation(), make.spot_operation())


def _lists(views: Any) -> dict[str, Procedure]:
    return {each.key: each for each in run_lists(views, "", ())[1]}


def _in_order(steps: tuple[Action, ...], *wanted: str) -> bool:
    does = [step.do for step in steps]
    places = [next((at for at, do in enumerate(does) if do.startswith(each)), -1) for each in wanted]
    return -1 not in places and places == sorted(places)


# ---------------------------------------------------------------- leak, loss of a supply, loss of power


def test_what_leaks_is_shut_off_and_locked_before_anybody_repairs_it_and_seen_tight_before_the_run(views: Any) -> None:
    steps = _lists(views)["failure"].steps
    assert _in_order(
        steps, "Stop the cell with cycle stop.", "Shut off what leaks", "Go in by the list", "Call whoever repairs",
        "Leave the cell", "Take off your lock", "Open what was shut", "Take the part out and set it aside",
        "Load the fixture", "Come out by the list",
    )  # fmt: skip
    (repair,) = (step for step in steps if step.do.startswith("Call whoever repairs"))
    assert repair.stage == "Cell locked out"
    assert "a lock of their own" in repair.see


def test_a_leak_names_the_valves_that_the_order_has_and_gas_only_where_there_is_any(make: Any) -> None:
    def shut(*operations: Any) -> str:
        (step,) = (each for each in _lists(make.views(*operations))["failure"].steps if each.do.startswith("Shut off"))
        return step.see

    assert shut(make.spot_operation()) == "Cooling water in supply and return and air at its main valve."
    arc = shut(make.arc_operation())
    assert arc.startswith("Gas at the cylinder and air at its main valve. After a leak of gas, air the cell first:")


def test_when_the_power_fails_nothing_may_move_at_its_return(views: Any) -> None:
    steps = _lists(views)["power"].steps
    assert steps[0].do == "Press the emergency stop and stay outside."
    assert _in_order(steps, "Press the emergency stop", "Turn the mode switch to manual", "Read every alarm",
                     "Compare settings", "Go on by the list")  # fmt: skip
    assert steps[-1].lead is not None
    assert steps[-1].lead.anchor == "list-after-stop"
    assert not any("cycle start" in step.do for step in steps)


def test_at_a_fire_nobody_goes_in_before_the_supervisor_says_so(views: Any) -> None:
    steps = _lists(views)["after-stop"].steps
    assert _in_order(steps, "Leave the emergency stop pressed", "At fire or smoke", "Open the gate")
    assert steps[1].see.endswith(f"Nobody goes on before {CALL} says so.")


def test_a_cap_that_sticks_is_taken_off_under_lock_and_a_wire_with_its_power_source_locked_off(views: Any) -> None:
    (step,) = (each for each in _lists(views)["after-stop"].steps if each.do.startswith("Free the robot"))
    assert (
        "At a cap that sticks, do not pull with the robot: leave, lock out, turn the cap off, then unlock." in step.see
    )
    assert "At a torch that sticks, lock the power source off, cut the wire, then unlock." in step.see


# ---------------------------------------------------------------- handed over, and the next shift


def test_a_cell_that_is_handed_over_is_at_no_moment_without_a_lock(views: Any) -> None:
    (called,) = (each for each in called_for(views) if each.key == "hand-over")
    state = start_of(called)
    for draft in called.drafts:
        state = walk(draft.acts, state)
        assert (state.lock, state.energy, state.mode) == ("on", "off", "manual"), draft.do
    assert state.inside == "nobody"
    assert _in_order(_lists(views)["hand-over"].steps, "Leave the cell, everybody with you",
                     "Let the one who takes over put on their own lock first.", "Take your lock off",
                     "Let the one who takes over try both robots")  # fmt: skip


def test_a_key_that_nobody_takes_over_goes_to_the_supervisor(views: Any) -> None:
    assert _lists(views)["end"].steps[-1].see.endswith(f"Where nobody takes over, to {CALL}.")


def _tested(views: tuple[OperationView, ...], test: EmergencyStopTest | None) -> Action:
    found = []
    for view in views:
        plant = view.approved.plant.model_copy(update={"emergency_stop_test": test})
        found.append(replace(view, approved=replace(view.approved, plant=plant)))
    (step,) = (each for each in _lists(found)["start-again"].steps if each.do.startswith("Press the emergency stop"))
    return step


def test_a_shift_tests_the_emergency_stop_as_often_as_the_plant_states_and_says_where_it_states_nothing(
    views: Any,
) -> None:
    assert _tested(views, None).see.endswith("The plant states no interval: test it at every shift.")
    shift = _tested(views, EmergencyStopTest(every="shift", source="RA-12, 4.3")).see
    assert shift.startswith("The drives drop out")
    assert shift.endswith("Every shift, RA-12, 4.3.")
    month = _tested(views, EmergencyStopTest(every="month", source="RA-12")).see
    assert month.startswith("Left out where one is noted for this month. The drives drop out")
    assert month.endswith("Every month, RA-12.")


def test_a_shift_looks_into_the_cell_before_it_resets_and_tests_the_gate_before_it_goes_in(views: Any) -> None:
    assert _in_order(
        _lists(views)["start-again"].steps, "Read the part counter", "Open the gate, look into the whole cell",
        "Turn the mode switch to automatic", "Press the emergency stop at the panel", "Open the gate and stay outside",
        "Turn the mode switch to manual", "Go in alone", "Come out by the list",
    )  # fmt: skip


@pytest.mark.parametrize("what", ["drives of both robots drop out", "drives drop out, and come back only"])
def test_a_safeguard_that_does_not_act_keeps_everybody_out(demo_packets: dict[str, Packet], what: str) -> None:
    steps = [step for packet in demo_packets.values() for step in _printed(packet) if what in step.see]
    assert steps
    for step in steps:
        assert "If not, nobody goes in: call " in step.see, step.do


# ---------------------------------------------------------------- what one list says of another


def _printed(packet: Packet) -> Iterator[Action]:
    for operation in packet.operations:
        yield from (*operation.confirm, *operation.set_up, *operation.prove)
    yield from chain(packet.run_steps, *(each.steps for each in (*packet.starts, *packet.procedures)))
    yield from packet.changeover.steps if packet.changeover else ()


def test_every_list_that_a_sentence_names_is_there_under_that_name(demo_packets: dict[str, Packet]) -> None:
    for packet in demo_packets.values():
        titles = {each.title for each in packet.procedures} | {COUPONS_BEGIN, COUPONS_BEGIN.rstrip(",")}
        said = " ".join(
            [*(f"{step.do} {step.see}" for step in _printed(packet)), *(each.when for each in packet.procedures)]
        )
        named = set(re.findall("“([^”]+)”", said))
        assert len(named) > 3
        assert named <= titles
        tasks = {task.do for each in packet.operations for stage in each.prove_stages for task in stage.tasks}
        assert any(do.startswith(COUPONS_BEGIN) for do in tasks)


def test_every_step_leads_to_a_list_that_is_there(demo_packets: dict[str, Packet]) -> None:
    for packet in demo_packets.values():
        keys = {f"list-{each.key}" for each in packet.procedures}
        led = [step.lead for step in _printed(packet) if step.lead is not None and step.lead.page == "going-in"]
        assert led
        assert {lead.anchor for lead in led} <= keys
        by_key = {f"list-{each.key}": each.title for each in packet.procedures}
        assert all(lead.words in {by_key[lead.anchor], "Going in during the run"} for lead in led)
