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
    Value,
)
from weld_packets.packet.safety.messages import Messages
from weld_packets.packet.steps.entry import lock_out, stop_and_open, take_lock_off, wait_outside
from weld_packets.packet.steps.placing import near, placed
from weld_packets.packet.steps.set_up import set_up_drafts, wants
from weld_packets.packet.steps.setting import AT_THE_NOZZLE, IN_PROGRAM, Wanted
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Lead, Scope
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.units import quantity
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import counted, inside, joined, listed
from weld_packets.wording.labels import CHANGEOVER_LABELS, ChangeoverTopic

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


class _Told(NamedTuple):
    """Something at a cell as printed, and the same in words that do not depend on which system of units comes first."""

    text: str
    same: str


_Facts = dict[_Topic, dict[_Told, None]]
"""What is at a cell; several operations or groups may each say something."""


@dataclass(frozen=True)
class Previous:
    """The order that ran before, with its operations; ``released`` is its last released packet, with its revision."""

    order: Order
    views: tuple[OperationView, ...]
    released: tuple[str, Packet] | None = None


def changeover(views: Sequence[OperationView], previous: Previous, told: Messages) -> Changeover:
    """Return the changeover sheet, cell by cell: first cells that fall out of use, since their things may be wanted."""
    after, before = _by_cell(views), _by_cell(previous.views)
    cells = [*(cell for cell in before if cell not in after), *after]
    lines = {cell: tuple(_lines(cell, before.get(cell), after.get(cell))) for cell in cells}
    return Changeover(
        previous_order=previous.order.order,
        previous_title=previous.order.title,
        lines=tuple(line for cell in cells for line in lines[cell]),
        steps=(
            *placed(_first_drafts(), ()),
            *(step for cell in cells for step in _at_cell(cell, views, previous, told, lines[cell])),
            *placed([_proving(after)], ()),
        ),
        basis=_basis(previous),
    )


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
        for key, told in _facts(view):
            facts.setdefault(key, {})[told] = None
    return cells


def _facts(view: OperationView) -> Iterator[tuple[_Topic, _Told]]:
    yield _topic("operation"), _plain(view.operation.name)
    yield _topic("process"), _plain(view.process)
    yield _topic("fixture"), _plain(view.operation.fixture)
    for part in view.operation.components:
        thickness = sheet_amount(part.thickness, view.order.show_first)
        yield _topic("components"), _measured(thickness, f"{part.name}, {{}}, {view.material(part).designation}")
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


def _coupon_programs(view: OperationView, robot: str) -> Iterator[tuple[_Topic, _Told]]:
    named = view.coupon_programs(robot)
    if named:
        calls = (program if number is None else f"{program} for weld schedule {number}" for number, program in named)
        yield _topic("coupon programs", robot), _plain("; ".join(calls))


def _length(view: OperationView, robot: str) -> Iterator[tuple[_Topic, _Told]]:
    """Yield the length that a robot welds on one part, to the millimetre."""
    paths = [weld.path for weld in view.welds if weld.path is not None]
    if paths:
        length = sum(length_mm(weld.path) for weld in view.welds if weld.path is not None and weld.robot == robot)
        amount = sheet_amount(quantity(round(length), "mm"), view.order.show_first)
        yield _topic("weld length", robot), _measured(amount)


def _limits(view: OperationView) -> Iterator[tuple[_Topic, _Told]]:
    """Yield what the coupons of each robot must show."""
    found: dict[str, dict[_Told, list[str]]] = {}
    for group in view.groups:
        values = [value for value in (*group.dialled, *group.derived) if value.figure in ACCEPTED_KEYS]
        told = [(inside(value.label), _set(value)) for value in values]
        limit = _Told(*("; ".join(f"{label} {way}" for label, way in texts) for texts in (
            [(label, each.text) for label, each in told], [(label, each.same) for label, each in told],
        )))  # fmt: skip
        for robot in group.robots if told else ():
            found.setdefault(robot, {}).setdefault(limit, []).append(group.name)
    for robot, limits in found.items():
        yield from ((_topic("coupon limit", robot), each) for each in _values(limits))


def _plain(text: str) -> _Told:
    return _Told(text, text)


def _measured(amount: Amount, around: str = "{}") -> _Told:
    """Return an amount in both systems of units, with the words ``around`` it."""
    ways = ((amount.value, amount.unit), (amount.second, amount.second_unit))
    same = " = ".join(sorted(f"{value} {unit}" for value, unit in ways if value))
    return _Told(around.format(amount.text), around.format(same))


def _consumables(view: OperationView) -> Iterator[tuple[_Topic, _Told]]:
    for fact in view.family.fitted_facts(view):
        topic = _Topic("fitted", fact.label, fact.robot)
        if fact.size is None:
            yield topic, _plain(fact.text)
        else:
            yield topic, _measured(sheet_amount(fact.size, view.order.show_first), fact.text)


def _settings(view: OperationView) -> Iterator[tuple[_Topic, _Told]]:
    found: dict[_Topic, dict[str, dict[_Told, list[str]]]] = {}
    for group in view.groups:
        numbered = [(_topic("weld schedule"), _plain(group.weld_schedule))] if group.weld_schedule else []
        readings = [value for value in group.derived if value.figure in READINGS]
        settings = ((_Topic("setting", value.label), _set(value)) for value in (*group.dialled, *readings))
        for topic, told in (*numbered, *settings):
            for robot in group.robots:
                found.setdefault(topic, {}).setdefault(robot, {}).setdefault(told, []).append(group.name)
    for topic, robots in found.items():
        for robot, values in robots.items():
            yield from ((topic._replace(robot=robot), told) for told in _values(values))


def _set(value: Value) -> _Told:
    """Return a value as set; of an angle also to which side, which its number does not say."""
    if value.amount is None:
        return _plain(value.outside)
    amount = _measured(value.amount)
    side = inside(value.notes) if value.key in IN_PROGRAM else ""
    return _Told(joined((amount.text, side), " "), joined((amount.same, side), " "))


def _values(titles: Mapping[_Told, Sequence[str]]) -> Iterator[_Told]:
    """Yield the one value of a setting, or each value with the welds that it is for."""
    for told, whose in titles.items():
        names = "" if len(titles) == 1 else f" ({listed(dict.fromkeys(whose))})"
        yield _Told(f"{told.text}{names}", f"{told.same}{names}")


def _lines(cell: str, before: _Facts | None, after: _Facts | None) -> Iterator[ChangeLine]:
    if before is None or after is None:
        left, begun = (_told(facts, _topic("operation")).text for facts in (before, after))
        yield ChangeLine(cell=cell, what=CHANGEOVER_LABELS["cell"], before=left, after=begun, stays=False)
        return
    shared: dict[tuple[str, _Told, _Told], list[str]] = {}
    for topic in dict.fromkeys((*after, *before)):
        shared.setdefault((topic.label, _told(before, topic), _told(after, topic)), []).append(topic.robot)
    for (label, was, now), robots in shared.items():
        what = joined((label, listed(filter(None, robots))), ", ")
        yield ChangeLine(cell=cell, what=what, before=was.text, after=now.text, stays=was.same == now.same)


def _told(facts: Mapping[_Topic, Mapping[_Told, None]] | None, key: _Topic) -> _Told:
    found = (facts or {}).get(key, {})
    if not found:
        return _plain(NOT_USED)
    return _Told("; ".join(each.text for each in found), "; ".join(each.same for each in found))


def _first_drafts() -> Iterator[Draft]:
    yield Draft("Count and book the parts of the previous order.", see="Parts still in fixtures are taken out below.")
    yield Draft("Check that the previous order is complete.", see="Its last-off inspection is signed.", hold=True)


def _proving(cells: Iterable[str]) -> Draft:
    return Draft(
        "Start no cell before its first part is accepted.", see=f"Prove-out signed at {listed(cells)}.", hold=True
    )


def _at_cell(
    cell: str, views: Sequence[OperationView], previous: Previous, told: Messages, lines: Sequence[ChangeLine]
) -> tuple[Action, ...]:
    """Return the steps at one cell; also one without any change is stopped and opened, and its last part taken out."""
    here = [view for view in views if view.cell.id == cell]
    before = [view for view in previous.views if view.cell.id == cell]
    place = f"Cell {cell}: {listed(view.operation.name for view in here) or 'no longer used'}"
    if not here:
        cleared = tuple(_cleared(cell, before))
        return placed(cleared, near(cleared, _messages(told, _keys_of_cleared(before, views, told))), AS_FOUND, place)
    if not before:
        return placed(map(_from_nothing, here), (), place=place)
    first, *others = here
    stays = [inside(line.what) for line in lines if line.stays]
    drafts = [*_stays(cell, stays), *map(_from_nothing, others)]
    set_up = tuple(set_up_drafts(first, *_scope(first, before)))
    own = {key for view in here for key in told.of_operation[view.key]}
    done = "The steps above replace its set-up: nothing of it is repeated."
    return (
        *placed(set_up, near(set_up, _messages(told, own)), AS_FOUND, place),
        *placed([*drafts, _prove(first, done)], (), place=place),
    )


def _messages(told: Messages, keys: Container[str]) -> list[Callout]:
    return [each for each in told.at("changeover") if each.key in keys]


def _keys_of_cleared(before: Sequence[OperationView], views: Sequence[OperationView], told: Messages) -> set[str]:
    """Return the messages for a cell that the order leaves out: those of its process, and those of every operation."""
    processes = {view.operation.process for view in before}
    same = (told.of_operation[view.key] for view in views if view.operation.process in processes)
    return set.intersection(*map(set, told.of_operation.values())).union(*same)


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
        """Tell whether a robot of the group holds another value, or none, where the group keeps it now."""
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
        yield Draft(f"Check what stays at cell {cell}.", see=f"Unchanged: {'; '.join(stays)}.")


def _from_nothing(view: OperationView) -> Draft:
    return Draft(
        f"Set up cell {view.cell.id} from nothing, then prove it.",
        see=f"Set-up and prove-out of {view.operation.name}, every step.",
        value=view.cell.id,
        lead=Lead(page=view.key, anchor=f"{view.key}-setup", words="Set-up"),
    )


def _prove(view: OperationView, see: str) -> Draft:
    return Draft(
        f"Prove cell {view.cell.id}: prove-out of {view.operation.name}.",
        see=see,
        lead=Lead(page=view.key, anchor=f"{view.key}-prove", words="Prove-out"),
    )


def _cleared(cell: str, before: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield how a cell that falls out of use is left: nothing in it, no lock of the setter's on it."""
    yield from stop_and_open(f"cell {cell}")
    yield from lock_out(f"cell {cell}")
    yield Draft(
        f"Clear cell {cell}: parts, tools, and the fixture if it is wanted elsewhere.",
        see="Nothing of the previous order is left in it.",
        value=listed(dict.fromkeys(view.operation.fixture for view in before)),
        acts=(acts.ENTER, acts.TAKE_FIXTURE_OUT),
    )
    yield from dict.fromkeys(draft for view in before for draft in view.family.cleared(view))
    yield from take_lock_off()
    yield wait_outside("until it is used again")
