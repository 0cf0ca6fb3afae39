"""Packets of orders as their files are, kept from one command to the next: for commands that compare or print them.

Where one is kept, nothing is loaded that computes.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from pydantic import ValidationError

from weld_packets.files import plain_content, write_whole
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.canonical import packet_data, sha256
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import KEPT_PACKETS

WHOLE, SETTINGS = "whole", "settings"
"""What is kept of an order: the packet with its pictures and its changeover, or without them."""


class KeptPackets:
    """Files of packets, each valid while the digest of all that it was computed from is the same.

    Nothing rests on them but time: what cannot be read, is not whole, or was computed from something else is computed
    again. What is checked, released or built is always computed.
    """

    def __init__(self, root: Path) -> None:
        """Keep them beside the sites of the plant at ``root``."""
        self._root = root

    def packet(self, slug: str, what: str, compute: Callable[[], Packet]) -> Packet:
        """Return the packet of an order, of which ``what`` is asked for; ``compute`` makes it where none is kept."""
        digest = self._digest(slug)
        for kept in dict.fromkeys((what, WHOLE)):
            if (found := self._read(slug, kept, digest)) is not None:
                return found
        packet = compute()
        if self._digest(slug) == digest:  # nobody edited anything meanwhile
            self._keep(slug, what, digest, packet)
        return packet

    def _digest(self, slug: str) -> str:
        digests = OrderDigests(self._root)
        return sha256(f"{digests.of(slug)} {digests.register_look}".encode())

    def _read(self, slug: str, what: str, digest: str) -> Packet | None:
        try:
            head, _, body = plain_content(self._file(slug, what)).partition(b"\n")
            return Packet.model_validate_json(body, strict=True) if head == _head(digest, body) else None
        except (OSError, ValidationError):
            return None

    def _keep(self, slug: str, what: str, digest: str, packet: Packet) -> None:
        body, file = packet_data(packet), self._file(slug, what)
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            write_whole(file, _head(digest, body) + b"\n" + body)
        except OSError:  # a plant that may not be written to is read as well
            return

    def _file(self, slug: str, what: str) -> Path:
        return self._root / KEPT_PACKETS / f"{slug}.{what}.json"


def _head(digest: str, body: bytes) -> bytes:
    return f"{digest} {sha256(body)}".encode()


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
