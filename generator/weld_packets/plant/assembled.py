"""From an order's sources to its packet without pictures, with every refusal placed in the source that caused it."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.errors import PacketError, SourceError
from weld_packets.packet.assembly import Earlier, build_packet, operation_views
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import Packet
from weld_packets.planning.order import plan_order
from weld_packets.planning.records import OrderPlan
from weld_packets.plant.fitted.carrying import Carrying, Remembered
from weld_packets.plant.orders import Orders
from weld_packets.revisions.queries.archive import Archive
from weld_packets.sources.tables.tables import Workspace


@dataclass(frozen=True)
class Assembled:
    """A packet without pictures, and what its pictures are drawn from."""

    packet: Packet
    views: tuple[OperationView, ...]
    plan: OrderPlan


class Assembling:
    """The packets of orders as the working tree has them, while it stays as it is: all but their pictures."""

    def __init__(
        self, workspace: Workspace, archive: Archive | None = None, remembered: Remembered | None = None
    ) -> None:
        """Take the released records from ``archive`` where the caller has it open."""
        self._orders = Orders(workspace, archive)
        self._carrying = Carrying(self._orders, remembered)

    def assembled(self, slug: str, *, changeover: bool = True) -> Assembled:
        """Return the packet of an order; raise SourceError with all that is wrong with it or with one before it.

        Without its ``changeover``, the order before is computed only where no record says what it leaves fitted.
        """
        sourced, computed = self._orders.sourced(slug), self._orders.computed(slug)
        previous = sourced.order.previous_order
        left = None if previous is None else self._carrying.left_by(previous)
        earlier = self._earlier(previous) if previous is not None and changeover else None
        approved = self._orders.approved
        try:
            plan = plan_order(computed.order, computed.results, approved, left)
            views = operation_views(computed.order, computed.results, approved)
            packet = build_packet(slug, views, plan, earlier)
        except PacketError as error:
            raise SourceError(sourced.placed(problem) for problem in error.problems) from None
        self._carrying.keep(slug, plan.left)
        return Assembled(packet, views, plan)

    def _earlier(self, slug: str) -> Earlier:
        before = self._orders.computed(slug)
        return Earlier(before.order, before.results, self._orders.released(slug))
