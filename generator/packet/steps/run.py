"""While an order runs: what is watched and checked, and what stops the cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.packet.inspections import inspections_at
from generator.packet.records import Lead, RunEvent
from generator.packet.rowview import RowView
from generator.packet.steps.placing import Draft
from generator.packet.wording import inside


def run_drafts(views: Sequence[RowView], events: Sequence[RunEvent]) -> Iterator[Draft]:
    """Yield what is done while the order runs."""
    yield Draft("Watch every cell from outside the fence.", see="Robots, welds and clamps as on the first part.")
    yield Draft(
        "Load every component on its stops.",
        see="Both robots at home before you reach in. Every clamp closes. Nobody is inside at the reset.",
        topics=("parts", "hot", "clamps"),
    )
    yield Draft(
        "Compare part counter and job card.", see="Both show the same.", value=f"{views[0].order.quantity} parts"
    )
    for view in views:
        for check in inspections_at(view, "in process"):
            yield Draft(f"Check {view.row.name}: {inside(check.what)}.", see=check.how, value=check.every)
    if events:
        yield Draft(
            "Change and dress as the schedule below says.",
            see="Go in only by the lists. Change earlier if a gauge, a counter or an inspection says so.",
            lead=Lead(page="going-in", anchor="list-go-in", words="Going in during the run"),
        )
    for view in views:
        for check in inspections_at(view, "last-off"):
            yield Draft(f"Check the last part of {view.row.name}: {inside(check.what)}.", see=check.how)
