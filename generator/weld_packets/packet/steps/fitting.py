"""What is fitted in a cell, in two halves: locked out, and with energy back and the gate open."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Task, as_task, listed

# ---------------------------------------------------------------- fixture


def fixture_locked(view: OperationView) -> Iterator[Draft]:
    """Yield what is done to the fixture under lock."""
    task = Task(
        "fixture",
        "Change the fixture, clamp it down, connect its air and plugs.",
        f"Nothing of the last order is left. Zero at: {view.operation.datum}",
        view.operation.fixture,
    )
    yield from as_task(task, _fixture_changed(view))


def _fixture_changed(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        f"Take the old fixture out of the cell, its {listed(['air', 'plugs', *view.words.on_fixture])} first.",
        see="Table and locating pins are clean. No part or tool of the last order is left.",
        acts=(acts.ENTER, acts.TAKE_FIXTURE_OUT),
        key="old-fixture-out",
    )
    yield Draft(
        "Fit the fixture, clamp it down and connect its air and plugs.",
        see=f"Zero at: {view.operation.datum}",
        value=view.operation.fixture,
        acts=(acts.ENTER, acts.FIT_FIXTURE),
        key="fit-fixture",
    )


def emptied() -> Draft:
    """Return the step that leaves a fixture that stays empty."""
    return Draft(
        "Take any part of the last order out of the fixture.",
        see="Stops and clamps are clean.",
        acts=(acts.ENTER, acts.UNLOAD),
        key="empty-fixture",
    )


def fixture_energised(view: OperationView) -> Iterator[Draft]:
    """Yield what is checked of the fixture with energy on."""
    task = Task(
        "air-and-frame",
        "Check the air pressure and the user frame on both pendants.",
        "Pressure as on the machine's plate. The frame's zero is the datum of the fixture.",
        view.operation.fixture,
    )
    yield from as_task(task, _fixture_checked(view))


def _fixture_checked(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        "Check the air pressure of the cell and the fixture.",
        see="At the value on the machine's plate. Nothing hisses.",
        acts=(acts.ENTER, acts.SUPPLY),
        key="air-pressure",
    )
    yield Draft(
        f"Read the user frame of {view.operation.fixture} on both pendants.",
        see=f"Its zero is the datum: {view.operation.datum}",
        value=view.operation.fixture,
        acts=(acts.AT_CONTROLS,),
        key="user-frame",
    )
