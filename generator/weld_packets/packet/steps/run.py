"""While an order runs: what is watched and checked, and what stops the cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.operation.inspections import inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.processes.cell.drafts import Draft, Lead
from weld_packets.wording.english import inside

_SHIFT = Lead(page="going-in", anchor="list-start-again", words="Start again after the end of a shift")


def run_drafts(views: Sequence[OperationView], first_due: str) -> Iterator[Draft]:
    """Yield what is done while the order runs; ``first_due`` says what the schedule asks for first, if anything."""
    yield Draft("Watch every cell from outside the fence.", see="Robots, welds and clamps as on the first-off part.")
    yield Draft(
        "Load every part by its list.",
        see="Both robots at home before you reach in. Nobody is inside at the reset.",
        topics=("parts",),
        lead=Lead(page="going-in", anchor="list-load", words="Load the next part"),
    )
    yield Draft(
        "Compare the part counter with the work order.",
        see="Both show the same count. It counts the parts of the run: no coupon, no first-off part.",
        value=f"{views[0].order.quantity} parts",
    )
    for view in views:
        for check in inspections_at(view, "in process"):
            yield Draft(
                f"Check {view.operation.name}: {inside(check.what)}.",
                see=check.how,
                value=check.every,
                lead=_SHIFT if "shift start" in check.occasions else None,
            )
    if first_due:
        yield Draft(
            "Follow the change and dress schedule by part count.",
            see=f"First: {first_due}. Go in only by the lists.",
            lead=Lead(page="going-in", anchor="list-go-in", words="Going in during the run"),
        )
    for view in views:
        for check in inspections_at(view, "last-off"):
            yield Draft(f"Check the last part of {view.operation.name}: {inside(check.what)}.", see=check.how)
