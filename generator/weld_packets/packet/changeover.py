"""What to change at each cell from the previous order, and what stays."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from weld_packets.calculation.path import length_mm
from weld_packets.model.order import Order
from weld_packets.packet.operation.inspections import ACCEPTED_KEYS
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import welds_of
from weld_packets.packet.records import (
    Action,
    Amount,
    Callout,
    ChangeLine,
    Changeover,
    OperationSheet,
    Packet,
    SettingGroup,
    TaskStage,
    Value,
)
from weld_packets.packet.safety.messages import Messages
from weld_packets.packet.steps.entry import lock_out, stop_and_open, take_lock_off, wait_outside
from weld_packets.packet.steps.lists import near, printed_steps
from weld_packets.packet.steps.set_up import set_up_drafts, wants
from weld_packets.packet.steps.stages import stages
from weld_packets.packet.steps.weld_schedules import AT_THE_NOZZLE, IN_PROGRAM, Wanted
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Lead, Scope, under
from weld_packets.processes.cell.state import AS_FOUND, CellState
from weld_packets.units import quantity
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import counted, inside, joined, listed
from weld_packets.wording.titles import CHANGEOVER_LABELS, ChangeoverTopic

NOT_USED = "not used"
READINGS = ("welding_current",)
"""What the machines must then show; it is compared, and not set."""


class _Topic(NamedTuple):
    """What is compared: its key, its label, and the robot that it is on; empty for the whole cell."""

    key: ChangeoverTopic
    label: str
    robot: str = ""


def _topic(key: ChangeoverTopic, robot: str = "") -> _Topic:
    return _Topic(key, CHANGEOVER_LABELS[key], robot)


class _Fact(NamedTuple):
    """Something at a cell as printed, and the same in words that do not depend on which system of units comes first."""

    text: str
    same: str


_Facts = dict[_Topic, dict[_Fact, None]]
"""What is at a cell; several operations or groups may each say something."""


@dataclass(frozen=True)
class Previous:
    """The order that ran before, with its operations; ``released`` is its last released packet, with its revision."""

    order: Order
    views: tuple[OperationView, ...]
    released: tuple[str, Packet] | None = None


def changeover(views: Sequence[OperationView], previous: Previous, safety: Messages) -> Changeover:
    """Return the changeover sheet, cell by cell: first cells that fall out of use, since their things may be wanted."""
    after, before = _by_cell(views), _by_cell(previous.views)
    cells = [*(cell for cell in before if cell not in after), *after]
    lines = {cell: tuple(_lines(cell, before.get(cell), after.get(cell))) for cell in cells}
    parts = [
        _part("order", _first_drafts()),
        *(part for cell in cells for part in _at_cell(cell, views, previous, safety, lines[cell])),
        _part("cells", [_proving(after)]),
    ]
    return Changeover(
        previous_order=previous.order.order,
        previous_title=previous.order.title,
        lines=tuple(line for cell in cells for line in lines[cell]),
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
    name = previous.order.order
    if previous.released is None:
        return f"{name} has no released revision: compared with its draft. Read every 'before' at the cell."
    revision, packet = previous.released
    if [_as_run(operation) for operation in packet.operations] == [_as_run(view) for view in previous.views]:
        return f"Compared with {name} revision {revision}."
    return f"The sources of {name} have changed since its revision {revision}: read every 'before' at the cell."


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


def _by_cell(views: Sequence[OperationView]) -> dict[str, _Facts]:
    cells: dict[str, _Facts] = {}
    for view in views:
        facts = cells.setdefault(view.cell.id, {})
        for key, fact in _facts(view):
            facts.setdefault(key, {})[fact] = None
    return cells


def _facts(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    yield _topic("operation"), _plain(view.operation.name)
    yield _topic("process"), _plain(view.process)
    yield _topic("fixture"), _plain(view.operation.fixture)
    for component in view.operation.components:
        thickness = sheet_amount(component.thickness, view.order.show_first)
        around = f"{component.name}, {{}}, {view.material(component).designation}"
        yield _topic("components"), _measured(thickness, around)
    yield from _consumables(view)
    for robot in view.robots:
        yield _topic("program", robot.id), _plain(view.operation.programs[robot.id])
        yield from _coupon_programs(view, robot.id)
        yield _topic("welds", robot.id), _plain(_count(view, robot.id))
        yield from _length(view, robot.id)
    yield from _settings(view)
    yield from _limits(view)


def _count(view: OperationView, robot: str) -> str:
    return counted(len(welds_of(view, robot)), view.words.weld)


def _coupon_programs(view: OperationView, robot: str) -> Iterator[tuple[_Topic, _Fact]]:
    named = view.coupon_programs(robot)
    if named:
        calls = (program if number is None else f"{program} for weld schedule {number}" for number, program in named)
        yield _topic("coupon programs", robot), _plain("; ".join(calls))


def _length(view: OperationView, robot: str) -> Iterator[tuple[_Topic, _Fact]]:
    """Yield the length that a robot welds on one part, to the millimetre."""
    paths = [weld.path for weld in view.welds if weld.path is not None]
    if paths:
        length = sum(length_mm(weld.path) for weld in view.welds if weld.path is not None and weld.robot == robot)
        amount = sheet_amount(quantity(round(length), "mm"), view.order.show_first)
        yield _topic("weld length", robot), _measured(amount)


def _limits(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    """Yield what the coupons of each robot must show."""
    found: dict[str, dict[_Fact, list[str]]] = {}
    for group in view.groups:
        values = [value for value in (*group.dialled, *group.derived) if value.figure in ACCEPTED_KEYS]
        limits = [(inside(value.label), _set(value)) for value in values]
        whole = _Fact(
            "; ".join(f"{label} {limit.text}" for label, limit in limits),
            "; ".join(f"{label} {limit.same}" for label, limit in limits),
        )
        for robot in group.robots if limits else ():
            found.setdefault(robot, {}).setdefault(whole, []).append(group.name)
    for robot, by_limit in found.items():
        yield from ((_topic("coupon limit", robot), each) for each in _values(by_limit))


def _plain(text: str) -> _Fact:
    return _Fact(text, text)


def _measured(amount: Amount, around: str = "{}") -> _Fact:
    """Return an amount in both systems of units, with the words ``around`` it."""
    spellings = ((amount.value, amount.unit), (amount.second, amount.second_unit))
    same = " = ".join(sorted(f"{value} {unit}" for value, unit in spellings if value))
    return _Fact(around.format(amount.text), around.format(same))


def _consumables(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    for fact in view.family.fitted_facts(view):
        topic = _Topic("fitted", fact.label, fact.robot)
        if fact.size is None:
            yield topic, _plain(fact.text)
        else:
            yield topic, _measured(sheet_amount(fact.size, view.order.show_first), fact.text)


def _settings(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    found: dict[_Topic, dict[str, dict[_Fact, list[str]]]] = {}
    for group in view.groups:
        numbered = [(_topic("weld schedule"), _plain(group.weld_schedule))] if group.weld_schedule else []
        readings = [value for value in group.derived if value.figure in READINGS]
        settings = ((_Topic("setting", value.label), _set(value)) for value in (*group.dialled, *readings))
        for topic, fact in (*numbered, *settings):
            for robot in group.robots:
                found.setdefault(topic, {}).setdefault(robot, {}).setdefault(fact, []).append(group.name)
    for topic, robots in found.items():
        for robot, values in robots.items():
            yield from ((topic._replace(robot=robot), fact) for fact in _values(values))


def _set(value: Value) -> _Fact:
    """Return a value as set; of an angle also to which side, which its number does not say."""
    if value.amount is None:
        return _plain(value.outside)
    amount = _measured(value.amount)
    side = inside(value.notes) if value.key in IN_PROGRAM else ""
    return _Fact(joined((amount.text, side), " "), joined((amount.same, side), " "))


def _values(titles: Mapping[_Fact, Sequence[str]]) -> Iterator[_Fact]:
    """Yield the one value of a setting, or each value with the welds that it is for."""
    for fact, owners in titles.items():
        names = "" if len(titles) == 1 else f" ({listed(dict.fromkeys(owners))})"
        yield _Fact(f"{fact.text}{names}", f"{fact.same}{names}")


def _lines(cell: str, before: _Facts | None, after: _Facts | None) -> Iterator[ChangeLine]:
    if before is None or after is None:
        left, begun = (_fact(facts, _topic("operation")).text for facts in (before, after))
        yield ChangeLine(cell=cell, what=CHANGEOVER_LABELS["cell"], before=left, after=begun, stays=False)
        return
    shared: dict[tuple[str, _Fact, _Fact], list[str]] = {}
    for topic in dict.fromkeys((*after, *before)):
        shared.setdefault((topic.label, _fact(before, topic), _fact(after, topic)), []).append(topic.robot)
    for (label, was, now), robots in shared.items():
        what = joined((label, listed(filter(None, robots))), ", ")
        yield ChangeLine(cell=cell, what=what, before=was.text, after=now.text, stays=was.same == now.same)


def _fact(facts: Mapping[_Topic, Mapping[_Fact, None]] | None, key: _Topic) -> _Fact:
    found = (facts or {}).get(key, {})
    if not found:
        return _plain(NOT_USED)
    return _Fact("; ".join(each.text for each in found), "; ".join(each.same for each in found))


def _first_drafts() -> Iterator[Draft]:
    yield Draft(
        "Count and book the parts of the previous order.",
        see="Parts still in fixtures are taken out below.",
        key="booked",
    )
    yield Draft(
        "Check that the previous order is complete.",
        see="Its last-off inspection is signed.",
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
    place = f"Cell {cell}: {listed(view.operation.name for view in here) or 'no longer used'}"
    if not here:
        cleared = tuple(_cleared(cell, before))
        own = _keys_of_cleared(before, views, safety)
        yield _part(cell, cleared, near(cleared, _messages(safety, own)), AS_FOUND, place)
        return
    if not before:
        yield _part(cell, map(_from_nothing, here), place=place)
        return
    first, *others = here
    stays = [inside(line.what) for line in lines if line.stays]
    drafts = [*_stays(cell, stays), *map(_from_nothing, others)]
    set_up = tuple(set_up_drafts(first, *_scope(first, before)))
    own = {key for view in here for key in safety.of_operation[view.key]}
    done = "The steps above replace its set-up: nothing of it is repeated."
    yield _part(cell, set_up, near(set_up, _messages(safety, own)), AS_FOUND, place)
    yield _part(f"{cell}-proving", [*drafts, _prove(first, done)], place=place)


def _messages(safety: Messages, keys: Container[str]) -> list[Callout]:
    return [each for each in safety.at("changeover") if each.key in keys]


def _keys_of_cleared(before: Sequence[OperationView], views: Sequence[OperationView], safety: Messages) -> set[str]:
    """Return the messages for a cell that the order leaves out: those of its process, and those of every operation."""
    processes = {view.operation.process for view in before}
    same = (safety.of_operation[view.key] for view in views if view.operation.process in processes)
    return set.intersection(*map(set, safety.of_operation.values())).union(*same)


def _scope(view: OperationView, before: Sequence[OperationView]) -> tuple[Scope, Wanted]:
    """Return what of the set-up of an operation is to be done after those that ran ``before`` in its cell."""
    held = {
        _held(robot, group, value)
        for was in before
        for group in was.groups
        for robot in group.robots
        for value in group.dialled
    }

    def wanted(group: SettingGroup, value: Value) -> bool:
        """Return whether a robot of the group holds another value, or none, where the group keeps it now."""
        return any(_held(robot, group, value) not in held for robot in group.robots)

    old = {each for was in before for each in was.family.fitted(was.operation, was.approved)}
    new = (each for each in view.family.fitted(view.operation, view.approved) if each not in old)
    scope = Scope(
        fixture=view.operation.fixture not in {was.operation.fixture for was in before},
        new=frozenset((each.word, each.place) for each in new),
        wants=wants(view, wanted),
    )
    return scope, wanted


def _held(robot: str, group: SettingGroup, value: Value) -> tuple[str, ...]:
    """Return a value with where it is kept: under a weld schedule's number, but for what is set at the nozzle."""
    number = "" if value.key in AT_THE_NOZZLE else group.weld_schedule
    return robot, number, value.key, _set(value).same


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


def _prove(view: OperationView, see: str) -> Draft:
    return Draft(
        f"Prove cell {view.cell.id}: prove-out of {view.operation.name}.",
        see=see,
        key=f"prove-{view.key}",
        lead=Lead(page=f"{view.key}-prove-out", anchor=f"{view.key}-prove", words="Prove-out"),
    )


def _cleared(cell: str, before: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield how a cell that falls out of use is left: nothing in it, no lock of the setter's on it."""
    yield from stop_and_open(before[0].call, f"cell {cell}")
    yield from lock_out(f"cell {cell}")
    yield Draft(
        f"Clear cell {cell}: parts, tools, and the fixture if it is needed elsewhere.",
        see="Nothing of the previous order is left in it.",
        value=listed(dict.fromkeys(view.operation.fixture for view in before)),
        acts=(acts.ENTER, acts.TAKE_FIXTURE_OUT),
        key="clear",
    )
    yield from dict.fromkeys(draft for view in before for draft in view.family.cleared(view))
    yield from take_lock_off()
    yield wait_outside("until it is used again")
