"""Times and consumables of the whole quantity as printed, and what falls due at which part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.packet.checks import check_of
from generator.packet.consumables import consumable_lines, use_place
from generator.packet.records import Check, RunEvent, RunPlan, Value
from generator.packet.rowview import RowView
from generator.packet.values import value_of
from generator.packet.wording import listed
from generator.plan import Event, OrderPlan, Use
from generator.process.trace import Figure

NOTHING_DUE = "Nothing falls due within the quantity."
EVENTS_NOTE = (
    "Part numbers count from new caps and tips, full spools and full containers; what stays fitted from the previous "
    "order falls due that much earlier. They are reckoned; a gauge, a counter or your eye may call earlier still."
)


def row_times(plan: OrderPlan, view: RowView) -> tuple[Value, ...]:
    """Return the times of a row for one part: each arm, then the row."""
    row = plan.rows[view.number - 1]
    arms = (_named(figure, arm.arm, f"time-{arm.arm}", view) for arm in row.arms for figure in arm.figures)
    return (*arms, *(value_of(figure, view.showing, "time") for figure in row.figures))


def row_checks(plan: OrderPlan, view: RowView) -> tuple[Check, ...]:
    """Return the checks that the times of a row were put to."""
    arms = plan.rows[view.number - 1].arms
    return tuple(check_of(verdict, view.showing) for arm in arms for verdict in arm.verdicts)


def run_plan(plan: OrderPlan, views: Sequence[RowView]) -> RunPlan:
    """Return duration, slowest row, consumables and events of the run."""
    by_place = {(view.row.name, view.cell.id): view for view in views}
    return RunPlan(
        values=(
            *(value_of(figure, views[0].showing, "run") for figure in plan.figures),
            *(value for use in plan.uses for value in _use(use, by_place[use.row, use.cell])),
        ),
        bottleneck=plan.bottleneck,
        model=plan.model,
        events=tuple(_events(plan.events, by_place)),
        events_note=EVENTS_NOTE if plan.events else NOTHING_DUE,
        time_per_part=_slowest(plan, views),
        consumables=consumable_lines(plan, by_place),
    )


def _slowest(plan: OrderPlan, views: Sequence[RowView]) -> Value:
    """Return the time that the slowest row takes for one part."""
    row = next(row for row in plan.rows if row.row == plan.bottleneck)
    return value_of(row.figure("row_time"), views[0].showing, "run")


def _use(use: Use, view: RowView) -> Iterator[Value]:
    where, place = use.arm or use.cell, use_place(use, view)
    for figure in use.figures:
        value = value_of(figure, view.showing, place)
        key = value.anchor.replace("-", "_")
        yield value.model_copy(update={"key": key, "label": f"{value.label}, {where}"})


def _named(figure: Figure, arm: str, place: str, view: RowView) -> Value:
    value = value_of(figure, view.showing, place)
    return value.model_copy(update={"key": f"{value.key}_{arm}", "label": f"{value.label}, {arm}"})


def _events(events: Sequence[Event], views: Mapping[tuple[str, str], RowView]) -> Iterator[RunEvent]:
    """Yield what falls due; the same thing on both arms of a row at one part is told once."""
    alike: dict[tuple[object, ...], list[Event]] = {}
    for each in events:
        told = (each.part_number, each.row, each.cell, each.what, each.when, each.basis)
        alike.setdefault(told, []).append(each)
    for same in alike.values():
        event = same[0]
        yield RunEvent(
            part_number=event.part_number,
            row=views[event.row, event.cell].key,
            row_name=event.row,
            cell=event.cell,
            arm=listed([each.arm for each in same if each.arm]),
            what=event.what if event.when == "after" else f"{event.what}, while this part is welded",
            basis=event.basis,
        )
