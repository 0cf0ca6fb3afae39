"""Starting and running an order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.model.tables import Plant
from generator.packet.inspections import inspections_at
from generator.packet.placing import Draft, placed
from generator.packet.records import Action, Callout, RunEvent
from generator.packet.rowview import RowView
from generator.packet.wording import inside, joined, sentences


def start_steps(plant: Plant, callouts: tuple[Callout, ...]) -> tuple[Action, ...]:
    """Return the plant's own steps for starting; the first sentence of each is the action, the rest what to see."""
    return placed((Draft(do, see=see) for do, see in map(sentences, plant.start_steps)), callouts)


def run_steps(
    views: Sequence[RowView], events: Sequence[RunEvent], callouts: tuple[Callout, ...]
) -> tuple[Action, ...]:
    """Return what is done while the order runs, and when to stop."""
    return placed(_drafts(views, events), callouts)


def _drafts(views: Sequence[RowView], events: Sequence[RunEvent]) -> Iterator[Draft]:
    order, plant = views[0].order, views[0].shop.plant
    yield Draft("Watch every cell from outside the fence.", see="Arms, arcs and clamps move as on the first part.")
    yield Draft("Load every part on its stops.", see="Every clamp closes, and no gap opens.", topics=("parts", "hot"))
    yield Draft("Count the parts.", see="Panel and job card show the same count.", value=f"{order.quantity} parts")
    for view in views:
        for check in inspections_at(view, "in process"):
            yield Draft(f"Check row {view.number}: {inside(check.what)}.", see=check.how, value=check.every)
    if events:
        first = events[0]
        yield Draft(
            "Follow the list of events by part number.",
            see=joined((first.what, f"row {first.row_name}, arm {first.arm}" if first.arm else first.row_name)),
            value=f"first at part {first.part_number}",
        )
    yield Draft("Change caps and contact tips in time.", see=f"Change after: {plant.tip_change_after}")
    for condition in plant.stop_and_call:
        yield Draft(f"Stop and call if {inside(condition)}", hold=True)
    for view in views:
        for check in inspections_at(view, "last-off"):
            yield Draft(f"Check the last part of row {view.number}: {inside(check.what)}.", see=check.how)
