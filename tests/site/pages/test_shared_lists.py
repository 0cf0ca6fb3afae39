"""Lists that cells share on paper: once where all is equal, with what differs named by cell, and nothing lost."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.packet.records.order import CellStart, Changeover, InspectionLine, Packet
from weld_packets.packet.records.steps import Action, Lead, Procedure, Task, TaskStage
from weld_packets.site.pages.shared_lists import (
    SharedText,
    shared_changeover,
    shared_inspections,
    shared_procedures,
    shared_starts,
    steps_beside_inspections,
)


def task(key: str, do: str, **texts: Any) -> Task:
    return Task(key=key, do=do, **texts)


def stage(place: str, *tasks: Task, callouts: tuple[str, ...] = (), gate: str = "open") -> TaskStage:
    return TaskStage.model_validate(
        {
            "key": "s",
            "title": "Inside",
            "mode": "manual",
            "gate": gate,
            "tasks": tasks,
            "place": place,
            "callouts": callouts,
        }
    )


def started(packet: Packet, *stages: TaskStage) -> Packet:
    """Return ``packet`` with a list for each of its operations, in cells C1, C2, ..."""
    operations = tuple(
        operation.model_copy(update={"cell": f"C{operation.number}"}) for operation in packet.operations[: len(stages)]
    )
    starts = tuple(
        CellStart(operation=operation.key, steps=(), stages=(each,))
        for operation, each in zip(operations, stages, strict=True)
    )
    return packet.model_copy(update={"operations": operations, "starts": starts})


def test_cells_with_equal_tasks_share_a_list_that_names_what_differs(packet: Packet) -> None:
    gas = task("gas", "Open the gas.", value="17 l/min", see="No leak.", callouts=("fume",))
    other = gas.model_copy(update={"value": "12 l/min", "notes": ("Read the gauge.",), "callouts": ("arc",)})
    (found,) = shared_starts(
        started(packet, stage("", gas, callouts=("robot",)), stage("", other, callouts=("crush",)))
    )
    assert found.places == ("C1", "C2")
    assert found.titles == ("Cell C1: Front panel", "Cell C2: Front panel")
    (shared,) = found.stages
    assert shared.callouts == ("robot", "crush")
    (line,) = shared.tasks
    assert line.value == SharedText("", (("C1", "17 l/min"), ("C2", "12 l/min")))
    assert line.see == SharedText("No leak.")
    assert line.notes == SharedText("", (("C2", "Read the gauge."),))
    assert line.callouts == ("fume", "arc")


@pytest.mark.parametrize(
    "other",
    [
        stage("", task("gas", "Open the water.")),
        stage("", task("gas", "Open the gas.", hold=True)),
        stage("", task("gas", "Open the gas.", enter="settings")),
        stage("", task("gas", "Open the gas.", lead=Lead(page="going-in", anchor="a", words="w"))),
        stage("", task("gas", "Open the gas."), gate="closed"),
        stage("", task("gas", "Open the gas."), task("more", "Close it.")),
    ],
)
def test_cells_whose_tasks_or_state_differ_keep_lists_of_their_own(packet: Packet, other: TaskStage) -> None:
    found = shared_starts(started(packet, stage("", task("gas", "Open the gas.")), other))
    assert [each.places for each in found] == [("C1",), ("C2",)]


def test_the_changeover_keeps_its_order_and_joins_neighbours_only(packet: Packet) -> None:
    first, second = task("a", "Take the caps off."), task("b", "Fit the wire.")
    stages = (
        stage("", task("c", "Count the parts.")),
        stage("Cell C5: no longer used", first),
        stage("Cell C6: no longer used", first),
        stage("Cell C1: Frame", second),
        stage("Cell C7: no longer used", first),
    )
    change = Changeover(previous_order="A", previous_title="B", lines=(), steps=(), stages=stages)
    found = shared_changeover(packet.model_copy(update={"changeover": change}))
    assert [each.places for each in found] == [("",), ("C5", "C6"), ("C1",), ("C7",)]
    assert found[1].titles == ("Cell C5: no longer used", "Cell C6: no longer used")
    assert shared_changeover(packet.model_copy(update={"changeover": None})) == ()


def procedure(title: str, where: str, value: str, do: str = "Fit the tip.", when: str = "When due.") -> Procedure:
    return Procedure(
        key=title, title=title, where=where, when=when, steps=(Action(do=do, value=value, callouts=(where,)),)
    )


def test_procedures_with_equal_steps_are_one_with_both_titles() -> None:
    found = shared_procedures(
        [
            procedure("Tip 1.2", "C1", "1.2 mm"),
            procedure("Load", "C1", "", do="Load."),
            procedure("Tip 1.0", "C2", "1 mm"),
        ]
    )
    assert [each.titles for each in found] == [("Tip 1.2", "Tip 1.0"), ("Load",)]
    tip = found[0]
    assert tip.where == ("C1", "C2")
    assert tip.when == SharedText("When due.")
    assert tip.steps[0].value == SharedText("", (("C1", "1.2 mm"), ("C2", "1 mm")))
    assert tip.steps[0].callouts == ("C1", "C2")


def test_places_that_agree_are_named_together() -> None:
    (found,) = shared_procedures(
        [procedure("T", place, value) for place, value in (("A", "1"), ("B", "2"), ("C", "1"))]
    )
    assert found.steps[0].value == SharedText("", (("A, C", "1"), ("B", "2")))


def inspection(name: str, stage: str, accept: str = "All.", **other: str) -> InspectionLine:
    known = {"what": "Chisel test", "how": "Drive the wedge.", "every": "every hour", "source": "", **other}
    return InspectionLine(operation=name, operation_name=name, stage=stage, accept=accept, **known)


def test_inspections_of_the_run_are_shared_and_those_of_the_prove_out_are_not_among_them(packet: Packet) -> None:
    lines = (
        inspection("Door", "coupon"), inspection("Door", "first-off"), inspection("Door", "in process"),
        inspection("Side", "in process", "None separates."), inspection("Back", "in process", every="every shift"),
        inspection("Door", "last-off"),
    )  # fmt: skip
    found = shared_inspections(packet.model_copy(update={"inspections": lines}))
    assert [(each.first.stage, each.operations) for each in found] == [
        ("in process", ("Door", "Side")), ("in process", ("Back",)), ("last-off", ("Door",)),
    ]  # fmt: skip
    assert found[0].accept == SharedText("", (("Door", "All."), ("Side", "None separates.")))
    assert found[1].accept == SharedText("All.")


def test_a_step_that_only_repeats_an_inspection_of_the_run_is_left_to_it(packet: Packet) -> None:
    steps = (Action(do="Watch.", see="No sparks."), Action(do="Check Door.", see="Drive the wedge."))
    printed = packet.model_copy(update={"run_steps": steps, "inspections": (inspection("Door", "in process"),)})
    assert steps_beside_inspections(printed) == steps[:1]
    of_prove_out = printed.model_copy(update={"inspections": (inspection("Door", "coupon"),)})
    assert steps_beside_inspections(of_prove_out) == steps
