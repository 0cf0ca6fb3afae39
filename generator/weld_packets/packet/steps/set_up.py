"""Setting up a cell: one action each, in the order of the work, all of it or what a changeover leaves of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout, OperationWarning
from weld_packets.packet.steps import fitting
from weld_packets.packet.steps.entry import lock_out, take_lock_off, test_and_open
from weld_packets.packet.steps.lists import printed_steps, steps_of_warnings
from weld_packets.packet.steps.weld_schedules import Wanted, compared, schedules
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Scope
from weld_packets.processes.cell.state import AS_FOUND


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
    settings = list(schedules(view, wanted))
    yield from settings
    yield from view.family.measured(view, scope)
    if settings:
        yield compared()


def wants(view: OperationView, wanted: Wanted) -> Callable[[str], bool]:
    """Return whether a setting of a key is wanted anywhere in an operation."""
    return lambda key: any(wanted(group, value) for group, value in view.values(key))
