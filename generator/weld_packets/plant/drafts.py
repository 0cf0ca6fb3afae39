"""From an order's sources to its whole packet, pictures and all."""

from __future__ import annotations

from weld_packets.diagrams.illustrations import illustrated
from weld_packets.packet.records.order import Packet
from weld_packets.plant.assembled import Assembling
from weld_packets.sources.tables.tables import Workspace


def draft(workspace: Workspace, slug: str) -> Packet:
    """Return the packet of one order as the working tree has it; raise SourceError with all that is wrong."""
    return Drafts(workspace).draft(slug)


class Drafts(Assembling):
    """The packets of orders as the working tree has them, while it stays as it is, with their pictures."""

    def draft(self, slug: str) -> Packet:
        """Return the packet of an order; raise SourceError with all that is wrong with it or with one before it."""
        found = self.assembled(slug)
        return illustrated(found.packet, found.views, found.plan)
