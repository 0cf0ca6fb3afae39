"""From an order's sources to its packet, with every refusal placed in the source that caused it."""

from __future__ import annotations

from dataclasses import dataclass

from generator.errors import Gathering, PacketError, SourceError
from generator.model.order import ArcRow, Order, SpotRow
from generator.model.shop import Shop
from generator.packet.assembly import Earlier, build_packet
from generator.packet.records import Packet
from generator.plan.order import plan_order
from generator.process.arc.row import arc_row
from generator.process.results import RowResult
from generator.process.spot import spot_row
from generator.revisions.looking_back import Archive, last_released, open_archive
from generator.sources.orders import SourcedOrder, load_order
from generator.sources.tables import Workspace
from generator.workflow.places import INSTRUCTIONS


@dataclass(frozen=True)
class Computed:
    """An order with the settings of its rows."""

    slug: str
    order: Order
    results: tuple[RowResult, ...]


def draft(workspace: Workspace, slug: str, archive: Archive | None = None) -> Packet:
    """Return the packet of an order as the working tree has it; raise SourceError with all that is wrong.

    ``archive`` holds the released records, where the caller has them open; else they are opened for an order that
    names a previous one.
    """
    sourced = load_order(workspace, slug)
    computed = compute(workspace, sourced)
    previous = _previous(workspace, sourced, archive)
    try:
        plan = plan_order(computed.order, computed.results, workspace.shop)
        return build_packet(slug, computed.order, computed.results, plan, workspace.shop, previous)
    except PacketError as error:
        raise SourceError(sourced.placed(problem) for problem in error.problems) from None


def compute(workspace: Workspace, sourced: SourcedOrder) -> Computed:
    """Return the settings of all rows; raise SourceError with the problems of all rows, placed in the order."""
    gathering = Gathering()
    results: list[RowResult] = []
    for number, row in enumerate(sourced.order.rows):
        with gathering.step(key=f"rows[{number}]"):
            results.append(compute_row(row, workspace.shop))
    if gathering.problems:
        raise SourceError(sorted({sourced.placed(problem) for problem in gathering.problems}))
    return Computed(sourced.name, sourced.order, tuple(results))


def compute_row(row: ArcRow | SpotRow, shop: Shop) -> RowResult:
    """Return the settings of a row."""
    return arc_row(row, shop) if isinstance(row, ArcRow) else spot_row(row, shop)


def _previous(workspace: Workspace, sourced: SourcedOrder, archive: Archive | None) -> Earlier | None:
    if sourced.order.previous_order is None:
        return None
    earlier = load_order(workspace, sourced.order.previous_order)
    if earlier.order.previous_order == sourced.name:
        message, remedy = "each of the two orders is said to follow the other", "delete the key in one of the two"
        raise SourceError([sourced.places.problem(("previous order",), earlier.name, message, remedy)])
    before = compute(workspace, earlier)
    return Earlier(
        before.order, before.results, last_released(archive or open_archive(workspace.root / INSTRUCTIONS), before.slug)
    )
