"""Setting up a cell: one action each, in the order of the work, all of it or what a changeover leaves of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout, OperationWarning
from weld_packets.packet.steps import fitting
from weld_packets.packet.steps.entry import lock_out, take_lock_off, test_and_open
from weld_packets.packet.steps.lists import printed_steps, steps_of_warnings
from weld_packets.packet.steps.weld_schedules import Wanted, compared, schedules
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Scope, Task, as_task
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.wording.english import joined, listed


def whole(view: OperationView) -> tuple[Scope, Wanted]:
    """Return the scope of a set-up from nothing, and that every setting of it is wanted."""
    fitted = view.family.fitted(view.operation, view.approved)
    return Scope(True, frozenset((each.word, each.place) for each in fitted), lambda _: True), lambda *_: True  # noqa: FBT003


def set_up_steps(
    view: OperationView, callouts: tuple[Callout, ...], warnings: tuple[OperationWarning, ...] = ()
) -> tuple[Action, ...]:
    """Return the whole set-up of an operation."""
    return printed_steps(set_up_drafts(view, *whole(view), warnings), callouts, AS_FOUND)


def set_up_drafts(
    view: OperationView, scope: Scope, wanted: Wanted, warnings: tuple[OperationWarning, ...] = ()
) -> Iterator[Draft]:
    """Yield the steps of a set-up: outside, locked out, then with energy back, the gate open and the key in hand.

    ``wanted`` picks the settings that are set.
    """
    yield from test_and_open(view.call, f"cell {view.cell.id}")
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
        yield from fitting.fixture_locked(view)
    yield from view.family.locked(view, scope)


def _energised(view: OperationView, scope: Scope) -> Iterator[Draft]:
    if scope.fixture:
        yield from fitting.fixture_energised(view)
    else:
        yield fitting.emptied()
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
