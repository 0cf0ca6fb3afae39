"""What to change at each cell from the previous order, and what stays, with the steps."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from weld_packets.model.order import Order
from weld_packets.packet.changeover.lines import as_set, change_lines
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import ChangeLine, Changeover, Packet
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.steps import Action, Callout, TaskStage
from weld_packets.packet.records.values import Value
from weld_packets.packet.safety.messages import Messages
from weld_packets.packet.steps.entry import lock_out, stop_and_open, take_lock_off, wait_outside
from weld_packets.packet.steps.lists import near, printed_steps
from weld_packets.packet.steps.set_up import emptied_before_lock, scope_of, set_up_drafts, wants
from weld_packets.packet.steps.stages import stages
from weld_packets.packet.steps.weld_schedules import AT_THE_NOZZLE, Wanted
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Lead, Scope, under
from weld_packets.processes.cell.state import AS_FOUND, CellState
from weld_packets.wording.changeover import basis_words, cell_heading
from weld_packets.wording.english import inside, listed


@dataclass(frozen=True)
class Previous:
    """The order that ran before, with its operations; ``released`` is its last released packet, with its revision."""

    order: Order
    views: tuple[OperationView, ...]
    released: tuple[str, Packet] | None = None


def changeover(views: Sequence[OperationView], previous: Previous, safety: Messages) -> Changeover:
    """Return the changeover sheet, cell by cell."""
    lines = change_lines(previous.views, views)
    parts = [
        *(part for cell, here in lines.items() for part in _at_cell(cell, views, previous, safety, here)),
        _part("cells", [_proving(dict.fromkeys(view.cell.id for view in views))]),
    ]
    return Changeover(
        previous_order=previous.order.order,
        previous_title=previous.order.title,
        lines=tuple(line for here in lines.values() for line in here),
        steps=tuple(step for part in parts for step in part.steps),
        basis=_basis(previous),
        stages=tuple(stage for part in parts for stage in part.stages),
    )


class _Part(NamedTuple):
    """Some steps of the sheet, with their stages."""

    steps: tuple[Action, ...]
    stages: tuple[TaskStage, ...]


def _part(
    name: str,
    drafts: Iterable[Draft],
    callouts: Sequence[Callout] = (),
    start: CellState | None = None,
    place: str = "",
) -> _Part:
    """Return steps whose keys begin with ``name``; without ``start`` they leave the cell as it is."""
    named = tuple(under(name, drafts))
    steps = printed_steps(named, callouts, start, place)
    return _Part(steps, stages(name, named, steps, callouts, start))


def _basis(previous: Previous) -> str:
    """Return what the sheet rests on: the sources of the previous order, which may have moved on from its release."""
    if previous.released is None:
        return basis_words(previous.order.order)
    revision, packet = previous.released
    is_as_released = [_as_run(each) for each in packet.operations] == [_as_run(view) for view in previous.views]
    return basis_words(previous.order.order, revision, is_as_released=is_as_released)


def _as_run(operation: OperationSheet | OperationView) -> tuple[object, ...]:
    """Return what is set and fitted for an operation, weld by weld, whatever else its page says."""
    if isinstance(operation, OperationSheet):
        programs = {program.robot: program.number for program in operation.programs}
        name, cell, fixture = operation.name, operation.cell, operation.fixture
    else:
        programs = dict(operation.operation.programs)
        name, cell, fixture = operation.operation.name, operation.cell.id, operation.operation.fixture
    settings = {
        (robot, weld): {value.key: (group.weld_schedule, value.amount) for value in group.dialled}
        for group in operation.groups
        for robot in group.robots
        for weld in group.welds
    }
    return name, cell, fixture, programs, settings


def _complete(order: str, cell: str, before: Sequence[OperationView]) -> Draft:
    """Return the step that a cell waits for; cells end an order one after the other, and each is changed over then."""
    ended = listed(view.operation.name for view in before)
    return Draft(
        f"Check that order {order} is complete at cell {cell}.",
        see=f"Its parts are counted and booked, the last-off inspection of {ended} is signed. Other cells may still "
        "run it.",
        hold=True,
        key="complete",
    )


def _proving(cells: Iterable[str]) -> Draft:
    return Draft(
        "Start no cell before its first-off part is accepted.",
        see=f"Prove-out signed at {listed(cells)}.",
        hold=True,
        key="accepted",
    )


def _at_cell(
    cell: str, views: Sequence[OperationView], previous: Previous, safety: Messages, lines: Sequence[ChangeLine]
) -> Iterator[_Part]:
    """Yield the steps at one cell; also one without any change is stopped and opened, and its last part taken out."""
    here = [view for view in views if view.cell.id == cell]
    before = [view for view in previous.views if view.cell.id == cell]
    place = cell_heading(cell, [view.operation.name for view in here])
    if before:
        yield _part(f"{cell}-before", [_complete(previous.order.order, cell, before)], place=place)
    if not here:
        cleared = tuple(_cleared(before[-1]))
        own = _keys_of_cleared(before[-1], views, safety)
        yield _part(cell, cleared, near(cleared, _messages(safety, own)), AS_FOUND, place)
        return
    if not before:
        yield _part(cell, [_from_nothing(here[0]), *_following(here)], place=place)
        return
    first = here[0]
    stays = [inside(line.what) for line in lines if line.stays]
    drafts = [*_stays(cell, stays)]
    set_up = tuple(set_up_drafts(first, *_scope(first, before[-1])))
    own = {key for view in here for key in safety.of_operation[view.key]}
    done = "The steps above replace its set-up: nothing of it is repeated."
    yield _part(cell, set_up, near(set_up, _messages(safety, own)), AS_FOUND, place)
    yield _part(f"{cell}-proving", [*drafts, _prove(first, done), *_following(here)], place=place)


def _messages(safety: Messages, keys: Container[str]) -> list[Callout]:
    return [each for each in safety.at("changeover") if each.key in keys]


def _keys_of_cleared(last: OperationView, views: Sequence[OperationView], safety: Messages) -> set[str]:
    """Return the messages for a cell that the order leaves out: those of its process, and those of every operation."""
    same = (safety.of_operation[view.key] for view in views if view.operation.process == last.operation.process)
    return set.intersection(*map(set, safety.of_operation.values())).union(*same)


def _scope(view: OperationView, last: OperationView) -> tuple[Scope, Wanted]:
    """Return what of the set-up of an operation is to be done after the ``last`` one that ran in its cell."""
    held = {_held(robot, group, value) for group in last.groups for robot in group.robots for value in group.dialled}

    def wanted(group: SettingGroup, value: Value) -> bool:
        """Return whether a robot of the group holds another value, or none, where the group keeps it now."""
        return any(_held(robot, group, value) not in held for robot in group.robots)

    return replace(scope_of(view, last), wants=wants(view, wanted)), wanted


def _held(robot: str, group: SettingGroup, value: Value) -> tuple[str, ...]:
    """Return a value with where it is kept: under a weld schedule's number, but for what is set at the nozzle."""
    number = "" if value.key in AT_THE_NOZZLE else group.weld_schedule
    return robot, number, value.key, as_set(value).same


def _stays(cell: str, stays: Sequence[str]) -> Iterator[Draft]:
    if stays:
        yield Draft(f"Check what stays at cell {cell}.", see=f"Unchanged: {'; '.join(stays)}.", key="stays")


def _from_nothing(view: OperationView) -> Draft:
    return Draft(
        f"Set up cell {view.cell.id} in full, then prove it out.",
        see=f"Set-up and prove-out of {view.operation.name}, every step.",
        value=view.cell.id,
        key=f"set-up-{view.key}",
        lead=Lead(page=f"{view.key}-set-up", anchor=f"{view.key}-setup", words="Set-up"),
    )


def _following(here: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the set-up of every further operation of a cell, which takes out the fixture of the one before."""
    for before, view in pairwise(here):
        ended, cell = f"After the last part of {before.operation.name}", f"cell {view.cell.id}"
        yield _from_nothing(view)._replace(do=f"{ended}, set up {cell} for {view.operation.name}, then prove it out.")


def _prove(view: OperationView, see: str) -> Draft:
    return Draft(
        f"Prove cell {view.cell.id}: prove-out of {view.operation.name}.",
        see=see,
        key=f"prove-{view.key}",
        lead=Lead(page=f"{view.key}-prove-out", anchor=f"{view.key}-prove", words="Prove-out"),
    )


def _cleared(last: OperationView) -> Iterator[Draft]:
    """Yield how a cell that falls out of use is left: nothing in it, no lock of the setter's on it."""
    cell = f"cell {last.cell.id}"
    yield from stop_and_open(last.call, cell)
    yield emptied_before_lock()
    yield from lock_out(cell)
    yield Draft(
        f"Clear {cell}: tools, loose parts, and the fixture if it is needed elsewhere.",
        see="Nothing of the previous order is left in it.",
        value=last.operation.fixture,
        acts=(acts.ENTER, acts.TAKE_FIXTURE_OUT),
        key="clear",
    )
    yield from last.family.cleared(last)
    yield from take_lock_off()
    yield wait_outside("until it is used again")
