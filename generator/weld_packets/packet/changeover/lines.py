"""What is compared at each cell of two orders: what changes, and what stays."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from weld_packets.calculation.places.path import length_mm
from weld_packets.grouping import grouped
from weld_packets.packet.operation.inspections import ACCEPTED_KEYS
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import welds_of
from weld_packets.packet.records.order import ChangeLine
from weld_packets.packet.records.values import Value
from weld_packets.packet.steps.weld_schedules import IN_PROGRAM
from weld_packets.units import Amount, exact, quantity, rounded
from weld_packets.units.digits import HUNDREDTH, WHOLE
from weld_packets.units.scales import Scale, sheet_amount
from weld_packets.wording.changeover import CHANGEOVER_LABELS, NOT_USED, ChangeoverTopic
from weld_packets.wording.english import counted, inside, joined, listed


def change_lines(before: Sequence[OperationView], after: Sequence[OperationView]) -> dict[str, tuple[ChangeLine, ...]]:
    """Return by cell what was and what will be: cells that fall out of use first, since their things may be wanted.

    Operations of one cell follow each other: what the last one before left is compared with what the first one needs.
    """
    now, was = _by_cell(reversed(after)), _by_cell(before)
    cells = [*(cell for cell in was if cell not in now), *dict.fromkeys(view.cell.id for view in after)]
    return {cell: tuple(_lines(cell, was.get(cell), now.get(cell))) for cell in cells}


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
"""What is at a cell; several components or groups may each say something."""


def _by_cell(views: Iterable[OperationView]) -> dict[str, _Facts]:
    """Return what is at each cell, of several operations there that of the last."""
    cells: dict[str, _Facts] = {}
    for view in views:
        facts: _Facts = {}
        for key, fact in _facts(view):
            facts.setdefault(key, {})[fact] = None
        cells[view.cell.id] = facts
    return cells


def _facts(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    yield _topic("operation"), _plain(view.operation.name)
    yield _topic("process"), _plain(view.process)
    yield _topic("fixture"), _plain(view.operation.fixture)
    for component in view.operation.components:
        thickness = sheet_amount(component.thickness, view.order.show_first)
        yield (
            _topic("components"),
            _measured(thickness, f"{component.name}, ", f", {view.material(component).designation}"),
        )
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
    """Yield the length that a robot welds on one part, to the millimetre and a hundredth of an inch."""
    paths = [weld.path for weld in view.welds if weld.path is not None]
    if paths:
        length = sum(length_mm(weld.path) for weld in view.welds if weld.path is not None and weld.robot == robot)
        found = quantity(length, "mm")
        scale = Scale("mm", WHOLE, "in", HUNDREDTH, view.order.show_first == "metric")
        amount = scale.amount(rounded(exact(found, "mm"), WHOLE), rounded(exact(found, "in"), HUNDREDTH))
        yield _topic("weld length", robot), _measured(amount)


def _limits(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    """Yield what the coupons of each robot must show."""
    found: dict[str, dict[_Fact, list[str]]] = {}
    for group in view.groups:
        values = [value for value in (*group.dialled, *group.derived) if value.figure in ACCEPTED_KEYS]
        limits = [(inside(value.label), as_set(value)) for value in values]
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


def _measured(amount: Amount, before: str = "", after: str = "") -> _Fact:
    """Return an amount in both systems of units, with the words ``before`` and ``after`` it."""
    return _Fact(f"{before}{amount.text}{after}", f"{before}{amount.in_both}{after}")


def _consumables(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    for fact in view.family.fitted_facts(view):
        topic = _Topic("fitted", fact.label, fact.robot)
        if fact.size is None:
            yield topic, _plain(fact.text)
        else:
            yield topic, _measured(sheet_amount(fact.size, view.order.show_first), f"{fact.text} ")


def _settings(view: OperationView) -> Iterator[tuple[_Topic, _Fact]]:
    found: dict[_Topic, dict[str, dict[_Fact, list[str]]]] = {}
    for group in view.groups:
        numbered = [(_topic("weld schedule"), _plain(group.weld_schedule))] if group.weld_schedule else []
        readings = [value for value in group.derived if value.figure in view.family.shown_at_welding]
        settings = ((_Topic("setting", value.label), as_set(value)) for value in (*group.dialled, *readings))
        for topic, fact in (*numbered, *settings):
            for robot in group.robots:
                found.setdefault(topic, {}).setdefault(robot, {}).setdefault(fact, []).append(group.name)
    for topic, robots in found.items():
        for robot, values in robots.items():
            yield from ((topic._replace(robot=robot), fact) for fact in _values(values))


def as_set(value: Value) -> _Fact:
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
    shared = grouped(
        ((topic.label, _fact(before, topic), _fact(after, topic)), topic.robot)
        for topic in dict.fromkeys((*after, *before))
    )
    for (label, was, now), robots in shared.items():
        what = joined((label, listed(filter(None, robots))), ", ")
        yield ChangeLine(cell=cell, what=what, before=was.text, after=now.text, stays=was.same == now.same)


def _fact(facts: Mapping[_Topic, Mapping[_Fact, None]] | None, key: _Topic) -> _Fact:
    found = (facts or {}).get(key, {})
    if not found:
        return _plain(NOT_USED)
    return _Fact("; ".join(each.text for each in found), "; ".join(each.same for each in found))
