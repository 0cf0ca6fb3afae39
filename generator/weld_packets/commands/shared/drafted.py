"""The packet of an order as its files are, for commands that compare it or print it.

Where one is kept, nothing is loaded that computes.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path

from weld_packets.packet.records.order import Packet
from weld_packets.plant.kept_packets import SETTINGS, WHOLE, KeptPackets


def drafted(root: Path, slug: str) -> Packet:
    """Return the whole packet; raise SourceError with all that is wrong with the tables and the order."""
    return KeptPackets(root).packet(slug, WHOLE, partial(_drafted, root, slug))


def without_pictures(root: Path, slug: str) -> Packet:
    """Return the packet, maybe without its pictures and its changeover; raise SourceError as ``drafted`` does."""
    return KeptPackets(root).packet(slug, SETTINGS, partial(_assembled, root, slug))


def _drafted(root: Path, slug: str) -> Packet:
    from weld_packets.plant.drafts import draft  # noqa: PLC0415
    from weld_packets.plant.orders import open_workspace  # noqa: PLC0415

    return draft(open_workspace(root), slug)


def _assembled(root: Path, slug: str) -> Packet:
    from weld_packets.plant.assembled import Assembling  # noqa: PLC0415
    from weld_packets.plant.orders import open_workspace  # noqa: PLC0415

    return Assembling(open_workspace(root)).assembled(slug, changeover=False).packet
