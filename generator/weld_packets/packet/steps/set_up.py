"""Setting up a cell: one action each, in the order of the work, all of it or what a changeover leaves of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.records.steps import Action, Callout
from weld_packets.packet.steps.entry import lock_out, take_lock_off, test_and_open
from weld_packets.packet.steps.lists import near, printed_steps, steps_of_warnings
from weld_packets.packet.steps.weld_schedules import Wanted, compared, schedules
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Scope, Task, as_task
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.wording.english import joined, listed


def scope_of(view: OperationView, last: OperationView | None) -> Scope:
    """Return what of a set-up is to be done after the ``last`` operation that ran in the cell, all of it without one.

    Every setting of it is wanted.
    """
    new = view.family.fitted(view.operation, view.approved)
    old = last.family.fitted(last.operation, last.approved) if last else ()
    return Scope(
        fixture=last is None or view.operation.fixture != last.operation.fixture,
        new=frozenset((each.word, each.place) for each in new if each not in old),
        wants=lambda _: True,
    )


def set_up_steps(
    drafts: Iterable[Draft], callouts: tuple[Callout, ...], last: OperationView | None = None
) -> tuple[Action, ...]:
    """Return the set-up of an operation as printed; ``last`` is the one before it that the order has in its cell."""
    drafts = tuple(drafts)
    return printed_steps(drafts, near(drafts, callouts) if last else callouts, AS_FOUND)


def operation_set_up(
    view: OperationView, warnings: tuple[OperationWarning, ...] = (), last: OperationView | None = None
) -> Iterator[Draft]:
    """Yield the set-up of an operation from nothing, or after the ``last`` one in its cell, whose consumables stay."""
    if last is not None:
        yield Draft(
            f"Check that {last.operation.name} is complete at cell {view.cell.id}.",
            see="All its parts are counted and booked, its last-off inspection is signed. Its fixture goes out now.",
            hold=True,
            key="last-complete",
        )
    yield from set_up_drafts(view, scope_of(view, last), lambda *_: True, warnings)


def set_up_drafts(
    view: OperationView, scope: Scope, wanted: Wanted, warnings: tuple[OperationWarning, ...] = ()
) -> Iterator[Draft]:
    """Yield the steps of a set-up: outside, locked out, then with energy back, the gate open and the key in hand.

    ``wanted`` picks the settings that are set.
    """
    yield from test_and_open(view.call, f"cell {view.cell.id}", emptied_before_lock() if scope.locked else None)
    if scope.locked:
        yield from lock_out(f"cell {view.cell.id}")
        yield from _locked(view, scope)
        yield from take_lock_off()
    yield from _energised(view, scope)
    yield from _set(view, scope, wanted)
    yield from steps_of_warnings(warnings, "set up")
    yield Draft(
        "Leave the cell with your tools.",
        see="Mode switch on manual, welding inhibited, key with you.",
        acts=(acts.LEAVE,),
        key="leave",
    )


def _locked(view: OperationView, scope: Scope) -> Iterator[Draft]:
    if scope.fixture:
        yield from _fixture_locked(view)
    yield from view.family.locked(view, scope)


def _energised(view: OperationView, scope: Scope) -> Iterator[Draft]:
    if scope.fixture:
        yield from _fixture_energised(view)
    elif not scope.locked:
        yield emptied()
    yield from view.family.energised(view, scope)


def _set(view: OperationView, scope: Scope, wanted: Wanted) -> Iterator[Draft]:
    settings, measured = tuple(schedules(view, wanted)), tuple(view.family.measured(view, scope))
    if settings:
        yield from as_task(_read_back(view, measured), (*settings, *measured, compared()))
    else:
        yield from measured


def _read_back(view: OperationView, measured: Sequence[Draft]) -> Task:
    """Return the task that is done when every setting is entered as the machines show it."""
    tasks = list(dict.fromkeys(draft.task for draft in measured if draft.task is not None))
    does = [task.do for task in tasks]
    return Task(
        "read-back",
        " ".join(
            ["Set the settings on both robots.", *does, "Read all back."]
            if does
            else ["Set and read back the settings on both robots."]
        ),
        " ".join([*(task.see for task in tasks), "Every value as on the setter's card, or inside its allowed range."]),
        joined((_schedule_numbers(view), *(task.value for task in tasks)), " · "),
        enter="settings",
    )


def _schedule_numbers(view: OperationView) -> str:
    numbers = dict.fromkeys(group.weld_schedule for group in view.groups if group.weld_schedule)
    return f"weld schedule{'s' if len(numbers) > 1 else ''} {listed(numbers)}" if numbers else ""


def wants(view: OperationView, wanted: Wanted) -> Callable[[str], bool]:
    """Return whether a setting of a key is wanted anywhere in an operation."""
    return lambda key: any(wanted(group, value) for group, value in view.values(key))


# ---------------------------------------------------------------- what is confirmed first


def confirm_drafts(view: OperationView) -> Iterator[Draft]:
    """Yield what is compared; it is the first task of a set-up."""
    task = Task(
        "confirm",
        "Compare status, order, cell, robots, process and programs with this packet.",
        f"IN FORCE, and all agree. Only then may anything move; if not, stop and call {view.call}.",
        joined((view.order.order, view.cell.id, _programs(view)), " · "),
    )
    yield from as_task(task, _compared(view))


def _programs(view: OperationView) -> str:
    return joined((f"{robot.id} = {view.operation.programs[robot.id]}" for robot in view.robots), " · ")


def _compared(view: OperationView) -> Iterator[Draft]:
    order = view.order
    yield Draft(
        "Read revision and status at the head of this page.",
        see=f"It must read IN FORCE. With any other status, stop and call {view.call}.",
        key="confirm-status",
    )
    yield Draft(
        "Compare the order number with the work order.",
        see=f"{order.part.number}, {order.part.name}",
        value=order.order,
        key="confirm-order",
    )
    yield Draft(
        "Compare the cell with the plate on its gate.", see=view.cell.name, value=view.cell.id, key="confirm-cell"
    )
    yield Draft(
        "Compare both robots with the plates on their bases, from outside the fence.",
        see=joined(f"{robot.side}: {robot.name}" for robot in view.robots),
        value=joined((f"{robot.side} = {robot.id}" for robot in view.robots), " · "),
        key="confirm-robots",
    )
    yield Draft(
        "Compare the process with the equipment on both robots, from outside the fence.",
        see=f"Both robots: {view.family.carried(view)}",
        value=view.process,
        key="confirm-process",
    )
    yield Draft(
        "Compare the program numbers with the work order.",
        see="Each robot has its own number.",
        value=_programs(view),
        key="confirm-programs",
    )
    yield Draft(
        "Confirm that all of the above agree.",
        see=f"Only then may anything move. If anything differs, stop and call {view.call}.",
        hold=True,
        key="confirm-all",
    )


# ---------------------------------------------------------------- fixture


def _fixture_locked(view: OperationView) -> Iterator[Draft]:
    """Yield what is done to the fixture under lock."""
    task = Task(
        "fixture",
        "Change the fixture, clamp it down, connect its air and plugs.",
        f"Nothing of the last work is left. Zero at: {view.operation.datum}",
        view.operation.fixture,
    )
    yield from as_task(task, _fixture_changed(view))


def _fixture_changed(view: OperationView) -> Iterator[Draft]:
    yield Draft(
        f"Take the old fixture out of the cell, its {listed(['air', 'plugs', *view.words.on_fixture])} first.",
        see="Table and locating pins are clean. No part or tool is left.",
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
        "Take out any part that is still in the fixture.",
        see="Robots at home, drives off. Stops and clamps are clean.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
        key="empty-fixture",
    )


def emptied_before_lock() -> Draft:
    """Return the same where a lock-out comes next, which takes the air without which no clamp lets go of a part."""
    step = emptied()
    return step._replace(
        do="Take out any part that is still in the fixture, then leave the cell.",
        acts=(*step.acts, acts.LEAVE),
    )


def _fixture_energised(view: OperationView) -> Iterator[Draft]:
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
