"""What a set-up of an operation must record, from its sheet alone: a released sheet asks today what it asked then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from hashlib import sha256

from weld_packets.packet.records import Action, Amount, OperationSheet, SettingGroup, Task, TaskStage, Value
from weld_packets.packet.records.asked import (
    Acceptance,
    Asked,
    AskedLimit,
    AskedNumber,
    AskedStep,
    AskedValue,
    OtherUnit,
    StepList,
)
from weld_packets.packet.steps.prove import COUPONS_ACCEPTED, FIRST_OFF_ACCEPTED
from weld_packets.packet.steps.stages import behind
from weld_packets.processes.family import family_of
from weld_packets.units.slips import mixed_up_with

_DIGEST_LENGTH = 12
_ACCEPTS: dict[tuple[StepList, str], Acceptance] = {
    ("prove-out", COUPONS_ACCEPTED): "coupons",
    ("prove-out", FIRST_OFF_ACCEPTED): "first-off",
}


def asked_of(operation: OperationSheet) -> Asked:
    """Return the values, numbers, results and steps of an operation."""
    return Asked(
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


def _values(operation: OperationSheet) -> Iterator[AskedValue]:
    readings = family_of(operation.process).readings
    for group in operation.groups:
        for value in group.dialled:
            if value.amount is not None:
                yield _asked(group, value, value.amount, "setting")
        for value in group.derived:
            if value.amount is not None and value.figure in readings:
                yield _asked(group, value, value.amount, "reading")


def _asked(group: SettingGroup, value: Value, amount: Amount, kind: str) -> AskedValue:
    window = value.window
    low, high = (amount.value, amount.value) if window is None else (window.low, window.high)
    step = "" if value.step is None else value.step.value
    return AskedValue.model_validate(
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
            "exact": window is None,
            "step": step,
            "decimals": max(map(_decimals, filter(None, (amount.value, low, high, step)))),
            "others": tuple(
                OtherUnit(unit=unit, factor=factor) for unit, factor in mixed_up_with(amount.unit, amount.second_unit)
            ),
        }
    )


def _limits(operation: OperationSheet) -> Iterator[AskedLimit]:
    for group in operation.groups:
        for limit in group.linked:
            keys = {"value": f"{group.key}/{limit.value}", "other": f"{group.key}/{limit.other}"}
            yield AskedLimit.model_validate(limit.model_dump() | keys)


def _decimals(number: str) -> int:
    return max(0, -int(Decimal(number).as_tuple().exponent))


def _numbers(operation: OperationSheet) -> Iterator[AskedNumber]:
    for program in operation.programs:
        yield AskedNumber(robot=program.robot, what="program", number=program.number)
    for coupon in operation.coupon_programs:
        yield AskedNumber(robot=coupon.robot, what="coupon program", number=coupon.program, of=coupon.welds)
    titles: dict[tuple[str, str], list[str]] = {}
    for group in operation.groups:
        for robot in group.robots if group.weld_schedule else ():
            titles.setdefault((robot, group.weld_schedule), []).append(group.title)
    for (robot, number), names in titles.items():
        yield AskedNumber(robot=robot, what="weld schedule", number=number, of="; ".join(dict.fromkeys(names)))


def _steps(name: StepList, stages: Iterable[TaskStage], steps: tuple[Action, ...]) -> Iterator[AskedStep]:
    for task in (task for stage in stages for task in stage.tasks):
        yield AskedStep(
            list=name,
            key=task.key,
            digest=task_digest(task, behind(task, steps)),
            hold=task.hold,
            accepts=_ACCEPTS.get((name, task.key), ""),
            enter=task.enter,
        )
