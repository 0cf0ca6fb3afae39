"""Times and consumables of the whole quantity as printed, and what falls due at which part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.trace import Figure
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Check, RunPlan, Value
from weld_packets.packet.run.consumables import consumable_lines, use_place
from weld_packets.packet.run.events import events_note, first_due, run_events, run_rules
from weld_packets.packet.run.fitted import fitted_at_end
from weld_packets.packet.settings.checks import warnings_among
from weld_packets.packet.settings.merging import display_key_without_notes
from weld_packets.packet.settings.values import value_of
from weld_packets.packet.settings.verdicts import check_of
from weld_packets.planning import OrderPlan, Use
from weld_packets.wording.english import listed


def operation_times(plan: OrderPlan, view: OperationView) -> tuple[Value, ...]:
    """Return the times of an operation for one part: each robot, then the operation."""
    operation = plan.operations[view.number - 1]
    robots = (
        _named(figure, robot.robot, f"time-{robot.robot}", view)
        for robot in operation.robots
        for figure in robot.figures
    )
    return (*robots, *(value_of(figure, view.showing, "time") for figure in operation.figures))


def operation_checks(plan: OrderPlan, view: OperationView) -> tuple[Check, ...]:
    """Return the checks that the times of an operation were put to."""
    operation = plan.operations[view.number - 1]
    verdicts = (*operation.verdicts, *(verdict for robot in operation.robots for verdict in robot.verdicts))
    return tuple(check_of(verdict, view.showing) for verdict in verdicts)


def operation_uses(plan: OrderPlan, view: OperationView) -> tuple[Value, ...]:
    """Return what an operation takes of each consumable, for one part and for the run."""
    here = (view.operation.name, view.cell.id)
    uses = [use for use in plan.uses if (use.operation, use.cell) == here]
    return tuple(_consumables(uses, {here: view}))


def run_plan(plan: OrderPlan, views: Sequence[OperationView]) -> RunPlan:
    """Return duration, slowest operation, consumables and events of the run."""
    by_place = {(view.operation.name, view.cell.id): view for view in views}
    events = run_events(plan, by_place)
    durations = tuple(value_of(figure, views[0].showing, "run") for figure in plan.figures)
    return RunPlan(
        values=(*durations, *_consumables(plan.uses, by_place)),
        bottleneck=plan.bottleneck,
        model=plan.model,
        events=events,
        events_note=events_note(plan, events),
        time_per_part=_slowest(plan, views),
        consumables=consumable_lines(plan, by_place),
        rules=run_rules(plan, by_place),
        first_due=first_due(plan),
        fitted_at_end=fitted_at_end(plan.left),
        warnings=warnings_among((), durations, ()),
    )


def _slowest(plan: OrderPlan, views: Sequence[OperationView]) -> Value:
    """Return the time that the slowest operation takes for one part."""
    operation = next(operation for operation in plan.operations if operation.operation == plan.bottleneck)
    return value_of(operation.figure("operation_time"), views[0].showing, "run")


def _consumables(uses: Sequence[Use], views: Mapping[tuple[str, str], OperationView]) -> Iterator[Value]:
    """Yield the figures of every consumable; robots of an operation share figures that read the same."""
    together: dict[tuple[object, ...], list[Use]] = {}
    for use in uses:
        key = (use.operation, use.cell, use.what, use.origin, *map(display_key_without_notes, use.figures))
        together.setdefault(key, []).append(use)
    for same in together.values():
        where = listed(use.robot or use.cell for use in same)
        yield from _use(same[0], views[same[0].operation, same[0].cell], where)


def _use(use: Use, view: OperationView, where: str) -> Iterator[Value]:
    for figure in use.figures:
        value = value_of(figure, view.showing, use_place(use, view))
        key = value.anchor.replace("-", "_")
        yield value.model_copy(update={"key": key, "label": f"{value.label}, {where}"})


def _named(figure: Figure, robot: str, place: str, view: OperationView) -> Value:
    value = value_of(figure, view.showing, place)
    return value.model_copy(update={"key": f"{value.key}_{robot}", "label": f"{value.label}, {robot}"})
