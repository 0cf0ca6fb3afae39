"""Setting up a cell: one action each, in the order of the work, all of it or what a changeover leaves of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.model.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Action, Callout, OperationWarning
from weld_packets.packet.steps import acts, fitting
from weld_packets.packet.steps.entry import lock_out, take_lock_off, test_and_open
from weld_packets.packet.steps.heeded import heeded
from weld_packets.packet.steps.placing import Draft, placed
from weld_packets.packet.steps.setting import Wanted, compared, schedules
from weld_packets.packet.steps.state import AS_FOUND


@dataclass(frozen=True)
class Scope:
    """What of a set-up is to be done; ``robots`` are those whose electrode caps are new, ``value`` picks settings."""

    fixture: bool
    wire: bool
    gas: bool
    robots: frozenset[str]
    value: Wanted

    @property
    def locked(self) -> bool:
        """Whether anything of it needs the cell locked out."""
        return self.fixture or self.wire or self.gas or bool(self.robots)


def whole(view: OperationView) -> Scope:
    """Return the scope of a set-up from nothing."""
    return Scope(
        fixture=True, wire=True, gas=True, robots=frozenset(robot.id for robot in view.robots), value=lambda *_: True
    )


def set_up_steps(
    view: OperationView, callouts: tuple[Callout, ...], warnings: tuple[OperationWarning, ...] = ()
) -> tuple[Action, ...]:
    """Return the whole set-up of an operation."""
    return placed(set_up_drafts(view, whole(view), warnings), callouts, AS_FOUND)


def set_up_drafts(view: OperationView, scope: Scope, warnings: tuple[OperationWarning, ...] = ()) -> Iterator[Draft]:
    """Yield the steps of a set-up: outside, locked out, then with energy back, the gate open and the key in hand."""
    yield from test_and_open(f"cell {view.cell.id}")
    if scope.locked:
        yield from lock_out(f"cell {view.cell.id}")
        yield from _locked(view, scope)
        yield from take_lock_off()
    yield from _energised(view, scope)
    yield from _set(view, scope)
    yield from heeded(warnings, "set up")
    yield Draft(
        "Leave the cell with your tools.",
        see="Mode switch on manual, welding inhibited, key with you.",
        acts=(acts.LEAVE,),
    )


def _locked(view: OperationView, scope: Scope) -> Iterator[Draft]:
    if scope.fixture:
        yield from fitting.fixture_locked(view)
    if scope.wire:
        yield from fitting.wire_locked(view)
        yield from fitting.work_leads_locked(view)
    if scope.gas and view.gas is not None:
        yield fitting.cylinder_shut()
        yield from fitting.gas_locked(view, fitting.names(view.robots))
    yield from fitting.caps_locked(view, _capped(view, scope))


def _energised(view: OperationView, scope: Scope) -> Iterator[Draft]:
    if scope.fixture:
        yield from fitting.fixture_energised(view)
    else:
        yield fitting.emptied()
    if scope.wire:
        yield from fitting.wire_energised(view, fitting.names(view.robots), fitting.distance_of([view]))
    if scope.gas:
        yield from fitting.purge_energised(view)
    if scope.gas or _wants(view, scope, "gas_flow"):
        yield from fitting.flow_energised(view)
    capped = _capped(view, scope)
    if capped:
        yield from fitting.water_energised(view)
        yield from fitting.caps_energised(fitting.names(capped))


def _set(view: OperationView, scope: Scope) -> Iterator[Draft]:
    settings = list(schedules(view, scope.value))
    yield from settings
    if _capped(view, scope) or _wants(view, scope, "electrode_force"):
        yield from fitting.force_energised(view)
    if settings:
        yield compared()


def _capped(view: OperationView, scope: Scope) -> list[Robot]:
    return [robot for robot in view.robots if robot.id in scope.robots and view.cap(robot) is not None]


def _wants(view: OperationView, scope: Scope, key: str) -> bool:
    return any(scope.value(group, value) for group, value in view.values(key))
