"""The forms that people fill in: of a set-up, from the sheet of its operation alone, and of a run, from the packet.

A form of a released packet is today what it was on the day of its release.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from hashlib import sha256

from weld_packets.grouping import grouped
from weld_packets.packet.records.forms import (
    ACCEPT,
    COUPON_TEST,
    FIRST_OFF,
    Acceptance,
    ChangeoverTask,
    DueEvent,
    DueRule,
    OtherUnit,
    RequiredNumber,
    RequiredValue,
    RunForm,
    SetUpForm,
    SetUpTask,
    StartList,
    StartTask,
    StepList,
    ValueLimit,
)
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import CellStart, Packet, RunEvent, RunRule
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.steps import Action, Task, TaskStage
from weld_packets.packet.records.values import Value
from weld_packets.units import Amount
from weld_packets.wording.english import inside

_DIGEST_LENGTH = 12
_ACCEPTS: dict[tuple[StepList, str], Acceptance] = {
    ("prove-out", f"{COUPON_TEST}/{ACCEPT}"): "coupons",
    ("prove-out", f"{FIRST_OFF}/{ACCEPT}"): "first-off",
}
"""The keys of the steps, and of the tasks, with which coupons and the first part are accepted."""


def set_up_form(operation: OperationSheet) -> SetUpForm:
    """Return what a set-up of an operation records: its values, numbers, results and steps."""
    return SetUpForm(
        values=tuple(_values(operation)),
        numbers=tuple(_numbers(operation)),
        results=operation.results,
        steps=(
            *_steps("set-up", operation.set_up_stages, (*operation.confirm, *operation.set_up)),
            *_steps("prove-out", operation.prove_stages, operation.prove),
        ),
        counters=operation.counters,
        limits=tuple(_limits(operation)),
    )


def step_digest(*steps: Action | Task) -> str:
    """Return the short digest of what steps say; what says something else has to be done again."""
    text = "\n".join(f"{step.do}\n{step.value}\n{step.see}" for step in steps)
    return sha256(text.encode()).hexdigest()[:_DIGEST_LENGTH]


def task_digest(task: Task, done: Iterable[Action]) -> str:
    """Return the digest of a task: of its own words and of all steps that are done under it."""
    return step_digest(task, *done)


def by_task(steps: Iterable[Action]) -> dict[str, list[Action]]:
    """Return the steps of a list by the key of the task under which they are done."""
    return grouped((step.task or step.key, step) for step in steps)


def _values(operation: OperationSheet) -> Iterator[RequiredValue]:
    from weld_packets.processes.family import family_of  # noqa: PLC0415 - loads what computes; a list of records does not

    readings = family_of(operation.process).readings
    for group in operation.groups:
        for value in group.dialled:
            if value.amount is not None:
                yield _required(group, value, value.amount, "setting")
        for value in group.derived:
            if value.amount is not None and value.figure in readings:
                yield _required(group, value, value.amount, "reading")


def _required(group: SettingGroup, value: Value, amount: Amount, kind: str) -> RequiredValue:
    from weld_packets.units.scales import mixed_up_with  # noqa: PLC0415 - likewise

    allowed = value.window
    low, high = (amount.value, amount.value) if allowed is None else (allowed.low, allowed.high)
    step = "" if value.step is None else value.step.value
    return RequiredValue.model_validate(
        {
            "key": f"{group.key}/{value.key}",
            "label": value.label,
            "group": group.title,
            "weld_schedule": group.weld_schedule,
            "robots": group.robots,
            "kind": kind,
            "unit": amount.unit,
            "setting": amount.value,
            "low": low,
            "high": high,
            "exact": allowed is None,
            "step": step,
            "decimals": max(map(_decimals, filter(None, (amount.value, low, high, step)))),
            "others": tuple(
                OtherUnit(unit=unit, factor=factor) for unit, factor in mixed_up_with(amount.unit, amount.second_unit)
            ),
        }
    )


def _limits(operation: OperationSheet) -> Iterator[ValueLimit]:
    for group in operation.groups:
        for limit in group.linked:
            keys = {"value": f"{group.key}/{limit.value}", "other": f"{group.key}/{limit.other}"}
            yield ValueLimit.model_validate(limit.model_dump() | keys)


def _decimals(number: str) -> int:
    return max(0, -int(Decimal(number).as_tuple().exponent))


def _numbers(operation: OperationSheet) -> Iterator[RequiredNumber]:
    for program in operation.programs:
        yield RequiredNumber(robot=program.robot, what="program", number=program.number)
    for coupon in operation.coupon_programs:
        yield RequiredNumber(robot=coupon.robot, what="coupon program", number=coupon.program, of=coupon.welds)
    titles = grouped(
        ((robot, group.weld_schedule), group.title)
        for group in operation.groups
        if group.weld_schedule
        for robot in group.robots
    )
    for (robot, number), names in titles.items():
        yield RequiredNumber(robot=robot, what="weld schedule", number=number, of="; ".join(dict.fromkeys(names)))


def _steps(name: StepList, stages: Iterable[TaskStage], steps: tuple[Action, ...]) -> Iterator[SetUpTask]:
    behind = by_task(steps)
    for task in (task for stage in stages for task in stage.tasks):
        yield SetUpTask(
            list=name,
            key=task.key,
            digest=task_digest(task, behind.get(task.key, ())),
            hold=task.hold,
            accepts=_ACCEPTS.get((name, task.key), ""),
            enter=task.enter,
        )


def changeover_tasks(packet: Packet, operation: int) -> tuple[ChangeoverTask, ...]:
    """Return the tasks of the changeover that take the place of the set-up of an operation, by its number."""
    changeover = packet.changeover
    if changeover is None or not packet.replaces_set_up(operation):
        return ()
    behind, cell = by_task(changeover.steps), packet.operations[operation - 1].cell
    return tuple(
        ChangeoverTask(key=task.key, digest=task_digest(task, behind.get(task.key, ())), locked=stage.lock == "on")
        for stage in changeover.stages
        for task in stage.tasks
        if stage.mode and task.key.startswith(f"{cell}/")  # as the changeover names the tasks of each cell
    )


def run_form(packet: Packet) -> RunForm:
    """Return what the record of a run can hold: the lists that start the cells, and what falls due by part count."""
    return RunForm(
        quantity=packet.head.quantity,
        starts=tuple(_start_list(packet, number, start) for number, start in enumerate(packet.starts, 1)),
        events=tuple(due for _, due in _events(packet)),
        rules=tuple(due for _, due in _rules(packet)),
    )


def _start_list(packet: Packet, number: int, start: CellStart) -> StartList:
    operation = next(each for each in packet.operations if each.key == start.operation)
    behind = by_task(start.steps)
    ticks = (
        StartTask(key=task.key, digest=task_digest(task, behind.get(task.key, ())))
        for stage in start.stages
        for task in stage.tasks
    )
    cell = packet.part_counters[operation.key]
    return StartList(list=f"start-{number}", operation=operation.number, cell=cell, ticks=tuple(ticks))


def due_of_run(packet: Packet) -> dict[str, RunEvent | RunRule]:
    """Return what each key of an event of a run means."""
    events = {due.key: event for event, due in _events(packet)}
    return events | {due.key: rule for rule, due in _rules(packet)}


def _events(packet: Packet) -> Iterator[tuple[RunEvent, DueEvent]]:
    counters = packet.part_counters
    for event in packet.run.events:
        if event.part_number:  # what is due before the first part is done in the prove-out
            robot = f", {event.robot}" if event.robot else ""
            what = f"{event.operation_name}{robot}: {inside(event.what)}"
            key = _key(what, event.part_number)
            cell = counters[event.operation]
            yield event, DueEvent(key=key, cell=cell, at=event.part_number, when=event.when, what=what)


def _rules(packet: Packet) -> Iterator[tuple[RunRule, DueRule]]:
    counters = packet.part_counters
    for rule in packet.run.rules:
        what = f"{rule.operation_name}, {rule.what}"
        turns = tuple(turn for turn in rule.turns if turn)
        cell = counters[rule.operation]
        yield rule, DueRule(key=_key(what), cell=cell, what=what, every=rule.every, turns=turns)


def _key(*parts: object) -> str:
    return sha256("\n".join(map(str, parts)).encode()).hexdigest()[:_DIGEST_LENGTH]
